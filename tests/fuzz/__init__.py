"""The app's own description, played against the app: whatever is sent, the answer is one it describes."""
