"""The order to a supplier over HTTP, as a paper."""

from typing import Annotated

from fastapi import APIRouter
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response

from studio.book.buying_tables import LineState
from studio.book.engine import session
from studio.book.purchase_reads import purchase
from studio.book.studio import studio
from studio.craft.roles import Right
from studio.craft.units import to_micrometres
from studio.papers.metal_order import OrderedThing, metal_order
from studio.papers.paper import Paper
from studio.papers.quote_facts import Letterhead
from studio.web.buying_page import gauge_words, measures_words
from studio.web.printing import pdf_answer, printed_while_asked
from studio.web.security import Seat, requires

router = APIRouter()


@router.get("/metal/purchases/{purchase_id}.pdf", response_class=Response)
async def paper(
    request: Request, seat: Annotated[Seat, requires(Right.KEEP_DRAWER)], purchase_id: int
) -> Response:
    """The order of one purchase, for the supplier, without what was called off of it."""
    told = await run_in_threadpool(_to_print, seat, purchase_id)
    return pdf_answer(await printed_while_asked(request, told), f"order-of-metal-{purchase_id}.pdf")


def _to_print(seat: Seat, purchase_id: int) -> Paper:
    with session(seat.engine) as book:
        made, facts = purchase(book, purchase_id), studio(book)
    things = [one for one in made.lines if one.state is not LineState.CALLED_OFF]
    return metal_order(
        Letterhead(facts.name, facts.subtitle, facts.address, facts.phone, facts.email),
        number=str(made.id),
        supplier=made.supplier,
        ordered_on=made.ordered_on,
        expected_on=made.expected_on,
        things=tuple(
            OrderedThing(
                one.name,
                measures_words(one.measures),
                gauge_words(to_micrometres(one.measures.thickness_mm)),
                f"{one.mass_g:.2f}",
            )
            for one in things
        ),
        grams=f"{sum(one.mass_g for one in things):.2f}",
    )
