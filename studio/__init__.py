"""Shankwright: the order book, the reckoning and the papers of a studio that makes rings to order."""
