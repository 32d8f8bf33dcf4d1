"""Reading a ring and an order: the same readers for a page's form and for the API.

A reader takes what was typed (text, or a number from JSON) and gives values of the trade, or raises
`FieldErrors` with everything that is to be put right. An empty text is a field left out.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime

from studio.book.order_values import CustomerDraft, OrderTerms, RingDraft
from studio.book.ring_practices import Workshop
from studio.craft.avoiding import read_avoid
from studio.craft.caveats import CAVEAT_CODES
from studio.craft.designs import (
    FIT_MM,
    RADIUS_MM,
    RISE_MM,
    STRETCH_PERCENT,
    WIRE_PROFILES,
    Design,
    Pattern,
    PatternWhen,
    Profile,
    Stock,
    System,
    design,
    thickness_limits,
    width_limits,
)
from studio.craft.form import BAND, Form, FormKind
from studio.web.days import read_date, read_exact_moment, read_moment
from studio.web.errors import FieldError, FieldErrors, Findings
from studio.web.finger_reading import read_finger
from studio.web.mends_reading import read_mends
from studio.web.particulars_reading import read_particulars
from studio.web.reading import Reading, read_id, sure
from studio.web.structure import tame
from studio.web.texts import read_address, read_email, read_name, read_phone, read_text, read_word

LONGEST_NOTE, LONGEST_REASON = 4_000, 500
MOST_RINGS = 50
COMMON = Workshop()
"""A workshop that reads as most do and has no gauges of its own."""
_STAND_IN_MM, _STAND_IN_ALLOY = 1.0, "silver-925"


@dataclass(frozen=True, slots=True)
class Calendar:
    """What it takes to understand a day as typed: the studio's today and its time zone.

    `is_exact` is a program's way: it writes moments to the letter, with their distance from UTC.
    """

    today: date
    zone: str
    is_exact: bool = False

    def day(self, value: object, field: str) -> date | None:
        """The day meant, see `days.read_date`."""
        return read_date(value, field, today=self.today)

    def moment(self, value: object, field: str) -> datetime | None:
        """The moment meant in UTC, see `days.read_moment` and `days.read_exact_moment`."""
        if self.is_exact:
            return read_exact_moment(value, field)
        return read_moment(value, field, today=self.today, zone=self.zone)


def read_ring(
    raw: object,
    path: str,
    calendar: Calendar,
    *,
    usual_system: System | None = System.UK,
    workshop: Workshop = COMMON,
) -> RingDraft:
    """One ring: `finger`, its design, `finish`, `inscription`, and `reasons` for its warnings by their code.

    `path` stands before the fields of the errors: 'rings.0' gives 'rings.0.width', '' gives 'width'.
    `usual_system` is the size system where none is given; None asks for one. `workshop` has the gauges that
    may have measured the finger, and how the studio reads sizes and sheet gauges.
    """
    ring = Reading(raw, path)
    finger = None
    if ring.raw.get("finger") is None:
        ring.add("finger", "The finger is not given yet.")
    else:
        finger = ring.found.take(
            lambda: read_finger(
                ring.raw["finger"], ring.at("finger"), usual_system=usual_system, workshop=workshop
            )
        )
    taken = Reading(ring.raw.get("finger"), ring.at("finger"))
    taken_by = taken.read("taken_by", short_text)
    taken_at = taken.read("taken_at", calendar.moment)
    ring.found.errors += taken.found.errors
    made = ring.found.take(lambda: read_design(ring.raw, path, workshop))
    reasons = ring.found.take(lambda: read_reasons(ring.raw.get("reasons"), ring.at("reasons")))
    particulars = ring.found.take(lambda: read_particulars(ring.raw, path))
    ring.stop()
    return RingDraft(sure(finger), sure(made), taken_by or None, taken_at, reasons or {}, sure(particulars))


def read_design(raw: object, path: str, workshop: Workshop) -> Design:
    """The ring's design out of profile, width, thickness, alloy, from, pattern, ... and form."""
    ring, gauge = Reading(raw, path), workshop.practice.reading.gauge
    profile = ring.choice("profile", Profile)
    if not ring.has("profile"):
        ring.add("profile", "The section is not chosen yet.")
    shape = profile or Profile.FLAT
    width = ring.length("width", width_limits(shape), gauge=gauge)
    # A wire has one size: typed alike on both sides and wrong, it is told once.
    is_told = shape in WIRE_PROFILES and ring.is_wrong("width") and ring.is_alike("width", "thickness")
    thickness = None if is_told else ring.length("thickness", thickness_limits(shape), gauge=gauge)
    alloy = ring.read("alloy", read_word)
    if not ring.has("alloy"):
        ring.add("alloy", "The metal is not chosen yet.")
    stock, pattern = ring.choice("from", Stock), ring.choice("pattern", Pattern)
    when = ring.choice("pattern_when", PatternWhen)
    stretch = ring.number("stretch_percent", STRETCH_PERCENT, "%")
    fit = ring.length("fit_mm", FIT_MM, gauge=None)
    form = ring.found.take(lambda: read_form(ring.raw.get("form"), ring.at("form"))) or BAND
    # What could not be read is stood in for, so that the rest is judged together and everything told at once.
    stands_in = ring.is_wrong("width") or ring.is_wrong("thickness")
    if ring.is_wrong("width") or (ring.is_wrong("thickness") and shape in WIRE_PROFILES):
        width = _STAND_IN_MM
    if ring.is_wrong("thickness") or (ring.is_wrong("width") and shape in WIRE_PROFILES):
        thickness = _STAND_IN_MM
    made = ring.found.take(
        lambda: design(
            shape,
            width,
            thickness,
            alloy or _STAND_IN_ALLOY,
            stock,
            pattern=pattern or Pattern.PLAIN,
            pattern_when=when,
            stretch_percent=stretch,
            fit_mm=fit,
            form=BAND if stands_in else form,
            alloys=workshop.practice.alloys,
        ),
        path,
    )
    ring.stop()
    return sure(made)


