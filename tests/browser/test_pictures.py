"""Adding a picture in a real browser: by the file field, with its note, and taken away again."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests import photos
from tests.running import Running

pytestmark = pytest.mark.browser

NOTE = "The twig we copy"


@pytest.fixture
def page(signed_in: BrowserContext) -> Iterator[Page]:
    opened = signed_in.new_page()
    yield opened
    opened.close()


@pytest.fixture
def order(demo: Running, page: Page) -> str:
    """The address of an order that waits for its yes, and has no picture yet."""
    found = page.request.get(f"{demo.base_url}/api/orders", params={"state": "quoted"}).json()
    return f"{demo.base_url}/orders/{found['items'][0]['number']}"


def choose(page: Page, raw: bytes, name: str = "twig.jpg") -> None:
    page.get_by_label("Photo or sketch").set_input_files(
        {"name": name, "mimeType": "image/jpeg", "buffer": raw}
    )


def test_a_picture_is_refused_added_looked_at_and_taken_away(order: str, page: Page, tmp_path: Path) -> None:
    page.goto(order)
    page.get_by_text("Add a picture", exact=True).click()
    page.get_by_label("What it shows").fill(NOTE)
    choose(page, b"no picture at all")
    page.get_by_role("button", name="Add the picture").click()
    expect(page.locator("#f-picture-wrong")).to_contain_text("We cannot see a picture in this.")
    assert page.get_by_label("What it shows").input_value() == NOTE
    photo = tmp_path / "twig.jpg"
    photo.write_bytes(photos.a_located_photo(6))
    page.get_by_label("Photo or sketch").set_input_files(photo)
    page.get_by_role("button", name="Add the picture").click()
    page.wait_for_url(f"{order}#pictures")
    small = page.get_by_role("img", name=NOTE)
    small.scroll_into_view_if_needed()
    expect(small).to_be_visible()
    page.wait_for_function("document.querySelector('.picture img').naturalWidth === 390")
    small.click()
    page.wait_for_url("**/pictures/*.jpg")
    assert page.evaluate("document.images[0].naturalWidth") == 480
    page.go_back()
    page.get_by_role("button", name=re.compile(f"Take away.*{NOTE}")).click()
    expect(page.get_by_role("img", name=NOTE)).to_have_count(0)
    expect(page.get_by_text(f"took a picture away, {NOTE}.")).to_be_visible()


def test_a_file_too_large_comes_back_with_what_was_typed(order: str, page: Page) -> None:
    page.goto(order)
    page.get_by_text("Add a picture", exact=True).click()
    page.get_by_label("What it shows").fill(NOTE)
    choose(page, photos.a_photo() + bytes(13_000_000))
    page.get_by_role("button", name="Add the picture").click()
    expect(page.locator("#f-picture-wrong")).to_contain_text("This file has more than 12 megabytes.")
    assert page.get_by_label("What it shows").input_value() == NOTE
