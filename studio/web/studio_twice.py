"""What was made twice in the last twelve months, by cause, as the Studio page shows it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from studio.book.mending_values import MadeTwice
from studio.papers.money import money_words
from studio.web.wording import opened

A_YEAR = timedelta(days=365)


@dataclass(frozen=True, slots=True)
class TwiceLine:
    """The mendings of one cause: how many, what they cost, and how much of that the studio pays."""

    cause: str
    count: int
    cost: str
    borne: str


def a_year_before(now: datetime) -> datetime:
    """From when on the table counts."""
    return now - A_YEAR


def twice_lines(found: Sequence[MadeTwice], currency: str) -> tuple[TwiceLine, ...]:
    """The lines of the table, and the sum of all where there are several causes."""
    lines = [_line(opened(one.cause or "not asked yet"), one, currency) for one in found]
    if len(found) > 1:
        lines.append(_line("All of them", _sum(found), currency))
    return tuple(lines)


def _line(cause: str, one: MadeTwice, currency: str) -> TwiceLine:
    unpriced = f"{one.unpriced} not priced" if one.unpriced else ""
    cost = [*_amounts(one.cost, currency), unpriced] if one.cost or not unpriced else [unpriced]
    return TwiceLine(
        cause, one.count, ", ".join(part for part in cost if part), ", ".join(_amounts(one.borne, currency))
    )


def _amounts(by_currency: Mapping[str, int], currency: str) -> list[str]:
    """An amount of each currency; of the studio's own where there is none."""
    return [money_words(minor, its) for its, minor in (by_currency or {currency: 0}).items()]


def _sum(found: Sequence[MadeTwice]) -> MadeTwice:
    def added(parts: Sequence[Mapping[str, int]]) -> dict[str, int]:
        return {its: sum(part.get(its, 0) for part in parts) for part in parts for its in part}

    return MadeTwice(
        None,
        sum(one.count for one in found),
        sum(one.unpriced for one in found),
        added([one.cost for one in found]),
        added([one.borne for one in found]),
    )
