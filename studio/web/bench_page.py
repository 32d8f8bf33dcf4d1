"""The page of one ring at the bench: the steps in order, and the one that is done now, large."""

import secrets
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlmodel import Session

from studio.book.bench_work import RingAtBench, ring_at_bench, unfinished_rings
from studio.craft.bench_figures import figure_label, measures, target
from studio.craft.bench_work import BenchWork, next_step, passed_over
from studio.craft.directions import apart
from studio.craft.drawing import BenchCut, Svg, bench_drawing, piece_at
from studio.craft.operations import Does, Operation
from studio.craft.orders import State, move_between
from studio.craft.units import figure_words
from studio.web.bench_answers import not_at_the_bench
from studio.web.bench_rows import StepRow, step_rows
from studio.web.bench_words import (
    clock_words,
    did_words,
    finished_words,
    photo_words,
    saved_words,
    step_name,
)
from studio.web.errors import Declined
from studio.web.order_words import size_of
from studio.web.proof_part import ProofPart, proof_part, reader_field
from studio.web.security import Seat
from studio.web.sent_back import Said
from studio.web.wording import counted, design_words, opened

FIELDS = ("figure", "minutes", "reason")


@dataclass(frozen=True, slots=True)
class StepPart:
    """The step that is shown large. `reason_label` is '' where no reason is asked; `seconds` is the clock's.

    `starts` is the act of the second button: start, or pause while the clock runs.
    """

    key: str
    place: str
    name: str
    text: str
    cautions: str
    check: str
    wide: Svg
    narrow: Svg
    figure_label: str
    unit: str
    figure: str
    figure_note: str
    minutes: str
    seconds: int
    clock: str
    clock_note: str
    is_running: bool
    is_done: bool
    reason_label: str
    reason: str

    @property
    def tick_words(self) -> str:
        """What the first button says."""
        return "Put it right" if self.is_done else "Done, next"


@dataclass(frozen=True, slots=True)
class NextPart:
    """What comes after the step that is shown: its name, how it begins, and its cautions."""

    name: str
    text: str
    cautions: str


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
    return bench_context(stands, seat, key, said, left=left)


def bench_context(
    stands: RingAtBench,
    seat: Seat,
    key: str = "",
    said: Said | None = None,
    *,
    left: Sequence[int],
) -> BenchPage:
    """The page of the ring with the step `key` shown; left out, it is the one that is done now.

    `left` are the rings of the order that are not finished yet, by their places.
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
        step=None if shown is None else _step(shown, stands, seat.now, said),
        then=_then(shown, stands),
        undoes="" if work.last is None else did_words(work.last, stands.operations),
        saved=saved_words(stands, seat),
        closed="" if is_open else not_at_the_bench(order.state),
        finished=finished_words(left),
        move=_move(stands, left),
        photos=photo_words(stands),
        photo_href=f"{href}/pictures",
        photo_key=secrets.token_urlsafe(18),
        own_href=f"{href}?step={shown.key}" if shown is not None and said.heading else "",
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


def _step(one: Operation, stands: RingAtBench, now: datetime, said: Said) -> StepPart:
    work = stands.work
    step = work.step(one.key)
    place = next(place for place, other in enumerate(stands.operations, 1) if other.key == one.key)
    piece = piece_at(one, stands.operations)
    reckoning = stands.ring.reckoning
    seconds = round(work.seconds(one.key, now))
    typed = said.typed
    wanted = target(one, reckoning)
    unit = one.measure.unit if one.measure is not None else ""
    return StepPart(
        key=one.key,
        place=f"Step {place} of {len(stands.operations)}",
        name=step_name(one),
        text=opened(one.text),
        cautions=" ".join((*one.cautions, *one.also)),
        check=one.check,
        wide=bench_drawing(reckoning, piece, BenchCut.WIDE),
        narrow=bench_drawing(reckoning, piece, BenchCut.NARROW),
        figure_label="" if measures(one) is None else figure_label(one),
        unit=unit,
        figure=typed.get("figure", "" if step.figure is None else figure_words(step.figure)),
        figure_note="" if wanted is None else f"To come to {figure_words(wanted)} {unit}",
        minutes=typed.get("minutes", "" if step.minutes is None else str(step.minutes)),
        seconds=seconds,
        clock=clock_words(seconds),
        clock_note="" if one.minutes is None else f"planned {round(one.minutes)} min",
        is_running=work.running is not None and work.running.operation == one.key,
        is_done=step.is_done,
        reason_label=_reason_label(one, stands.operations, work),
        reason=typed.get("reason", ""),
    )


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


def _reason_label(one: Operation, operations: Sequence[Operation], work: BenchWork) -> str:
    if work.is_done(one.key):
        return "Why it is not done after all"
    over = passed_over(work, operations, one.key)
    return f"'{step_name(over[0])}' is not done yet. Why is this done first?" if over else ""


def _then(shown: Operation | None, stands: RingAtBench) -> NextPart | None:
    """The next step that is not done after the one shown."""
    if shown is None:
        return None
    keys = [one.key for one in stands.operations]
    after = stands.operations[keys.index(shown.key) + 1 :]
    found = next((one for one in after if not stands.work.is_done(one.key)), None)
    if found is None:
        return None
    return NextPart(step_name(found), found.text, " ".join((*found.cautions, *found.also)))
