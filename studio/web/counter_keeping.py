"""What the buttons of the counter keep: an order taken, a ring changed, or the form while half is missing."""

from collections.abc import Callable
from dataclasses import replace

from sqlmodel import Session
from starlette.requests import Request
from starlette.responses import RedirectResponse, Response

from studio.book.amendments import asked_again, put_amending
from studio.book.drafts import finish_draft, keep_draft
from studio.book.engine import session
from studio.book.errors import CustomerUnknown, KeyReused, OrderFixed, VersionStale
from studio.book.idempotency import Answer
from studio.book.mending_errors import CannotMend
from studio.book.order_values import (
    CustomerDraft,
    Order,
    OrderChanges,
    OrderRing,
    OrderTerms,
    RingDraft,
)
from studio.book.orders import change_order, take_order
from studio.book.ring_sets import with_one_ring
from studio.book.variants import put_variant
from studio.craft.particulars import Inscription
from studio.web.book_errors import declined
from studio.web.counter_desk import at_hand, calendar_of, shown
from studio.web.counter_fingers import with_its_day
from studio.web.counter_form import CounterForm, read_counter_order, read_counter_ring
from studio.web.counter_particulars import MOST_STONES
from studio.web.counter_show import BackAgain, reason_questions, split_questions
from studio.web.counter_standing import AMENDMENT, Standing, standing_of
from studio.web.counter_versions import versions_of
from studio.web.errors import FieldError
from studio.web.once import do_once
from studio.web.order_history import history_of
from studio.web.security import Seat

FORM_KEPT = "Nothing you typed is lost. The form is kept as it stands."


def kept(request: Request, seat: Seat, form: CounterForm, standing: Standing | None) -> Response:
    """Write the order down and go on; else the page again with everything there is to say.

    'Save for later' with fields that merely hold nothing yet keeps the form and leads to the list of orders,
    where it waits to be finished.
    """
    calendar = calendar_of(seat)
    with session(seat.engine) as book:
        tools = at_hand(book, seat, standing)
    ring = read_counter_ring(form, calendar, tools)
    read = read_counter_order(form, calendar, is_new=standing is None)
    wrong, open_ = split_questions(form, (*read.errors, *ring.errors))
    if wrong or open_ or ring.draft is None or read.terms is None:
        is_kept = keep_form(seat, form, standing)
        if is_kept and not wrong and form.value("act") == "save":
            return RedirectResponse("/orders#unfinished", status_code=303)
        questions = [*open_, *reason_questions(form, ring)]
        back = BackAgain(wrong, questions, note=FORM_KEPT if is_kept else BackAgain().note)
        return shown(request, seat, form, standing, back=back, status=422)
    if standing is not None and standing.variant == AMENDMENT:
        work = _amending(seat, form, standing, ring.draft)
    elif standing is not None and standing.variant:
        work = _changing_variant(seat, form, standing, ring.draft)
    elif standing is not None:
        work = _changing(seat, form, standing, ring.draft, read.terms)
    else:
        assert read.customer is not None  # noqa: S101  a new order without errors has its customer
        work = _taking(seat, form, read.customer, ring.draft, read.terms)
    try:
        with session(seat.engine) as book:
            return do_once(request, seat, book, lambda: work(book), form_key=_form_key(form, standing))
    except VersionStale as stale:
        return _stale(request, seat, form.with_values(version=str(stale.current)), standing)
    except (KeyReused, OrderFixed, CustomerUnknown, CannotMend) as refused:
        return _refused(request, seat, form, standing, refused)


def _form_key(form: CounterForm, standing: Standing | None) -> str:
    """The key under which the form is taken once.

    A new order's is that of its kept form, so that one half-typed form, open in two tabs, is one order.
    """
    draft = form.value("draft")
    return draft if standing is None and is_draft_key(draft) else form.value("idempotency_key")


def _refused(
    request: Request,
    seat: Seat,
    form: CounterForm,
    standing: Standing | None,
    refused: KeyReused | OrderFixed | CustomerUnknown | CannotMend,
) -> Response:
    """The page again with why the book did not take it."""
    match refused:
        case KeyReused():
            words = (
                "This page was saved before. Saving it again takes one more order with what stands here now."
            )
            told: tuple[FieldError, ...] = (FieldError(None, words),)
            form = form.with_values(idempotency_key="", draft="")
        case OrderFixed():
            told = declined(refused).errors
        case CannotMend():
            words = f"{declined(refused).errors[0].message} Save again to take an order that mends none."
            told = (FieldError(None, words),)
            form = form.with_values(mends="")
        case CustomerUnknown():
            words = "This customer is not in the book any more. Choose again."
            told = (FieldError("customer.name", words),)
            form = form.with_values(customer__id="")
    status = 422 if isinstance(refused, CustomerUnknown) else 409
    return shown(request, seat, form, standing, back=BackAgain(told), status=status)


def keep_form(seat: Seat, form: CounterForm, standing: Standing | None) -> bool:
    """Keep the form as typed under its key; False for a form without one, or one too long to be a form."""
    key = form.value("draft")
    if not is_draft_key(key) or not form.is_keepable or (standing is not None and standing.variant):
        return False
    with session(seat.engine) as book:
        keep_draft(
            book,
            key=key,
            typed=form.typed,
            number=None if standing is None else standing.order.number,
            ring=None if standing is None else standing.position,
            actor=seat.actor,
            now=seat.now,
        )
    return True


def is_draft_key(key: str) -> bool:
    """Whether a form may be kept under `key`: what the page made up itself, 16 to 64 plain signs."""
    return 16 <= len(key) <= 64 and key.isascii() and key.replace("-", "").replace("_", "").isalnum()


