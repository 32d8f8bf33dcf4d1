"""What a quote shows, ready to print: its rings, its prices, its variants side by side."""

from dataclasses import dataclass

from studio.craft.drawing import Svg
from studio.papers.quote_facts import Letterhead

MEASURED_MM = 67.0
"""Room for the measured drawings beside the ring on the table."""


@dataclass(frozen=True, slots=True)
class PriceLine:
    """Words and an amount, ready to print."""

    text: str
    amount: str


@dataclass(frozen=True, slots=True)
class RingOnPaper:
    """One ring, ready to print. `title` is empty for the only ring."""

    title: str
    sentence: str
    size: str
    weight: str
    finish: str
    inscription: str
    stones: str
    marks: str
    lying: Svg
    section: Svg
    views: Svg

    @property
    def facts(self) -> tuple[tuple[str, str], ...]:
        """What is said of it, each with its label; what nobody asked is left out."""
        told = (
            ("Size", self.size),
            ("Weight", self.weight),
            ("Finish", self.finish),
            ("Stones", self.stones),
            ("Marks", self.marks),
            ("Inscription", self.inscription),
        )
        return tuple((label, words) for label, words in told if words)

    @property
    def is_in_rows(self) -> bool:
        """Whether its drawings stand in rows: one of several rings, or views too wide to stand beside it."""
        return bool(self.title) or max(self.section.width, self.views.width) > MEASURED_MM


@dataclass(frozen=True, slots=True)
class VariantPrice:
    """What one variant costs, ready to print; `tax` and `deposit` are None where there is none."""

    key: str
    title: str
    lines: tuple[PriceLine, ...]
    tax: PriceLine | None
    total: str
    deposit: PriceLine | None


@dataclass(frozen=True, slots=True)
class VariantRow:
    """One fact of a ring in every variant. Where all say the same it is said once."""

    label: str
    cells: tuple[str, ...]

    @property
    def is_same(self) -> bool:
        """Whether every variant says the same."""
        return len(set(self.cells)) == 1

    @property
    def shown(self) -> tuple[str, ...]:
        """The cells to print: one across all columns where they are the same."""
        return self.cells[:1] if self.is_same else self.cells


@dataclass(frozen=True, slots=True)
class RingSideBySide:
    """One ring of the order as each variant makes it; the drawings are at one scale."""

    title: str
    lying: tuple[Svg, ...]
    rows: tuple[VariantRow, ...]


@dataclass(frozen=True, slots=True)
class VariantTable:
    """The whole comparison: a column for each variant."""

    columns: tuple[VariantPrice, ...]
    rings: tuple[RingSideBySide, ...]

    @property
    def keys(self) -> str:
        """'A, B or C'."""
        *others, last = (one.key.upper() for one in self.columns)
        return f"{', '.join(others)} or {last}"


@dataclass(frozen=True, slots=True)
class Change:
    """One thing that an amendment changes, as it was and as it becomes."""

    label: str
    was: str
    becomes: str


@dataclass(frozen=True, slots=True)
class Amended:
    """What an amendment changes of the quote numbered `of`, agreed on a day, and its price beside the old."""

    of: str
    agreed: str
    words: tuple[str, ...]
    changes: tuple[Change, ...]
    sums: tuple[PriceLine, ...]


@dataclass(frozen=True, slots=True)
class QuotePaper:
    """All that the paper shows, ready to print; the page that reads it back shows the same.

    `tax` and `deposit` are None where there is none. `terms` are sentences of one paragraph, `small_print`
    paragraphs. `care` is told on the customer's page, not on paper.
    """

    studio: Letterhead
    number: str
    order_number: str
    customer: str
    issued: str
    rings: tuple[RingOnPaper, ...]
    ready: str
    lines: tuple[PriceLine, ...]
    tax: PriceLine | None
    total: str
    deposit: PriceLine | None
    holds: str
    terms: tuple[str, ...]
    small_print: tuple[str, ...]
    care: tuple[str, ...] = ()
    variants: VariantTable | None = None
    amended: Amended | None = None

    @property
    def kind(self) -> str:
        """What the paper is called before its number."""
        return "Quote" if self.amended is None else "Amendment"

    @property
    def sums(self) -> tuple[PriceLine, ...]:
        """What stands under the total of an amendment: the price before, the difference, what was paid."""
        return () if self.amended is None else self.amended.sums

    @property
    def yes(self) -> str:
        """What the customer signs."""
        if self.amended is not None:
            return "Yes, change it as written here; all else stays as agreed"
        if self.variants is not None:
            return f"Yes, make variant {self.variants.keys} (ring one) as written here"
        return "Yes, make them as written here" if self.has_several else "Yes, make it as written here"

    @property
    def title(self) -> str:
        """The PDF's title."""
        return f"{self.kind} {self.number}, {self.customer}"

    @property
    def has_several(self) -> bool:
        """Whether it is a quote for more than one ring."""
        return len(self.rings) > 1
