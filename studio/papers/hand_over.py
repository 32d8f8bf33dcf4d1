"""The sheet of a hand-over: what was made, how to wear it and look after it, and what went back with it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from studio.craft.as_made import OTHERWISE_MM, MadeFigures, size_label
from studio.craft.designs import System
from studio.craft.directions import apart
from studio.craft.drawing import Svg, quote_ring, quote_ring_scale
from studio.craft.goods import GivenBack, Good, weight_words
from studio.craft.particulars import Particulars, Stone, finish_words
from studio.craft.payments import Account
from studio.craft.reckonings import Reckoning
from studio.craft.sizes import named
from studio.craft.units import figure_words
from studio.papers.care_words import care_sentences
from studio.papers.figures import spoken
from studio.papers.goods import NOT_WEIGHED, good_words
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.particulars_words import inscription_sentence, kept_apart
from studio.papers.quote import tied
from studio.papers.quote_facts import Letterhead, QuotedRing
from studio.papers.quote_words import day_of_year, resize_sentences, ring_sentence

TEMPLATE = "hand_over"
WEAR = (
    "Wear it for a week or two before you judge the fit. Fingers change with warmth, season and the hour: "
    "morning and evening can be half a size apart."
)
_ROOM_MM = (72.0, 26.0)


@dataclass(frozen=True, slots=True)
class HandedRing:
    """One ring as it is handed over: reckoned as ordered, and as it came out."""

    reckoning: Reckoning
    particulars: Particulars
    is_marked: bool
    made: MadeFigures
    label: str
    ordered_mm: float


@dataclass(frozen=True, slots=True)
class HandOverFacts:
    """Everything the sheet says, as plain values.

    `given_back` is all that ever went back for the order, `left` what stays. `resizing_note` is the studio's
    own word, a line a paragraph. `due_minor` is None where nothing was agreed; then no money is spoken of.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued_on: date
    by: str
    rings: tuple[HandedRing, ...]
    resizing_note: str = ""
    given_back: tuple[GivenBack, ...] = ()
    left: tuple[Good, ...] = ()
    due_minor: int | None = None
    paid_minor: int = 0
    currency: str = ""


@dataclass(frozen=True, slots=True)
class RingHanded:
    """One ring, ready to print. `title` is '' for the only ring."""

    title: str
    sentence: str
    lying: Svg
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class GoodHanded:
    """One line of the customer's goods, ready to print, with its weight in, used, and back."""

    what: str
    receipt: str
    weight_in: str
    used: str
    back: str


@dataclass(frozen=True, slots=True)
class HandOverPaper:
    """All that the paper shows, ready to print. `balance` sums up what was weighed, None for nothing."""

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    by: str
    rings: tuple[RingHanded, ...]
    goods: tuple[GoodHanded, ...]
    balance: GoodHanded | None
    left: tuple[str, ...]
    sums: tuple[tuple[str, str], ...]
    wear: str
    resizing: tuple[str, ...]
    care: tuple[str, ...]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Hand-over {self.number}, {self.customer}"


def hand_over_paper(facts: HandOverFacts) -> HandOverPaper:
    """The sheet put into words. Raises ValueError without a ring."""
    if not facts.rings:
        raise ValueError("a hand-over needs a ring")
    quoted = [QuotedRing(one.reckoning, None, one.particulars) for one in facts.rings]
    several = len(facts.rings) > 1
    return HandOverPaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        issued=day_of_year(facts.issued_on),
        by=apart(facts.by),
        rings=tuple(
            _ring(ring, f"Ring {place} of {len(facts.rings)}" if several else "")
            for place, ring in enumerate(facts.rings, 1)
        ),
        goods=tuple(map(_good, facts.given_back)),
        balance=_balance(facts.given_back),
        left=tuple(good_words(good) for good in facts.left),
        sums=tuple(_sums(facts)),
        wear=WEAR.replace("it ", "each ", 1) if several else WEAR,
        resizing=(
            *resize_sentences([one.reckoning for one in quoted], [one.particulars for one in quoted]),
            *(line.strip() for line in facts.resizing_note.splitlines() if line.strip()),
        ),
        care=care_sentences(quoted),
    )


