"""What may happen to a studio's machine, and what the book is worth afterwards."""
