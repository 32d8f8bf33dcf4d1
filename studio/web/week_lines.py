"""The lines of the week's need, each with the rings behind it and where its blanks come from."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from studio.book.week import NeedLine, NeedRing
from studio.craft.designs import WIRE_PROFILES, Profile, Stock
from studio.craft.directions import apart
from studio.craft.units import figure_words
from studio.web.days import day_words
from studio.web.security import Seat
from studio.web.wording import alloy_words, count_words, family_name, order_short, stock_words, wire_words


@dataclass(frozen=True, slots=True)
class RingEntry:
    """One ring behind a line: whose, on which day, its mark in mm and its metal in g.

    To the last figure kept, so that the marks add up to the line's length on paper as well.
    """

    href: str
    number: str
    customer: str
    bench: str
    mark: str
    grams: str


@dataclass(frozen=True, slots=True)
class OrderEntry:
    """An order behind a line: '118 Fenwright', and ' × 2' where it needs more than one blank."""

    href: str
    words: str
    times: str


@dataclass(frozen=True, slots=True)
class NeedEntry:
    """One line of the need. `goes_on`: the next line is of the same metal, so no rule lies between."""

    anchor: str
    metal: str
    metal_named: str
    width: str
    blanks: int
    length: str
    grams: str
    orders: tuple[OrderEntry, ...]
    rings: tuple[RingEntry, ...]
    rings_words: str
    length_sum: str
    grams_sum: str
    goes_on: bool
    drawer: tuple[str, ...]
    short: int
    short_words: str


def need_entries(need: Sequence[NeedLine], seat: Seat, marks: Mapping[str, str]) -> tuple[NeedEntry, ...]:
    """The lines, the metal named once for those that lie together."""
    names = [_metal_words(line) for line in need]
    return tuple(
        _entry(
            line,
            place,
            "" if place > 1 and names[place - 2] == name else name,
            goes_on=place < len(names) and names[place] == name,
            seat=seat,
            marks=marks,
        )
        for place, (line, name) in enumerate(zip(need, names, strict=True), 1)
    )


def _entry(
    line: NeedLine, place: int, metal: str, *, goes_on: bool, seat: Seat, marks: Mapping[str, str]
) -> NeedEntry:
    rings = [f"{ring.number}/{ring.position}" for ring in line.rings]
    short = sum(ring not in marks for ring in rings)
    return NeedEntry(
        anchor=f"need-{place}",
        metal=metal,
        metal_named=_metal_words(line),
        width=figure_words(line.width_mm),
        blanks=line.blanks,
        length=f"{line.length_mm:.1f}",
        grams=f"{line.mass_g:.2f}",
        orders=_orders(line.rings),
        rings=tuple(_ring(ring, seat) for ring in line.rings),
        rings_words="The mark" if line.blanks == 1 else f"The {count_words(line.blanks)} marks",
        length_sum=f"{line.length_mm:.3f}",
        grams_sum=f"{line.mass_g:.3f}",
        goes_on=goes_on,
        drawer=tuple(dict.fromkeys(marks[ring] for ring in rings if ring in marks)),
        short=short,
        short_words="" if short in {0, len(rings)} else f"{count_words(short)} of {count_words(len(rings))}",
    )


def _metal_words(line: NeedLine) -> str:
    """What to take from the drawer: '750 yellow, strip 1.6', '925 silver, half-round wire 1.7'."""
    metal = alloy_words(line.alloy)
    if line.profile in WIRE_PROFILES:
        return f"{metal}, {stock_words(line.profile, line.width_mm, line.thickness_mm)}"
    thick = figure_words(line.thickness_mm)
    if line.stock is Stock.STRIP:
        filed = "" if line.profile is Profile.FLAT else f" for {stock_name(line.profile)}"
        return f"{metal}, strip {thick}{filed}"
    return f"{metal}, {wire_words(line.profile)} {thick}"


def stock_name(profile: Profile) -> str:
    """The section's name alone: 'half-round'."""
    return stock_words(profile, 1, 1).partition(" 1")[0]


def _orders(rings: Sequence[NeedRing]) -> tuple[OrderEntry, ...]:
    counts: dict[tuple[str, str], int] = {}
    for ring in rings:
        key = (ring.number, ring.customer_name)
        counts[key] = counts.get(key, 0) + 1
    return tuple(
        OrderEntry(
            f"/orders/{number}",
            f"{order_short(number)} {apart(family_name(name))}",
            f" × {count}" if count > 1 else "",
        )
        for (number, name), count in counts.items()
    )


def _ring(ring: NeedRing, seat: Seat) -> RingEntry:
    return RingEntry(
        href=f"/orders/{ring.number}#ring-{ring.position}",
        number=f"{ring.number}/{ring.position}",
        customer=ring.customer_name,
        bench=day_words(ring.bench_on, today=seat.today),
        mark=f"{ring.mark_mm:.3f}",
        grams=f"{ring.issue_g:.3f}",
    )