def hand_over_to_print(paper: HandOverPaper) -> Paper:
    """The sheet, to be printed."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def final_size_words(made: MadeFigures, label: str, system: System, ordered_mm: float) -> str:
    """'UK O, 56.01 mm round inside'; made otherwise, also 'ordered at UK N½'; not measured, as ordered."""
    if made.size_mm is None:
        return f"{size_label(system, ordered_mm)}, as ordered"
    words = named(system, label) if label else size_label(system, made.size_mm)
    told = f"{words}, {made.size_mm:.2f} mm round inside"
    if abs(made.size_mm - ordered_mm) < OTHERWISE_MM:
        return told
    ordered = size_label(system, ordered_mm)
    return f"{told}; ordered at {ordered if ordered != words else f'{ordered_mm:.2f} mm'}"


def _ring(ring: HandedRing, title: str) -> RingHanded:
    reckoning, told = ring.reckoning, ring.particulars
    alloy = reckoning.alloy
    parts = f"{alloy.fineness} parts in 1,000 of {alloy.metal}" if alloy.fineness else "no precious metal"
    lot = f"; lot {apart(ring.made.lot)}" if ring.made.lot else ""
    weight = (
        f"about {reckoning.finished_g:.1f} g"
        if ring.made.finished_g is None
        else f"{figure_words(ring.made.finished_g)} g, weighed"
    )
    marks = ["hallmarked" if ring.is_marked else "no hallmark"]
    if told.marks is not None and told.marks.has_sponsor:
        marks.append("our sponsor's mark")
    words = told.words_to_cut
    system = reckoning.finger.system
    facts = (
        ("Size", final_size_words(ring.made, ring.label, system, ring.ordered_mm)),
        ("Metal", f"{alloy.plain_name}, {parts}{lot}"),
        ("Weight", weight),
        ("Finish", finish_words(told)),
        ("Stones", "; ".join(_stone_words(stone) for stone in told.stones or ())),
        ("Marks", ", ".join(marks)),
        ("Inscription", "" if words is None else inscription_sentence(words)),
    )
    return RingHanded(
        title,
        ring_sentence(reckoning),
        spoken(quote_ring(reckoning, quote_ring_scale(reckoning, *_ROOM_MM))),
        tuple((label, line) for label, line in facts if line),
    )


def _stone_words(stone: Stone) -> str:
    """'1 round stone, 3 mm, said to be sapphire, bezel set': what is known, and no worth and no risk."""
    one = kept_apart(stone)
    shape = f"{one.shape} " if one.shape else ""
    known = f"found to be {one.tested}" if one.tested else f"said to be {one.stated}" if one.stated else ""
    setting = f"{one.setting} set" if one.setting else ""
    what = f"{one.count} {shape}stone{'' if one.count == 1 else 's'}"
    return ", ".join(part for part in (what, one.size, known, setting) if part)


def _good(one: GivenBack) -> GoodHanded:
    good = one.good
    used = one.used_mg
    back = NOT_WEIGHED if one.weight_mg is None else weight_words(one.weight_mg)
    return GoodHanded(
        what=good_words(good),
        receipt=good.receipt,
        weight_in=NOT_WEIGHED if good.weight_mg is None else weight_words(good.weight_mg),
        used=("in the ring" if one.is_used else "") if used is None else weight_words(used),
        back=back if one.weight_mg is not None or not one.is_used else "with the ring",
    )


def _balance(found: Sequence[GivenBack]) -> GoodHanded | None:
    """The sum of the lines weighed in and back: what came in is what was used and what went back."""
    weighed = [
        (one.good.weight_mg, one.used_mg, one.weight_mg)
        for one in found
        if one.good.weight_mg is not None and one.used_mg is not None and one.weight_mg is not None
    ]
    if not weighed:
        return None
    came, used, back = (sum(column) for column in zip(*weighed, strict=True))
    return GoodHanded("Weighed in all", "", weight_words(came), weight_words(used), weight_words(back))


def _sums(facts: HandOverFacts) -> Iterator[tuple[str, str]]:
    if facts.due_minor is None:
        return
    account = Account(facts.due_minor, facts.paid_minor)
    yield "Price", money_words(facts.due_minor, facts.currency)
    yield "Paid", money_words(facts.paid_minor, facts.currency)
    if account.back_minor:
        yield "We give back", money_words(account.back_minor, facts.currency)
    else:
        yield "Left to pay", money_words(account.left_minor, facts.currency)


def _tied(paper: HandOverPaper) -> HandOverPaper:
    """The paper with its figures tied to their units and days to their months, so that no line parts them."""
    return replace(
        paper,
        issued=tied(paper.issued),
        rings=tuple(
            replace(
                ring,
                sentence=tied(ring.sentence),
                facts=tuple((label, tied(words)) for label, words in ring.facts),
            )
            for ring in paper.rings
        ),
        goods=tuple(_tied_good(one) for one in paper.goods),
        balance=None if paper.balance is None else _tied_good(paper.balance),
        resizing=tuple(map(tied, paper.resizing)),
    )


def _tied_good(one: GoodHanded) -> GoodHanded:
    return replace(
        one, what=tied(one.what), weight_in=tied(one.weight_in), used=tied(one.used), back=tied(one.back)
    )
