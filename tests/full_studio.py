"""A studio whose every text was written by one writer, put in through its own forms and its API."""

from collections.abc import Mapping
from dataclasses import dataclass

import httpx

from studio import clock
from studio.book.bench_devices import LONGEST_NAME, add_device
from studio.book.bench_work import LONGEST_REASON
from studio.book.engine import session
from studio.book.people import user_named
from studio.book.pictures import LONGEST_NOTE as LONGEST_PICTURE
from studio.craft.goods import LONGEST_BAG, LONGEST_GOODS, LONGEST_NOTE
from studio.craft.mends import LONGEST_WORDS as LONGEST_MENDS
from studio.craft.outwork import LONGEST_CONDITION, LONGEST_WHAT, LONGEST_WORKER, LONGEST_WORKER_NOTE
from studio.craft.particulars import Setting
from studio.craft.payments import LONGEST_REFERENCE, LONGEST_WHY
from studio.craft.roles import Role
from studio.craft.stones import LONGEST_WORDS as LONGEST_STONE
from studio.craft.whereabouts import LONGEST_PLACE
from studio.web.amendment_page import LONGEST_CHARGE, LONGEST_WORDS
from studio.web.particulars_reading import STONE_WORDS
from studio.web.texts import LONGEST_ADDRESS
from tests.long_texts import Writer, a_full_order, full_facts
from tests.web.house import PEOPLE, House, a_ring
from tests.web.picturing import send as send_picture
from tests.web.priced import ask_for_quote, put_in_rates
from tests.web.shown import Shown

PIECE = {
    "kind-new": "sheet", "alloy-new": "silver-925", "length-new": "90", "width-new": "24",
    "thickness-new": "1.6", "mass-new": "36.2",
}  # fmt: skip
GAUGE = {"kind-0": "set", "system-0": "uk", "width_mm-0": "3"}
ALLOY = {"alike-new": "gold-750-yellow", "fineness-new": "750"}


@dataclass(frozen=True, slots=True)
class FullOrders:
    """The numbers of four orders.

    One whose quote is open, one agreed, one as typed at the counter that offers another variant, and one with
    an amendment that waits and another half put together, which mends the agreed one.
    """

    quoted: str
    agreed: str
    typed: str
    amended: str

    @property
    def documents(self) -> tuple[str, ...]:
        """The addresses of the agreed order's papers besides its quote."""
        return tuple(f"/documents/{self.agreed}-{end}.pdf" for end in ("c1", "r1", "b1", "p1"))

    @property
    def invoices(self) -> tuple[str, ...]:
        """The addresses of its invoice and of the credit note for that."""
        year = self.agreed.partition("-")[0]
        return tuple(f"/invoices/{year}-{serial:04d}.pdf" for serial in (1, 2))

    @property
    def pages(self) -> tuple[str, ...]:
        """The addresses of every page that shows what was written."""
        today = clock.today("Europe/London").isoformat()
        return (
            "/",
            "/orders",
            "/customers",
            "/customers/1",
            f"/week?from={today}",
            f"/studio/months/{today[:7]}",
            "/reminders",
            f"/orders/{self.quoted}/reminders/quote",
            "/metal",
            f"/metal/ledger/{today[:7]}",
            "/metal/losses",
            "/metal/over-time",
            "/week/load",
            "/metal/count",
            "/custody",
            "/metal/old-gold",
            "/orders/new",
            f"/orders/new?like={self.quoted}/1",
            "/orders/new?customer=1",
            f"/orders/{self.quoted}",
            f"/orders/{self.agreed}",
            f"/orders/{self.typed}",
            f"/orders/{self.typed}/rings/1",
            f"/orders/{self.typed}/variants/b/rings/1",
            f"/orders/{self.typed}/read-back",
            f"/orders/{self.amended}",
            f"/orders/{self.amended}/amendment",
            f"/orders/{self.amended}/amendment/rings/1",
            f"/quotes/{self.amended}-a1",
            f"/orders/{self.agreed}/rings/1/came-about",
            f"/orders/{self.agreed}/rings/1/metals",
            f"/orders/{self.agreed}/rings/1/bench-record",
            f"/quotes/{self.quoted}-q1",
            f"/quotes/{self.agreed}-q1",
            "/studio",
            "/studio/practice",
            "/studio/gauges",
            "/studio/alloys",
            "/bench-records",
            "/what-happened",
            f"/orders/{self.agreed}/what-happened",
            "/bench",
            "/bench/people",
            f"/bench/{self.agreed}/1",
            f"/bench/{self.agreed}/1?step=bend",
        )


def sent(house: House, page: str, action: str, typed: Mapping[str, str], press: str = "") -> httpx.Response:
    """What the app answers the form at `page` that goes to `action`, with some of its fields typed."""
    form = Shown(house.browse("GET", page)).form(action)
    return house.browse("POST", action, data=form.filled(press, **typed))


