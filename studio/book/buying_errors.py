"""What buying refuses, as facts: the sentences are written in the web room."""

from studio.book.errors import BookError


class SupplyUnknown(BookError):
    """There is no supply of this number, or it was dropped."""

    def __init__(self, supply_id: int) -> None:
        super().__init__(f"no supply {supply_id}")
        self.supply_id = supply_id


class PurchaseUnknown(BookError):
    """There is no purchase of this number, or no such line in it."""

    def __init__(self, purchase_id: int) -> None:
        super().__init__(f"no purchase {purchase_id}")
        self.purchase_id = purchase_id


class NotOnItsWay(BookError):
    """This thing of a purchase is not on its way any more: it arrived, or was called off (`state`)."""

    def __init__(self, line: str, state: str) -> None:
        super().__init__(f"{line} is {state}")
        self.line = line
        self.state = state


class BoughtMeanwhile(BookError):
    """Something was ordered since the list was read: what it proposes may be bought already."""

    def __init__(self, purchase_id: int) -> None:
        super().__init__(f"purchase {purchase_id} was made meanwhile")
        self.purchase_id = purchase_id
