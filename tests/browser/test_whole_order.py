"""A pair with stones and an inscription, from the counter to the bench: every way an order may turn on it."""

import re

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import DESK
from tests.browser.laid_out import what_lies_wrong
from tests.papers.printed import text_of
from tests.running import Running

pytestmark = pytest.mark.browser

HERS = {
    "customer.name": "Ottilie Brandt", "customer.phone": "01632 960 555", "finger.size": "M 1/2",
    "finger.gauge_width_mm": "4", "width": "4", "thickness": "1.8", "wanted_on": "19 Dec 2099",
    "promised_on": "17 Dec 2099", "promised_hour": "10", "bench_on": "1 Dec 2099",
    "inscription.text": "Ottilie & Per", "stones.0.count": "3", "stones.0.shape": "round",
    "stones.0.size": "2.0 mm", "stones.0.stated": "sapphire",
}  # fmt: skip
HERS_CHOSEN = {
    "alloy": "gold-750-yellow", "finish.outside": "matt", "inscription.face": "inside",
    "stones.asked": "some", "stones.0.whose": "customer", "stones.0.risk": "customer",
    "stones.0.setting": "bezel",
}  # fmt: skip
HIS = {"finger.size": "T", "finger.gauge_width_mm": "6", "width": "6", "thickness": "1.8"}


def press(page: Page, words: str) -> None:
    """Press a button and wait for the page behind it."""
    page.get_by_role("button", name=words, exact=True).click()
    page.wait_for_load_state()


def fill(page: Page, typed: dict[str, str], chosen: dict[str, str] | None = None) -> None:
    """Type into fields and choose in lists, by their names, whatever is folded away open."""
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    for name, value in (chosen or {}).items():
        page.locator(f'select[name="{name}"]').select_option(value)
    for name, words in typed.items():
        page.locator(f'[name="{name}"]').fill(words)


def lies_well(page: Page) -> None:
    """Nothing lies on anything and nothing scrolls sideways at any width; then the desk again."""
    wrong = what_lies_wrong(page)
    assert wrong == [], (page.url, wrong)
    page.set_viewport_size(DESK)


def take(page: Page, base_url: str) -> str:
    """Take the order for both rings at the counter; the address of its page."""
    page.goto(f"{base_url}/orders/new")
    fill(page, HERS, HERS_CHOSEN)
    page.locator('[name="inscription.read_back"]').check()
    press(page, "add a ring")
    expect(page).to_have_url(re.compile(r"/orders/\d{4}-\d+/rings/new$"))
    fill(page, HIS, {"alloy": "gold-750-yellow", "inscription.face": "none", "stones.asked": "none"})
    press(page, "Save for later")
    expect(page).to_have_url(re.compile(r"/orders/\d{4}-\d+$"))
    return page.url


def offer(page: Page, order: str, key: str, **chosen: str) -> None:
    """Offer one more variant, its first ring of another metal."""
    page.goto(order)
    press(page, "Offer another variant")
    expect(page).to_have_url(f"{order}/variants/{key}/rings/1")
    fill(page, {}, chosen)
    press(page, f"Save variant {key.upper()}")
    expect(page).to_have_url(f"{order}#variants")


def amend(page: Page, order: str) -> str:
    """Amend the width, the day and a charge, each of them typed wrong first; the address of the paper."""
    page.goto(order)
    press(page, "Amend what was agreed")
    expect(page.locator(".quote-paper")).to_contain_text("Nothing is changed yet")
    fill(page, {"promised_on": "someday", "charge": "26", "valid_days": "0", "words": "As told on Monday."})
    press(page, "Make the amendment")
    errors = page.locator("#errors")
    expect(errors.get_by_role("link")).to_have_count(3)
    assert page.locator('[name="words"]').input_value() == "As told on Monday."
    assert page.locator('[name="charge"]').input_value() == "26"
    fill(page, {"promised_on": "18 Dec 2099", "charge_text": "The blank that was cut", "valid_days": ""})
    page.get_by_role("button", name="change Ring 1").click()
    expect(page).to_have_url(f"{order}/amendment/rings/1")
    fill(page, {"width": "3.5"})
    press(page, "Save for the amendment")
    expect(page).to_have_url(f"{order}/amendment")
    paper = page.locator(".quote-paper")
    for words in (
        "3.5 mm wide",
        "4 mm wide",
        "18 December 2099",
        "The blank that was cut",
        "As told on Monday.",
    ):
        expect(paper).to_contain_text(words)
    lies_well(page)
    press(page, "Make the amendment")
    expect(page).to_have_url(re.compile(r"/quotes/\d{4}-\d+-a1$"))
    return page.url


