"""The counter in a real browser: the keyboard alone, figures that stay in place, and a network that fails."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize, expect, sync_playwright

from tests.running import Running, a_running_demo

pytestmark = pytest.mark.browser

DESK: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 320, "height": 640}
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-background-networking"]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with a_running_demo(tmp_path_factory.mktemp("demo") / "home", seconds=60) as running:
        yield running


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def signed_in(demo: Running, browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=DESK)
    page = context.new_page()
    page.goto(demo.enter_url)
    page.close()
    yield context
    context.close()


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


def figure(page: Page, key: str) -> str:
    return " ".join(page.locator(f".figure-{key} .figure-value").inner_text().split())


def test_a_whole_order_is_taken_by_keyboard_alone(page: Page) -> None:
    keys = page.keyboard
    assert page.evaluate("document.activeElement.name") == "customer.name"
    in_turn = [
        "Lioba Fenn", "01632 960 333", "lioba@fenn.example",
        "Left, ring", "UK", "O 1/2", "Gauge", "6", "Warm", "", "",
        "", "4", "1.7", "", "925 s", "Plain", "", "",
        "19 Dec 2099", "", "17 Dec 2099", "10", "", "By keyboard",
    ]  # fmt: skip
    for words in in_turn:
        keys.type(words)
        if page.evaluate("document.activeElement.type") == "radio":
            keys.press("ArrowRight")
        keys.press("Tab")
    expect(page.locator(".figure-mark .figure-value")).to_contain_text("61.2")
    expect(page.locator("#said")).to_have_text(
        "Size O½ 55.6 millimetres, Mark 61.2 millimetres, Silver to issue 3.40 g."
    )
    assert page.evaluate("document.activeElement.textContent") == "Save the order"
    keys.press("Enter")
    page.wait_for_url(re.compile(r"/orders/\d{4}-\d+$"))
    expect(page.get_by_role("heading", level=1)).to_contain_text("Lioba Fenn")


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
    expect(page.locator(".finish")).to_contain_text("Finished 1.5 mm thick")


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
    assert [figure(without, key) for key in ("size", "mark", "issue")] == [
        figure(page, key) for key in ("size", "mark", "issue")
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