def _stale(request: Request, seat: Seat, form: CounterForm, standing: Standing | None) -> Response:
    """Somebody else changed the order meanwhile: who did what, both versions, what was typed still stands."""
    assert standing is not None  # noqa: S101  only an order that stands has a version
    keep_form(seat, form, standing)
    with session(seat.engine) as book:
        now = standing_of(book, standing.order.number, str(standing.position or "new"), standing.variant)
    last = history_of(now.order.history, seat)[0]
    changes = f" ({'; '.join(last.changes)})" if last.changes else ""
    back = BackAgain(
        heading="Somebody else changed this order meanwhile",
        sentences=(
            f"{last.when}: {last.sentence.removesuffix('.')}{changes}.",
            "Nothing of yours was saved yet. What you typed still stands; save again to put it in place.",
        ),
        versions=versions_of(form, now, seat.zone),
    )
    return shown(request, seat, form.with_values(idempotency_key=""), now, back=back, status=409)


def _taking(
    seat: Seat, form: CounterForm, customer: CustomerDraft | int, ring: RingDraft, terms: OrderTerms
) -> Callable[[Session], Answer]:
    def work(book: Session) -> Answer:
        rings = (ring if isinstance(customer, CustomerDraft) else with_its_day(book, form, customer, ring),)
        taken = take_order(book, customer=customer, terms=terms, rings=rings, actor=seat.actor, now=seat.now)
        return _going_on(book, seat, form, taken)

    return work


def _changing(
    seat: Seat, form: CounterForm, standing: Standing, ring: RingDraft, terms: OrderTerms
) -> Callable[[Session], Answer]:
    changes = OrderChanges(
        wanted_on=terms.wanted_on,
        wanted_hard=terms.wanted_hard,
        promised_at=terms.promised_at,
        bench_on=terms.bench_on,
        note=terms.note,
        avoid=terms.avoid,
        collects=terms.collects,
    )

    def work(book: Session) -> Answer:
        dated = with_its_day(book, form, standing.order.customer.id, ring)
        changed = change_order(
            book,
            number=standing.order.number,
            version=_version(form),
            changes=replace(changes, rings=_rings_with(standing, dated)),
            actor=seat.actor,
            now=seat.now,
        )
        return _going_on(book, seat, form, changed)

    return work


def _rings_with(standing: Standing, ring: RingDraft) -> tuple[RingDraft, ...]:
    """The order's rings with this one in its place."""
    if standing.ring is None:
        return (*(one.draft for one in standing.order.rings), ring)
    return with_one_ring(
        standing.order.rings, standing.ring.position, _with_what_is_not_asked(standing.ring, ring)
    )


def _with_what_is_not_asked(old: OrderRing, ring: RingDraft) -> RingDraft:
    """The ring as typed, with what the page has no fields for. A finger not measured anew keeps its hour."""
    if ring.finger == old.finger and ring.taken_by == old.taken_by:
        ring = replace(ring, taken_at=old.taken_at)
    ring = _to_read_back_again(ring, old.particulars.words_to_cut)
    ring = replace(ring, particulars=replace(ring.particulars, marks=old.particulars.marks))
    more = (old.particulars.stones or ())[MOST_STONES:]
    if more and ring.particulars.stones:
        stones = (*ring.particulars.stones, *more)
        ring = replace(ring, particulars=replace(ring.particulars, stones=stones))
    return ring


def _to_read_back_again(ring: RingDraft, before: Inscription | None) -> RingDraft:
    """Other words than those that were read back are to be read back anew: the tick was theirs."""
    words = ring.particulars.words_to_cut
    if before is None or words is None or words.text == before.text or not before.is_read_back:
        return ring
    unread = replace(words, is_read_back=False)
    return replace(ring, particulars=replace(ring.particulars, inscription=unread))


def _amending(
    seat: Seat, form: CounterForm, standing: Standing, ring: RingDraft
) -> Callable[[Session], Answer]:
    number, amending = standing.order.number, standing.order.amending

    def work(book: Session) -> Answer:
        assert amending is not None  # noqa: S101  there is no such page without one
        assert standing.ring is not None  # noqa: S101  a ring is not added to an amendment at the counter
        dated = with_its_day(book, form, standing.order.customer.id, ring)
        whole = _with_what_is_not_asked(standing.ring, dated)
        put_amending(
            book,
            number=number,
            version=_version(form),
            amending=asked_again(amending, standing.ring.position, whole),
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(303, "", f"/orders/{number}/amendment")

    return work


def _version(form: CounterForm) -> int:
    """The version the form was filled in on; 0, which no order has, for what is none."""
    typed = form.value("version")
    return int(typed) if typed.isascii() and typed.isdigit() and len(typed) < 10 else 0


def _changing_variant(
    seat: Seat, form: CounterForm, standing: Standing, ring: RingDraft
) -> Callable[[Session], Answer]:
    number = standing.order.number

    def work(book: Session) -> Answer:
        put_variant(
            book,
            number=number,
            key=standing.variant,
            version=_version(form),
            rings=_rings_with(standing, ring),
            actor=seat.actor,
            now=seat.now,
        )
        return Answer(303, "", f"/orders/{number}#variants")

    return work


def _going_on(book: Session, seat: Seat, form: CounterForm, order: Order) -> Answer:
    """Where the button leads: one more ring, the read-back before a quote, or the order's page.

    A form sent before it kept itself is kept and ended too, so that its address leads to the order.
    """
    key = form.value("draft")
    if is_draft_key(key):
        keep_draft(book, key=key, typed={}, actor=seat.actor, now=seat.now)
    finish_draft(book, key=key, number=order.number, now=seat.now)
    more = {"add": "/rings/new", "quote": "/read-back"}.get(form.value("act"), "")
    return Answer(303, "", f"/orders/{order.number}{more}")
