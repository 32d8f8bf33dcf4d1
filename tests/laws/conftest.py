"""Laws are tried on the same examples every time, however slow the machine."""

from hypothesis import settings

settings.register_profile("laws", deadline=None, derandomize=True, database=None, max_examples=150)
settings.load_profile("laws")
