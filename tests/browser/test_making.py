"""From the signed proof to the fit: ticked as cut, handed over with its sheet, seen at the counter."""

import re

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.conftest import DESK
from tests.browser.laid_out import what_lies_wrong
from tests.papers.printed import text_of
from tests.running import Running

pytestmark = pytest.mark.browser


def press(page: Page, words: str) -> None:
    """Press a button and wait for the page behind it."""
    page.get_by_role("button", name=words, exact=True).click()
    page.wait_for_load_state()


def lies_well(page: Page) -> None:
    """Nothing lies on anything and nothing scrolls sideways at any width; then the desk again."""
    wrong = what_lies_wrong(page)
    assert wrong == [], (page.url, wrong)
    page.set_viewport_size(DESK)


def lettered_at_the_bench(context: BrowserContext, base_url: str) -> str:
    """The number of the order at the bench that has words to cut; the demo's engraver has it."""
    listed = context.request.get(f"{base_url}/api/orders", params={"state": "at the bench"}).json()
    for line in listed["items"]:
        order = context.request.get(f"{base_url}/api/orders/{line['number']}").json()
        words = order["rings"][0]["inscription"]
        if words and words["text"] and len(order["rings"]) == 1:
            return str(order["number"])
    raise AssertionError("no ring at the bench of the demo has words to cut")


def test_words_are_signed_and_cut_and_the_ring_is_handed_over_and_its_fit_heard(
    demo: Running, signed_in: BrowserContext
) -> None:
    page, base = signed_in.new_page(), demo.base_url
    number = lettered_at_the_bench(signed_in, base)
    step = f"{base}/bench/{number}/1?step=inscribe"

    page.goto(f"{base}/outwork")
    page.get_by_text(re.compile(f"^It is back.*{number}")).click()
    page.get_by_role("button", name=re.compile("^Take it in")).click()
    page.wait_for_load_state()
    page.goto(step)
    page.get_by_label(re.compile("Why is this done first")).fill("the rest is done by hand")
    press(page, "Done, next")
    expect(page.get_by_text("The proof of these words is not signed yet.")).to_be_visible()
    page.goto(step)
    lies_well(page)
    page.get_by_label("Read and signed by").fill("Niamh herself")
    press(page, "The proof is signed")
    expect(page.get_by_text("The proof is read and signed by Niamh herself")).to_be_visible()
    page.get_by_label(re.compile("Why is this done first")).fill("the rest is done by hand")
    press(page, "Done, next")
    expect(page.get_by_text("Undo takes back: ticked 'Cut the inscription'")).to_be_visible()

    page.goto(f"{base}/orders/{number}")
    press(page, "Mark it ready")
    page.get_by_role("link", name="Hand it over", exact=True).click()
    lies_well(page)
    page.get_by_label("Final size").fill("57.9 mm")
    page.get_by_label("Finished weight").fill("8.42")
    press(page, "Hand it over and make its sheet")
    page.wait_for_url(f"{base}/orders/{number}#papers")
    sheet = signed_in.request.get(f"{base}/documents/{number}-h1.pdf")
    words = " ".join(text_of(sheet.body()).split())
    assert "57.90 mm round inside; ordered at" in words
    assert "8.42 g, weighed" in words
    lies_well(page)

    page.get_by_role("link", name=re.compile("^How it fits")).click()
    lies_well(page)
    page.get_by_label("How it fits").select_option("loose")
    page.get_by_label("By how much").fill("0.6")
    press(page, "Note it")
    expect(page.get_by_text("Loose by 0.6 mm")).to_be_visible()

    page.get_by_role("link", name=re.compile("^Same again")).click()
    expect(page.locator('[name="note"]')).to_have_value(
        re.compile(
            rf"^Same again as {number}/1: made at .*; begun as it was made, loose by 0.6 mm last time\.$"
        )
    )
    expect(page.locator('[name="finger.measured"]')).to_have_value("ring")
    expect(page.get_by_role("button", name=re.compile("loose by 0.6 mm last time$"))).to_be_visible()
    page.goto(f"{base}/studio/practice/fit")
    expect(page.get_by_role("link", name=f"{number}/1")).to_be_visible()
    lies_well(page)
    page.close()
