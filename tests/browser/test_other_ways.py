"""Ways through the app that are easily forgotten: without script, and with one order open twice."""

import re

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import DESK
from tests.running import Running

pytestmark = pytest.mark.browser


def press(page: Page, words: str) -> None:
    """Press a button and wait for the page behind it."""
    page.get_by_role("button", name=words, exact=True).click()
    page.wait_for_load_state()


def test_a_whole_order_its_quote_the_yes_and_its_sheet_without_script(
    demo: Running, browser: Browser, signed_in: BrowserContext
) -> None:
    context = browser.new_context(
        viewport=DESK, java_script_enabled=False, storage_state=signed_in.storage_state()
    )
    page = context.new_page()
    page.goto(f"{demo.base_url}/orders/new")
    fields = {
        "customer.name": "Lioba Fenn", "customer.phone": "01632 960 333",
        "customer.email": "lioba@fenn.example",
        "finger.size": "O 1/2", "finger.gauge_width_mm": "6", "width": "4", "thickness": "1.7",
        "wanted_on": "19 Dec 2099", "promised_on": "17 Dec 2099", "promised_hour": "10",
        "bench_on": "1 Dec 2099", "note": "Without script",
    }  # fmt: skip
    page.get_by_text("More of the days").click()
    for name, typed in fields.items():
        page.locator(f'[name="{name}"]').fill(typed)
    page.locator('select[name="alloy"]').select_option("silver-925")
    press(page, "Read back and quote")
    assert re.search(r"/orders/\d{4}-\d+/read-back$", page.url), page.locator("main").inner_text()
    expect(page.locator(".quote-paper")).to_contain_text("Lioba Fenn")
    press(page, "Make the quote")
    assert re.search(r"/quotes/\d{4}-\d+-q1$", page.url)
    page.locator('[name="deposit"]').fill("50")
    press(page, "Note the yes")
    order = page.url
    assert re.search(r"/orders/\d{4}-\d+$", order)
    expect(page.locator("#next")).to_contain_text("Lioba Fenn said yes")
    fold = page.locator(".order-move", has_text="Give it to the bench without the deposit")
    fold.locator("summary").click()
    fold.locator("textarea").fill("An old customer")
    fold.get_by_role("button").click()
    expect(page.locator("#next")).to_contain_text("At the bench since")
    sheet = context.request.get(f"{order}/bench-sheet.pdf")
    assert (sheet.status, sheet.body()[:5]) == (200, b"%PDF-")
    context.close()


def test_one_order_in_two_tabs_shows_both_versions_and_loses_neither(
    demo: Running, signed_in: BrowserContext
) -> None:
    number = signed_in.request.get(f"{demo.base_url}/api/orders?state=agreed").json()["items"][-1]["number"]
    first, second = signed_in.new_page(), signed_in.new_page()
    for tab in (first, second):
        tab.goto(f"{demo.base_url}/orders/{number}")
    first.locator('#plan [name="note"]').fill("Ring up before noon")
    first.get_by_role("button", name="Save day and note").click()
    expect(first.locator("#history, main")).to_contain_text("Ring up before noon")
    second.locator('#plan [name="note"]').fill("Polish twice")
    second.get_by_role("button", name="Save day and note").click()
    told = second.locator("#errors")
    expect(told).to_contain_text("Somebody else changed this order meanwhile")
    expect(told).to_contain_text("Polish twice")
    expect(told).to_contain_text("Ring up before noon")
    assert second.evaluate("document.activeElement.id") == "errors"
    assert second.locator('#plan [name="note"]').input_value() == "Polish twice"
    second.get_by_role("button", name="Save day and note").click()
    expect(told).to_have_count(0)
    first.reload()
    assert first.locator('#plan [name="note"]').input_value() == "Polish twice"
    for tab in (first, second):
        tab.close()


def test_one_form_sent_from_two_tabs_is_one_order(demo: Running, signed_in: BrowserContext) -> None:
    first = signed_in.new_page()
    first.goto(f"{demo.base_url}/orders/new")
    first.get_by_label("Customer", exact=True).fill("Twyla Twicewell")
    first.get_by_label("Phone").fill("01632 960 888")
    first.get_by_label("Size", exact=True).fill("O½")
    first.get_by_label("Gauge width").fill("6")
    first.get_by_label("Width", exact=True).fill("4")
    first.get_by_label("Thickness").fill("1.7")
    first.locator('select[name="alloy"]').select_option("silver-925")
    expect(first.locator("#saved")).to_contain_text("Saved")
    second = signed_in.new_page()
    second.goto(first.url)
    for tab in (first, second):
        assert tab.get_by_label("Width", exact=True).input_value() == "4"
        tab.get_by_role("button", name="Read back and quote").click()
        tab.wait_for_url(re.compile(r"/read-back|/orders/\d|/orders$"))
    found = signed_in.request.get(f"{demo.base_url}/api/orders?q=Twicewell").json()["items"]
    assert len(found) == 1
    for tab in (first, second):
        tab.close()
