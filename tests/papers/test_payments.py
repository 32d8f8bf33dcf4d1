"""Receipts for money: what they say, how they lie on the page, and that no text is lost on them."""

from dataclasses import replace

import pytest

from studio.craft.payments import LONGEST_REFERENCE
from studio.papers.payment import payment_paper, payment_to_print
from studio.papers.printing import printed
from studio.papers.render import WITH_LETTERHEAD
from studio.resources import templates_dir
from tests.papers.documents import document
from tests.papers.laid_out import out_of_page, overlapping, pages_of
from tests.papers.payments import PAYMENTS, a_payment, receipt
from tests.papers.printed import catalogue, structure, text_of
from tests.papers.quotes import WRENFOLD
from tests.papers.test_full_papers import SCRIPTS, must_be_laid_out

SAYS = {
    "deposit": (
        "Receipt 2026-118-p1",
        "We received £672.00 by bank transfer on 26 November 2026, with thanks.",
        "Reference slip 0481",
        "Price £1,680.00",
        "Paid in all so far £672.00",
        "Left to pay £1,008.00",
        "Received by Wrenfold",
    ),
    "all-of-it": ("£1,008.00", "Paid in all so far £1,680.00", "Left to pay £0.00"),
    "given-back": (
        "Money given back 2026-118-p2",
        "We gave back £200.00 by bank transfer on 26 November 2026.",
        "Still to give back £72.00",
        "Received by Ines Radley",
    ),
    "nobody-said": ("We received £672.00 on 26 November 2026, with thanks.", "Paid in all so far £672.00"),
    "yen": ("JP¥25,000", "Left to pay JP¥155,000"),
}


@pytest.mark.parametrize("kind", sorted(PAYMENTS))
def test_a_receipt_says_what_was_paid_how_and_what_is_left(kind: str) -> None:
    words = " ".join(text_of(receipt(kind)).split())
    assert [said for said in (*SAYS[kind], "no invoice for tax") if said not in words] == []
    assert len(list(pages_of(receipt(kind)))) == 1
    assert out_of_page(receipt(kind)) == []
    assert overlapping(receipt(kind)) == []


def test_while_nobody_said_what_is_owed_nothing_is_said_to_be_left() -> None:
    words = text_of(receipt("nobody-said"))
    assert "Left to pay" not in words
    assert "Price" not in words


def test_a_receipt_is_tagged_and_has_a_title() -> None:
    pdf = receipt("deposit")
    assert {"/H1", "/P", "/Table", "/TH", "/TD"} <= {str(part["/S"]) for part in structure(pdf)}
    assert catalogue(pdf)["/Lang"] == "en"
    assert "Receipt 2026-118-p1, Ines Radley" in catalogue(pdf)["/Metadata"].get_object().get_data().decode()


def test_the_letterhead_stands_where_it_does_on_every_paper_for_a_customer() -> None:
    def studio_at(pdf: bytes) -> list[float]:
        _, _, words, boxes = next(pages_of(pdf))
        return [float(side) for side in boxes[words.index("Wrenfold,")]]

    assert studio_at(receipt("deposit")) == pytest.approx(studio_at(document("taken-in")), abs=0.01)


def test_every_paper_with_a_letterhead_is_laid_out_as_one_for_the_customer() -> None:
    papers = templates_dir() / "papers"
    with_one = {
        found.parent.name
        for found in papers.glob("*/paper.html")
        if "_letterhead.html" in found.read_text("utf-8")
    }
    assert with_one == WITH_LETTERHEAD


@pytest.mark.parametrize("script", SCRIPTS)
def test_the_longest_texts_go_on_a_receipt(script: str) -> None:
    write = SCRIPTS[script](script)
    studio = replace(WRENFOLD, name=write(120), subtitle=write(120), address=write(500), phone=write(120))
    facts = a_payment(studio=studio, customer=write(120), by=write(120), reference=write(LONGEST_REFERENCE))
    pdf = printed(payment_to_print(payment_paper(facts)))
    must_be_laid_out(pdf, write(120), write(120), write(500), write(120), write(LONGEST_REFERENCE))
