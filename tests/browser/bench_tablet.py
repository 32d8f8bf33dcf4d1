"""A tablet that is a device of the bench, as the demo's makers hold it: fingers, and nothing that hovers."""

from playwright.sync_api import Browser, BrowserContext, Page, ViewportSize

from studio.book.bench_devices import add_device
from studio.book.engine import open_book, session
from studio.book.people import user_named
from studio.book.pins import set_pin
from studio.clock import now as this_moment
from tests.running import Running

TABLET: ViewportSize = {"width": 1024, "height": 768}
OWNERS_PIN = "290388"


def a_bench_tablet(demo: Running, browser: Browser) -> BrowserContext:
    """A browser that is a device of the bench; Maren has a PIN as well as Tilde."""
    engine, now = open_book(f"sqlite:///{demo.home / 'book.db'}"), this_moment()
    with session(engine) as book:
        maren = user_named(book, "Maren")
        set_pin(book, user_id=maren.id, pin=OWNERS_PIN, actor=maren.actor, now=now)
        key = add_device(book, name="Tablet", sign_in_key=None, actor=maren.actor, now=now)
    engine.dispose()
    context = browser.new_context(viewport=TABLET, has_touch=True, is_mobile=True)
    context.add_cookies([{"name": "shankwright-bench", "value": key, "url": demo.base_url}])
    return context


def press(page: Page, words: str) -> None:
    """Tap a button."""
    page.get_by_role("button", name=words, exact=True).tap()
