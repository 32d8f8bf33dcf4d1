"""The order confirmation and the receipts for goods, read back from their PDFs."""

from dataclasses import replace

import pytest

from studio.craft.goods import Good
from studio.craft.particulars import Risk, Stone, Whose
from studio.papers.confirmation import AgreedOn, agreed_sentence, confirmation_paper
from studio.papers.goods import goods_paper, risk_sentence
from studio.papers.quote import quote_paper
from tests.papers.documents import (
    AGREED,
    CONFIRMATIONS,
    GOODS,
    TAKEN_IN,
    a_confirmation,
    document,
    goods_facts,
)
from tests.papers.laid_out import out_of_page, overlapping
from tests.papers.printed import catalogue, fonts, reader, structure, text_of
from tests.papers.test_quote import OWN_WORDS, said_of

KINDS = sorted({**CONFIRMATIONS, **GOODS})
TITLES = {
    **dict.fromkeys(CONFIRMATIONS, "Order confirmation 2026-118-c1"),
    "taken-in": "Goods taken in 2026-118-r1",
    "given-back": "Goods given back 2026-118-b1",
}


def plain(words: str) -> str:
    return " ".join(words.split())


@pytest.mark.parametrize("kind", sorted(CONFIRMATIONS))
def test_a_confirmation_restates_all_that_the_quote_said_but_until_when_it_held(kind: str) -> None:
    facts, words = CONFIRMATIONS[kind], text_of(document(kind))
    quoted, paper = quote_paper(facts.agreed), confirmation_paper(facts)
    assert paper.rings == quoted.rings
    assert (paper.lines, paper.tax, paper.total) == (quoted.lines, quoted.tax, quoted.total)
    assert paper.terms == quoted.terms[1:]
    assert paper.small_print == quoted.small_print
    shown = [
        "Wrenfold, goldsmiths",
        paper.agreed,
        *(f"{ring.sentence} Size {ring.size}" for ring in paper.rings),
        *(f"{label} {told}" for label, told in paper.settled),
        *(f"{line.text} {line.amount}" for line in (*paper.lines, *paper.sums)),
        f"Total {paper.total}",
        *(paper.terms if kind != "engraved" else ()),  # one of its terms goes on overleaf
    ]
    assert [line for line in shown if plain(line) not in words] == []
    for never in ("This price holds", "Name and day", "Yes, make", "Deposit, to begin"):
        assert never not in words


def test_a_confirmation_says_what_was_paid_and_what_is_left() -> None:
    assert "Deposit, paid on 27 November 2026 £672.00 Balance at collection £1,008.00" in text_of(
        document("paid")
    )
    pair = text_of(document("pair"))
    assert "Deposit, still open £1,173.84 Balance at collection" in pair
    assert "Deposit, paid" not in pair
    part = text_of(document("amended"))
    assert "Deposit, paid on 27 November 2026 £500.00 Deposit, still open £172.00 Balance" in part
    waived = text_of(document("without-tax"))
    assert "Deposit" not in waived
    assert "Total JP¥16,800 Balance at collection JP¥16,800" in waived


def test_what_was_paid_beyond_the_price_is_given_back() -> None:
    paper = confirmation_paper(a_confirmation(paid_minor=200000))
    assert [(line.text, line.amount) for line in paper.sums][-1] == ("We give back", "£320.00")


def test_a_confirmation_says_who_agreed_when_and_to_what() -> None:
    assert agreed_sentence([AGREED]) == "Agreed on 26 November 2026 by Ines Radley: quote 2026-118-q1."
    assert plain(confirmation_paper(CONFIRMATIONS["amended"]).agreed) == (
        "Agreed on 26 November 2026 by Ines Radley: quote 2026-118-q1, variant B. "
        "Amended on 1 December 2026: 2026-118-a1, agreed by Ines Radley. All of it stands here as amended."
    )


def test_a_name_from_the_right_keeps_what_follows_it_in_its_place() -> None:
    told = agreed_sentence([AgreedOn("2026-118-q1", AGREED.on, "שרה")])
    assert "by \N{FIRST STRONG ISOLATE}שרה\N{POP DIRECTIONAL ISOLATE}: quote" in told
    receipt = goods_paper(goods_facts(by="שרה", customer="محمد"))
    assert "\N{FIRST STRONG ISOLATE}שרה\N{POP DIRECTIONAL ISOLATE} took" in receipt.lead
    assert receipt.customer == "\N{FIRST STRONG ISOLATE}محمد\N{POP DIRECTIONAL ISOLATE}"


def test_who_else_may_collect_is_named() -> None:
    assert "Collected by Ines Radley, or Tom Radley" in text_of(document("engraved"))
    assert "Collected by Ines Radley The ring" in text_of(document("paid"))


def test_without_a_yes_nothing_is_confirmed_and_without_a_line_no_receipt_made() -> None:
    with pytest.raises(ValueError, match="needs a yes"):
        confirmation_paper(a_confirmation(steps=()))
    with pytest.raises(ValueError, match="needs a line"):
        goods_paper(goods_facts(taken_in=()))


