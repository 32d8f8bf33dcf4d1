"""A demo studio and a real Chromium, once for each file of browser tests.

Not for the whole session: while Playwright's loop runs in the main thread, no other test may start one.
"""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, ViewportSize, sync_playwright

from tests.running import Running, a_running_demo

DESK: ViewportSize = {"width": 1280, "height": 900}
PHONE: ViewportSize = {"width": 320, "height": 640}
"""A narrow telephone; also what is left of a desk 1280 pixels wide at a zoom of 400 %."""
CHROMIUM = "/usr/bin/chromium"
FLAGS = ["--no-sandbox", "--disable-background-networking"]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """A demo studio as a process of its own."""
    with a_running_demo(tmp_path_factory.mktemp("demo") / "home", seconds=60) as running:
        yield running


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A Chromium without a window."""
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="module")
def signed_in(demo: Running, browser: Browser) -> Iterator[BrowserContext]:
    """The owner's browser in the demo."""
    context = browser.new_context(viewport=DESK)
    page = context.new_page()
    page.goto(demo.enter_url)
    page.close()
    yield context
    context.close()
