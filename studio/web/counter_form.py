"""What was typed at the counter: flat fields by name, and the values of the trade they mean."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode

from studio.book.order_values import CustomerDraft, OrderTerms, RingDraft
from studio.book.ring_practices import Workshop
from studio.craft.avoiding import check_avoided, read_avoid
from studio.craft.particulars import NOT_ASKED, Particulars
from studio.craft.reckonings import Reckoning, reckon
from studio.web.counter_days import read_promised
from studio.web.counter_particulars import (
    MOST_STONES,
    OF_PARTICULARS,
    STONE_FIELDS,
    particulars_object,
)
from studio.web.errors import FieldError, Findings
from studio.web.forms import LONGEST_NOTE, Calendar, read_customer, read_ring, short_text
from studio.web.mends_reading import read_hidden_mends
from studio.web.particulars_reading import read_particulars
from studio.web.texts import read_text

LABELS = {
    "customer.name": "Customer",
    "customer.phone": "Phone",
    "customer.email": "E-mail",
    "finger.place": "Hand and finger",
    "finger.system": "System",
    "finger.size": "Size",
    "finger.measured": "Measured",
    "finger.gauge_width_mm": "Gauge width",
    "finger.warm": "Hands",
    "finger.taken_by": "Taken by",
    "finger.knuckle": "Over the knuckle",
    "finger.size_to": "Up to size",
    "finger.two_days": "Measured on two days",
    "fit_mm": "Own fit",
    "profile": "Section",
    "width": "Width",
    "thickness": "Thickness",
    "from": "Cut from",
    "alloy": "Metal",
    "avoid": "Metals to avoid",
    "pattern": "Pattern",
    "pattern_when": "Put on",
    "form.by": "Form",
    "form.mm": "Groove or rise",
    "stretch_percent": "Own stretch",
    "finish.inside": "Finish inside",
    "finish.outside": "Finish outside",
    "inscription.face": "Inscription",
    "inscription.text": "Words",
    "inscription.lettering": "Lettering",
    "inscription.letter_mm": "Height of a letter",
    "inscription.read_back": "Read back",
    "stones.asked": "Stones",
    **{
        f"stones.{at}.{name}": f"{words}, {at + 1}"
        for at in range(MOST_STONES)
        for name, words in STONE_FIELDS.items()
    },
    "wanted_on": "Wanted by",
    "promised_on": "Promised",
    "promised_hour": "Hour promised",
    "bench_on": "At the bench",
    "collects": "Collected by",
    "note": "Note",
}
"""Every field by its name, in talking order, with the word that leads its line in the summary."""

MOST_KEPT_FIELDS, MOST_KEPT_SIGNS = 100, 50_000
_KEPT = frozenset({"customer.id", "finger.from", "wanted_hard", "version", "mends"})
_OF_FINGER = "finger."
EARLIER_FINGER = "finger.from"
"""The field that says which earlier measurement the finger on the page was taken over from."""
_OF_REASONS = "reasons."
_OF_DESIGN = (
    "fit_mm", "profile", "width", "thickness", "from", "alloy", "pattern", "pattern_when", "stretch_percent",
)  # fmt: skip
_OF_FORM = ("form.by", "form.mm")
_STANDS_AT = {
    "form.kind": "form.by",
    "form.radius": "form.mm",
    "form.rise": "form.mm",
    "finger.hand": "finger.place",
    "finger.name": "finger.place",
    "finger.gauge": "finger.measured",
    "promised_at": "promised_on",
}
"""Fields of the trade that share a field of the page."""


@dataclass(frozen=True, slots=True)
class CounterForm:
    """The fields of the page as typed; a field left out is an empty one."""

    values: Mapping[str, str]

    def value(self, name: str) -> str:
        """What stands in the field `name`."""
        return self.values.get(name, "")

    def with_values(self, **changed: str) -> "CounterForm":
        """This form with some fields changed; `customer__id` stands for 'customer.id'."""
        named = {name.replace("__", "."): value for name, value in changed.items()}
        return CounterForm({**self.values, **named})

    @property
    def typed(self) -> dict[str, str]:
        """The fields a person types or chooses, with the version they were typed on: what a draft keeps."""
        return {
            name: value
            for name, value in self.values.items()
            if value.strip() and (name in _KEPT or name in LABELS or name.startswith(_OF_REASONS))
        }

    @property
    def is_keepable(self) -> bool:
        """Whether the form is no longer than a form can be."""
        typed = self.typed
        return len(typed) <= MOST_KEPT_FIELDS and sum(map(len, typed.values())) <= MOST_KEPT_SIGNS

    @property
    def ring(self) -> dict[str, str]:
        """The fields of the ring that say something."""
        return {
            name: value
            for name, value in self.values.items()
            if value.strip()
            and (
                name.startswith((_OF_FINGER, _OF_REASONS, *OF_PARTICULARS))
                or name in (*_OF_DESIGN, *_OF_FORM)
            )
        }


@dataclass(frozen=True, slots=True)
class RingRead:
    """A ring as far as it could be read: whole with its reckoning, or what is to be put right."""

    draft: RingDraft | None
    reckoning: Reckoning | None
    errors: tuple[FieldError, ...] = ()


@dataclass(frozen=True, slots=True)
class OrderRead:
    """Everything of the page but the ring, as far as it could be read."""

    customer: CustomerDraft | int | None
    terms: OrderTerms | None
    errors: tuple[FieldError, ...]


def flat(typed: Mapping[str, object], start: str = "") -> dict[str, str]:
    """The fields of a form by their whole names: {'finger': {'size': 'O'}} gives {'finger.size': 'O'}."""
    fields: dict[str, str] = {}
    for name, value in typed.items():
        if isinstance(value, str):
            fields[start + name] = value
        elif isinstance(value, Mapping):
            fields |= flat(value, f"{start}{name}.")
        elif isinstance(value, list):
            fields |= flat({str(at): one for at, one in enumerate(value)}, f"{start}{name}.")
    return fields


def written(fields: Mapping[str, str]) -> str:
    """Fields as one line, to be carried along in a hidden field."""
    return urlencode(fields)


def read_written(line: str) -> CounterForm:
    """The fields of such a line again. What is no such line has none."""
    return CounterForm(dict(parse_qsl(line, max_num_fields=100)) if len(line) < 20_000 else {})


def read_counter_ring(form: CounterForm, calendar: Calendar, workshop: Workshop) -> RingRead:
    """The ring on the page, reckoned, or every reason why it is not yet."""
    found = Findings()
    draft = found.take(
        lambda: workshop.as_measured(read_ring(ring_object(form), "", calendar, workshop=workshop))
    )
    reckoning = None if draft is None else found.take(lambda: _reckoned(draft, workshop))
    if reckoning is not None:
        found.take(lambda: check_avoided(reckoning.alloy, _avoided(form)))
    errors = tuple(FieldError(_STANDS_AT.get(e.field or "", e.field), e.message) for e in found.errors)
    return RingRead(None if errors else draft, reckoning, in_talking_order(errors))


def _avoided(form: CounterForm) -> str | None:
    """The metals to avoid; what cannot be read is told with the order's other fields."""
    return Findings().take(lambda: read_avoid(form.value("avoid")))


