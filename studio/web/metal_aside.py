"""Metal that lies aside for orders, in words: where metal moves, and on the order's own page."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.book.engine import session
from studio.book.metal_aside import AsideMetal, metal_aside
from studio.book.practices import practice_on
from studio.book.studio import currency_of
from studio.craft.directions import apart
from studio.craft.metals import Alloy
from studio.craft.own_alloys import short_name
from studio.craft.promised import per_gram
from studio.craft.roles import Right
from studio.papers.money import money_words
from studio.web.security import Seat


@dataclass(frozen=True, slots=True)
class AsideLine:
    """One metal aside for one order. Money is '' for who may not see a cost, and where nothing is known.

    `paid` and `quoted` are of a gram; `difference` is for what the order needs of it.
    """

    order: str
    href: str
    whose: str
    metal: str
    marks: str
    grams: str
    needs: str
    paid: str = ""
    quoted: str = ""
    difference: str = ""
    is_more: bool = False
    drawer_href: str = "/metal"


def aside_lines(
    found: tuple[AsideMetal, ...], alloys: Mapping[str, Alloy], currency: str, seat: Seat
) -> tuple[AsideLine, ...]:
    """What lies aside, as this person may see it. `alloys` are those the studio knows, by key."""
    return tuple(_line(one, alloys, currency, sees_cost=seat.may(Right.SEE_COST)) for one in found)


def aside_of_order(seat: Seat, number: str) -> tuple[AsideLine, ...]:
    """What lies aside for one order, for its page."""
    with session(seat.engine) as book:
        found = metal_aside(book, order=number)
        if not found:
            return ()
        return aside_lines(found, practice_on(book, seat.today).alloys, currency_of(book), seat)


def _line(one: AsideMetal, alloys: Mapping[str, Alloy], currency: str, *, sees_cost: bool) -> AsideLine:
    aside = one.aside
    money: dict[str, str] = {}
    if sees_cost:
        money = {
            "paid": _paid(one, currency),
            "quoted": "not quoted"
            if aside.quoted_minor is None
            else money_words(per_gram(aside.quoted_minor, aside.issue_mg), currency),
            "difference": "" if one.is_customers else _difference(aside.difference_minor, currency),
        }
    return AsideLine(
        order=one.order,
        href=f"/orders/{one.order}",
        whose=apart(one.customer),
        metal=alloys[one.alloy].name if one.alloy in alloys else short_name(one.alloy),
        marks=", ".join(one.marks),
        grams=f"{aside.aside_mg / 1000:.2f}",
        needs=f"{aside.issue_mg / 1000:.2f}",
        is_more=sees_cost and not one.is_customers and (aside.difference_minor or 0) > 0,
        **money,
    )


def _paid(one: AsideMetal, currency: str) -> str:
    if one.is_customers:
        return "the customer's own"
    if one.aside.paid_minor is None:
        return "not written down"
    return money_words(per_gram(one.aside.paid_minor, one.aside.aside_mg), currency)


def _difference(minor: int | None, currency: str) -> str:
    if minor is None:
        return ""
    if not minor:
        return "the same"
    return f"{money_words(abs(minor), currency)} {'more' if minor > 0 else 'less'}"
