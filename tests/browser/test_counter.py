"""The counter in a real browser: the keyboard alone, figures that stay in place, and a network that fails."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import APIResponse, Browser, BrowserContext, Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.running import Running

pytestmark = pytest.mark.browser


@pytest.fixture
def page(demo: Running, signed_in: BrowserContext) -> Iterator[Page]:
    opened = signed_in.new_page()
    opened.set_viewport_size(DESK)
    opened.goto(f"{demo.base_url}/orders/new")
    yield opened
    opened.close()


def type_a_ring(page: Page, *, width: str = "6") -> None:
    page.get_by_label("Size", exact=True).fill("O½")
    page.get_by_label("Gauge width").fill("6")
    page.get_by_label("Width", exact=True).fill(width)
    page.get_by_label("Thickness").fill("1.6")
    page.locator('select[name="alloy"]').select_option("gold-750-yellow")


def press_on_to(page: Page, target: str, most: int = 90) -> None:
    """Press Tab until the field of this name, or the button with these words, has the focus."""
    for _ in range(most):
        name, words = page.evaluate(
            "[document.activeElement.name, document.activeElement.textContent.trim()]"
        )
        if target in {name, words}:
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab never came to {target}")


def is_a_sheet(answer: APIResponse) -> bool:
    """Whether this is a bench sheet as it came."""
    is_paper = answer.headers.get("content-type", "").startswith("application/pdf")
    return answer.url.endswith("/bench-sheet.pdf") and answer.ok and is_paper


def figure(page: Page, key: str) -> str:
    return " ".join(page.locator(f".figure-{key} .figure-value").inner_text().split())


def test_a_whole_order_its_quote_the_yes_and_its_sheet_by_keyboard_alone(page: Page) -> None:
    keys = page.keyboard
    assert page.evaluate("document.activeElement.name") == "customer.name"
    in_turn = [
        "Lioba Fenn", "01632 960 333", "lioba@fenn.example",
        "Left, ring", "UK", "O 1/2", "Gauge", "6", "Warm", "", "",
        "", "4", "1.7", "", "925 s", "Plain", "", "",
        "19 Dec 2099", "17 Dec 2099", "10", "", "By keyboard",
    ]  # fmt: skip
    for words in in_turn:
        keys.type(words)
        if page.evaluate("document.activeElement.type") == "radio":
            keys.press("ArrowRight")
        keys.press("Tab")
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.2")
    expect(page.locator(".figure-price .figure-value")).to_contain_text("£")
    expect(page.locator("#said")).to_contain_text(
        "Size O½ 55.6 millimetres, give or take 0.7, Mark 61.2 millimetres, Silver to issue 3.40 g, "
        "Price, with tax £"
    )
    expect(page.locator(".missing-list").first).to_have_text(re.compile(r"Missing for the quote\s+nothing"))
    assert page.evaluate("document.activeElement.textContent") == "Read back and quote"
    keys.press("Enter")
    page.wait_for_url(re.compile(r"/orders/\d{4}-\d+/read-back$"))
    expect(page.locator(".quote-paper")).to_contain_text("Lioba Fenn")
    press_on_to(page, "Make the quote")
    keys.press("Enter")
    page.wait_for_url(re.compile(r"/quotes/\d{4}-\d+-q1$"))
    press_on_to(page, "deposit")
    keys.type("50")
    press_on_to(page, "Note the yes")
    keys.press("Enter")
    page.wait_for_url(re.compile(r"/orders/\d{4}-\d+$"))
    expect(page.get_by_role("heading", level=1)).to_contain_text("Lioba Fenn")
    expect(page.locator("#money .order-payments li")).to_contain_text("£50.00")
    expect(page.locator("#next")).to_contain_text("Lioba Fenn said yes")
    press_on_to(page, "bench_on")
    keys.type("1 Dec 2099")
    press_on_to(page, "Save day and note")
    keys.press("Enter")
    expect(page.locator("#history-heading + ol")).to_contain_text("1 Dec 2099")
    press_on_to(page, "Give it to the bench without the deposit")
    keys.press("Enter")
    keys.press("Tab")
    keys.type("The rest comes with the ring")
    keys.press("Tab")
    keys.press("Enter")
    expect(page.locator("#next")).to_contain_text("At the bench since")
    press_on_to(page, "Print the bench sheet")
    # A browser that shows the paper cannot be closed by its driver any more, so the link is asked for it.
    assert is_a_sheet(page.request.get(page.evaluate("document.activeElement.href")))


def test_a_half_typed_form_keeps_itself_and_the_back_button_finds_it(page: Page) -> None:
    page.get_by_label("Customer", exact=True).fill("Half A. Form")
    page.get_by_label("Width", exact=True).fill("5.5")
    expect(page.locator("#saved")).to_contain_text("Saved")
    assert "?draft=" in page.url
    page.goto(page.url.partition("/orders/")[0] + "/week")
    page.go_back()
    assert page.get_by_label("Width", exact=True).input_value() == "5.5"
    assert page.get_by_label("Customer", exact=True).input_value() == "Half A. Form"
    page.goto(page.url.partition("/orders/")[0] + "/orders")
    page.get_by_role("link", name="Half A. Form").press("Enter")
    page.wait_for_url(re.compile(r"\?draft="))
    assert page.get_by_label("Width", exact=True).input_value() == "5.5"


def test_what_is_typed_after_the_sign_in_has_ended_is_there_after_signing_in(
    demo: Running, browser: Browser, signed_in: BrowserContext
) -> None:
    context = browser.new_context(viewport=DESK, storage_state=signed_in.storage_state())
    sign_in = context.cookies()
    page = context.new_page()
    page.goto(f"{demo.base_url}/orders/new")
    page.get_by_label("Width", exact=True).fill("5.5")
    expect(page.locator("#saved")).to_contain_text("Saved")
    context.clear_cookies()
    page.get_by_label("Thickness").fill("1.9")
    expect(page.locator("#saved")).to_have_text("Not saved, kept here")
    page.get_by_role("button", name="Save for later").click()
    page.wait_for_url(re.compile(r"/sign-in\?next="))
    back = page.evaluate("new URLSearchParams(location.search).get('next')")
    context.add_cookies(
        [{"name": one["name"], "value": one["value"], "url": demo.base_url} for one in sign_in]
    )
    page.goto(demo.base_url + back)
    assert page.get_by_label("Width", exact=True).input_value() == "5.5"
    assert page.get_by_label("Thickness").input_value() == "1.9"
    context.close()


def test_the_figures_stay_where_they_are_while_a_ring_is_typed(page: Page) -> None:
    places = "[...document.querySelectorAll('.figure')].map(f => [f.offsetLeft, f.offsetTop].join())"
    before = page.evaluate(places)
    type_a_ring(page)
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.7")
    assert page.evaluate(places) == before
    page.get_by_label("Width", exact=True).fill("60")
    expect(page.locator(".figure-mark .figure-waits")).to_have_text("waits")
    assert page.evaluate(places) == before
    assert "Side, as last drawn, 6 mm" in page.locator(".drawing-wide").inner_text()


def test_the_desk_page_fits_nine_hundred_pixels(page: Page) -> None:
    type_a_ring(page)
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.7")
    assert page.evaluate("document.documentElement.scrollHeight") <= 900


def test_what_is_to_put_right_has_the_focus_and_leads_to_its_field(page: Page) -> None:
    type_a_ring(page, width="60")
    page.keyboard.press("Enter")
    page.wait_for_selector("#errors")
    assert page.evaluate("document.activeElement.id") == "errors"
    page.get_by_role("link", name="Width:").press("Enter")
    assert page.evaluate("document.activeElement.name") == "width"


def test_figures_that_are_from_before_say_so(page: Page, signed_in: BrowserContext) -> None:
    type_a_ring(page)
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.7")
    signed_in.set_offline(True)
    page.get_by_label("Width", exact=True).fill("5")
    expect(page.locator(".finish")).to_contain_text("The figures are from before")
    signed_in.set_offline(False)
    page.get_by_label("Width", exact=True).fill("5.5")
    expect(page.locator(".finish")).to_contain_text("Stock 1.6 mm thick, finished 1.5 mm")


def test_the_figures_are_the_same_with_and_without_script(
    demo: Running, page: Page, browser: Browser
) -> None:
    type_a_ring(page)
    expect(page.locator(".figure-issue .figure-value")).to_contain_text("g")
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.7")
    plain = browser.new_context(java_script_enabled=False, storage_state=page.context.storage_state())
    without = plain.new_page()
    without.goto(f"{demo.base_url}/orders/new")
    type_a_ring(without)
    without.locator('button[value="work out"]').click()
    without.wait_for_load_state()
    assert [figure(without, key) for key in ("size", "mark", "issue", "price")] == [
        figure(page, key) for key in ("size", "mark", "issue", "price")
    ]
    assert without.locator(".drawing-wide").inner_html() == page.locator(".drawing-wide").inner_html()
    plain.close()


def test_nothing_is_wider_than_a_narrow_phone(page: Page) -> None:
    page.set_viewport_size(PHONE)
    type_a_ring(page, width="60")
    page.get_by_label("Customer", exact=True).fill("Wolfeschlegelsteinhausenbergerdorff" * 5)
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
    page.keyboard.press("Enter")
    page.wait_for_selector("#errors")
    assert page.evaluate("document.documentElement.scrollWidth") == PHONE["width"]
