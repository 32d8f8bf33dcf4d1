"""What a reader gets instead of what they wanted is in everybody's reach as well: refusals and faults."""

import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from studio.book.engine import open_book, session
from studio.book.errors import BookBusy, BookError, BookFull, BookGone
from studio.book.people import user_named
from studio.book.sign_in import open_sign_in
from studio.clock import now
from studio.papers.pool import Cause, PaperNotMade
from tests.browser.conftest import DESK
from tests.browser.empty_studio import EmptyStudio, an_empty_studio
from tests.browser.test_reach import must_be_in_reach
from tests.builders import an_order
from tests.founding import PEOPLE
from tests.quoting import a_quote, put_figures

pytestmark = pytest.mark.browser

SEND = """([action, fields]) => {
  const form = document.createElement("form");
  form.method = "post";
  form.action = action;
  for (const [name, value] of Object.entries(fields)) {
    const field = document.createElement("textarea");
    field.name = name;
    field.value = value;
    form.append(field);
  }
  document.body.append(form);
  form.submit();
}"""


@dataclass(frozen=True, slots=True)
class Desk:
    """A served studio with one quoted order, and each person's browser by their name."""

    studio: EmptyStudio
    number: str
    browsers: Mapping[str, BrowserContext]

    def page(self, name: str = "Maren") -> Page:
        opened = self.browsers[name].new_page()
        opened.set_viewport_size(DESK)
        return opened


@pytest.fixture(scope="module")
def desk(founded_book: Path, tmp_path_factory: pytest.TempPathFactory, browser: Browser) -> Iterator[Desk]:
    path = tmp_path_factory.mktemp("desk") / "book.db"
    shutil.copy(founded_book, path)
    engine = open_book(f"sqlite:///{path}")
    with session(engine) as book:
        put_figures(book, on=now().date(), now=now())
        number = an_order(book, now=now()).number
        a_quote(book, an_order(book, now=now()), now=now())
        keys = {name: open_sign_in(book, user_id=user_named(book, name).id, now=now()).key for name in PEOPLE}
    engine.dispose()
    with an_empty_studio(path) as served:
        contexts = {}
        for name, key in keys.items():
            contexts[name] = browser.new_context(viewport=DESK)
            contexts[name].add_cookies([{"name": "shankwright", "value": key, "url": served.base_url}])
        yield Desk(served, number, contexts)
        for context in contexts.values():
            context.close()


def must_say(page: Page, status: int, title: str, ask: Callable[[], object]) -> None:
    """What `ask` leads to has this status and this title, and is in everybody's reach."""
    with page.expect_navigation() as came:
        ask()
    assert came.value.status == status
    assert page.title().startswith(title), page.title()
    must_be_in_reach(page)
    page.close()


@pytest.mark.parametrize(
    ("name", "path", "status", "title"),
    [
        ("Tilde", "/studio", 403, "Not open to you"),
        ("Maren", "/nothing/of/this/name", 404, "Nothing here"),
        ("Maren", "/orders?state=lost", 404, "Orders"),
        ("Maren", "/customers?after=999", 404, "Customers"),
        ("Maren", "/week?from=never", 422, "Week"),
        ("Maren", "/counter/figures", 405, "Not done this way"),
    ],
)
def test_an_address_that_does_not_open_is_in_reach(
    desk: Desk, name: str, path: str, status: int, title: str
) -> None:
    page = desk.page(name)
    must_say(page, status, title, lambda: page.goto(desk.studio.base_url + path))


@pytest.mark.parametrize(
    ("error", "status", "title"),
    [
        (BookBusy(), 503, "The book is busy"),
        (BookGone(), 503, "The book cannot be reached"),
        (PaperNotMade(Cause.TOO_SLOW), 503, "The paper is not made"),
        (BookFull(), 507, "The disk is full"),
        (RuntimeError("a fault"), 500, "Something went wrong"),
    ],
    ids=lambda given: type(given).__name__ if isinstance(given, Exception) else None,
)
def test_a_page_that_cannot_be_made_is_in_reach(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, error: BookError, status: int, title: str
) -> None:
    def fail(*_: object, **__: object) -> None:
        raise error

    monkeypatch.setattr("studio.web.week_reading.week_need", fail)
    page = desk.page()
    must_say(page, status, title, lambda: page.goto(f"{desk.studio.base_url}/week"))


REFUSED: dict[str, tuple[str, str, dict[str, str], int, str]] = {
    "rates without figures": ("/studio", "/studio/rates", {"margin_percent": "x"}, 422, ""),
    "a customer without a name": ("/customers/1", "/customers/1", {"version": "1", "name": ""}, 422, ""),
    "a customer changed by another": (
        "/customers/1", "/customers/1", {"version": "9", "name": "Ned"}, 409, "",
    ),
    "a plan changed by another": (
        "/orders/{number}", "/orders/{number}/plan", {"version": "9", "note": "by the door"}, 409, "",
    ),
    "a plan that is no day": (
        "/orders/{number}", "/orders/{number}/plan", {"version": "1", "bench_on": "never"}, 422, "",
    ),
    "a move without a reason": (
        "/orders/{number}", "/orders/{number}/moves", {"version": "1", "to": "called off"}, 422, "",
    ),
    "a yes without a name": ("/quotes/{quote}", "/quotes/{quote}/agreement", {"name": ""}, 422, ""),
    "a form of nobody's": ("/orders", "/orders", {"a": "1", "a.b": "2"}, 422, "Something to put right"),
}  # fmt: skip


@pytest.mark.parametrize("what", REFUSED)
def test_a_form_that_is_sent_back_is_in_reach(desk: Desk, what: str) -> None:
    start, action, fields, status, title = REFUSED[what]
    known = {"number": desk.number, "quote": f"{desk.number.partition('-')[0]}-2-q1"}
    page = desk.page()
    page.goto(desk.studio.base_url + start.format_map(known))
    must_say(page, status, title, lambda: page.evaluate(SEND, [action.format_map(known), fields]))


def test_the_way_in_after_too_many_wrong_tries_is_in_reach(desk: Desk, browser: Browser) -> None:
    context = browser.new_context(viewport=DESK)
    page = context.new_page()
    sign_in = f"{desk.studio.base_url}/sign-in"
    page.goto(sign_in)
    wrong: dict[str, str | float | bool] = {"name": "Nobody", "passphrase": "not the one", "next": ""}
    while context.request.post(sign_in, form=wrong).status != 429:
        pass
    must_say(page, 429, "", lambda: page.evaluate(SEND, ["/sign-in", wrong]))
    context.close()
