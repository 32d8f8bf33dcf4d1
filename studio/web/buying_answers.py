"""What the reader is told of what buying refuses."""

from collections.abc import Callable
from typing import Any

from studio.book.buying_errors import BoughtMeanwhile, NotOnItsWay, PurchaseUnknown, SupplyUnknown
from studio.book.errors import BookError
from studio.web.errors import Declined

BUYING_ANSWERS: dict[type[BookError], Callable[[Any], Declined]] = {
    SupplyUnknown: lambda _: Declined(404, "There is no such supply. It may have been dropped."),
    PurchaseUnknown: lambda _: Declined(404, "There is no such purchase."),
    NotOnItsWay: lambda error: Declined(409, f"{error.line} is not on its way any more but {error.state}."),
    BoughtMeanwhile: lambda error: Declined(
        409, f"Purchase {error.purchase_id} was made meanwhile. Look at the list again."
    ),
}
