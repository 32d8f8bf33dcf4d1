"""What an amendment may say, and what it waits for before it is issued."""

from collections.abc import Sequence

from studio.book.agreed_errors import NothingAmended
from studio.book.order_values import Amending, Order, OrderRing
from studio.book.order_writing import one_line
from studio.craft.errors import Refusal, Refused, Why
from studio.craft.missing import BEFORE_THE_BENCH, Deposit, OrderFacts, missing, ring_facts
from studio.craft.orders import State

LONGEST_WORDS = 1000
LONGEST_CHARGE = 80
MOST_CHARGE_MINOR = 10**9


def waits_for(found: Order, rings: Sequence[OrderRing]) -> tuple[str, ...]:
    """What the rings that are changed still want, by the words of `missing`.

    A finger has to be measured, as for a quote. An order that has been given to the bench waits at its door
    no more, so what the bench would wait for is wanted before the paper.
    """
    before = {ring.position: _chosen(ring) for ring in found.rings}
    changed = [ring for ring in rings if before.get(ring.position) != _chosen(ring)]
    told = missing(
        OrderFacts(
            state=State.DRAFT,
            has_phone=True,
            has_wanted_day=True,
            has_promised_day=True,
            has_bench_date=True,
            deposit=Deposit.NOT_ASKED,
            rings=tuple(
                ring_facts(ring.position, ring.finger, ring.reckoning, ring.reasons_given, ring.particulars)
                for ring in changed
            ),
        )
    )
    return told.quote if found.state in BEFORE_THE_BENCH else (*told.quote, *told.bench)


def check_words(amending: Amending) -> None:
    """Raises `Refused` for words or a charge that cannot stand."""
    found: list[Refusal] = []
    if not amending.rings:
        found.append(Refusal("rings", Why.EMPTY))
    if len(amending.words.strip()) > LONGEST_WORDS:
        found.append(Refusal("words", Why.TOO_LONG, amending.words[:24], high=LONGEST_WORDS, unit="signs"))
    text = one_line(amending.charge_text) or ""
    if len(text) > LONGEST_CHARGE:
        found.append(Refusal("charge_text", Why.TOO_LONG, text[:24], high=LONGEST_CHARGE, unit="signs"))
    if amending.charge_minor and not text:
        found.append(Refusal("charge_text", Why.EMPTY))
    if not 0 <= amending.charge_minor <= MOST_CHARGE_MINOR:
        why = Why.TOO_SMALL if amending.charge_minor < 0 else Why.TOO_LARGE
        found.append(Refusal("charge_minor", why, str(amending.charge_minor)[:24], 0, MOST_CHARGE_MINOR))
    if found:
        raise Refused(*found)


def check_something_changes(found: Order, rings: Sequence[OrderRing], amending: Amending) -> None:
    """Raises `NothingAmended` where all would stay as it is."""
    terms = found.terms
    days = (terms.wanted_on, terms.wanted_hard, terms.promised_at)
    is_same = [_chosen(ring) for ring in found.rings] == [_chosen(ring) for ring in rings]
    says_more = bool(amending.words.strip() or amending.charge_minor)
    if is_same and not says_more and days == (amending.wanted_on, amending.wanted_hard, amending.promised_at):
        raise NothingAmended(found.number, found.state, "nothing is changed yet")


def _chosen(ring: OrderRing) -> tuple[object, ...]:
    return ring.finger, ring.design, ring.particulars
