"""The access keys of the counter's page, and what the page says of them."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class AccessKey:
    """One access key and where it leads."""

    key: str
    words: str


KEYS = (
    AccessKey("C", "customer"),
    AccessKey("F", "finger"),
    AccessKey("W", "width"),
    AccessKey("M", "metal"),
    AccessKey("P", "pattern"),
    AccessKey("D", "dates"),
    AccessKey("N", "note"),
    AccessKey("Q", "read back and quote"),
    AccessKey("S", "save for later"),
    AccessKey("A", "save and add a ring"),
)
