"""The page of one ring at the bench: the steps in order, and the one that is done now, large."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass

from sqlmodel import Session

from studio.book.bench_work import RingAtBench, ring_at_bench, unfinished_rings
from studio.book.places import StudioPlace, places
from studio.book.whereabouts import lies_of
from studio.craft.bench_work import next_step
from studio.craft.directions import apart
from studio.craft.operations import Does, Operation
from studio.craft.orders import State, move_between
from studio.craft.whereabouts import Lies
from studio.web.bench_answers import not_at_the_bench
from studio.web.bench_rows import StepRow, step_rows
from studio.web.bench_step import NextPart, StepPart, next_part, step_part
from studio.web.bench_words import (
    did_words,
    finished_words,
    photo_words,
    saved_words,
)
from studio.web.counter_choices import Choice
from studio.web.errors import Declined
from studio.web.order_words import size_of
from studio.web.proof_part import ProofPart, proof_part, reader_field
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.whereabouts_page import lies_since, out_of_house, place_words
from studio.web.wording import counted, design_words, opened

FIELDS = ("figure", "minutes", "reason")


@dataclass(frozen=True, slots=True)
class MovePart:
    """The one way on that the bench itself sees to: its words, where to, and the order's version."""

    words: str
    to: str
    href: str
    order_version: int


@dataclass(frozen=True, slots=True)
class BenchPage:
    """The page. `closed` says why nothing can be done, '' where it can; `undoes` what undo takes back."""

    title: str
    number: str
    customer: str
    ring: str
    person: str
    change_href: str
    list_href: str
    sheet_href: str
    label_href: str
    action: str
    before: tuple[StepRow, ...]
    rows: tuple[StepRow, ...]
    step: StepPart | None
    then: NextPart | None
    undoes: str
    saved: str
    closed: str
    finished: str
    move: MovePart | None
    photos: str
    photo_href: str
    photo_key: str
    own_href: str
    lies: str
    lies_since: str
    out: str
    place_href: str
    places: tuple[Choice, ...]
    no_place: Choice
    said: Said
    version: int
    form_key: str
    proof: ProofPart | None = None

    @property
    def is_photo_open(self) -> bool:
        """Whether the form of the photo stands open, because something of it is to be put right."""
        return bool(self.said.error("picture") or self.said.error("picture_note"))

    @property
    def before_words(self) -> str:
        """What the folded steps are called."""
        return opened(counted(len(self.before), "more step done", "more steps done"))


def read_bench_page(
    book: Session, seat: Seat, ring: tuple[str, int], key: str = "", said: Said | None = None
) -> BenchPage:
    """The page of a ring, by its order's number and its place, as it stands in the book.

    Raises `OrderUnknown` and `RingUnknown`.
    """
    stands = ring_at_bench(book, *ring)
    is_done = next_step(stands.work, stands.operations) is None
    left = unfinished_rings(book, stands.order) if is_done else (stands.ring.position,)
    where = lies_of(book, stands.order.number, f"{stands.order.number}/{stands.ring.position}")
    return bench_context(stands, seat, key, said, left=left, where=where, known=places(book))


def bench_context(
    stands: RingAtBench,
    seat: Seat,
    key: str = "",
    said: Said | None = None,
    *,
    left: Sequence[int],
    where: Lies,
    known: Sequence[StudioPlace],
) -> BenchPage:
    """The page of the ring with the step `key` shown; left out, it is the one that is done now.

    `left` are the rings of the order that are not finished yet, by their places; `where` is where the ring
    lies, `known` are the studio's places.
    """
    said = said or Said()
    order, ring, work = stands.order, stands.ring, stands.work
    href = f"/bench/{order.number}/{ring.position}"
    shown = next((one for one in stands.operations if one.key == key), None) or _now(stands)
    before, rows = step_rows(stands, shown, seat.now)
    design = ring.design
    what = design_words(design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy)
    of = f"Ring {ring.position} of {len(order.rings)}, " if len(order.rings) > 1 else ""
    is_open = order.state is State.AT_THE_BENCH
    return BenchPage(
        title=f"{order.number} at the bench",
        number=order.number,
        customer=apart(order.customer.name),
        ring=f"{of}{size_of(ring.finger)}, {what}",
        person=apart(seat.actor.name),
        change_href=f"/bench/hands?next={href}" if seat.is_bench else "",
        list_href="/bench",
        sheet_href=f"/orders/{order.number}/bench-sheet.pdf",
        label_href=f"/orders/{order.number}/label.pdf",
        action=href,
        before=before,
        rows=rows,
        step=None if shown is None else step_part(shown, stands, seat.now, said),
        then=next_part(shown, stands),
        undoes="" if work.last is None else did_words(work.last, stands.operations),
        saved=saved_words(stands, seat),
        closed="" if is_open else not_at_the_bench(order.state),
        finished=finished_words(left),
        move=_move(stands, left),
        photos=photo_words(stands),
        photo_href=f"{href}/pictures",
        photo_key=secrets.token_urlsafe(18),
        own_href=f"{href}?step={shown.key}" if shown is not None and said.heading else "",
        lies=place_words(where),
        lies_since=lies_since(where, seat),
        out=out_of_house(where, seat),
        place_href=f"{href}/place",
        places=tuple(Choice(str(one.id), one.name) for one in known),
        no_place=Choice("", "Choose the place"),
        said=said,
        version=work.version,
        form_key=secrets.token_urlsafe(18),
        proof=_proof(shown, stands, seat, said),
    )


def _proof(shown: Operation | None, stands: RingAtBench, seat: Seat, said: Said) -> ProofPart | None:
    """The proof of the words, beside the step that cuts them."""
    if shown is None or Does.ENGRAVES not in shown.does:
        return None
    order, ring = stands.order, stands.ring
    action = f"/bench/{order.number}/{ring.position}/proof" if order.state is State.AT_THE_BENCH else ""
    return proof_part(order, ring, seat, said, action=action, name=reader_field(0))


def place_of(number: str, position: str) -> int:
    """The ring's place in its order as the address says it; 404 for what is none."""
    if not (position.isascii() and position.isdigit() and len(position) <= 4):
        raise Declined(404, f"Order {number} has no such ring.")
    return int(position)


def _now(stands: RingAtBench) -> Operation | None:
    """The step that is done now: the one whose clock runs, else the first that is not ticked."""
    running = stands.work.running
    if running is not None and not stands.work.is_done(running.operation):
        found = next((one for one in stands.operations if one.key == running.operation), None)
        if found is not None:
            return found
    return next_step(stands.work, stands.operations)


def _move(stands: RingAtBench, left: Sequence[int]) -> MovePart | None:
    """To the bench while the order is agreed, and ready once no ring of it has a step left."""
    order = stands.order
    to = {State.AGREED: State.AT_THE_BENCH}.get(order.state)
    if order.state is State.AT_THE_BENCH and not left:
        to = State.READY
    move = None if to is None else move_between(order.state, to)
    if move is None:
        return None
    href = f"/bench/{order.number}/{stands.ring.position}/moves"
    return MovePart(move.verb, move.end, href, order.version)
