"""The longest texts in every script on every page, payloads among them: nothing lies on anything, nothing
goes off sideways, and nothing that was typed is carried out.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Dialog, Page, expect

from studio.book.engine import session
from studio.book.orders import order
from studio.clock import now
from studio.craft.roles import Role
from tests.browser.conftest import DESK
from tests.browser.empty_studio import an_empty_studio
from tests.browser.laid_out import what_lies_wrong
from tests.full_studio import FullOrders, write_the_orders, write_the_studio
from tests.hostile import hostile_and_unbroken
from tests.long_texts import LETTERS, a_full_order, unbroken, worded
from tests.quoting import a_quote
from tests.web.house import Fresh, a_house, file_url, make_book

pytestmark = pytest.mark.browser

OTHERS = ("greek", "hebrew", "arabic", "devanagari", "thai")


@dataclass(frozen=True, slots=True)
class Written:
    """A book full of payloads in words without an end, and one quoted order in each other script."""

    path: Path
    key: str
    orders: FullOrders
    others: dict[str, str]


@dataclass(frozen=True, slots=True)
class Full:
    """The same, served, and its owner's browser."""

    base_url: str
    context: BrowserContext
    orders: FullOrders
    others: dict[str, str]


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    home = tmp_path_factory.mktemp("full")
    tokens, keys = make_book(home)
    with a_house(home, Fresh(file_url(home), tokens, keys)) as house:
        write = hostile_and_unbroken(unbroken("latin"))
        write_the_studio(house, write)
        orders = write_the_orders(house, write)
        others = {script: house.take_order(**a_full_order(worded(script))) for script in OTHERS}
        with session(house.engine) as book:
            for number in others.values():
                a_quote(book, order(book, number), now=now())
    return Written(home / "book.db", keys[Role.OWNER], orders, others)


@pytest.fixture(scope="module")
def full(written: Written, browser: Browser) -> Iterator[Full]:
    """The book is written before the browser opens: its loop lets no other run beside it."""
    with an_empty_studio(written.path) as served:
        context = browser.new_context(viewport=DESK)
        context.add_cookies([{"name": "shankwright", "value": written.key, "url": served.base_url}])
        yield Full(served.base_url, context, written.orders, written.others)
        context.close()


@pytest.fixture
def page(full: Full) -> Iterator[Page]:
    """A page on which nothing typed is ever carried out, and nothing is refused by the content policy."""
    opened = full.context.new_page()
    told: list[str] = []

    def dismiss(dialog: Dialog) -> None:
        told.append(f"{dialog.type}: {dialog.message}")
        dialog.dismiss()

    opened.on("dialog", dismiss)
    opened.on("console", lambda said: told.append(said.text) if said.type == "error" else None)
    opened.on("pageerror", lambda error: told.append(str(error)))
    yield opened
    opened.close()
    assert told == []


def test_what_lies_on_something_else_would_be_found(page: Page, full: Full) -> None:
    page.goto(f"{full.base_url}/customers")
    page.evaluate("""() => {
      const heading = document.querySelector("main h1"), over = document.createElement("span");
      over.textContent = "over it";
      heading.style.position = "relative";
      over.style.cssText = "position: absolute; left: 0; top: 0; width: 3000px";
      heading.append(over);
    }""")
    told = what_lies_wrong(page)
    assert any("'over it'" in line for line in told)
    assert any("sideways" in line for line in told)


def test_no_text_lies_on_another_on_any_page(page: Page, full: Full) -> None:
    wrong = {}
    for path in full.orders.pages:
        page.goto(full.base_url + path)
        if found := what_lies_wrong(page):
            wrong[path] = found
    assert not wrong, "\n".join(f"{path} {line}" for path, lines in wrong.items() for line in lines)


def test_a_customer_offered_at_the_counter_is_text(page: Page, full: Full) -> None:
    page.goto(f"{full.base_url}/orders/new")
    page.get_by_label("Customer", exact=True).press_sequentially("alert")
    offers = page.locator(".offers button")
    expect(offers.first).to_be_visible()
    assert any("alert(1)" in words for words in offers.all_inner_texts())
    assert page.locator(".offers script, .offers svg, .offers img").count() == 0
    offers.first.click()
    expect(page.locator(".customer-chosen")).to_contain_text("Donaudampf")


@pytest.mark.parametrize("script", OTHERS)
def test_no_text_of_another_script_lies_on_another(page: Page, full: Full, script: str) -> None:
    number = full.others[script]
    wrong = {}
    for path in (f"/orders/{number}", f"/quotes/{number}-q1"):
        page.goto(full.base_url + path)
        assert LETTERS[script][:8] in page.content()
        if found := what_lies_wrong(page):
            wrong[path] = found
    assert not wrong, "\n".join(f"{path} {line}" for path, lines in wrong.items() for line in lines)
