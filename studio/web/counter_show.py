"""The counter's page put together: from a form, and from an order that stands in the book."""

import secrets
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import urlencode

from sqlmodel import Session

from studio.book.customers import CustomerCard, CustomerLine, find_customers
from studio.book.ring_practices import Workshop
from studio.craft.designs import Gauge, Profile
from studio.craft.drawing import state_mark
from studio.craft.metals import Alloy
from studio.craft.profiles import PROFILE_NAMES
from studio.web.counter_choices import choices, gauge_choice
from studio.web.counter_form import LABELS, CounterForm, RingRead, in_talking_order
from studio.web.counter_missing import field_href
from studio.web.counter_page import (
    CounterPage,
    CustomerPart,
    ErrorLine,
    Offer,
    Offers,
    Reckoned,
    StonePlace,
    TwoVersions,
)
from studio.web.counter_particulars import MOST_STONES, STONE_FIELDS, says_something
from studio.web.counter_standing import AMENDMENT, Standing
from studio.web.errors import FieldError
from studio.web.mends_reading import mended_words
from studio.web.order_words import measured_words, size_of
from studio.web.wording import count_words, counted, opened

MOST_OFFERED = 6
_OF_STONES = "stones."
_OF_WORK = ("finish.inside", "finish.outside", "inscription.face", "inscription.text")
_OF_FINGER_MORE = ("finger.knuckle", "finger.size_to", "fit_mm", "finger.two_days")


def new_order_form(taken_by: str, usual: Gauge | None = None) -> CounterForm:
    """The page before the first word: only what is chosen from a row or a list has a choice.

    `usual` is the studio's usual gauge, where it has one.
    """
    return CounterForm(
        {
            "finger.system": "uk" if usual is None else usual.system,
            "finger.measured": "gauge" if usual is None else gauge_choice(usual),
            "finger.taken_by": taken_by,
            "profile": "flat",
            "pattern": "plain",
            "form.by": "band",
        }
    )


@dataclass(frozen=True, slots=True)
class BackAgain:
    """Why the page came back: what is to put right, what is to answer, or that somebody else was here.

    With `versions` the `heading` and `sentences` say who did what; what was typed stands beside what stands.
    """

    errors: Sequence[FieldError] = ()
    questions: Sequence[FieldError] = ()
    note: str = "Nothing you typed is lost."
    heading: str = ""
    sentences: tuple[str, ...] = ()
    versions: tuple[TwoVersions, ...] = ()


def counter_page(
    form: CounterForm,
    shown: Reckoned,
    *,
    people: Sequence[str],
    workshop: Workshop,
    customer: CustomerPart,
    standing: Standing | None,
    back: BackAgain,
    saved: str,
) -> CounterPage:
    """The page that shows `form`. `standing` says which ring it is; without one it is new."""
    order, position = (None, None) if standing is None else (standing.order, standing.position)
    errors, questions = back.errors, back.questions
    heading, note = _heading(standing, customer)
    note = f"{note}, {mended_words(form.value('mends'))}".removeprefix(", ") if form.value("mends") else note
    told = back.heading or error_heading(errors, questions)
    asked = "" if order is None else f"?{urlencode({'order': order.number, 'ring': position or 'new'})}"
    variant = "" if standing is None else standing.variant
    tab = heading if order is None else f"{heading}, {order.number}"
    values = dict(form.values)
    places = _stone_places(form)
    return CounterPage(
        title=f"{told}: {tab}" if told else tab,
        heading=heading,
        heading_note=note,
        action="/orders" if standing is None else standing.href,
        home_href="/orders/new" if standing is None else standing.href,
        form_key=form.value("idempotency_key") or secrets.token_urlsafe(18),
        draft_key=form.value("draft") or secrets.token_urlsafe(18),
        version=form.value("version"),
        customer=customer,
        choices=choices(people, form.value("finger.taken_by"), workshop.gauges, _alloys(form, workshop)),
        reckoned=shown,
        values=values,
        errors={error.field: error.message for error in (*questions, *errors) if error.field},
        error_heading=told,
        error_lines=tuple(_line(error) for error in in_talking_order((*errors, *questions))),
        error_note=back.note,
        error_sentences=back.sentences,
        versions=back.versions,
        state_word=opened(order.state) if order else "",
        state_mark=state_mark(order.state) if order else None,
        profile_name=_profile_name(form.value("profile")),
        is_wanted_hard=bool(form.value("wanted_hard")),
        is_finger_more=any(form.value(name).strip() for name in _OF_FINGER_MORE),
        is_pattern_more=any(form.value(name).strip() for name in ("stretch_percent", "avoid"))
        or form.value("form.by") not in {"", "band"},
        is_work_more=any(
            error.field.startswith(("finish.", "inscription.", _OF_STONES)) for error in errors if error.field
        )
        or any(form.value(name).strip() for name in _OF_WORK)
        or any(place.is_open for place in places),
        is_read_back=bool(form.value("inscription.read_back")),
        stone_places=places,
        is_dates_more=any(error.field in {"bench_on", "collects"} for error in errors)
        or bool(form.value("collects").strip()),
        saved=saved,
        save_words=_save_words(variant),
        fixed_finger=_fixed_finger(standing),
        figures_href=f"/counter/figures{asked}{f'&variant={variant}' if variant else ''}",
        drafts_href=f"/counter/drafts{asked}",
    )


