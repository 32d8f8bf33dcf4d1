"""How days, counts, sizes and rings read on the screens: 'Four', 'O½, flat 6 × 1.6, hammered'."""

from collections.abc import Sequence
from datetime import date, datetime
from zoneinfo import ZoneInfo

from studio.book.order_list_values import RingLine
from studio.craft import design_words as of_a_design
from studio.craft.designs import Profile, System
from studio.craft.own_alloys import short_name
from studio.craft.profiles import PROFILE_NAMES
from studio.papers.days import MONTHS, WEEKDAYS, day_words

stock_words = of_a_design.stock_words
design_words = of_a_design.design_words

_COUNTS = (
    "no", "one", "two", "three", "four", "five", "six",
    "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth", "ninth", "tenth")
_BARE_SYSTEMS = frozenset({System.UK, System.ISO})
"""A letter is a UK size and a number from 41 up an ISO one; the others say whose they are."""


def title_day_words(day: date) -> str:
    """A date as a title: 'Thursday, 26 November'."""
    return f"{WEEKDAYS[day.weekday()]}, {day.day} {MONTHS[day.month - 1]}"


def sentence_day_words(day: date) -> str:
    """A date within a sentence: 'Monday 30 November'."""
    return f"{WEEKDAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1]}"


def bench_day_words(day: date) -> str:
    """A day of the bench's plan: 'Thu 26'."""
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day}"


def since_words(moment: datetime, zone: str, today: date) -> str:
    """When something began: today's is the hour, '14:05', another day its date, 'Tue 24 Nov'."""
    there = moment.astimezone(ZoneInfo(zone))
    return f"{there:%H:%M}" if there.date() == today else day_words(there.date(), today=today)


def hour_words(moment: datetime, zone: str, today: date) -> str:
    """A moment with its day and hour: 'Thu 26 Nov, 14:05'."""
    there = moment.astimezone(ZoneInfo(zone))
    return f"{day_words(there.date(), today=today)}, {there:%H:%M}"


def count_words(count: int) -> str:
    """A small count in letters, 'four'; above twelve in figures, '13'."""
    return _COUNTS[count] if count < len(_COUNTS) else str(count)


def counted(count: int, one: str, many: str) -> str:
    """A count with its noun: 'one ring', 'two rings', 'no rings'."""
    return f"{count_words(count)} {one if count == 1 else many}"


def days_words(count: int) -> str:
    """How long something has waited: 'today', '1 day', '12 days'."""
    if count <= 0:
        return "today"
    return "1 day" if count == 1 else f"{count} days"


def ordinal(position: int) -> str:
    """Which ring of an order: 'first', 'second'; above ten '11th' and so on."""
    if position <= len(_ORDINALS):
        return _ORDINALS[position - 1]
    ending = (
        {1: "st", 2: "nd", 3: "rd"}.get(position % 10, "th") if position % 100 not in {11, 12, 13} else "th"
    )
    return f"{position}{ending}"


def joined(words: Sequence[str]) -> str:
    """Words in a row: 'M', 'M and V', 'M, N and V'."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def opened(words: str) -> str:
    """A sentence's first letter made large, the rest as it is: 'four things' gives 'Four things'."""
    return words[:1].upper() + words[1:]


def size_words(system: System, label: str) -> str:
    """A size as a list names it: 'O½', '57', and 'US 10' where the bare figure would not say whose it is."""
    return label if system in _BARE_SYSTEMS else f"{system.upper()} {label}"


def wire_words(profile: Profile) -> str:
    """'half-round wire', 'round wire'."""
    return f"{PROFILE_NAMES[profile].lower().removesuffix(' wire')} wire"


def alloy_words(alloy: str) -> str:
    """The metal's short name: '750 yellow', '925 silver'."""
    return short_name(alloy)


def rings_words(rings: Sequence[RingLine]) -> tuple[str, ...]:
    """The rings of an order, those alike but for the size in one: 'M and V, flat 6 × 1.5, 925 silver'."""
    sizes: dict[str, list[str]] = {}
    for ring in rings:
        design = design_words(ring.profile, ring.width_mm, ring.thickness_mm, ring.pattern, ring.alloy)
        sizes.setdefault(design, []).append(size_words(ring.system, ring.label))
    return tuple(f"{joined(labels)}, {design}" for design, labels in sizes.items())


def order_short(number: str) -> str:
    """An order's number within its year: '2026-118' gives '118'."""
    return number.partition("-")[2] or number


def family_name(name: str) -> str:
    """What the bench calls a customer by: the last word of the name, 'Corin Vey' gives 'Vey'."""
    words = name.rsplit(maxsplit=1)
    return words[-1] if words else name