def must_go(answer: httpx.Response) -> str:
    """Where the form led: it has to lead on."""
    assert answer.status_code == 303, Shown(answer).words[:2_000]
    return answer.headers["location"]


def write_the_studio(house: House, write: Writer) -> None:
    """The studio's own words, its gauge, its alloy, a piece in the drawer, a metal price, its practice."""
    put_in_rates(house)
    must_go(sent(house, "/studio", "/studio/facts", full_facts(write)))
    price = {"metal": "silver", "price": "31.50", "unit": "ozt", "source": write(120)}
    must_go(sent(house, "/studio", "/studio/prices", price))
    practice = {"source": write(300), "kerf_mm": "0.4"}
    must_go(sent(house, "/studio/practice", "/studio/practice", practice))
    gauge = GAUGE | {"name-0": write(40), "note-0": write(500)}
    must_go(sent(house, "/studio/gauges", "/studio/gauges", gauge))
    alloy = ALLOY | {"name-new": write(40), "note-new": write(300)}
    must_go(sent(house, "/studio/alloys", "/studio/alloys", alloy))
    must_go(sent(house, "/metal", "/metal", PIECE | {"lot-new": write(40), "place-new": write(60)}))


def write_the_orders(house: House, write: Writer) -> FullOrders:
    """Four orders, all but the third by the API, with all that is written on their way."""
    today = clock.today("Europe/London").isoformat()
    quoted = house.take_order(**a_full_order(write, bench_on=today))
    to = {"how": "e-mail", "to": write(200)}
    number = ask_for_quote(house, quoted).json()["number"]
    must_go(sent(house, f"/quotes/{number}", f"/quotes/{number}/sendings", to))
    agreed = house.take_order(**a_full_order(write, bench_on=today))
    number = ask_for_quote(house, agreed).json()["number"]
    yes = {"name": write(120), "without_deposit": write(500)}
    must_go(sent(house, f"/quotes/{number}", f"/quotes/{number}/agreement", yes))
    page = f"/orders/{agreed}"
    must_go(sent(house, page, f"{page}/rings/1/read-back", {}))
    move = {"to": "at the bench", "reason": write(500)}
    must_go(sent(house, page, f"{page}/moves", move))
    record = f"{page}/rings/1/bench-record"
    must_go(sent(house, record, record, {"closed_mm": "O½", "tool": write(60), "wrong": write(200)}))
    move = {"to": "agreed", "reason": write(500)}
    must_go(sent(house, page, f"{page}/moves", move))
    customer = {"note": write(4_000)}
    must_go(sent(house, "/customers/1", "/customers/1", customer))
    typed = typed_at_the_counter(house, write)
    write_the_documents(house, agreed, write)
    page = f"/orders/{typed}"
    must_go(sent(house, page, f"{page}/variants", {}))
    amended = amended_order(house, write, agreed)
    write_the_money(house, agreed, write)
    write_at_the_bench(house, agreed, write)
    write_outside(house, agreed, write)
    return FullOrders(quoted, agreed, typed, amended)


def write_the_documents(house: House, number: str, write: Writer) -> None:
    """A confirmation of an agreed order, a receipt for all that is taken in, and one for some of it."""
    page = f"/orders/{number}"
    must_go(sent(house, page, f"{page}/plan", {"collects": write(120)}))
    must_go(sent(house, page, f"{page}/documents/confirmation", {}))
    for _ in range(2):
        goods = {"goods": write(LONGEST_GOODS), "goods_weight": "2.14", "goods_bag": write(LONGEST_BAG)}
        must_go(sent(house, page, f"{page}/documents/receipt", goods))
    back = {"back-r1-1": "yes", "back-r1-2": "yes", "back_note": write(LONGEST_NOTE)}
    must_go(sent(house, page, f"{page}/documents/return", back))


def write_the_money(house: House, number: str, write: Writer) -> None:
    """Two payments of an agreed order, one taken back, its invoice, and a credit note for some of it."""
    page = f"/orders/{number}"
    for amount in ("20", "5"):
        paid = {"paid": amount, "paid_how": "bank transfer", "paid_reference": write(LONGEST_REFERENCE)}
        must_go(sent(house, page, f"{page}/payments", paid))
    must_go(sent(house, page, f"{page}/payments/{number}-p2/undoing", {"undo-p2": write(LONGEST_WHY)}))
    must_go(sent(house, page, f"{page}/invoices", {"invoice_address": write(LONGEST_ADDRESS)}))
    year = number.partition("-")[0]
    credit = {"credit_of": f"{year}-0001", "credit_amount": "5", "credit_why": write(LONGEST_WHY)}
    must_go(sent(house, page, f"{page}/credit-notes", credit))


