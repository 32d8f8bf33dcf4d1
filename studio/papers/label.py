"""The label of a job envelope: which order lies in it, whose by initials alone, and the code to open it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import partial

from studio.craft.directions import apart
from studio.craft.drawing import Svg
from studio.craft.initials import initials
from studio.papers.days import day_words, full_day_words
from studio.papers.paper import Paper
from studio.papers.qr import code_of_order

TEMPLATE = "label"
CODE_MM = 22.0
"""The side of the square code with its quiet zone. The size of the label stands in its sheet of styles."""


@dataclass(frozen=True, slots=True)
class EnvelopeToLabel:
    """One order whose rings lie in an envelope. Its customer goes no further than `label`, no contact at all.

    `alloys` are the names of the rings' metals, one a ring; `promised_at` is in the studio's own time zone;
    `address` is the order's page, for the square code; `printed_on` the day the label is printed.
    """

    number: str
    customer: str
    alloys: tuple[str, ...]
    bench_on: date | None
    promised_at: datetime | None
    wanted_on: date | None
    address: str
    printed_on: date


@dataclass(frozen=True, slots=True)
class Label:
    """All that a label shows, ready to print; `code` is None on the one that says that there are none."""

    head: str
    whose: str
    metal: str
    days: tuple[str, ...]
    code: Svg | None


def label(envelope: EnvelopeToLabel) -> Label:
    """The label of one envelope in words. Of the customer's name it has the initials."""
    rings = len(envelope.alloys)
    whose = apart(initials(envelope.customer))
    counted = f"{rings} ring" if rings == 1 else f"{rings} rings"
    return Label(
        head=envelope.number,
        whose=f"{whose}, {counted}" if whose else counted,
        metal=_metal(envelope.alloys),
        days=(_bench_day(envelope), _promised(envelope)),
        code=code_of_order(envelope.number, envelope.address, CODE_MM),
    )


def no_label(week: str) -> Label:
    """What is printed where no envelope is to be labelled in a week."""
    return Label(head="No labels", whose="", metal="", days=("No ring is due at the bench,", week), code=None)


def labels(envelopes: Sequence[EnvelopeToLabel], *, title: str) -> Paper:
    """The labels of `envelopes` in turn, one a page. At least one envelope."""
    return Paper(TEMPLATE, tuple(partial(label, envelope) for envelope in envelopes), title)


def empty_labels(monday: date, sunday: date) -> Paper:
    """One label that says that no ring is due at the bench in the week."""
    week = f"{day_words(monday)} to {full_day_words(sunday)}"
    return Paper(TEMPLATE, (partial(no_label, week),), f"Labels, {week}")


def _metal(alloys: Sequence[str]) -> str:
    """'750 yellow gold, 3N'; of several without what tells kinds apart: '750 yellow gold, 925 silver'."""
    kinds = dict.fromkeys(alloys)
    if len(kinds) > 1:
        kinds = dict.fromkeys(name.partition(",")[0] for name in kinds)
    return ", ".join(apart(name) for name in kinds)


def _bench_day(envelope: EnvelopeToLabel) -> str:
    if envelope.bench_on is None:
        return "No bench day yet"
    return f"Bench {day_words(envelope.bench_on, today=envelope.printed_on)}"


def _promised(envelope: EnvelopeToLabel) -> str:
    if envelope.promised_at is not None:
        return f"Promised {day_words(envelope.promised_at.date(), today=envelope.printed_on)}"
    if envelope.wanted_on is not None:
        return f"Wanted {day_words(envelope.wanted_on, today=envelope.printed_on)}"
    return "No day promised"
