"""What the API takes and gives. Lengths are mm and masses g, rounded to 0.001 on the way out.

What comes in is only checked for its build here (objects, lists, no unknown field); the values are read by
`forms`, with the same sentences as beside the fields of a page.
"""

from datetime import datetime
from typing import Annotated, Any

from pydantic import BaseModel, Field, PlainSerializer, WithJsonSchema

from studio.craft.designs import FingerName, Hand, Measured, Pattern, PatternWhen, Profile, Stock, System
from studio.craft.hallmark import HallmarkRule, Verdict
from studio.craft.orders import State
from studio.web.api_fields import (
    Day,
    In,
    Instant,
    Length,
    Note,
    Percent,
    Size,
    Truth,
    Words,
    one_of,
    text_of,
)
from studio.web.api_ring_models import FinishIn, InscriptionIn, MarksIn, MendsIn, StoneIn
from studio.web.texts import LONGEST_ADDRESS


def rounded(value: float) -> float:
    """To 0.001, and never a minus before nothing: 61.39999 gives 61.4."""
    return round(value, 3) + 0.0


Moment = Annotated[datetime, PlainSerializer(lambda moment: f"{moment:%Y-%m-%dT%H:%M:%S}Z", return_type=str)]
"""A moment in UTC with its Z."""

Figure = Annotated[float, PlainSerializer(rounded, return_type=float)]


GaugeName = Annotated[
    Any,
    WithJsonSchema(
        {
            "type": ["integer", "string", "null"],
            "maxLength": 40,
            "description": "The studio's gauge that took the measure, by its id or name, see /api/gauges: "
            "its calibration corrects the size, and its width and step are taken from it.",
        }
    ),
]


class FingerIn(In):
    """One measurement of a finger. Without `measured` a gauge width means a gauge.

    Without `measured`, a `gauge` that is a set means a gauge, and a stick a ring that fits.
    `two_days`: a second measure on another day agreed.
    """

    system: Annotated[Any, one_of(*System)] = None
    size: Size = None
    size_to: Size = None
    knuckle: Size = None
    measured: Annotated[Any, one_of(*Measured)] = None
    gauge_width_mm: Length = None
    gauge: GaugeName = None
    hand: Annotated[Any, one_of(*Hand)] = None
    name: Annotated[Any, one_of(*FingerName)] = None
    warm: Truth = None
    two_days: Truth = None
    taken_by: Words = None
    taken_at: Instant = None


class FormIn(In):
    """The ring's form: a band, or anticlastic by either the radius of its groove or its rise."""

    kind: Annotated[Any, one_of("band", "anticlastic")] = None
    radius: Length = None
    rise: Length = None


class ReckoningIn(In):
    """A ring to reckon."""

    finger: FingerIn | None = None
    fit_mm: Length = None
    profile: Annotated[Any, one_of(*Profile)] = None
    width: Length = None
    thickness: Length = None
    alloy: Words = None
    from_: Annotated[Any, one_of(*Stock)] = Field(default=None, alias="from")
    pattern: Annotated[Any, one_of(*Pattern)] = None
    pattern_when: Annotated[Any, one_of(*PatternWhen)] = None
    stretch_percent: Percent = None
    form: FormIn | None = None


class RingIn(ReckoningIn):
    """A ring of an order: a reckoning, finish, inscription, stones and marks, and reasons for its warnings.

    Without `finish`, `inscription`, `stones` or `marks`, or with null, that was not asked yet.
    """

    finish: FinishIn | None = None
    inscription: InscriptionIn | None = None
    stones: list[StoneIn] | None = None
    marks: MarksIn | None = None
    reasons: dict[str, Annotated[Any, text_of(500)]] | None = None


class CustomerIn(In):
    """A new customer by name, or a known one by id."""

    id: Annotated[Any, WithJsonSchema({"type": ["integer", "null"]})] = None
    name: Words = None
    phone: Annotated[Any, text_of(40)] = None
    email: Annotated[Any, text_of(254)] = None
    address: Annotated[Any, text_of(LONGEST_ADDRESS)] = None


class TermsIn(In):
    """The days of an order, its note, and which earlier ring it mends; null for none."""

    wanted_on: Day = None
    wanted_hard: Truth = None
    promised_at: Instant = None
    bench_on: Day = None
    note: Note = None
    collects: Words = None
    mends: MendsIn | None = None
    avoid: Annotated[Any, WithJsonSchema({"type": ["array", "null"], "items": {"type": "string"}})] = None