def split_questions(
    form: CounterForm, errors: Iterable[FieldError]
) -> tuple[list[FieldError], list[FieldError]]:
    """What is to put right, and what is merely not answered yet: the fields that hold nothing."""
    wrong: list[FieldError] = []
    open_: list[FieldError] = []
    for error in errors:
        is_empty = bool(error.field) and not form.value(error.field or "").strip()
        (open_ if is_empty else wrong).append(error)
    return wrong, open_


def reason_questions(form: CounterForm, read: RingRead) -> list[FieldError]:
    """The warnings that wait for a reason: asked where the page comes back anyway, never a hindrance."""
    caveats = () if read.reckoning is None else read.reckoning.caveats
    return [
        FieldError(f"reasons.{caveat.code}", caveat.message)
        for caveat in caveats
        if caveat.needs_reason and not form.value(f"reasons.{caveat.code}").strip()
    ]


def error_heading(wrong: Sequence[object], questions: Sequence[object]) -> str:
    """'Two things to put right, one to answer', or '' where there is nothing."""
    if wrong and questions:
        things = opened(counted(len(wrong), "thing", "things"))
        return f"{things} to put right, {count_words(len(questions))} to answer"
    if wrong or questions:
        words = "to put right" if wrong else "to answer"
        return f"{opened(counted(len(wrong) or len(questions), 'thing', 'things'))} {words}"
    return ""


def offers(book: Session, query: str, *, says_none: bool) -> Offers:
    """Known customers for what was typed as name or phone; `says_none` where somebody pressed Find."""
    typed = query.strip()[:100]
    lines = tuple(offer(line) for line in find_customers(book, typed, MOST_OFFERED)) if typed else ()
    if lines:
        return Offers(
            lines,
            f"{opened(counted(len(lines), 'known customer', 'known customers'))}, arrow down to choose.",
        )
    if not says_none:
        return Offers()
    return Offers(
        (),
        "Nobody in the book has that name or number." if typed else "Type a name or a phone number to find.",
    )


def offer(known: CustomerLine | CustomerCard) -> Offer:
    """A customer as they are offered: name and the ways to reach them."""
    return Offer(known.id, known.name, contact_words(known.phone, known.email))


def contact_words(phone: str | None, email: str | None) -> str:
    """'01632 960 417, oda@fenwright.example', or that there is neither."""
    return ", ".join(word for word in (phone, email) if word) or "no phone or e-mail"


def _line(error: FieldError) -> ErrorLine:
    name = error.field or ""
    field_id = field_href(name) if name else "#counter"
    label = LABELS.get(name, "Reason" if name.startswith("reasons.") else "")
    return ErrorLine(field_id, f"{label}: {error.message}" if label else error.message)


def _heading(standing: Standing | None, customer: CustomerPart) -> tuple[str, str]:
    if standing is None:
        return (customer.chosen.name, "New order") if customer.chosen else ("New order", "")
    order = standing.order
    which = f"ring {standing.position} of {len(order.rings)}" if standing.position else "one more ring"
    way = f"variant {standing.variant.upper()}, " if standing.variant else ""
    if standing.variant == AMENDMENT:
        way = "amendment, "
    return order.customer.name, f"Order {order.number}, {way}{which}"


def _fixed_finger(standing: Standing | None) -> str:
    """'UK M½, gauge 4 mm wide': the finger of a variant, which is changed on the order's own ring."""
    if standing is None or standing.ring is None or not standing.has_finger_of_order:
        return ""
    finger = standing.ring.finger
    return f"{size_of(finger)}, {measured_words(finger)}"


def _save_words(variant: str) -> str:
    if variant == AMENDMENT:
        return "Save for the amendment"
    return f"Save variant {variant.upper()}" if variant else ""


def _profile_name(value: str) -> str:
    return PROFILE_NAMES[Profile(value)] if value in set(Profile) else "not chosen yet"


def _alloys(form: CounterForm, workshop: Workshop) -> tuple[Alloy, ...]:
    """What a ring may be made of, with the alloy it has by now even where that is put away."""
    offered, chosen = workshop.practice.offered_alloys, workshop.practice.alloys.get(form.value("alloy"))
    return offered if chosen is None or chosen in offered else (*offered, chosen)


def _stone_places(form: CounterForm) -> tuple[StonePlace, ...]:
    """The places that hold a stone, and one more."""
    filled = [
        says_something({name: form.value(f"stones.{at}.{name}").strip() for name in STONE_FIELDS})
        for at in range(MOST_STONES)
    ]
    count = min(MOST_STONES, max((at + 1 for at, is_filled in enumerate(filled) if is_filled), default=0) + 1)
    return tuple(StonePlace(f"stones.{at}.", f"Stone {at + 1}", filled[at]) for at in range(count))
