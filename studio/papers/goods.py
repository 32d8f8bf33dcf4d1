"""Receipts for goods of the customer's: what the studio took in, line by line, and what it gave back."""

from dataclasses import dataclass, replace
from datetime import date
from functools import partial

from studio.craft.directions import apart
from studio.craft.goods import GivenBack, Good, weight_words
from studio.craft.particulars import Risk, Stone
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.particulars_words import kept_apart
from studio.papers.quote import tied
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import day_of_year

TEMPLATE = "goods"
NOT_WEIGHED = "not weighed"


@dataclass(frozen=True, slots=True)
class GoodsFacts:
    """Everything a receipt for goods says, as plain values: for goods taken in, or given back.

    `by` is who took them in or gave them back. `custody` is the studio's own word on goods taken in, `note`
    what was noted when they went back; each line of them a paragraph. `left` is what stays with the studio.
    Values are in minor units of `currency`.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued_on: date
    by: str
    taken_in: tuple[Good, ...] = ()
    custody: str = ""
    given_back: tuple[GivenBack, ...] = ()
    left: tuple[Good, ...] = ()
    note: str = ""
    currency: str = ""


@dataclass(frozen=True, slots=True)
class GoodOnPaper:
    """One line taken in, ready to print: what it is, and what is said of it, each with its label."""

    title: str
    facts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class BackOnPaper:
    """One line given back, ready to print, with its weight then and now."""

    what: str
    receipt: str
    weight_in: str
    weight_back: str


@dataclass(frozen=True, slots=True)
class GoodsPaper:
    """All that the paper shows, ready to print: `goods` of those taken in, `back` of those given back."""

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    is_return: bool
    lead: str
    goods: tuple[GoodOnPaper, ...]
    back: tuple[BackOnPaper, ...]
    left: tuple[str, ...]
    paragraphs: tuple[str, ...]

    @property
    def kind(self) -> str:
        """What the paper is called before its number."""
        return "Goods given back" if self.is_return else "Goods taken in"

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"{self.kind} {self.number}, {self.customer}"

    @property
    def hands(self) -> tuple[tuple[str, str], tuple[str, str]]:
        """Who signs for what: the one who hands over, then the one who receives."""
        studio, customer = apart(self.studio.name), self.customer
        return (
            (("Given back by", studio), ("Received by", customer))
            if self.is_return
            else (("Handed in by", customer), ("Received by", studio))
        )


def goods_paper(facts: GoodsFacts) -> GoodsPaper:
    """The receipt put into words. Raises ValueError where nothing was taken in and nothing given back."""
    is_return = bool(facts.given_back)
    if not (facts.taken_in or facts.given_back):
        raise ValueError("a receipt needs a line")
    return GoodsPaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        customer=apart(facts.customer),
        issued=day_of_year(facts.issued_on),
        is_return=is_return,
        lead=_returned_words(facts) if is_return else _received_words(facts),
        goods=tuple(_good(good, facts.currency) for good in facts.taken_in),
        back=tuple(_back(one) for one in facts.given_back),
        left=tuple(good_words(good) for good in facts.left),
        paragraphs=_paragraphs(facts.note if is_return else facts.custody),
    )


def goods_to_print(paper: GoodsPaper) -> Paper:
    """The receipt, to be printed."""
    return Paper(TEMPLATE, (partial(_tied, paper),), paper.title)


def risk_sentence(stone: Stone) -> str:
    """Who bears it where a stone breaks.

    'You bear the risk that the stone breaks while it is being set.'
    """
    breaks = "the stone breaks while it is" if stone.count == 1 else "a stone breaks while they are"
    match stone.risk:
        case Risk.CUSTOMER:
            return f"You bear the risk that {breaks} being set."
        case Risk.STUDIO:
            return f"We bear the risk that {breaks} being set."
        case None:
            return f"Who bears the risk that {breaks} being set is not settled."


def good_words(good: Good) -> str:
    """What it is, in a few words: '2 round stones, 3 mm, said to be sapphire', or as it was typed."""
    if good.stone is None:
        return apart(good.words)
    stone = kept_apart(good.stone)
    return ", ".join(
        part
        for part in (_counted(stone), stone.size, f"said to be {stone.stated}" if stone.stated else "")
        if part
    )


def _received_words(facts: GoodsFacts) -> str:
    these = "these goods" if len(facts.taken_in) > 1 else "this"
    by = f"{apart(facts.by)} took {'them' if len(facts.taken_in) > 1 else 'it'} in for us"
    return f"We have taken {these} in from you on {day_of_year(facts.issued_on)}; {by}."


def _returned_words(facts: GoodsFacts) -> str:
    *others, last = dict.fromkeys(one.good.receipt for one in facts.given_back)
    receipts = f"receipts {', '.join(others)} and {last}" if others else f"receipt {last}"
    is_one = len(facts.given_back) == 1
    what, was, it = ("This", "was", "it") if is_one else ("These goods", "were", "them")
    return (
        f"{what}, taken in with {receipts}, {was} given back to you on {day_of_year(facts.issued_on)}; "
        f"{apart(facts.by)} gave {it} back for us."
    )


def _good(good: Good, currency: str) -> GoodOnPaper:
    stone = good.stone
    weight = NOT_WEIGHED if good.weight_mg is None else weight_words(good.weight_mg)
    bag = (("Bag or seal", apart(good.bag)),) if good.bag else ()
    worth = None if good.value_minor is None else money_words(good.value_minor, currency)
    if stone is None:
        condition = (("Condition", apart(good.condition)),) if good.condition else ()
        value = (("Declared value", worth),) if worth is not None else ()
        facts = (("What it is", apart(good.words)), ("Weight", weight), *condition, *value, *bag)
        return GoodOnPaper(f"{good.place}. Other goods", facts)
    stone = kept_apart(stone)
    return GoodOnPaper(
        f"{good.place}. {_counted(stone, has_shape=False)} for ring {good.ring}",
        (
            ("Shape and size", ", ".join(part for part in (stone.shape, stone.size) if part) or "not said"),
            ("As stated", stone.stated or "nothing was stated"),
            ("As found", stone.tested or "not tested by us"),
            ("Condition", stone.condition or "not noted"),
            ("Declared value", worth or stone.value or "not declared"),
            ("Setting", str(stone.setting) if stone.setting else "not settled yet"),
            ("Risk", risk_sentence(stone)),
            *bag,
        ),
    )


def _back(one: GivenBack) -> BackOnPaper:
    good = one.good
    bag = f" (bag or seal {apart(good.bag)})" if good.bag else ""
    return BackOnPaper(
        what=f"{good_words(good)}{bag}",
        receipt=good.receipt,
        weight_in=NOT_WEIGHED if good.weight_mg is None else weight_words(good.weight_mg),
        weight_back=NOT_WEIGHED if one.weight_mg is None else weight_words(one.weight_mg),
    )


def _counted(stone: Stone, *, has_shape: bool = True) -> str:
    """'1 round stone', '2 stones'."""
    shape = f"{stone.shape} " if has_shape and stone.shape else ""
    return f"{stone.count} {shape}stone{'' if stone.count == 1 else 's'}"


def _paragraphs(words: str) -> tuple[str, ...]:
    return tuple(line.strip() for line in words.splitlines() if line.strip())


def _tied(paper: GoodsPaper) -> GoodsPaper:
    """The paper with its figures tied to their units and days to their months, so that no line parts them."""
    return replace(
        paper,
        issued=tied(paper.issued),
        lead=tied(paper.lead),
        goods=tuple(
            replace(good, facts=tuple((label, tied(words)) for label, words in good.facts))
            for good in paper.goods
        ),
        back=tuple(
            replace(
                one,
                what=tied(one.what),
                weight_in=tied(one.weight_in),
                weight_back=tied(one.weight_back),
            )
            for one in paper.back
        ),
    )
