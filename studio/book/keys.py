"""Keys that open something: long, random, and kept only as a hash."""

import hashlib
import secrets


def new_key() -> str:
    """A key of 256 random bits, fit for an address or a header."""
    return secrets.token_urlsafe(32)


def hash_of(key: str) -> str:
    """What the book keeps of a key. SHA-256 suffices: 256 random bits cannot be guessed from it."""
    return hashlib.sha256(key.encode()).hexdigest()
