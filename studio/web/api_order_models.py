"""What the API gives of orders."""

from datetime import date

from pydantic import BaseModel, Field

from studio.book.document_values import DocumentKind
from studio.craft.calling_off import Stage
from studio.craft.designs import FingerName, Hand, Measured, Pattern, PatternWhen, Profile, Stock, System
from studio.craft.form import FormKind
from studio.craft.mends import Cause, MendKind, PaidBy
from studio.craft.open_days import Part
from studio.craft.orders import State
from studio.craft.particulars import Face, Lettering, MarkPlace, MarkWish, Risk, Setting, Surface, Whose
from studio.web.api_models import Figure, Moment, ReckoningOut, WarningOut
from studio.web.api_money_models import MoneyOut
from studio.web.api_quote_models import QuoteNamedOut, QuoteSeenOut


class MissingOut(BaseModel):
    """What is not yet asked: for a quote, for the bench, and good to have."""

    quote: list[str]
    bench: list[str]
    nice: list[str]


class TakenOut(BaseModel):
    """An order as just taken or changed."""

    number: str
    state: State
    version: int
    missing: MissingOut


class MovedOut(BaseModel):
    """An order's state after a move."""

    state: State
    version: int


class VariantTakenOut(MovedOut):
    """The key of a variant just offered, and the order's state after it."""

    key: str


class PersonOut(BaseModel):
    """Whose order it is, without the contact."""

    id: int
    name: str


class CustomerOut(PersonOut):
    """Whose order it is, for roles that see the contact."""

    phone: str | None
    email: str | None
    address: str


class FingerOut(BaseModel):
    """A measurement of a finger."""

    system: System
    size: str
    size_to: str | None
    knuckle: str | None
    measured: Measured | None
    gauge_width_mm: Figure | None
    gauge: int | None
    hand: Hand | None
    name: FingerName | None
    warm: bool | None
    two_days: bool
    taken_by: str | None
    taken_at: Moment


class FormOut(BaseModel):
    """The ring's form."""

    kind: FormKind
    radius: Figure | None
    rise: Figure | None


class FinishOut(BaseModel):
    """How the faces of a ring are finished."""

    inside: Surface | None
    outside: Surface | None


class InscriptionOut(BaseModel):
    """Words on the ring; without text none is wanted."""

    text: str
    face: Face
    lettering: Lettering
    letter_mm: Figure | None
    read_back: bool


class StoneOut(BaseModel):
    """Equal stones of a ring."""

    count: int
    whose: Whose
    shape: str
    size: str
    stated: str
    tested: str
    condition: str
    value: str
    setting: Setting | None
    risk: Risk | None


class MarksOut(BaseModel):
    """The marks of a ring."""

    hallmark: MarkWish
    sponsor: bool
    where: MarkPlace


class AsMadeOut(BaseModel):
    """A ring as it was handed over; null is not known. `ordered_mm` is the inside round as reckoned."""

    ring: int
    size: str
    size_mm: Figure | None
    ordered_mm: Figure
    before_mm: Figure | None
    after_mm: Figure | None
    closed_mm: Figure | None
    issued_g: Figure | None
    finished_g: Figure | None
    lot: str
    makers: str
    handed_over_at: Moment


class RingOut(BaseModel):
    """A ring of an order; without `ring` and `reckoning` it can be sent back as it is."""

    ring: int
    finger: FingerOut
    fit_mm: Figure | None
    profile: Profile
    width: Figure
    thickness: Figure
    alloy: str
    from_: Stock = Field(serialization_alias="from")
    pattern: Pattern
    pattern_when: PatternWhen | None
    stretch_percent: Figure | None
    form: FormOut
    finish: FinishOut | None
    inscription: InscriptionOut | None
    stones: list[StoneOut] | None
    marks: MarksOut | None
    reasons: dict[str, str]
    reckoning: ReckoningOut


class VariantRingsOut(BaseModel):
    """Another way to make the order's rings that its next quote offers."""

    key: str
    rings: list[RingOut]


class PictureOut(BaseModel):
    """A picture of an order, of its ring where `ring` says which; the JPEG is at `href`."""

    id: int
    ring: int | None
    note: str
    width_px: int
    height_px: int
    href: str


class DocumentOut(BaseModel):
    """A paper of an order besides its quotes. `sha256` is null until the paper is first asked for."""

    number: str
    kind: DocumentKind
    issued_at: Moment
    pdf: str
    sha256: str | None


class MendsOut(BaseModel):
    """The earlier ring an order mends; cause and who pays are null while they were not asked."""

    order: str
    ring: int
    kind: MendKind
    cause: Cause | None
    words: str
    paid_by: PaidBy | None


class DayStepOut(BaseModel):
    """One part of the work, from its first open day to its last."""

    what: Part
    from_: date = Field(serialization_alias="from")
    to: date


class DaysOut(BaseModel):
    """The promised day, or else the wanted one, counted back over the studio's open days.

    `bench_on_latest` is the last day to begin; `short_by_days` open days are lacking even begun today.
    `warning` says in words what does not fit, '' where all does.
    """

    bench_on_latest: date
    open_days: int
    steps: list[DayStepOut]
    short_by_days: int
    warning: str


class CallingOffOut(BaseModel):
    """How an order was called off after the yes, in minor units; null is what nobody said yet.

    `percent` is what the studio's table said, null where the amount was typed.
    """

    stage: Stage
    currency: str
    total_minor: int
    paid_minor: int
    percent: str | None
    owed_minor: int | None
    returned_minor: int | None
    left_minor: int | None
    called_off_at: Moment


class OrderOut(TakenOut):
    """An order as it stands. `agreed_name` is who said yes; `collects` is for those who see the contact.

    `calling_off` and `money` are for those who see a price, `documents` for those who may make them.
    `as_made` is what its rings came out as, once it is handed over.
    `variants` are the other ways offered until one is agreed; then `rings` are those of the one chosen.
    `days` is null from the bench on, without a day, and where the studio did not say how long its work takes.
    """

    customer: CustomerOut | PersonOut
    wanted_on: date | None
    wanted_hard: bool
    promised_at: Moment | None
    bench_on: date | None
    note: str
    avoid: list[str]
    collects: str | None
    mends: MendsOut | None
    days: DaysOut | None
    agreed_name: str | None
    agreed_at: Moment | None
    state_since: Moment
    created_at: Moment
    rings: list[RingOut]
    as_made: list[AsMadeOut]
    variants: list[VariantRingsOut]
    pictures: list[PictureOut]
    quotes: list[QuoteSeenOut | QuoteNamedOut]
    calling_off: CallingOffOut | None
    documents: list[DocumentOut]
    money: MoneyOut | None
    warnings: list[WarningOut]
