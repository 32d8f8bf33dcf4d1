"""Every page can be reached by everybody: axe finds nothing, and at 400 % nothing goes off sideways."""

import shutil
from collections.abc import Iterator
from importlib import resources
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import DESK, PHONE
from tests.browser.demo_orders import Demo
from tests.browser.empty_studio import EmptyStudio, an_empty_studio
from tests.browser.pages import NO_PAGES, PAGES, WITHOUT_SIGN_IN
from tests.running import Running
from tests.web.routes import ALL_ROUTES

pytestmark = pytest.mark.browser

AXE = resources.files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
"""axe-core, the rules of WCAG 2.2 to AA and its best practices."""
FINDINGS = """async (only) => {
  const asked = {resultTypes: ["violations"], ...(only.length ? {runOnly: only} : {})};
  return (await axe.run(asked)).violations.flatMap(rule =>
    rule.nodes.map(node => `${rule.impact} ${rule.id}: ${node.target.join(" ")} ${node.failureSummary}`));
}"""
OF_THE_LAYOUT = [
    "aria-hidden-focus", "button-name", "empty-heading", "label", "link-in-text-block", "link-name",
    "scrollable-region-focusable", "target-size",
]  # fmt: skip
"""The rules that a narrow page may break where a wide one does not; the others ask of the page itself."""
TOO_WIDE = """() => {
  const wide = document.documentElement.scrollWidth > innerWidth;
  const isOver = one => one.getBoundingClientRect().right > innerWidth + 1;
  const over = [...document.querySelectorAll("body *")].filter(isOver);
  return wide ? [location.pathname, ...over.slice(0, 5).map(one => `${one.tagName} ${one.className}`)] : [];
}"""


@pytest.fixture(scope="module")
def shown(demo: Running, signed_in: BrowserContext) -> Demo:
    return Demo(demo.base_url, signed_in)


