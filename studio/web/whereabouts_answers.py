"""What the reader is told of what the book refuses about where things lie and about work outside."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError
from studio.book.whereabouts_errors import (
    BackAlready,
    NothingToSend,
    OutworkerUnknown,
    PlaceUnknown,
    SlipUnknown,
    ThingOut,
    ThingUnknown,
)
from studio.craft.directions import apart
from studio.papers.days import full_day_words
from studio.web.errors import Declined


def out_words(error: ThingOut) -> str:
    """Where a thing is that is out, and what comes first: to take its slip back."""
    return (
        f"{error.thing} is out with {apart(error.worker)} by slip {error.slip}, due "
        f"{full_day_words(error.due_on)}. Take the slip back first."
    )


WHEREABOUTS_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    PlaceUnknown: lambda _: Declined(404, "The studio has no such place. It may have been dropped."),
    ThingUnknown: lambda _: Declined(404, "No such ring or goods are in the studio's keeping."),
    ThingOut: lambda error: Declined(409, out_words(error)),
    OutworkerUnknown: lambda _: Declined(404, "Nobody of this name works outside for the studio any more."),
    SlipUnknown: lambda error: Declined(404, f"There is no slip {error.number}."),
    BackAlready: lambda error: Declined(409, f"Slip {error.number} is back; {apart(error.by)} took it in."),
    NothingToSend: lambda error: Declined(
        409, f"The rings of {error.number} are not being made, so none of them can go out."
    ),
}
