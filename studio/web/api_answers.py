"""Values of the trade and of the book as the API gives them."""

from dataclasses import asdict
from datetime import date, datetime

from pydantic import BaseModel
from starlette.responses import Response

from studio.book.calling_off_values import CallingOff
from studio.book.document_values import Document
from studio.book.order_list_values import OrderLine
from studio.book.order_values import Order, OrderRing
from studio.craft.hallmark import HallmarkRule
from studio.craft.missing import Missing
from studio.craft.orders import State
from studio.craft.particulars import Particulars
from studio.web.api_made_answers import as_made_out
from studio.web.api_models import (
    WarningOut,
)
from studio.web.api_money_models import MoneyOut, PaymentOut
from studio.web.api_order_list_models import NextDayOut, OrderLineOut, RingLineOut
from studio.web.api_order_models import (
    CallingOffOut,
    CustomerOut,
    DaysOut,
    DocumentOut,
    FingerOut,
    FinishOut,
    FormOut,
    InscriptionOut,
    MarksOut,
    MendsOut,
    MissingOut,
    OrderOut,
    PersonOut,
    PictureOut,
    RingOut,
    StoneOut,
    TakenOut,
    VariantRingsOut,
)
from studio.web.api_quote_answers import quote_of_order_out
from studio.web.api_reckoning_answers import reckoning_out
from studio.web.days import full_day_words

_CLOSED = frozenset({State.READY, State.HANDED_OVER, State.CALLED_OFF})


def as_text(model: BaseModel) -> str:
    """The model as JSON text, as it is sent and as it is kept for a repetition."""
    return model.model_dump_json(by_alias=True)


def as_json(model: BaseModel, status: int = 200) -> Response:
    """The model as the answer to a request."""
    return Response(as_text(model), status_code=status, media_type="application/json")


def taken_out(order: Order) -> TakenOut:
    """An order's number, state, version, and what it still misses."""
    return TakenOut(
        number=order.number, state=order.state, version=order.version, missing=_missing(order.missing)
    )


def order_out(
    order: Order,
    *,
    days: DaysOut | None,
    shows_contact: bool,
    shows_price: bool,
    rule: HallmarkRule,
    today: date,
    now: datetime,
) -> OrderOut:
    """An order as it stands; telephone and e-mail, and what is money, only for who may see them."""
    customer, terms = order.customer, order.terms
    person = (
        CustomerOut(**{name: getattr(customer, name) for name in CustomerOut.model_fields})
        if shows_contact
        else PersonOut(id=customer.id, name=customer.name)
    )
    return OrderOut(
        number=order.number,
        state=order.state,
        version=order.version,
        missing=_missing(order.missing),
        customer=person,
        wanted_on=terms.wanted_on,
        wanted_hard=terms.wanted_hard,
        promised_at=terms.promised_at,
        bench_on=terms.bench_on,
        note=terms.note,
        collects=terms.collects if shows_contact else None,
        mends=None if terms.mends is None else MendsOut(**asdict(terms.mends)),
        days=days,
        avoid=(terms.avoid or "").split(", ") if terms.avoid else [],
        agreed_name=order.agreed_name,
        agreed_at=order.agreed_at,
        state_since=order.state_since,
        created_at=order.created_at,
        rings=[_ring(ring, rule, shows_price=shows_price) for ring in order.rings],
        as_made=[as_made_out(one) for one in order.made.values()],
        variants=[
            VariantRingsOut(
                key=one.key, rings=[_ring(ring, rule, shows_price=shows_price) for ring in one.rings]
            )
            for one in order.variants
        ],
        pictures=[
            PictureOut(
                id=one.id,
                ring=one.ring,
                note=one.note,
                width_px=one.width_px,
                height_px=one.height_px,
                href=f"/orders/{order.number}/pictures/{one.id}.jpg",
            )
            for one in order.pictures
        ],
        calling_off=calling_off_out(order.calling_off) if order.calling_off and shows_price else None,
        documents=[document_out(one) for one in order.documents] if shows_price else [],
        money=money_out(order) if shows_price and (order.agreement or order.payments) else None,
        quotes=[
            quote_of_order_out(quote, shows_price=shows_price, shows_contact=shows_contact, now=now)
            for quote in order.quotes
        ],
        warnings=_order_warnings(order, today),
    )


def calling_off_out(found: CallingOff) -> CallingOffOut:
    """How an order was called off after the yes."""
    owed = found.settlement
    return CallingOffOut(
        stage=found.stage,
        currency=found.currency,
        total_minor=found.total_minor,
        paid_minor=found.paid_minor,
        percent=None if found.percent is None else f"{found.percent.normalize():f}",
        owed_minor=None if owed is None else owed.owed_minor,
        returned_minor=None if owed is None else owed.returned_minor,
        left_minor=None if owed is None else owed.left_minor,
        called_off_at=found.called_off_at,
    )


