"""Every page can be reached by everybody: axe finds nothing, and at 400 % nothing goes off sideways."""

import shutil
from collections.abc import Callable, Iterator
from importlib import resources
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from studio.clock import now as this_moment
from tests.browser.conftest import DESK, PHONE
from tests.browser.demo_orders import Demo, first
from tests.browser.empty_studio import EmptyStudio, an_empty_studio
from tests.running import Running
from tests.web.routes import ALL_ROUTES

pytestmark = pytest.mark.browser

AXE = resources.files("axe_playwright_python").joinpath("axe.min.js").read_text("utf-8")
"""axe-core, the rules of WCAG 2.2 to AA and its best practices."""
FINDINGS = """async () => (await axe.run({resultTypes: ["violations"]})).violations.flatMap(rule =>
  rule.nodes.map(node => `${rule.impact} ${rule.id}: ${node.target.join(" ")} ${node.failureSummary}`))"""
TOO_WIDE = """() => {
  const wide = document.documentElement.scrollWidth > innerWidth;
  const isOver = one => one.getBoundingClientRect().right > innerWidth + 1;
  const over = [...document.querySelectorAll("body *")].filter(isOver);
  return wide ? [location.pathname, ...over.slice(0, 5).map(one => `${one.tagName} ${one.className}`)] : [];
}"""


