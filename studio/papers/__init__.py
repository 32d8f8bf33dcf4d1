"""What is printed: one typed context per paper, then HTML, then PDF."""