def money_out(order: Order) -> MoneyOut:
    """How the money of an order stands, and every payment of it."""
    account = order.account
    receipts = {one.number for one in order.documents}
    return MoneyOut(
        order=order.number,
        version=order.version,
        currency=order.currency,
        due_minor=account.due_minor,
        paid_minor=account.paid_minor,
        left_minor=account.left_minor,
        back_minor=account.back_minor,
        payments=[
            PaymentOut(
                number=one.number,
                amount_minor=one.amount_minor,
                method=one.method,
                reference=one.reference,
                on=one.on,
                noted_at=one.noted_at,
                undoes=one.undoes,
                undone_by=one.undone_by,
                why=one.why,
                receipt=f"/documents/{one.number}.pdf" if one.number in receipts else None,
            )
            for one in order.payments
        ],
    )


def document_out(one: Document) -> DocumentOut:
    """A document of an order, and where its paper is."""
    return DocumentOut(
        number=one.number,
        kind=one.kind,
        issued_at=one.issued_at,
        pdf=f"/documents/{one.number}.pdf",
        sha256=one.sha256,
    )


def order_line_out(line: OrderLine) -> OrderLineOut:
    """An order as the list shows it."""
    day = line.next_day
    return OrderLineOut(
        number=line.number,
        state=line.state,
        state_since=line.state_since,
        customer=PersonOut(id=line.customer_id, name=line.customer_name),
        next_day=NextDayOut(kind=day.kind, on=day.on, at=day.at) if day else None,
        hand=line.hand.word if line.hand else None,
        rings=[
            RingLineOut(
                ring=ring.position,
                system=ring.system,
                size=ring.label,
                profile=ring.profile,
                width_mm=ring.width_mm,
                thickness_mm=ring.thickness_mm,
                pattern=ring.pattern,
                alloy=ring.alloy,
            )
            for ring in line.rings
        ],
    )


def _missing(missing: Missing) -> MissingOut:
    return MissingOut(quote=list(missing.quote), bench=list(missing.bench), nice=list(missing.nice))


def _order_warnings(order: Order, today: date) -> list[WarningOut]:
    wanted = order.terms.wanted_on
    if wanted is None or wanted >= today or order.state in _CLOSED:
        return []
    message = f"The wanted day, {full_day_words(wanted)}, is past."
    return [WarningOut(code="wanted-past", message=message, needs_reason=False)]


def _ring(ring: OrderRing, rule: HallmarkRule, *, shows_price: bool) -> RingOut:
    finger, design = ring.finger, ring.design
    return RingOut(
        ring=ring.position,
        finger=FingerOut(
            system=finger.system,
            size=finger.label,
            size_to=finger.to_label,
            knuckle=finger.knuckle_label,
            measured=finger.measured,
            gauge_width_mm=finger.gauge_width_mm,
            gauge=finger.gauge.id if finger.gauge else None,
            hand=finger.hand,
            name=finger.name,
            warm=finger.is_warm,
            two_days=finger.is_on_two_days,
            taken_by=ring.taken_by,
            taken_at=ring.taken_at,
        ),
        fit_mm=design.fit_mm,
        profile=design.profile,
        width=design.width_mm,
        thickness=design.thickness_mm,
        alloy=design.alloy,
        from_=design.stock,
        pattern=design.pattern,
        pattern_when=design.pattern_when,
        stretch_percent=design.stretch_percent,
        form=FormOut(kind=design.form.kind, radius=design.form.radius_mm, rise=design.form.rise_mm),
        finish=_finish(ring.particulars),
        inscription=_inscription(ring.particulars),
        stones=_stones(ring.particulars, shows_price=shows_price),
        marks=_marks(ring.particulars),
        reasons=dict(ring.reasons),
        reckoning=reckoning_out(ring.reckoning, rule),
    )


def _finish(particulars: Particulars) -> FinishOut | None:
    inside, outside = particulars.inside, particulars.outside
    return None if inside is outside is None else FinishOut(inside=inside, outside=outside)


def _inscription(particulars: Particulars) -> InscriptionOut | None:
    words = particulars.inscription
    if words is None:
        return None
    return InscriptionOut(
        text=words.text,
        face=words.face,
        lettering=words.lettering,
        letter_mm=words.letter_mm,
        read_back=words.is_read_back,
    )


def _marks(particulars: Particulars) -> MarksOut | None:
    told = particulars.marks
    if told is None:
        return None
    return MarksOut(hallmark=told.hallmark, sponsor=told.has_sponsor, where=told.where)


def _stones(particulars: Particulars, *, shows_price: bool) -> list[StoneOut] | None:
    """The stones; what they are declared to be worth is for those who may see a price."""
    if particulars.stones is None:
        return None
    hidden = {} if shows_price else {"value": ""}
    return [StoneOut(**asdict(stone) | hidden) for stone in particulars.stones]
