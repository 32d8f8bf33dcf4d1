"""A whole day at the bench: an anticlastic band until it is ready, and what the next ring learns."""

import io
import re
from collections.abc import Iterator
from typing import Any
from urllib.parse import urlencode

import pytest
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, FilePayload, Page, expect

from studio.book.demo_bench import MAKERS_PIN
from tests.browser.bench_tablet import OWNERS_PIN, a_bench_tablet, press
from tests.browser.demo_orders import Demo
from tests.running import Running

pytestmark = pytest.mark.browser

STRETCH = 1.031
"""What the pattern of this ring adds, more than the demo's rings of its kind show."""


@pytest.fixture
def tablet(demo: Running, browser: Browser) -> Iterator[BrowserContext]:
    """A device of the bench; it has no pointer that hovers."""
    context = a_bench_tablet(demo, browser)
    yield context
    context.close()


@pytest.fixture
def order(demo: Running, signed_in: BrowserContext) -> dict[str, Any]:
    """An order of one anticlastic band with a pattern, agreed and not given to the bench yet."""
    for number in Demo(demo.base_url, signed_in).numbers("agreed"):
        told: dict[str, Any] = signed_in.request.get(f"{demo.base_url}/api/orders/{number}").json()
        if [one["form"]["kind"] for one in told["rings"]] == ["anticlastic"] and not told["missing"]["bench"]:
            return told
    raise AssertionError("the demo has no anticlastic band that waits for the bench")


def reckoned(demo: Running, counter: BrowserContext, ring: dict[str, Any]) -> tuple[str, float, float]:
    """What the counter says of the next ring of this kind: all of it, its stretch in percent, its mark."""
    asked = {
        "finger.system": "uk",
        "finger.size": "O",
        "finger.measured": "ring",
        "width": str(ring["width"]),
        "thickness": str(ring["thickness"]),
        "profile": "flat",
        "alloy": ring["alloy"],
        "pattern": ring["pattern"],
        "pattern_when": ring["pattern_when"],
    }
    page = counter.new_page()
    page.goto(f"{demo.base_url}/counter/came-about?{urlencode(asked)}")
    words = " ".join(page.locator("main").inner_text().split())
    page.close()
    found = [re.search(rf"{name} ([\d.]+) (?:%|mm) =", words) for name in ("Stretch to expect", "Mark")]
    stretch, mark = (float(one[1]) for one in found if one is not None)
    return words, stretch, mark


def to_work(page: Page, name: str, pin: str) -> None:
    page.get_by_text(name).tap()
    page.get_by_label("PIN", exact=True).fill(pin)
    press(page, "To work")


def figure_of(page: Page, before: list[float]) -> None:
    """Type the figure of the step where it asks for one: what it is to come to, or what the pattern made."""
    field = page.locator("input[name=figure]")
    if not field.count():
        return
    label = page.locator("label[for=f-figure]").inner_text()
    wanted = re.search(r"To come to ([\d.]+)", page.locator(".bench-fields").inner_text())
    if before and label.startswith("Length"):
        field.fill(f"{before[0] * STRETCH:.1f}")
    else:
        field.fill(wanted[1] if wanted else "4.4" if label.startswith("Weight") else "16.5")
        if label.startswith("Length") and wanted:
            before.append(float(wanted[1]))


def a_photo() -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (320, 240), "silver").save(made, "JPEG")
    return made.getvalue()


def test_a_whole_day_by_two_makers_makes_the_ring_ready_and_teaches_the_next(
    demo: Running, signed_in: BrowserContext, tablet: BrowserContext, order: dict[str, Any]
) -> None:
    number, ring = order["number"], order["rings"][0]
    _, expected, mark = reckoned(demo, signed_in, ring)
    page = tablet.new_page()
    page.goto(f"{demo.base_url}/bench/{number}/1")
    to_work(page, "Tilde", MAKERS_PIN)
    press(page, "Give it to the bench")
    expect(page.get_by_role("button", name="Done, next")).to_be_visible()
    _, _, count = page.locator(".bench-place").inner_text().partition(" of ")
    lengths: list[float] = []
    for place in range(1, int(count) + 1):
        expect(page.locator(".bench-place")).to_have_text(f"Step {place} of {count}")
        if place == 4:
            page.get_by_text("A photo of the work").tap()
            photo = FilePayload(name="strip.jpg", mimeType="image/jpeg", buffer=a_photo())
            page.locator("input[type=file]").set_input_files(photo)
            press(page, "Keep the photo")
            expect(page.get_by_text("one picture kept")).to_be_visible()
        if place == 6:
            page.get_by_text("change hands").tap()
            to_work(page, "Maren", OWNERS_PIN)
        figure_of(page, lengths)
        page.get_by_label("or typed").fill(str(place))
        press(page, "Done, next")
    expect(page.get_by_role("heading", name="Every step is done")).to_be_visible()
    press(page, "Mark it ready")
    expect(page.get_by_text("ready", exact=False).first).to_be_visible()
    page.close()

    told = signed_in.request.get(f"{demo.base_url}/api/orders/{number}").json()
    assert told["state"] == "ready"
    seen = signed_in.new_page()
    seen.goto(f"{demo.base_url}/orders/{number}/what-happened")
    minutes = sum(range(1, int(count) + 1))
    expect(seen.get_by_role("row", name=re.compile("^All steps"))).to_contain_text(str(minutes))
    seen.close()
    words, learned, shorter = reckoned(demo, signed_in, ring)
    assert learned > expected
    assert shorter < mark
    assert f"{number}/1" in words
