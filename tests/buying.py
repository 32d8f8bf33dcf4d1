"""What a supplier sells, and metal ordered of it."""

from sqlmodel import Session

from studio.book.people import PROGRAM
from studio.book.purchase_reads import Purchase
from studio.book.purchases import Wanted, order_metal
from studio.book.supplies import KeptSupply, put_supply, supplies
from tests.builders import NOW
from tests.craft.test_buying import STRIP


def a_supply(session: Session) -> KeptSupply:
    """Strip of sterling, 1.5 thick, put in where nothing is sold yet."""
    sold = supplies(session)
    return sold[0] if sold else put_supply(session, supply=STRIP, actor=PROGRAM, now=NOW)


def a_purchase(session: Session, things: int = 2) -> Purchase:
    """So many strips of 130 x 6 x 1.5, each for one ring."""
    sold = a_supply(session)
    wanted = [Wanted(sold.id, 130_000, 6000, ("2026-1/1",), 900)] * things
    return order_metal(session, supplier=STRIP.supplier, wanted=wanted, actor=PROGRAM, now=NOW)
