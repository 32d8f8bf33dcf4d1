"""What is answered where the book refuses something of the bench."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError, NothingToMeasure
from studio.book.route_errors import RouteFixed
from studio.web.errors import Declined

BENCH_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    RouteFixed: lambda _: Declined(409, "This ring is not being made: its route stands as it is."),
    NothingToMeasure: lambda _: Declined(409, "This ring is not being made: there is nothing to measure."),
}
