"""What the book refuses about where things lie and about work outside, as facts."""

from datetime import date

from studio.book.errors import BookError, NotFound


class PlaceUnknown(NotFound):
    """The studio has no such place, or it was dropped."""

    def __init__(self, place_id: int) -> None:
        super().__init__(f"no place {place_id}")
        self.place_id = place_id


class ThingUnknown(NotFound):
    """There is no such thing in the studio's keeping: no ring of this order, no goods that are held."""

    def __init__(self, thing: str) -> None:
        super().__init__(f"no thing {thing}")
        self.thing = thing


class ThingOut(BookError):
    """The thing is out of the house by this slip: it is neither worked on, moved nor given away meanwhile."""

    def __init__(self, thing: str, slip: str, worker: str, due_on: date) -> None:
        super().__init__(f"{thing} is out by {slip}")
        self.thing = thing
        self.slip = slip
        self.worker = worker
        self.due_on = due_on


class OutworkerUnknown(NotFound):
    """Nobody of this number works outside for the studio, or they were dropped."""

    def __init__(self, outworker_id: int) -> None:
        super().__init__(f"no outworker {outworker_id}")
        self.outworker_id = outworker_id


class SlipUnknown(NotFound):
    """There is no slip of this number."""

    def __init__(self, number: str) -> None:
        super().__init__(f"no slip {number}")
        self.number = number


class BackAlready(BookError):
    """What went out by this slip is back."""

    def __init__(self, number: str, by: str) -> None:
        super().__init__(f"{number} is back")
        self.number = number
        self.by = by


class NothingToSend(BookError):
    """The ring is not agreed yet, or the order is over: nothing of it can go out."""

    def __init__(self, number: str) -> None:
        super().__init__(f"{number} has no such ring to send")
        self.number = number
