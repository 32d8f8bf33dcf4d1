"""What is not yet asked, at the counter: for the quote, for the bench, good to have, each with its field."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from studio.book.order_values import Order
from studio.craft.missing import Deposit, Missing, OrderFacts, RingFacts, missing, ring_facts
from studio.craft.orders import BEFORE_AGREEMENT, State
from studio.web.counter_form import LABELS, CounterForm, RingRead, particulars_on
from studio.web.counter_page import MissingItem, MissingList, MissingPart
from studio.web.wording import opened

HEADINGS = ("Missing for the quote", "Missing for the bench", "Good to have")
_OF_RING = re.compile(r"(?P<what>.+) (?:of|on) ring (?P<position>\d+)")
_WORDS = {
    "phone": "A telephone number",
    "wanted day": "The day it is wanted",
    "bench date": "The day at the bench",
    "promised day": "The day we promise",
    "measured finger": "A measured finger",
    "size": "One size, not a range",
    "finish": "The finish",
    "inscription": "An inscription",
    "inscription read back": "The inscription read back",
    "stones": "Stones",
    "risk of the stones": "Who bears the risk of setting",
}
_FIELDS = {
    "phone": "customer.phone",
    "wanted day": "wanted_on",
    "bench date": "bench_on",
    "promised day": "promised_on",
    "measured finger": "finger.measured",
    "size": "finger.size_to",
    "finish": "finish.inside",
    "inscription": "inscription.face",
    "inscription read back": "inscription.read_back",
    "stones": "stones.asked",
    "risk of the stones": "stones.0.risk",
}
_TOLD_AT_THE_FIELD = frozenset({"customer.name", "customer.phone", "finger.measured", "wanted_on"})
_NAMES = {"finger.size": "The size", "finger.place": "The finger"}


@dataclass(frozen=True, slots=True)
class Desk:
    """Which page the lists are for: the order and the place of its ring, or a new order.

    `has_phone` is whether a telephone number is known or typed. `deposit` is what is asked to begin, in words
    ('£672'), '' where none is asked, None where nobody knows yet. `waits` is what the studio has not said yet
    ('price of gold') and `waits_href` where it does, '' for those who may not.
    """

    order: Order | None
    position: int | None
    has_name: bool = True
    has_phone: bool = False
    deposit: str | None = None
    waits: tuple[str, ...] = ()
    waits_href: str = ""


def missing_part(form: CounterForm, read: RingRead, desk: Desk) -> MissingPart:
    """The three lists for the page as it is typed.

    A ring that cannot be reckoned yet lists the fields it waits for. While a new form is only begun nothing
    is marked: an empty page needs no pencil.
    """
    found = missing(_facts(form, read, desk))
    items = [item_of(word, desk) for word in found.quote]
    begun = [] if desk.has_name else [MissingItem("The name", field_href("customer.name"))]
    waiting = [
        MissingItem(_NAMES.get(name, f"The {LABELS.get(name, name).lower()}"), field_href(name))
        for name in dict.fromkeys(error.field or "" for error in read.errors)
        if name
    ]
    of_studio = [MissingItem(opened(f"the {word}"), desk.waits_href) for word in desk.waits]
    is_told = read.reckoning is not None or desk.order is not None
    quote = MissingList(HEADINGS[0], (*begun, *waiting, *items, *of_studio), holds_up=is_told)
    marked = [
        _FIELDS[kind] for word in found.quote if (kind := _kind(word)) in _FIELDS and _is_here(word, desk)
    ]
    marked += [] if desk.has_name else ["customer.name"]
    fields = _TOLD_AT_THE_FIELD.intersection(marked) if read.reckoning is not None else frozenset[str]()
    return MissingPart((quote, *later_lists(found, desk)), fields)


def later_lists(found: Missing, desk: Desk) -> tuple[MissingList, MissingList]:
    """What the bench waits for, and what is good to have."""
    return (
        MissingList(HEADINGS[1], tuple(item_of(word, desk) for word in found.bench)),
        MissingList(HEADINGS[2], tuple(item_of(word, desk) for word in found.nice)),
    )


def item_of(word: str, desk: Desk) -> MissingItem:
    """One thing the book misses, as it is said, and where it is filled in.

    'phone' gives 'A telephone number', 'measured finger of ring 2' the same of ring 2.
    """
    kind = _kind(word)
    if kind == "deposit":
        return MissingItem(f"Deposit of {desk.deposit}" if desk.deposit else "The deposit")
    said = _WORDS.get(kind, opened(f"a {kind}" if kind.startswith("reason") else kind))
    said = said.replace("reason for narrow gauge", "reason for the narrow gauge")
    if not _is_here(word, desk):
        found = _OF_RING.fullmatch(word)
        number = desk.order.number if desk.order else ""
        position = found["position"] if found else ""
        return MissingItem(f"{said}, ring {position}", f"/orders/{number}/rings/{position}")
    if kind == "phone" and desk.order is not None:
        return MissingItem(said, f"/customers/{desk.order.customer.id}")
    name = _FIELDS.get(kind, "")
    if kind.startswith("reason for "):
        name = f"reasons.{kind.removeprefix('reason for ').replace(' ', '-')}"
    return MissingItem(said, field_href(name) if name else "")


def field_href(name: str) -> str:
    """The address of a field on its page: 'finger.size_to' gives '#f-finger-size-to'."""
    return f"#f-{name.replace('.', '-').replace('_', '-')}"


def _kind(word: str) -> str:
    found = _OF_RING.fullmatch(word)
    return found["what"] if found else word


def _is_here(word: str, desk: Desk) -> bool:
    """Whether what is missing is of the ring on this page, or of the whole order."""
    found = _OF_RING.fullmatch(word)
    return found is None or int(found["position"]) == _place(desk)


def _place(desk: Desk) -> int:
    if desk.position is not None:
        return desk.position
    return 1 if desk.order is None else len(desk.order.rings) + 1


def _facts(form: CounterForm, read: RingRead, desk: Desk) -> OrderFacts:
    return OrderFacts(
        state=desk.order.state if desk.order and desk.order.state in BEFORE_AGREEMENT else State.DRAFT,
        has_phone=desk.has_phone,
        has_wanted_day=bool(form.value("wanted_on").strip()),
        has_promised_day=bool(form.value("promised_on").strip()),
        has_bench_date=bool(form.value("bench_on").strip()),
        deposit=Deposit.NOT_ASKED if desk.deposit == "" else Deposit.OPEN,
        rings=tuple(_rings(form, read, desk)),
    )


def _rings(form: CounterForm, read: RingRead, desk: Desk) -> Iterable[RingFacts]:
    here = _place(desk)
    others: Sequence[RingFacts] = (
        ()
        if desk.order is None
        else [
            _but_marks(
                ring_facts(
                    ring.position, ring.finger, ring.reckoning, _given(ring.reasons.items()), ring.particulars
                )
            )
            for ring in desk.order.rings
            if ring.position != here
        ]
    )
    yield from others
    if read.reckoning is not None:
        reasons = ((name.removeprefix("reasons."), value) for name, value in form.values.items())
        told = particulars_on(form)
        yield _but_marks(ring_facts(here, read.reckoning.finger, read.reckoning, _given(reasons), told))


def _but_marks(facts: RingFacts) -> RingFacts:
    """The facts without the marks: those are asked on the order's page, once it is saved."""
    return replace(facts, is_marks_asked=True)


def _given(reasons: Iterable[tuple[str, str]]) -> list[str]:
    return [code for code, reason in reasons if reason.strip()]
