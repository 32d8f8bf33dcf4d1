"""The proof of an inscription over HTTP, for whoever reads it back or cuts it."""

from typing import Annotated

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.engine import session
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.papers.inscription_proof import InscriptionToProve, inscription_proof
from studio.web.errors import Declined
from studio.web.order_ring_reading import check_is_there
from studio.web.printing import pdf_answer, printed_while_asked
from studio.web.security import Seat, requires

router = APIRouter()


@router.get("/orders/{number}/rings/{position}/inscription.pdf", response_class=Response)
async def proof(
    request: Request, number: str, position: int, seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS)]
) -> Response:
    """The words of a ring at true size, from the draft on, since they are read back before the yes.

    409 where the ring has no inscription, and once the order is called off.
    """
    found = await run_in_threadpool(_order, seat, number)
    told = to_prove(found, position, seat)
    paper = await printed_while_asked(request, inscription_proof(told))
    return pdf_answer(paper, f"inscription-{found.number}-{position}.pdf")


def to_prove(found: Order, position: int, seat: Seat) -> InscriptionToProve:
    """The ring's inscription as it goes on paper. Raises `Declined`."""
    check_is_there(found, position)
    current = {"number": found.number, "state": found.state, "version": found.version}
    if found.state is State.CALLED_OFF:
        raise Declined(409, f"{found.number} is called off; there is nothing to cut.", current=current)
    ring = next(ring for ring in found.rings if ring.position == position)
    words = ring.particulars.words_to_cut
    if words is None:
        raise Declined(409, f"Ring {position} of {found.number} has no inscription.", current=current)
    return InscriptionToProve(
        number=found.number,
        version=found.version,
        position=position,
        count=len(found.rings),
        customer=found.customer.name,
        inscription=words,
        reckoning=ring.reckoning,
        printed_on=seat.today,
    )


def _order(seat: Seat, number: str) -> Order:
    with session(seat.engine) as book:
        return order(book, number)