def read_form(raw: object, path: str) -> Form:
    """The ring's form: a band, or anticlastic with the radius of the groove or the rise."""
    form = Reading(raw, path)
    kind = form.choice("kind", FormKind) or FormKind.BAND
    radius_mm = rise_mm = None
    if kind is FormKind.ANTICLASTIC:
        radius_mm = form.length("radius", RADIUS_MM, gauge=None)
        rise_mm = form.length("rise", RISE_MM, gauge=None)
    elif not form.is_wrong("kind"):
        for name in ("radius", "rise"):
            if form.has(name):
                form.add(name, f"A band has no {name}. Leave it out.")
    form.stop()
    return Form(kind, radius_mm, rise_mm)


def read_reasons(raw: object, path: str) -> dict[str, str]:
    """The reasons given for warnings, by the warning's code; empty ones are left out."""
    reasons = Reading(raw, path)
    said = {
        code: reasons.read(code, long_text(LONGEST_REASON)) for code in reasons.raw if code in CAVEAT_CODES
    }
    for code in reasons.raw.keys() - CAVEAT_CODES:
        reasons.add(tame(code), "We have no warning of this name.")
    reasons.stop()
    return {code: text for code, text in said.items() if text}


def read_customer(raw: object, path: str = "customer") -> CustomerDraft | int:
    """A new customer by name, phone, email and address, or the id of one the book knows."""
    customer = Reading(raw, path)
    if customer.has("id"):
        known = customer.read("id", read_id)
        if any(customer.has(name) for name in ("name", "phone", "email", "address")):
            customer.add("id", "Give the id of a known customer, or the name of a new one, not both.")
        customer.stop()
        return sure(known)
    name = customer.needed("name", read_name, "name")
    phone, email = customer.read("phone", read_phone), customer.read("email", read_email)
    address = customer.read("address", read_address) if customer.has("address") else None
    customer.stop()
    return CustomerDraft(sure(name), phone, email, address)


def read_terms(raw: object, calendar: Calendar, path: str = "") -> OrderTerms:
    """The terms of an order: wanted_on, wanted_hard, promised_at, bench_on, note, avoid, collects, mends."""
    terms = Reading(raw, path)
    wanted_on, bench_on = terms.read("wanted_on", calendar.day), terms.read("bench_on", calendar.day)
    wanted_hard, promised_at = terms.yes("wanted_hard"), terms.read("promised_at", calendar.moment)
    note = terms.read("note", long_text(LONGEST_NOTE))
    avoid = terms.read("avoid", _avoided)
    collects = terms.read("collects", short_text)
    mends = terms.read("mends", read_mends)
    terms.stop()
    return OrderTerms(
        wanted_on, bool(wanted_hard), promised_at, bench_on, note or "", avoid, collects or "", mends
    )


def _avoided(value: object, field: str) -> str | None:
    """Metals to avoid, as a list of names or as text."""
    given: list[object] = value if isinstance(value, list) else [value or ""]
    words = [word for word in given if isinstance(word, str)]
    if len(words) < len(given):
        raise FieldErrors([FieldError(field, "This has to be a list of metals, like nickel.")])
    return read_avoid(", ".join(words), field)


def read_rings(
    raw: object,
    calendar: Calendar,
    path: str = "rings",
    *,
    usual_system: System | None = System.UK,
    workshop: Workshop = COMMON,
) -> tuple[RingDraft, ...]:
    """All rings of an order, at least one; each as `read_ring` reads it."""
    if not isinstance(raw, list) or not raw:
        raise FieldErrors([FieldError(path, "An order has at least one ring.")])
    if len(raw) > MOST_RINGS:
        raise FieldErrors(
            [FieldError(path, f"An order has at most {MOST_RINGS} rings. Take the rest in another.")]
        )
    found = Findings()
    rings: list[RingDraft] = []
    for place, ring in enumerate(raw):
        try:
            rings.append(
                read_ring(ring, f"{path}.{place}", calendar, usual_system=usual_system, workshop=workshop)
            )
        except FieldErrors as errors:
            found.errors += errors.errors
    found.stop()
    return tuple(rings)


def short_text(value: object, field: str) -> str:
    """A line of words of at most 120 signs."""
    return read_text(value, field, longest=120)


def long_text(longest: int) -> Callable[[object, str], str]:
    """A reader of text with lines, of at most `longest` signs."""
    return lambda value, field: read_text(value, field, longest=longest, has_lines=True)


def nested(pairs: Mapping[str, str]) -> dict[str, object]:
    """The fields of a page's form as groups: 'finger.size' becomes {'finger': {'size': …}}.

    'rings.0.width' becomes a list, its places in order. A name that is both a field and a group is refused.
    """
    tree: dict[str, object] = {}
    for name, value in pairs.items():
        *groups, last = name.split(".")[:6]
        here = tree
        for group in groups:
            inner = here.setdefault(group, {})
            if not isinstance(inner, dict):
                raise FieldErrors([FieldError(None, "We could not read what was sent.")])
            here = inner
        if isinstance(here.get(last), dict):
            raise FieldErrors([FieldError(None, "We could not read what was sent.")])
        here[last] = value
    return {name: _listed(value) for name, value in tree.items()}


def _listed(value: object) -> object:
    if not isinstance(value, dict):
        return value
    inner = {name: _listed(item) for name, item in value.items()}
    if inner and all(name.isascii() and name.isdigit() and len(name) <= 3 for name in inner):
        return [inner[name] for name in sorted(inner, key=int)]
    return inner
