"""The back button in a real browser: nothing typed is lost, and no page ends in the browser's own error."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import PHONE
from tests.running import Running

pytestmark = pytest.mark.browser


@pytest.fixture
def page(demo: Running, signed_in: BrowserContext) -> Iterator[Page]:
    opened = signed_in.new_page()
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
    away_and_back(demo, page)
    assert page.get_by_label("Good for").input_value() == "0"
    expect(page.locator("#errors")).to_contain_text("This has to be 1 to 3650 days.")


def away_and_back(demo: Running, page: Page) -> None:
    page.goto(f"{demo.base_url}/week")
    page.go_back()


def number_of(demo: Running, page: Page, state: str) -> str:
    """The newest order in this state."""
    found = page.request.get(f"{demo.base_url}/api/orders", params={"state": state}).json()["items"]
    return str(found[0]["number"])


def test_back_to_a_refused_price_of_the_studio_finds_it_as_typed(demo: Running, page: Page) -> None:
    page.goto(f"{demo.base_url}/studio")
    page.locator('[name="price"]').fill("a lot")
    page.locator('[name="source"]').fill("a neighbour")
    page.get_by_role("button", name="Put in the price").click()
    page.wait_for_selector("#errors")
    away_and_back(demo, page)
    expect(page.get_by_role("heading", level=1)).to_have_text("Studio")
    assert page.locator('[name="price"]').input_value() == "a lot"
    assert page.locator('[name="source"]').input_value() == "a neighbour"


def test_back_to_a_refused_plan_of_an_order_finds_it_as_typed(demo: Running, page: Page) -> None:
    address = f"{demo.base_url}/orders/{number_of(demo, page, 'agreed')}"
    page.goto(address)
    page.locator('[name="bench_on"]').fill("some day")
    page.locator('[name="note"]').fill("Ring up before noon")
    page.get_by_role("button", name="Save day and note").click()
    page.wait_for_selector("#errors")
    assert page.url == address
    away_and_back(demo, page)
    assert page.locator('[name="bench_on"]').input_value() == "some day"
    assert page.locator('[name="note"]').input_value() == "Ring up before noon"


def test_back_to_a_refused_reason_of_an_order_finds_its_fold_open(demo: Running, page: Page) -> None:
    page.goto(f"{demo.base_url}/orders/{number_of(demo, page, 'at the bench')}")
    fold = page.locator("details.order-move", has_text="Call it off")
    fold.locator("summary").click()
    fold.locator("textarea").fill("x" * 600)
    fold.get_by_role("button").click()
    page.wait_for_selector("#errors")
    away_and_back(demo, page)
    expect(fold.locator("textarea")).to_have_value("x" * 600)
    expect(fold.locator("textarea")).to_be_visible()


def test_back_to_a_refused_contact_finds_it_as_typed(demo: Running, page: Page) -> None:
    page.goto(f"{demo.base_url}/customers/1")
    page.get_by_label("Name", exact=True).fill("")
    page.get_by_label("Phone").fill("01632 960 001")
    page.get_by_role("button", name="Save the contact").click()
    page.wait_for_selector("#errors")
    away_and_back(demo, page)
    assert page.get_by_label("Name", exact=True).input_value() == ""
    assert page.get_by_label("Phone").input_value() == "01632 960 001"


def test_back_to_a_refused_yes_finds_it_as_typed(demo: Running, page: Page) -> None:
    a_read_back(page)
    page.get_by_role("button", name="Make the quote").click()
    page.wait_for_url(re.compile(r"/quotes/\d{4}-\d+-q1$"))
    address = page.url
    page.get_by_label("Who said yes").fill("Her brother")
    page.get_by_label("Deposit taken now").fill("some")
    page.get_by_role("button", name="Note the yes").click()
    page.wait_for_selector("#errors")
    assert page.url == address
    away_and_back(demo, page)
    assert page.get_by_label("Who said yes").input_value() == "Her brother"
    assert page.get_by_label("Deposit taken now").input_value() == "some"


def test_back_to_words_that_were_never_sent_finds_them(demo: Running, page: Page) -> None:
    for path, name in (
        (f"/orders/{number_of(demo, page, 'agreed')}", "note"),
        ("/customers/1", "email"),
        ("/studio", "labour_hour_minor"),
    ):
        page.goto(demo.base_url + path)
        field = page.locator(f'[name="{name}"]')
        field.fill("typed, then looked up something")
        away_and_back(demo, page)
        assert field.input_value() == "typed, then looked up something"
        page.goto(f"{demo.base_url}/orders")
        page.goto(demo.base_url + path)
        assert field.input_value() != "typed, then looked up something"


def test_words_come_back_to_write_over_nothing_newer_unseen(demo: Running, page: Page) -> None:
    address = f"{demo.base_url}/orders/{number_of(demo, page, 'agreed')}"
    page.goto(address)
    page.locator('[name="note"]').fill("Polish twice")
    page.goto(f"{demo.base_url}/week")
    other = page.context.new_page()
    other.goto(address)
    other.locator('[name="note"]').fill("Call before noon")
    other.get_by_role("button", name="Save day and note").click()
    expect(other.locator(".order-history")).to_contain_text("Call before noon")
    other.close()
    page.go_back()
    assert page.locator('[name="note"]').input_value() == "Polish twice"
    page.get_by_role("button", name="Save day and note").click()
    expect(page.locator("#errors")).to_contain_text("Somebody else changed this order meanwhile")
    expect(page.locator("#errors")).to_contain_text("Call before noon")
    expect(page.locator("#errors")).to_contain_text("Polish twice")


def test_back_to_an_error_page_leads_to_the_page_before_it(demo: Running, page: Page) -> None:
    address = f"{demo.base_url}/orders/{number_of(demo, page, 'agreed')}"
    page.goto(address)
    page.locator('#plan [name="version"]').evaluate("one => { one.value = 'none' }")
    page.locator("#plan form").evaluate("one => { one.action = one.action.replace('/plan', '/no-such') }")
    page.get_by_role("button", name="Save day and note").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Nothing here")
    away_and_back(demo, page)
    expect(page.get_by_role("heading", name="What comes next")).to_be_visible()


def test_back_to_a_sign_in_that_failed_is_the_sign_in(demo: Running, browser: Browser) -> None:
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"{demo.base_url}/sign-in?next=/week")
    page.get_by_label("Name").fill("Nobody")
    page.get_by_label("Passphrase").fill("not her passphrase")
    page.keyboard.press("Enter")
    page.wait_for_selector("#wrong")
    page.goto(demo.enter_url.partition("/enter/")[0] + "/health")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
    assert page.get_by_label("Passphrase").input_value() == ""
    context.close()


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