def write_at_the_bench(house: House, number: str, write: Writer) -> None:
    """A step of an agreed order's ring done out of order, and a device of the bench."""
    page, bench = f"/orders/{number}", f"/bench/{number}/1"
    must_go(sent(house, page, f"{page}/moves", {"to": "at the bench", "reason": write(500)}))
    must_go(sent(house, f"{bench}?step=bend", bench, {"reason": write(LONGEST_REASON)}, "Done, next"))
    must_go(sent(house, page, f"{page}/moves", {"to": "agreed", "reason": write(500)}))
    with session(house.engine) as book:
        owner = user_named(book, PEOPLE[Role.OWNER]).actor
        add_device(book, name=write(LONGEST_NAME), sign_in_key=None, actor=owner, now=clock.now())


def write_outside(house: House, number: str, write: Writer) -> None:
    """A place with a ring in it, an outside worker, and a slip for goods of an agreed order that are held."""
    lists, page = "/whereabouts/lists", f"/outwork?order={number}"
    must_go(sent(house, lists, "/whereabouts/places", {"place_name": write(LONGEST_PLACE)}))
    worker = {"worker_name": write(LONGEST_WORKER), "worker_note": write(LONGEST_WORKER_NOTE)}
    must_go(sent(house, lists, "/outwork/workers", worker))
    lies = {"place": "1", "thing": f"{number}/1"}
    must_go(sent(house, f"/whereabouts?q={number}", "/whereabouts", lies))
    slip = {
        "worker-new": "1", "what-new": write(LONGEST_WHAT), "value-new": "180", "due_on-new": "19 Dec 2099",
        "held_by-new": write(LONGEST_WORKER), "thing-1": f"{number}/1",
    }  # fmt: skip
    must_go(sent(house, page, "/outwork", slip))
    back = {f"condition-{number}-w1": write(LONGEST_CONDITION)}
    must_go(sent(house, "/outwork", f"/outwork/{number}-w1/back", back))
    must_go(sent(house, page, "/outwork", slip | {"what-new": write(LONGEST_WHAT)}))


def amended_order(house: House, write: Writer, mended: str) -> str:
    """The number of an agreed order that mends `mended`, has a picture, and is amended twice over."""
    words = write(LONGEST_MENDS)
    mends = {"order": mended, "kind": "remake", "cause": "other", "words": words, "paid_by": "studio"}
    number = house.take_order(**a_full_order(write, mends=mends))
    page = f"/orders/{number}"
    assert send_picture(house, number, picture_note=write(LONGEST_PICTURE)).status_code == 303
    quote = ask_for_quote(house, number).json()["number"]
    yes = {"name": write(120), "without_deposit": write(500)}
    must_go(sent(house, f"/quotes/{quote}", f"/quotes/{quote}/agreement", yes))
    for action in (f"{page}/amendments", f"{page}/amendment/terms"):
        must_go(sent(house, page, f"{page}/amendment", {}))
        form = Shown(house.browse("GET", f"{page}/amendment")).form(f"{page}/amendments")
        changed = {"words": write(LONGEST_WORDS), "charge_text": write(LONGEST_CHARGE), "charge": "26"}
        must_go(house.browse("POST", action, data=form.filled(**changed)))
    return number


def typed_at_the_counter(house: House, write: Writer) -> str:
    """The number of an order that was typed into the counter's own form."""
    ring = a_ring()
    stone = {f"stones.0.{name}": write(LONGEST_STONE) for name in STONE_WORDS}
    typed = {
        "act": "save", "customer.name": write(120), "customer.phone": "01632 960 417",
        "finger.place": "left ring", "finger.system": "uk", "finger.size": ring["finger"]["size"],
        "finger.measured": "gauge", "finger.gauge_width_mm": "3", "finger.taken_by": write(120),
        "profile": "flat", "width": "8", "thickness": "1.6", "alloy": "silver-925", "pattern": "hammered",
        "pattern_when": "flat", "reasons.narrow-gauge": write(500), "wanted_on": "19 Dec 2099",
        "note": write(4_000), "collects": write(120), "inscription.face": "inside",
        "inscription.text": write(120), "stones.asked": "yes", "stones.0.count": "1",
        "stones.0.whose": "customer", "stones.0.risk": "customer", "stones.0.setting": Setting.BEZEL,
    } | stone  # fmt: skip
    form = Shown(house.browse("GET", "/orders/new", Role.COUNTER)).form("/orders")
    where = must_go(house.browse("POST", "/orders", Role.COUNTER, data=form.fields | typed))
    return where.removeprefix("/orders/").partition("/")[0].partition("#")[0]
