"""Somebody calls: the number is typed as they say it, and the page says where their ring lies."""

import pytest
from playwright.sync_api import BrowserContext, expect

from tests.running import Running

pytestmark = pytest.mark.browser


def test_a_telephone_number_typed_on_the_first_page_shows_where_the_ring_lies(
    demo: Running, signed_in: BrowserContext
) -> None:
    page = signed_in.new_page()
    page.goto(demo.base_url)
    page.get_by_label("Where is it?").fill("0044 (0)1632 960-101")
    page.keyboard.press("Enter")
    person = page.get_by_role("region", name="Jorun Müller")
    expect(person.get_by_text("Ring 1:").first).to_be_visible()
    page.get_by_label("Put down in").select_option("Counter drawer")
    person.get_by_role("button", name="Lies there now").first.click()
    expect(page.get_by_role("region", name="Jorun Müller").get_by_text("Counter drawer")).to_be_visible()
    page.close()
