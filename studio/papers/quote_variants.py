"""Up to three ways to make an order, drawn and priced side by side on its quote."""

from collections.abc import Sequence

from studio.papers.quote_parts import RingOnPaper, RingSideBySide, VariantPrice, VariantRow, VariantTable


def side_by_side(ways: Sequence[tuple[VariantPrice, Sequence[RingOnPaper]]]) -> VariantTable:
    """The variants as one table; every one of them has the same rings in the same places."""
    return VariantTable(
        columns=tuple(price for price, _ in ways),
        rings=tuple(_ring(made) for made in zip(*(rings for _, rings in ways), strict=True)),
    )


def _ring(made: Sequence[RingOnPaper]) -> RingSideBySide:
    labels = dict.fromkeys(label for ring in made for label, _ in (("The ring", ring.sentence), *ring.facts))
    told = [dict((("The ring", ring.sentence), *ring.facts)) for ring in made]
    return RingSideBySide(
        title=made[0].title,
        lying=tuple(ring.lying for ring in made),
        rows=tuple(VariantRow(label, tuple(one.get(label, "none") for one in told)) for label in labels),
    )
