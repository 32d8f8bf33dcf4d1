"""The proof of an inscription over HTTP: printed, read back, and signed before the words are cut."""

from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.engine import session
from studio.book.idempotency import Answer
from studio.book.making_errors import NothingToProve, ProofChanged
from studio.book.order_reads import order
from studio.book.order_values import Order
from studio.book.proofs import sign_proof
from studio.craft.errors import Refused
from studio.craft.orders import State
from studio.craft.roles import Right
from studio.papers.inscription_proof import InscriptionToProve, inscription_proof
from studio.web.bench import bench_page_again
from studio.web.bench_page import place_of
from studio.web.bodies import Typed
from studio.web.book_errors import declined
from studio.web.errors import Declined, FieldError, FieldErrors, in_words
from studio.web.once import do_once
from studio.web.order import done
from studio.web.order_ring_reading import check_is_there
from studio.web.printing import pdf_answer, printed_while_asked
from studio.web.proof_part import reader_field
from studio.web.security import Seat, requires
from studio.web.sent_back import to_put_right, typed_texts

router = APIRouter()


@router.get("/orders/{number}/rings/{position}/inscription.pdf", response_class=Response)
async def proof(
    request: Request,
    number: str,
    position: int,
    seat: Annotated[Seat, requires(Right.PRINT_BENCH_SHEETS, is_bench_work=True)],
) -> Response:
    """The words of a ring at true size, from the draft on, since they are read back before the yes.

    409 where the ring has no inscription, and once the order is called off.
    """
    found = await run_in_threadpool(_order, seat, number)
    told = to_prove(found, position, seat)
    paper = await printed_while_asked(request, inscription_proof(told))
    return pdf_answer(paper, f"inscription-{found.number}-{position}.pdf")


@router.post("/orders/{number}/rings/{position}/proof", response_class=HTMLResponse)
def signed(
    request: Request,
    number: str,
    position: int,
    typed: Typed,
    seat: Annotated[Seat, requires(Right.TAKE_ORDERS)],
) -> Response:
    """Note that somebody read the words back and signed the proof of them."""
    name = reader_field(position)

    def work(book: Session) -> None:
        _sign(book, seat, (number, position), typed, name)

    return done(request, seat, number, typed, fields=typed_texts(typed, name), work=work)


@router.post("/bench/{number}/{position}/proof", response_class=HTMLResponse)
def signed_at_the_bench(
    request: Request,
    seat: Annotated[Seat, requires(Right.MOVE_ORDERS, is_bench_work=True)],
    number: str,
    position: str,
    typed: Typed,
) -> Response:
    """Note it where the words are cut, by the maker whose hands are on the tablet."""
    place, name = place_of(number, position), reader_field(0)
    step = str(typed.get("step", ""))

    def work(book: Session) -> Answer:
        _sign(book, seat, (number, place), typed, name)
        return Answer(303, "", f"/bench/{number}/{place}?step={step}")

    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=typed.get("idempotency_key"))
    except FieldErrors as found:
        said = to_put_right(found.errors, typed_texts(typed, name))
        return bench_page_again(request, seat, (number, position), step, said)


def _sign(book: Session, seat: Seat, ring: tuple[str, int], typed: Typed, name: str) -> None:
    """Sign the words that the form showed. Raises `FieldErrors` at `name` for all that stands against it."""
    try:
        sign_proof(
            book,
            number=ring[0],
            position=ring[1],
            text=str(typed.get("proof_text", "")),
            read_by=typed_texts(typed, name)[name],
            actor=seat.actor,
            now=seat.now,
        )
    except Refused as refused:
        raise FieldErrors([FieldError(name, error.message) for error in in_words(refused)]) from None
    except (NothingToProve, ProofChanged) as refused:
        raise FieldErrors([FieldError(name, declined(refused).errors[0].message)]) from None


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