A_RING = (
    "finger.system=uk&finger.size=O&finger.measured=ring&profile=flat&width=6&thickness=1.4&alloy=silver-925"
)
PAGES: dict[str, tuple[str, str | Callable[[Demo], str]]] = {
    "in hand": ("/", "/"),
    "orders": ("/orders", "/orders"),
    "orders found by name": ("/orders", "/orders?q=an&state=agreed"),
    "orders, none found": ("/orders", "/orders?q=nobody+of+this+name"),
    "a new order": ("/orders/new", "/orders/new"),
    "an order in draft": ("/orders/{number}", first("draft")),
    "an order quoted": ("/orders/{number}", first("quoted")),
    "an order agreed": ("/orders/{number}", first("agreed")),
    "an order at the bench": ("/orders/{number}", first("at the bench")),
    "an order with pictures": ("/orders/{number}", lambda demo: demo.with_pictures()),
    "an order with papers": ("/orders/{number}", lambda demo: demo.with_papers()),
    "an order ready": ("/orders/{number}", first("ready")),
    "an order handed over": ("/orders/{number}", first("handed over")),
    "an order called off": ("/orders/{number}", first("called off")),
    "a ring at the counter": (
        "/orders/{number}/rings/{position}", lambda demo: f"{first('draft')(demo)}/rings/1",
    ),
    "read back": ("/orders/{number}/read-back", lambda demo: f"{first('draft')(demo)}/read-back"),
    "another way to make a ring": (
        "/orders/{number}/variants/{key}/rings/{position}",
        lambda demo: f"/orders/{demo.with_a_choice()}/variants/b/rings/1",
    ),
    "a quote with a choice": ("/quotes/{number}", lambda demo: f"/quotes/{demo.with_a_choice()}-q1"),
    "an open quote": ("/quotes/{number}", lambda demo: f"/quotes/{demo.numbers('quoted')[0]}-q1"),
    "an amendment": ("/quotes/{number}", lambda demo: f"/quotes/{demo.amended('open')}"),
    "an amendment being put together": ("/orders/{number}/amendment", lambda demo: demo.amending()),
    "a ring of an amendment": (
        "/orders/{number}/amendment/rings/{position}",
        lambda demo: f"{demo.amending()}/rings/1",
    ),
    "an agreed quote": ("/quotes/{number}", lambda demo: f"/quotes/{demo.numbers('agreed')[0]}-q1"),
    "reminders": ("/reminders", "/reminders"),
    "a reminder of a quote": (
        "/orders/{number}/reminders/{kind}", lambda demo: f"/orders/{demo.with_a_choice()}/reminders/quote",
    ),
    "customers": ("/customers", "/customers"),
    "a customer": ("/customers/{customer_id}", "/customers/1"),
    "the week": ("/week", "/week"),
    "some weeks": ("/week", "/week?from=2026-12-07&to=2027-01-31"),
    "the studio": ("/studio", "/studio"),
    "the books of a month": ("/studio/months/{month}", f"/studio/months/{this_moment():%Y-%m}"),
    "the practice": ("/studio/practice", "/studio/practice"),
    "whole repeats": (
        "/orders/{number}/rings/{position}/repeats",
        lambda demo: f"{demo.with_a_pattern()}/rings/1/repeats?pitch=2.5",
    ),
    "the printers": ("/printers", "/printers"),
    "the gauges": ("/studio/gauges", "/studio/gauges"),
    "a ring in other metals": (
        "/orders/{number}/rings/{position}/metals", lambda demo: f"{first('agreed')(demo)}/rings/1/metals",
    ),
    "a strip found thicker": (
        "/orders/{number}/rings/{position}/thickness",
        lambda demo: f"{first('agreed')(demo)}/rings/1/thickness?measured=1.6",
    ),
    "how a ring came about": (
        "/orders/{number}/rings/{position}/came-about",
        lambda demo: f"{first('agreed')(demo)}/rings/1/came-about",
    ),
    "what the bench measured on a ring": (
        "/orders/{number}/rings/{position}/bench-record",
        lambda demo: f"{first('ready')(demo)}/rings/1/bench-record",
    ),
    "the way over the bench": (
        "/orders/{number}/rings/{position}/route",
        lambda demo: f"{first('agreed')(demo)}/rings/1/route",
    ),
    "the rings at the bench": ("/bench", "/bench"),
    "a ring half way over the bench": (
        "/bench/{number}/{position}", lambda demo: f"/bench/{demo.with_pictures().rpartition('/')[2]}/1",
    ),
    "PINs and devices at the bench": ("/bench/people", "/bench/people"),
    "a step out of order": (
        "/bench/{number}/{position}",
        lambda demo: f"/bench/{demo.with_pictures().rpartition('/')[2]}/1?step=solder",
    ),
    "all that the bench measured": ("/bench-records", "/bench-records"),
    "alloys of their own": ("/studio/alloys", "/studio/alloys"),
    "fine metal and master alloy": ("/alloying", "/alloying?wanted=750&grams=20&fine=1000&other=0"),
    "the drawer": ("/metal", "/metal"),
    "what to buy": ("/metal/buying", "/metal/buying"),
    "where things lie": ("/whereabouts", "/whereabouts"),
    "where the things of a telephone lie": ("/whereabouts", "/whereabouts?q=01632+960+101"),
    "places and outside workers": ("/whereabouts/lists", "/whereabouts/lists"),
    "outside work": ("/outwork", "/outwork"),
    "a slip being written": ("/outwork", lambda demo: f"/outwork?order={demo.numbers('agreed')[0]}"),
    "what suppliers sell": ("/metal/suppliers", "/metal/suppliers"),
    "when metal moves": ("/metal/moves", "/metal/moves"),
    "how a ring at the counter came about": ("/counter/came-about", f"/counter/came-about?{A_RING}"),
    "a ring at the counter in other metals": ("/counter/metals", f"/counter/metals?{A_RING}"),
    "no such order": ("/orders/{number}", "/orders/1999-1"),
}  # fmt: skip
WITHOUT_SIGN_IN = {"/sign-in", "/enter/{key}", "/answer/{key}", "/bench/hands"}
"""Looked at by a browser of their own, in the test of the ways in."""
NO_PAGES = {
    "/counter/customers": "rows under a field of the counter, whose page is looked at",
    "/health": "one word for a program",
    "/static/{path:path}": "files that belong to the pages",
    "/orders/{number}/bench-sheet.pdf": "a paper; its tags are tested with the papers",
    "/week/papers.pdf": "papers, as above",
    "/orders/{number}/rings/{position}/repeats.pdf": "a paper, as above",
    "/printers/check-sheet.pdf": "a paper, as above",
    "/orders/{number}/pictures/{picture}.jpg": "a picture; the order's page says what it shows",
    "/orders/{number}/pictures/{picture}/small.jpg": "a picture, as above",
    "/metal/buying.csv": "a file for a table program",
    "/bench-records.csv": "a file for a table program",
    "/week/cutting.pdf": "a paper, as below",
    "/week/plan": "a part of the week's page, which is looked at",
    "/quotes/{number}.pdf": "a paper, as above",
    "/answer/{key}/quote.pdf": "the same paper, for the customer",
    "/documents/{number}.pdf": "a paper, as above",
    "/invoices/{number}.pdf": "a paper, as above",
    "/outwork/{number}.pdf": "a paper, as above",
    "/studio/months/{month}.csv": "a file for a table program",
    "/quotes/{number}/letter.eml": "a letter for a mail program",
}
"""What a browser gets that is no page, each with what it is instead; under /api/ all is for programs."""


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
    for size in (DESK, PHONE):
        page.set_viewport_size(size)
        found += [f"{size['width']} px: {line}" for line in page.evaluate(FINDINGS)]
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
    found = page.evaluate(FINDINGS)
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
