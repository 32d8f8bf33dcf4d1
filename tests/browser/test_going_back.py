"""The back button in a real browser: nothing typed is lost, and no page ends in the browser's own error."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect, sync_playwright

from tests.running import Running, a_running_demo

pytestmark = pytest.mark.browser

PHONE: ViewportSize = {"width": 390, "height": 844}
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
def signed_in(demo: Running, browser: Browser) -> Iterator[Page]:
    context = browser.new_context()
    opened = context.new_page()
    opened.goto(demo.enter_url)
    yield opened
    context.close()


@pytest.fixture
def page(demo: Running, signed_in: Page) -> Iterator[Page]:
    opened = signed_in.context.new_page()
    opened.goto(f"{demo.base_url}/orders/new")
    yield opened
    opened.close()


def a_read_back(page: Page) -> str:
    """Take an order of one plain ring at the counter, and stand on its read-back."""
    page.get_by_label("Customer", exact=True).fill("Back A. Gain")
    page.get_by_label("Phone", exact=True).fill("01632 960 334")
    page.get_by_label("Size", exact=True).fill("O½")
    page.get_by_label("Gauge width").fill("6")
    page.get_by_label("Width", exact=True).fill("4")
    page.get_by_label("Thickness").fill("1.7")
    page.locator('select[name="alloy"]').select_option("silver-925")
    page.locator('input[name="wanted_on"]').fill("19 Dec 2099")
    page.locator('select[name="finger.measured"]').select_option("gauge")
    page.get_by_role("button", name="Read back and quote").first.click()
    page.wait_for_url(re.compile(r"/orders/\d{4}-\d+/read-back$"))
    return page.url


def test_who_leaves_at_once_finds_what_was_typed_with_the_back_button(demo: Running, page: Page) -> None:
    page.get_by_label("Customer", exact=True).fill("Quick L. Eaver")
    page.get_by_label("Width", exact=True).fill("5.5")
    assert "?draft=" in page.url
    page.goto(f"{demo.base_url}/week")
    page.go_back()
    assert page.get_by_label("Customer", exact=True).input_value() == "Quick L. Eaver"
    assert page.get_by_label("Width", exact=True).input_value() == "5.5"
    page.goto(f"{demo.base_url}/orders")
    expect(page.get_by_role("link", name="Quick L. Eaver")).to_be_visible()


def test_back_to_a_refused_form_of_the_counter_finds_it_as_typed(demo: Running, page: Page) -> None:
    page.get_by_label("Width", exact=True).fill("60")
    page.keyboard.press("Enter")
    page.wait_for_selector("#errors")
    page.wait_for_url(re.compile(r"/orders/new\?draft="))
    page.goto(f"{demo.base_url}/week")
    page.go_back()
    assert page.get_by_label("Width", exact=True).input_value() == "60"


def test_back_to_refused_terms_finds_them_as_typed(demo: Running, page: Page) -> None:
    a_read_back(page)
    page.get_by_label("Good for").fill("0")
    page.get_by_role("button", name="Make the quote").click()
    page.wait_for_selector("#errors")
    page.goto(f"{demo.base_url}/week")
    page.go_back()
    assert page.get_by_label("Good for").input_value() == "0"
    expect(page.locator("#errors")).to_contain_text("This has to be 1 to 3650 days.")


def test_back_to_a_refused_page_of_the_studio_is_a_page(demo: Running, page: Page) -> None:
    page.goto(f"{demo.base_url}/studio")
    page.get_by_role("button", name="Put in the price").click()
    page.wait_for_selector("#errors")
    page.goto(f"{demo.base_url}/week")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Studio")


def test_on_a_phone_a_link_leads_past_the_paper_to_what_can_be_done(page: Page) -> None:
    a_read_back(page)
    page.set_viewport_size(PHONE)
    page.get_by_role("link", name="On to the terms").click()
    expect(page.get_by_role("heading", name="Terms of this quote")).to_be_in_viewport()
    page.get_by_role("button", name="Make the quote").click()
    page.wait_for_url(re.compile(r"/quotes/\d{4}-\d+-q1$"))
    expect(page.get_by_role("link", name="On to the yes")).to_be_in_viewport()
    page.get_by_role("link", name="On to the yes").click()
    expect(page.get_by_role("heading", name="The yes")).to_be_in_viewport()