def read_counter_order(form: CounterForm, calendar: Calendar, *, is_new: bool) -> OrderRead:
    """The customer (of a new order), the days and the note."""
    found = Findings()
    customer = found.take(lambda: _customer(form)) if is_new else None
    wanted_on = found.take(lambda: calendar.day(form.value("wanted_on"), "wanted_on"))
    promised_at = found.take(
        lambda: read_promised(form.value("promised_on"), form.value("promised_hour"), calendar)
    )
    bench_on = found.take(lambda: calendar.day(form.value("bench_on"), "bench_on"))
    note = found.take(lambda: read_text(form.value("note"), "note", longest=LONGEST_NOTE, has_lines=True))
    avoid = found.take(lambda: read_avoid(form.value("avoid")))
    collects = found.take(lambda: short_text(form.value("collects"), "collects"))
    mends = found.take(lambda: read_hidden_mends(form.value("mends"))) if is_new else None
    if found.errors:
        return OrderRead(customer, None, in_talking_order(found.errors))
    is_hard = bool(form.value("wanted_hard"))
    terms = OrderTerms(wanted_on, is_hard, promised_at, bench_on, note or "", avoid, collects or "", mends)
    return OrderRead(customer, terms, ())


def in_talking_order(errors: Iterable[FieldError]) -> tuple[FieldError, ...]:
    """Errors in the order of their fields on the page, each field's first one only."""
    places = {name: place for place, name in enumerate(LABELS)}
    of_reasons = places["finger.gauge_width_mm"]

    def place(error: FieldError) -> int:
        name = error.field or ""
        return of_reasons if name.startswith(_OF_REASONS) else places.get(name, -1)

    first: dict[str | None, FieldError] = {}
    for error in errors:
        first.setdefault(error.field, error)
    return tuple(sorted(first.values(), key=place))


def ring_object(form: CounterForm) -> dict[str, object]:
    """The ring's fields as a reader of rings takes them: the finger and the reasons as objects within."""
    told = form.ring
    hand, _, finger_name = told.pop("finger.place", "").partition(" ")
    finger = {
        name.removeprefix(_OF_FINGER): value
        for name, value in told.items()
        if name.startswith(_OF_FINGER) and name != EARLIER_FINGER
    }
    finger |= {"hand": hand, "name": finger_name} if hand else {}
    how, _, gauge = finger.get("measured", "").partition(" ")
    finger |= {"measured": how, "gauge": gauge} if gauge else {}
    if finger.get("measured") == "told":
        finger.pop("gauge_width_mm", None)  # nothing was measured, so nothing was measured with
        finger.pop("two_days", None)
    reasons = {n.removeprefix(_OF_REASONS): value for n, value in told.items() if n.startswith(_OF_REASONS)}
    design = {name: told[name] for name in _OF_DESIGN if name in told}
    if design.get("pattern", "plain") == "plain":
        design.pop("pattern_when", None)  # the list beside 'plain' always holds something
    by = told.get("form.by", "band")
    groove = {} if by == "band" else {"form": {"kind": "anticlastic", by: told.get("form.mm", "")}}
    return {"finger": finger, **design, **groove, **particulars_object(told), "reasons": reasons}


def particulars_on(form: CounterForm) -> Particulars:
    """The finish and the inscription on the page; what cannot be read yet is as not asked."""
    found = Findings().take(lambda: read_particulars(ring_object(form), ""))
    return NOT_ASKED if found is None else found


def _reckoned(draft: RingDraft, workshop: Workshop) -> Reckoning:
    return reckon(draft.finger, draft.design, workshop.practice_for(draft.finger, draft.design))


def _customer(form: CounterForm) -> CustomerDraft | int:
    known = form.value("customer.id")
    told = {name: form.value(f"customer.{name}") for name in ("name", "phone", "email")}
    return read_customer({"id": known} if known else told, "customer")
