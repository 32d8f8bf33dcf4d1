"""The slip that things leave the house with: what they are and what is done to them, and nothing of whose."""

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

TEMPLATE = "outwork_slip"


@dataclass(frozen=True, slots=True)
class SlipFacts:
    """Everything a slip says, as plain values: the weight in mg, None where nothing was weighed."""

    studio: Letterhead
    number: str
    order_number: str
    issued_on: date
    worker: str
    things: tuple[str, ...]
    what: str
    held_by: str
    by: str
    value_minor: int
    currency: str
    weight_mg: int | None
    due_on: date


@dataclass(frozen=True, slots=True)
class SlipPaper:
    """All that the paper shows, ready to print."""

    studio: Letterhead
    number: str
    order_number: str
    worker: str
    issued: str
    things: tuple[str, ...]
    what: tuple[str, ...]
    facts: tuple[tuple[str, str], ...]
    hands: tuple[str, str]

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"Outside work {self.number}"


def slip_paper(facts: SlipFacts) -> SlipPaper:
    """The slip put into words."""
    weight = "not weighed" if facts.weight_mg is None else weight_words(facts.weight_mg)
    return SlipPaper(
        studio=facts.studio,
        number=facts.number,
        order_number=facts.order_number,
        worker=apart(facts.worker),
        issued=tied(day_of_year(facts.issued_on)),
        things=tuple(tied(apart(one)) for one in facts.things),
        what=tuple(tied(apart(line.strip())) for line in facts.what.splitlines() if line.strip()),
        facts=(
            ("Due back", tied(day_of_year(facts.due_on))),
            ("Weight out", tied(weight)),
            ("Value", money_words(facts.value_minor, facts.currency)),
            ("Handed over by", apart(facts.by)),
            ("Held by", apart(facts.held_by or facts.worker)),
        ),
        hands=("Received", "Given back, with weight"),
    )


def slip_to_print(facts: SlipFacts) -> Paper:
    """The slip, to be printed."""
    paper = slip_paper(facts)
    return Paper(TEMPLATE, (partial(_same, paper),), paper.title)


def _same(paper: SlipPaper) -> SlipPaper:
    return paper