@pytest.fixture(scope="module")
def empty(founded_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[EmptyStudio]:
    book = tmp_path_factory.mktemp("empty") / "book.db"
    shutil.copy(founded_book, book)
    with an_empty_studio(book) as served:
        yield served


@pytest.fixture
def page(signed_in: BrowserContext) -> Iterator[Page]:
    opened = signed_in.new_page()
    opened.set_viewport_size(DESK)
    yield opened
    opened.close()


def must_be_in_reach(page: Page) -> None:
    """Nothing for axe to find, at the desk and at 320 pixels, and nothing there that scrolls sideways."""
    found: list[str] = []
    page.evaluate(AXE)
    for size, rules in ((DESK, []), (PHONE, OF_THE_LAYOUT)):
        page.set_viewport_size(size)
        found += [f"{size['width']} px: {line}" for line in page.evaluate(FINDINGS, rules)]
    assert found == []
    assert page.evaluate(TOO_WIDE) == []


def test_what_is_out_of_reach_would_be_found(page: Page, shown: Demo) -> None:
    page.goto(f"{shown.base_url}/week")
    page.evaluate("""() => {
      const grey = document.createElement("p");
      grey.textContent = "grey on white";
      grey.style.cssText = "color: #ccc; background: #fff; min-width: 2000px";
      document.querySelector("main").append(grey, document.createElement("input"));
    }""")
    page.evaluate(AXE)
    found = page.evaluate(FINDINGS, [])
    assert [line.partition(":")[0] for line in found] == ["serious color-contrast", "critical label"]
    assert page.evaluate(TOO_WIDE)[0] == "/week"


def test_every_page_of_the_app_is_looked_at() -> None:
    paths = {path for method, path in ALL_ROUTES if method == "GET" and not path.startswith("/api/")}
    looked_at = {path for path, _ in PAGES.values()} | WITHOUT_SIGN_IN
    assert looked_at & set(NO_PAGES) == set()
    assert looked_at | set(NO_PAGES) == paths


@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_in_reach_of_everybody(page: Page, shown: Demo, name: str) -> None:
    _, where = PAGES[name]
    page.goto(shown.base_url + (where if isinstance(where, str) else where(shown)))
    must_be_in_reach(page)


def test_the_counter_with_a_ring_that_cannot_be_made_is_in_reach(page: Page, shown: Demo) -> None:
    page.goto(f"{shown.base_url}/orders/new")
    page.get_by_label("Customer", exact=True).fill("Wolfeschlegelsteinhausenbergerdorff" * 5)
    page.get_by_label("Size", exact=True).fill("O½")
    page.get_by_label("Width", exact=True).fill("60")
    page.keyboard.press("Enter")
    expect(page.locator("#errors")).to_be_visible()
    must_be_in_reach(page)


def test_the_counter_with_a_whole_ring_and_its_warnings_is_in_reach(page: Page, shown: Demo) -> None:
    page.goto(f"{shown.base_url}/orders/new")
    page.get_by_label("Size", exact=True).fill("O½")
    page.get_by_label("Gauge width").fill("3")
    page.get_by_label("Width", exact=True).fill("8")
    page.get_by_label("Thickness").fill("1.6")
    page.locator('select[name="alloy"]').select_option("gold-750-yellow")
    expect(page.locator(".figure-price .figure-value")).to_contain_text("£")
    for working in page.locator("details").all():
        working.evaluate("one => { one.open = true }")
    must_be_in_reach(page)


@pytest.mark.parametrize("is_with_choice", [False, True])
def test_the_customers_own_page_is_in_reach_and_answers(
    browser: Browser, demo: Running, shown: Demo, *, is_with_choice: bool
) -> None:
    number = shown.with_a_choice() if is_with_choice else shown.without_a_choice()
    page = shown.context.new_page()
    page.goto(f"{demo.base_url}/quotes/{number}-q1")
    page.get_by_role("button", name="Make a link").click()
    link = page.locator(".quote-link").inner_text()
    page.close()
    stranger = browser.new_context(viewport=DESK)
    page = stranger.new_page()
    page.goto(link)
    must_be_in_reach(page)
    page.get_by_role("button", name="Yes, make it").click()
    page.wait_for_selector("#errors, .errors, [role=alert]")
    must_be_in_reach(page)
    page.set_viewport_size(DESK)
    page.get_by_text("No, or not like this").click()
    page.get_by_label("What should be otherwise?").fill("A little narrower, please.")
    page.get_by_role("button", name="Send it to the studio").click()
    page.wait_for_selector(".answer-said")
    must_be_in_reach(page)
    stranger.close()


def test_the_ways_in_and_the_first_day_are_in_reach(browser: Browser, empty: EmptyStudio) -> None:
    context = browser.new_context(viewport=DESK)
    page = context.new_page()
    for where in (f"{empty.base_url}/sign-in", f"{empty.base_url}/enter/used-up", empty.enter_url):
        page.set_viewport_size(DESK)
        page.goto(where)
        must_be_in_reach(page)
    page.goto(f"{empty.base_url}/sign-in")
    page.locator("input:not([type=hidden])").first.fill("Nobody")
    page.locator('input[type="password"]').fill("not her passphrase")
    page.keyboard.press("Enter")
    page.wait_for_selector("[role=alert], #errors, .errors")
    must_be_in_reach(page)
    page.set_viewport_size(DESK)
    page.goto(empty.enter_url)
    page.locator('input[type="password"]').first.fill("seven wrens on a wall")
    page.keyboard.press("Enter")
    page.wait_for_url(f"{empty.base_url}/")
    must_be_in_reach(page)
    for path in ("/orders", "/customers", "/week", "/bench", "/studio", "/bench/people"):
        page.set_viewport_size(DESK)
        page.goto(empty.base_url + path)
        must_be_in_reach(page)
    page.get_by_label("Your passphrase").fill("seven wrens on a wall")
    page.get_by_label("New PIN", exact=True).fill("290388")
    page.get_by_role("button", name="Set my PIN").click()
    expect(page.get_by_text("You have a PIN.")).to_be_visible()
    page.get_by_label("Its name").fill("Tablet")
    page.get_by_role("button", name="Set it up for the bench").click()
    page.wait_for_url(f"{empty.base_url}/bench/hands")
    must_be_in_reach(page)
    page.get_by_role("radio").check()
    page.get_by_label("PIN", exact=True).fill("0815")
    page.keyboard.press("Enter")
    expect(page.get_by_role("alert")).to_be_visible()
    must_be_in_reach(page)
    context.close()
