"""What the bench measured on a ring: a plain form of its own, reached from the ring's part of the order."""

import re
import secrets
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from fastapi import APIRouter
from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import HTMLResponse, Response

from studio.book.bench_records import (
    LENGTH_MM,
    LONGEST_TOOL,
    LONGEST_WRONG,
    SIZE_MM,
    BenchDraft,
    BenchRecord,
    bench_record,
    put_bench_record,
)
from studio.book.engine import session
from studio.craft.designs import System
from studio.craft.roles import Right
from studio.craft.sizes import SYSTEM_NAMES, BeyondZ, ReadSize, read_size
from studio.craft.units import read_length, shown_length
from studio.web.bodies import Typed
from studio.web.counter_page import ErrorLine
from studio.web.counter_standing import standing_of
from studio.web.errors import Declined
from studio.web.keeping import keep
from studio.web.many_forms import lines_of
from studio.web.order_words import size_of
from studio.web.reading import Reading, measured, read_id
from studio.web.render import Place, page
from studio.web.security import Seat, requires
from studio.web.sent_back import Said, typed_texts
from studio.web.texts import read_text
from studio.web.wording import design_words, opened

router = APIRouter()

Bench = Annotated[Seat, requires(Right.MOVE_ORDERS)]
WORDS = {
    "before_mm": "Length before the pattern",
    "after_mm": "Length after the pattern",
    "closed_mm": "Size once closed",
    "formed_mm": "Size of the waist once formed",
    "tool": "Tool",
    "wrong": "Why it does not count",
}
_NOTHING = Said()
_LONG = re.compile(r"(?i:[0-9.,]+ ?mm)|(?:[4-9][0-9]|1[0-9]{2})(?:[.,][0-9]+)?")
"""What is mm round and no label: with its unit, or from 40, where no system's labels are in use but mm."""


@dataclass(frozen=True, slots=True)
class BenchRecordPage:
    """The page. `is_patterned` and `is_formed` say which measures the ring has at all."""

    title: str
    ring: str
    order_href: str
    order: str
    action: str
    records_href: str
    words: dict[str, str]
    texts: dict[str, str]
    said: Said
    error_lines: tuple[ErrorLine, ...]
    is_patterned: bool
    is_formed: bool
    system: str
    told: str
    version: int
    form_key: str


@router.get("/orders/{number}/rings/{position}/bench-record", response_class=HTMLResponse)
def shown(request: Request, seat: Bench, number: str, position: str) -> HTMLResponse:
    """The form, with what was put down already."""
    return _page(request, seat, number, position)


@router.post("/orders/{number}/rings/{position}/bench-record", response_class=HTMLResponse)
def put(request: Request, seat: Bench, number: str, position: str, typed: Typed) -> Response:
    """Put the measures down, or put them right."""

    def work(book: Session) -> None:
        standing = standing_of(book, number, position)
        ring = standing.ring
        if ring is None:
            raise Declined(404, f"Order {number} has no such ring.")
        put_bench_record(
            book,
            number=standing.order.number,
            position=ring.position,
            record=read_bench_draft(typed, ring.finger.system, ring.reckoning.practice.reading.beyond_z),
            version=read_id(typed.get("version"), "version"),
            actor=seat.actor,
            now=seat.now,
        )

    return keep(
        request,
        seat,
        typed,
        texts=typed_texts(typed, *WORDS),
        words=WORDS,
        href=f"/orders/{number}#ring-{position}",
        work=work,
        again=lambda said, status: _page(request, seat, number, position, said=said, status=status),
        stands=lambda book: _texts(bench_record(book, number, int(position))),
        heading="Somebody else put down this ring meanwhile",
    )


def read_bench_draft(raw: Mapping[str, object], system: System, beyond: BeyondZ) -> BenchDraft:
    """The measures as typed; a size is one of `system`, or its inside round in mm: 'O½', '56.9', '49,3 mm'.

    Raises `FieldErrors` with all that is to be put right.
    """
    asked = Reading(raw, "")

    def size(value: object, field: str) -> float | None:
        return None if value is None else read_inside(value, field, system, beyond).circumference_mm

    before = asked.length("before_mm", LENGTH_MM, gauge=None)
    after = asked.length("after_mm", LENGTH_MM, gauge=None)
    closed, formed = asked.read("closed_mm", size), asked.read("formed_mm", size)
    tool = asked.read("tool", lambda value, field: read_text(value, field, longest=LONGEST_TOOL))
    wrong = asked.read("wrong", lambda value, field: read_text(value, field, longest=LONGEST_WRONG))
    asked.stop()
    return BenchDraft(before, after, closed, formed, tool or "", wrong or "")


def read_inside(value: object, field: str, system: System, beyond: BeyondZ) -> ReadSize:
    """A size of `system`, or the inside round in mm, which has no label: 'O½', '56.9', '49,3 mm'."""
    typed = measured(value, field)
    if _LONG.fullmatch(str(typed).strip()):
        return ReadSize("", read_length(typed, field, low_mm=SIZE_MM.low, high_mm=SIZE_MM.high, gauge=None))
    return read_size(system, typed, field, beyond)


def _page(
    request: Request, seat: Seat, number: str, position: str, *, said: Said = _NOTHING, status: int = 200
) -> HTMLResponse:
    with session(seat.engine) as book:
        standing = standing_of(book, number, position)
        if standing.ring is None:
            raise Declined(404, f"Order {standing.order.number} has no such ring.")
        ring = standing.ring
        known = bench_record(book, standing.order.number, ring.position)
    design = ring.design
    what = design_words(design.profile, design.width_mm, design.thickness_mm, design.pattern, design.alloy)
    href = f"/orders/{standing.order.number}"
    context = BenchRecordPage(
        title=f"Measured at the bench, {standing.order.number}",
        ring=f"{opened(what)}, {size_of(ring.finger)}",
        order_href=f"{href}#ring-{ring.position}",
        order=f"Order {standing.order.number}",
        action=f"{href}/rings/{ring.position}/bench-record",
        records_href="/bench-records",
        words=WORDS,
        texts=said.typed or _texts(known),
        said=said,
        error_lines=lines_of(said, WORDS),
        is_patterned=design.pattern_when is not None,
        is_formed=ring.reckoning.form is not None,
        system=f"{SYSTEM_NAMES[ring.finger.system]} size, or mm round",
        told=_told(known),
        version=0 if known is None else known.version,
        form_key=secrets.token_urlsafe(18),
    )
    return page(request, "bench_records/ring.html", context, place=Place.ORDERS, status=status)


def _texts(record: BenchRecord | None) -> dict[str, str]:
    """The record as its fields show it."""
    if record is None:
        return {}
    told = record.draft
    lengths = {
        "before_mm": told.before_mm, "after_mm": told.after_mm,
        "closed_mm": told.closed_mm, "formed_mm": told.formed_mm,
    }  # fmt: skip
    sizes = {"closed_mm", "formed_mm"}
    shown = {
        name: "" if mm is None else f"{shown_length(mm)}{' mm' if name in sizes else ''}"
        for name, mm in lengths.items()
    }
    return {**shown, "tool": told.tool, "wrong": told.wrong}


def _told(record: BenchRecord | None) -> str:
    """What the record says: 'The pattern added 2.0 %', or ''."""
    found = None if record is None else record.of_stretch
    return "" if found is None else f"The pattern added {found.percent:.1f} %."
