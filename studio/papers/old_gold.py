"""The note of old gold bought in: what it is, whose it was, what is paid, and two hands."""

from dataclasses import dataclass
from datetime import date
from functools import partial

from studio.craft.directions import apart
from studio.craft.goods import weight_words
from studio.papers.money import money_words
from studio.papers.paper import Paper
from studio.papers.quote import tied
from studio.papers.quote_facts import Letterhead
from studio.papers.quote_words import day_of_year

TEMPLATE = "old_gold"


@dataclass(frozen=True, slots=True)
class OldGoldFacts:
    """Everything the note says, as plain values: mass and fine weight in mg, money in minor units."""

    studio: Letterhead
    number: int
    bought_on: date
    seller: str
    address: str
    identity: str
    description: str
    marks: str
    tested: str
    metal: str
    fineness: int
    mass_mg: int
    fine_mg: int
    paid_minor: int
    currency: str
    method: str
    by: str


@dataclass(frozen=True, slots=True)
class OldGoldPaper:
    """All that the paper shows, ready to print."""

    studio: Letterhead
    number: str
    seller: str
    bought: str
    facts: tuple[tuple[str, str], ...]
    declaration: str
    hands: tuple[tuple[str, str], tuple[str, str]]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Old gold {self.number}, {self.seller}"


def old_gold_paper(facts: OldGoldFacts) -> OldGoldPaper:
    """The note put into words."""
    seller = apart(facts.seller)
    told = (
        ("What it is", apart(facts.description)),
        ("Marks on it", apart(facts.marks) or "none seen"),
        ("Metal", f"{facts.metal}, {facts.fineness} parts in 1,000"),
        ("Tested", apart(facts.tested) or "by its marks"),
        ("Weight", tied(weight_words(facts.mass_mg))),
        ("Fine metal in it", tied(weight_words(facts.fine_mg))),
        ("Paid", f"{money_words(facts.paid_minor, facts.currency)}, {facts.method}"),
        ("Seller", seller),
        ("Address", ", ".join(line.strip() for line in apart(facts.address).splitlines() if line.strip())),
        ("Shown", apart(facts.identity)),
    )
    return OldGoldPaper(
        studio=facts.studio,
        number=str(facts.number),
        seller=seller,
        bought=tied(day_of_year(facts.bought_on)),
        facts=told,
        declaration="I declare that this is mine, that nobody else has a claim to it, and that I sell it for "
        "the amount above.",
        hands=(("Sold by", seller), ("Bought by", f"{apart(facts.by)}, {apart(facts.studio.name)}")),
    )


def old_gold_to_print(facts: OldGoldFacts) -> Paper:
    """The note, to be printed."""
    paper = old_gold_paper(facts)
    return Paper(TEMPLATE, (partial(_same, paper),), paper.title)


def _same(paper: OldGoldPaper) -> OldGoldPaper:
    return paper