def test_a_pair_with_stones_and_three_variants_is_amended_made_and_called_off(
    demo: Running, signed_in: BrowserContext
) -> None:
    page = signed_in.new_page()
    page.set_viewport_size(DESK)
    order = take(page, demo.base_url)
    number = order.rpartition("/")[2]
    offer(page, order, "b", alloy="platinum-950-ru")
    offer(page, order, "c", alloy="silver-925")
    expect(page.locator("#variants")).not_to_contain_text("Offer another variant")
    lies_well(page)

    page.goto(f"{order}/read-back")
    for words in ("Variant A", "Variant B", "Variant C", "Ottilie & Per", "sapphire"):
        expect(page.locator(".quote-paper")).to_contain_text(words)
    press(page, "Make the quote")
    quote = page.url
    assert quote.endswith(f"/quotes/{number}-q1")
    lies_well(page)

    press(page, "Note the yes")
    expect(page.locator("#f-variant-wrong")).to_contain_text("Which one did they choose?")
    fill(page, {"without_deposit": "An old customer"}, {"variant": "b"})
    press(page, "Note the yes")
    expect(page).to_have_url(order)
    expect(page.locator("#quotes")).to_contain_text("Ottilie Brandt said yes to variant B")
    expect(page.locator("main")).to_contain_text("platinum")
    first_sheet = signed_in.request.get(f"{order}/bench-sheet.pdf").body()
    assert "4 × 1.8 mm" in text_of(first_sheet)

    amendment = amend(page, order)
    page.goto(order)
    expect(page.locator("#next")).to_contain_text("answer to the amendment")
    page.goto(amendment)
    expect(page.locator("#yes")).not_to_contain_text("Deposit taken now")
    press(page, "Note the yes")
    expect(page).to_have_url(order)
    expect(page.locator("#quotes")).to_contain_text(f"{number}-a1")

    page.goto(f"{order}?sheet=q1")
    expect(page.locator("#void")).to_contain_text("VOID")
    page.goto(f"{order}?sheet=a1")
    expect(page.locator("#void")).to_have_count(0)
    press(page, "Give it to the bench")
    expect(page.locator("#next")).to_contain_text("At the bench since")
    sheet = " ".join(text_of(signed_in.request.get(f"{order}/bench-sheet.pdf").body()).split())
    for words in (f"Amended {number}-a1", "3.5 × 1.8 mm", "platinum", "Ottilie & Per", "sapphire"):
        assert words.lower() in sheet.lower(), words
    assert signed_in.request.get(f"{quote}.pdf").body()[:5] == b"%PDF-"

    page.goto(order)
    page.evaluate("document.querySelectorAll('details').forEach(one => { one.open = true; })")
    moves = page.locator("form[action$='/moves']").filter(has=page.locator('[name="reason-called-off"]'))
    expect(moves).to_contain_text("What may be kept is a matter of law: ask a professional.")
    moves.locator('[name="reason-called-off"]').fill("The wedding is put off.")
    moves.get_by_role("button", name="Call it off").click()
    expect(page.locator("#called-off")).to_contain_text("Called off while at the bench")
    expect(page.locator("#called-off")).to_contain_text("is owed")
    lies_well(page)
    page.goto(f"{order}?sheet=a1")
    expect(page.locator("#void")).to_contain_text("VOID")
    page.close()
