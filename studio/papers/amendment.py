"""What an amendment says beyond the quote it is: what changes from what, and what that does to the price."""

from collections.abc import Sequence
from datetime import date, datetime

from studio.craft.particulars import finish_words
from studio.papers.money import money_words
from studio.papers.particulars_words import inscription_sentence, marks_sentence, stones_sentence
from studio.papers.quote_facts import Amends, QuotedRing, QuoteFacts
from studio.papers.quote_parts import Amended, Change, PriceLine
from studio.papers.quote_words import (
    day_of_year,
    ready_sentence,
    ring_sentence,
    size_sentence,
    weight_sentence,
)


def amended(facts: QuoteFacts, amends: Amends, total_minor: int) -> Amended:
    """The changes ring by ring and day by day, and the price before, after and between."""
    currency = facts.currency

    def line(text: str, minor: int) -> PriceLine:
        return PriceLine(text, money_words(minor, currency))

    more = total_minor - amends.total_minor
    left = total_minor - amends.paid_minor
    between = line("More by", more) if more >= 0 else line("Less by", -more)
    rest = line("Left to pay at collection", left) if left >= 0 else line("We give back", -left)
    return Amended(
        of=amends.number,
        agreed="" if amends.agreed_on is None else day_of_year(amends.agreed_on),
        words=tuple(part.strip() for part in amends.words.splitlines() if part.strip()),
        changes=(
            *_ring_changes(amends.rings, facts.rings, facts),
            *_day_changes(amends, facts.ready_at, facts.wanted_on),
        ),
        sums=(
            line(f"Agreed in {amends.number}", amends.total_minor),
            between,
            *((line("Paid so far", amends.paid_minor), rest) if amends.paid_minor else ()),
        ),
    )


def _ring_changes(
    before: Sequence[QuotedRing], after: Sequence[QuotedRing], facts: QuoteFacts
) -> list[Change]:
    found: list[Change] = []
    several = max(len(before), len(after)) > 1
    for place in range(max(len(before), len(after))):
        which = f"Ring {place + 1}: " if several else ""
        if place >= len(after):
            found.append(Change(f"{which}the ring", _told(before[place], facts)["the ring"], "left out"))
            continue
        now = _told(after[place], facts)
        was = _told(before[place], facts) if place < len(before) else {}
        for name, words in now.items():
            if was.get(name, "") != words:
                label = f"{which}{name}" if which else name[:1].upper() + name[1:]
                found.append(Change(label, was.get(name, "") or "none", words or "none"))
    return found


def _told(ring: QuotedRing, facts: QuoteFacts) -> dict[str, str]:
    """What a quote says of a ring, by what it speaks of."""
    told = ring.particulars
    words = told.words_to_cut
    return {
        "the ring": ring_sentence(ring.reckoning),
        "size": size_sentence(ring.reckoning, ring.taken_on, facts.issued_on),
        "weight": weight_sentence(ring.reckoning, facts.hallmark, told.marks),
        "finish": finish_words(told),
        "stones": stones_sentence(told.stones or ()),
        "marks": marks_sentence(told.marks),
        "inscription": "" if words is None else inscription_sentence(words),
    }


def _day_changes(amends: Amends, ready_at: datetime | None, wanted_on: date | None) -> list[Change]:
    was, now = ready_sentence(amends.ready_at, amends.wanted_on), ready_sentence(ready_at, wanted_on)
    return [] if was == now else [Change("Ready", was, now)]