class OrderIn(TermsIn):
    """An order to take."""

    customer: CustomerIn | None = None
    rings: list[RingIn] | None = None


class OrderPatch(TermsIn):
    """A change of an order: only the fields given change, and `rings` replaces the list."""

    version: Annotated[Any, WithJsonSchema({"type": "integer"})] = None
    customer: CustomerIn | None = None
    rings: list[RingIn] | None = None


class VariantIn(In):
    """Another way to make an order's rings: as many as it has, each for the order's own finger."""

    version: Annotated[Any, WithJsonSchema({"type": "integer"})] = None
    rings: list[RingIn] | None = None


Whole = Annotated[Any, WithJsonSchema({"type": ["integer", "null"], "minimum": 0})]


class AmendmentIn(In):
    """What changes of an agreed order; what is left out stays as it was agreed.

    `rings` replaces the whole list. `words` are for the customer; `charge_minor` is charged besides, in minor
    units and without tax, for what `charge_text` says. `minutes` is by ring.
    """

    rings: list[RingIn] | None = None
    wanted_on: Day = None
    wanted_hard: Truth = None
    promised_at: Instant = None
    words: Annotated[Any, text_of(1000)] = None
    charge_text: Annotated[Any, text_of(80)] = None
    charge_minor: Whole = None
    valid_days: Whole = None
    minutes: dict[str, Whole] | None = None


class SettlementIn(In):
    """What is owed of an order that was called off after the yes, in minor units, with tax."""

    owed_minor: Whole = None
    version: Annotated[Any, WithJsonSchema({"type": "integer"})] = None


class MoveIn(In):
    """A move of an order to another state."""

    to: Annotated[Any, one_of(*State)] = None
    version: Annotated[Any, WithJsonSchema({"type": "integer"})] = None
    reason: Annotated[Any, text_of(500)] = None


class SizeLabel(BaseModel):
    """The nearest label of a system; `error_mm` is the label's circumference less the ring's."""

    label: str
    error_mm: Figure


class RingFigures(BaseModel):
    """The ring's inside. Nine rings in ten are within ± `doubt_mm`; `chance` is that of half a UK size."""

    circumference_mm: Figure
    diameter_mm: Figure
    sizes: dict[System, SizeLabel | None]
    doubt_mm: Figure
    chance: Figure
    finished_width_mm: Figure
    edge_diameter_mm: Figure | None = Field(
        default=None, exclude_if=lambda value: value is None, description="Of an anticlastic band alone."
    )


class BlankFigures(BaseModel):
    """The blank to mark and saw."""

    true_length_mm: Figure
    mark_mm: Figure
    width_mm: Figure
    thickness_mm: Figure
    neutral_mm: Figure
    section_mm2: Figure


class MassFigures(BaseModel):
    """The metal it takes."""

    blank_g: Figure
    issue_g: Figure
    ring_g: Figure
    finished_g: Figure


class StretchFigures(BaseModel):
    """What the pattern adds to the length."""

    mean_percent: Figure
    low_percent: Figure
    high_percent: Figure
    used_percent: Figure
    records: int


class HallmarkFigures(BaseModel):
    """The finished mass foreseen, nine times in ten, against the limit of the studio's hallmark rule."""

    rule: HallmarkRule
    limit_g: Figure
    low_g: Figure
    high_g: Figure
    verdict: Verdict


class InputOut(BaseModel):
    """One value that went into a figure."""

    name: str
    value: Figure | str
    unit: str


class WorkingOut(BaseModel):
    """How a figure came about; `figure` is its path in the reckoning."""

    figure: str
    formula: str
    inputs: list[InputOut]
    value: Figure
    unit: str
    source: str


class WarningOut(BaseModel):
    """A warning; it refuses nothing."""

    code: str
    message: str
    needs_reason: bool


class ReckoningOut(BaseModel):
    """All figures of a ring."""

    ring: RingFigures
    blank: BlankFigures
    mass: MassFigures
    stretch: StretchFigures
    hallmark: HallmarkFigures | None
    working: list[WorkingOut]
    warnings: list[WarningOut]
