"""What is answered where the book does not know a tool of the studio."""

from collections.abc import Callable
from typing import Any

from studio.book.errors import BookError, GaugeUnknown, PrinterUnknown
from studio.web.errors import Declined

TOOL_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    GaugeUnknown: lambda _: Declined(404, "There is no such gauge."),
    PrinterUnknown: lambda _: Declined(404, "There is no such printer."),
}