def test_a_receipt_tells_each_stone_as_stated_and_as_found() -> None:
    words = text_of(document("taken-in"))
    for said in (
        "We have taken these goods in from you on 26 November 2026; Ivo took them in for us.",
        "1. 1 stone for ring 1",
        "Shape and size oval, 5 x 3 mm As stated sapphire As found corundum Condition a chip at the girdle",
        "Declared value £400 Setting bezel Risk You bear the risk that the stone breaks while it is",
        "being set. Bag or seal A-17 2.",
        "2. 3 stones for ring 2",
        "Shape and size not said As stated nothing was stated As found not tested by us Condition not noted",
        "Declared value not declared Setting not settled yet Risk We bear the risk that a stone breaks",
        "3. Other goods What it is A thin old ring, for its gold Weight 2.14 g Bag or seal A-17",
        "Your goods stay yours.",
        "Handed in by Ines Radley",
        "Received by Wrenfold",
    ):
        assert plain(said) in words
    assert words.count("Name and day") == 2


def test_a_receipt_for_one_thing_speaks_of_one() -> None:
    lead = goods_paper(goods_facts(taken_in=TAKEN_IN[2:])).lead
    assert lead == "We have taken this in from you on 26 November 2026; Ivo took it in for us."
    assert goods_paper(goods_facts(taken_in=(Good("r", 1, words="a case"),))).goods[0].facts == (
        ("What it is", "a case"), ("Weight", "not weighed"),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("count", "risk", "told"),
    [
        (1, Risk.CUSTOMER, "You bear the risk that the stone breaks while it is being set."),
        (2, Risk.STUDIO, "We bear the risk that a stone breaks while they are being set."),
        (1, None, "Who bears the risk that the stone breaks while it is being set is not settled."),
    ],
)
def test_who_bears_the_risk_is_said_in_a_sentence(count: int, risk: Risk | None, told: str) -> None:
    assert risk_sentence(Stone(count, Whose.CUSTOMER, risk=risk)) == told


def test_a_return_names_its_receipts_and_the_weights_in_and_back() -> None:
    words = text_of(document("given-back"))
    for said in (
        "These goods, taken in with receipt 2026-118-r1, were given back to you on 26 November 2026;",
        "2026; Ivo gave them back for us.",
        "Given back Receipt Weight in Weight back",
        "1 oval stone, 5 x 3 mm, said to be sapphire (bag or seal A-17) 2026-118-r1 not weighed not weighed",
        "A thin old ring, for its gold (bag or seal A-17) 2026-118-r1 2.14 g 1.98 g",
        "Still with us 3 stones",
        "The old ring was assayed first; it lost what was scraped off.",
        "Given back by Wrenfold",
        "Received by Ines Radley",
    ):
        assert plain(said) in words, words
    lead = goods_paper(
        replace(
            GOODS["given-back"],
            given_back=tuple(
                replace(one, good=replace(one.good, receipt=f"2026-118-r{place}"))
                for place, one in enumerate(GOODS["given-back"].given_back, 1)
            ),
        )
    ).lead
    assert "taken in with receipts 2026-118-r1 and 2026-118-r2" in lead


@pytest.mark.parametrize("kind", KINDS)
def test_a_document_is_tagged_with_its_title_and_its_language(kind: str) -> None:
    pdf = document(kind)
    root = catalogue(pdf)
    assert root["/MarkInfo"]["/Marked"]
    assert root["/Lang"] == "en"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert 'pdfuaid:part="1"' in said_of(pdf)
    information = reader(pdf).metadata
    assert information is not None
    customer = GOODS[kind].customer if kind in GOODS else CONFIRMATIONS[kind].agreed.customer
    assert information.title == f"{TITLES[kind]}, {customer}"
    elements = [str(element["/S"]) for element in structure(pdf)]
    assert elements.count("/H1") == 1
    assert elements.count("/TH") > 0
    assert f"{TITLES[kind]}, page 1 of {len(reader(pdf).pages)}" in text_of(pdf, page=1)


@pytest.mark.parametrize("kind", KINDS)
def test_nothing_on_a_document_lies_on_anything_or_runs_off(kind: str) -> None:
    pdf = document(kind)
    assert out_of_page(pdf) == []
    assert overlapping(pdf) == []
    semi_bold = {"Source-Sans-Pro-Semi-Bold"}
    assert set(fonts(pdf)) - semi_bold == {"Source-Sans-Pro", "Source-Serif-Pro"}


@pytest.mark.parametrize("kind", sorted(CONFIRMATIONS))
def test_a_confirmation_draws_every_ring_in_words_too(kind: str) -> None:
    spoken = [
        str(element.get("/Alt", "")) for element in structure(document(kind)) if element["/S"] == "/Figure"
    ]
    assert len(spoken) == 3 * len(CONFIRMATIONS[kind].agreed.rings)
    assert all(spoken)


@pytest.mark.parametrize("kind", KINDS)
def test_no_document_speaks_of_the_studios_own_reckoning(kind: str) -> None:
    pdf = document(kind)
    assert OWN_WORDS.findall(f"{text_of(pdf)} {said_of(pdf)}") == []


@pytest.mark.parametrize("kind", ["paid", "taken-in", "given-back"])
def test_what_is_short_stands_on_one_page_or_two(kind: str) -> None:
    assert len(reader(document(kind)).pages) == {"paid": 1, "taken-in": 2, "given-back": 1}[kind]
