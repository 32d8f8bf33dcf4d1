"""A day at the bench on a tablet: two makers on one device, dirty hands, and a wifi that comes and goes."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from studio.book.demo_bench import MAKERS_PIN
from tests.browser.bench_tablet import OWNERS_PIN, TABLET, a_bench_tablet, press
from tests.browser.conftest import DESK
from tests.browser.demo_orders import Demo
from tests.running import Running

pytestmark = pytest.mark.browser

TARGETS = """() => [...document.querySelectorAll("a, button, input, summary, label.bench-name")]
  .filter(one => one.getClientRects().length && !one.matches(".skip, label.bench-name input"))
  .map(one => [one.textContent.trim() || one.name, one.getBoundingClientRect().height])
  .filter(([, height]) => height < 64)"""


@pytest.fixture(scope="module")
def owner(demo: Running, browser: Browser) -> Iterator[BrowserContext]:
    """The owner's browser, on the tablet before it is one of the bench."""
    context = browser.new_context(viewport=TABLET, has_touch=True, is_mobile=True)
    opened = context.new_page()
    opened.goto(demo.enter_url)
    opened.close()
    yield context
    context.close()


@pytest.fixture(scope="module")
def ring(demo: Running, owner: BrowserContext) -> str:
    """The address of a ring at the bench that nobody has begun."""
    known = Demo(demo.base_url, owner)
    return f"{demo.base_url}/bench/{known.numbers('at the bench')[-1]}/1"


@pytest.fixture(scope="module")
def other_ring(demo: Running, owner: BrowserContext) -> str:
    """The address of another such ring."""
    known = Demo(demo.base_url, owner)
    return f"{demo.base_url}/bench/{known.numbers('at the bench')[-2]}/1"


@pytest.fixture
def tablet(demo: Running, browser: Browser) -> Iterator[BrowserContext]:
    """A tablet that is a device of the bench; Maren has a PIN as well as Tilde."""
    context = a_bench_tablet(demo, browser)
    yield context
    context.close()


@pytest.fixture
def page(owner: BrowserContext) -> Iterator[Page]:
    opened = owner.new_page()
    yield opened
    opened.close()


def done_steps(page: Page) -> int:
    return page.locator(".bench-row:has(.bench-box path)").count()


def test_a_save_whose_answer_is_lost_is_sent_again_and_done_once(page: Page, ring: str) -> None:
    page.goto(ring)
    lost: list[int] = []

    def after_the_server_acted(route: Route) -> None:
        if route.request.method == "POST" and len(lost) < 2:
            lost.append(route.fetch(max_redirects=0).status)
            route.abort()
        else:
            route.continue_()

    before = done_steps(page)
    page.route("**/bench/**", after_the_server_acted)
    page.get_by_label(re.compile("Weight out")).fill("9.2")
    press(page, "Done, next")
    expect(page.locator("#bench-saved")).to_have_text("Not saved yet. It is sent again by itself.")
    assert page.get_by_label(re.compile("Weight out")).input_value() == "9.2"
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 2 of"), timeout=15_000)
    assert lost == [303, 303]
    assert done_steps(page) == before + 1
    page.reload()
    expect(page.get_by_text("Undo takes back: ticked 'Weigh out', 9.2 g")).to_be_visible()
    page.unroute("**/bench/**")
    press(page, "Undo")
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 1 of"))
    assert page.get_by_role("button", name="Undo", exact=True).count() == 0  # it was done once


def test_while_there_is_no_network_what_is_typed_stays_and_is_saved_when_it_is_back(
    page: Page, owner: BrowserContext, ring: str
) -> None:
    page.goto(ring)
    page.get_by_label(re.compile("Weight out")).fill("9.3")
    owner.set_offline(True)
    press(page, "Done, next")
    expect(page.locator("#bench-saved")).to_have_text("Not saved yet. It is sent again by itself.")
    assert page.get_by_label(re.compile("Weight out")).input_value() == "9.3"
    owner.set_offline(False)
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 2 of"), timeout=15_000)
    expect(page.locator("#bench-saved")).to_contain_text("Saved")
    press(page, "Undo")
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 1 of"))


def test_a_refused_figure_stays_in_its_field_without_a_new_page(page: Page, ring: str) -> None:
    page.goto(ring)
    page.get_by_label(re.compile("Weight out")).fill("5000")
    press(page, "Done, next")
    expect(page.locator("#f-figure-wrong")).to_contain_text("5000 g is more than we can use")
    assert page.get_by_label(re.compile("Weight out")).input_value() == "5000"
    assert page.evaluate(TARGETS) == []
    page.get_by_label(re.compile("Weight out")).fill("")
    page.reload()
    assert page.get_by_label(re.compile("Weight out")).input_value() == ""


def test_the_clock_runs_in_sight(page: Page, ring: str) -> None:
    page.goto(ring)
    press(page, "Start")
    expect(page.get_by_role("button", name="Pause", exact=True)).to_be_visible()
    expect(page.locator(".bench-time")).to_have_text("00:02", timeout=5_000)
    press(page, "Pause")
    expect(page.get_by_role("button", name="Start", exact=True)).to_be_visible()
    for _ in range(2):
        press(page, "Undo")
        expect(page.locator("#bench-saved")).to_contain_text("Saved")
    expect(page.locator(".bench-time")).to_have_text("00:00")


def test_without_script_a_step_is_ticked_by_plain_forms(
    browser: Browser, owner: BrowserContext, ring: str
) -> None:
    plain = browser.new_context(viewport=DESK, java_script_enabled=False, storage_state=owner.storage_state())
    page = plain.new_page()
    page.goto(ring)
    page.get_by_label(re.compile("Weight out")).fill("9.1")
    page.get_by_role("button", name="Done, next").click()
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 2 of"))
    page.get_by_role("button", name="Undo", exact=True).click()
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 1 of"))
    plain.close()


@pytest.mark.parametrize("width", [320, 390, 768, 1024, 1440])
def test_every_target_is_64_px_high_and_nothing_goes_off_sideways(page: Page, ring: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 768})
    for where in (ring, f"{ring}?step=solder"):
        page.goto(where)
        assert page.evaluate(TARGETS) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= width


def test_what_to_do_now_and_the_next_caution_are_in_sight_at_once(page: Page, ring: str) -> None:
    page.goto(ring)
    for part in (
        page.locator("h1"),
        page.get_by_role("button", name="Done, next"),
        page.locator(".bench-then"),
    ):
        expect(part).to_be_in_viewport(ratio=1)


def test_two_makers_work_on_one_device(tablet: BrowserContext, demo: Running, other_ring: str) -> None:
    page = tablet.new_page()
    page.goto(other_ring)
    expect(page.get_by_role("heading", name="Whose hands?")).to_be_visible()
    assert page.evaluate(TARGETS) == []
    page.get_by_text("Tilde").tap()
    page.get_by_label("PIN", exact=True).fill("0815")
    press(page, "To work")
    expect(page.get_by_role("alert")).to_contain_text("Name and PIN do not belong together.")
    page.get_by_label("PIN", exact=True).fill(MAKERS_PIN)
    press(page, "To work")
    expect(page).to_have_url(other_ring)
    press(page, "Start")
    expect(page.get_by_role("button", name="Pause", exact=True)).to_be_visible()
    page.get_by_label(re.compile("Weight out")).fill("9.2")
    press(page, "Done, next")
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 2 of"))
    assert page.locator("#bench-saved").inner_text().endswith(", Tilde")
    page.get_by_text("change hands").tap()
    page.get_by_text("Maren").tap()
    page.get_by_label("PIN", exact=True).fill(OWNERS_PIN)
    press(page, "To work")
    expect(page).to_have_url(other_ring)
    page.get_by_label(re.compile("Length")).fill("60.1")
    press(page, "Done, next")
    expect(page.locator(".bench-place")).to_have_text(re.compile("Step 3 of"))
    assert page.locator("#bench-saved").inner_text().endswith(", Maren")
    notes = page.locator(".bench-row-note").all_inner_texts()
    assert "Tilde" in notes[0]
    assert "Maren" in notes[1]
    answer = page.goto(f"{demo.base_url}/studio")
    assert answer is not None
    assert answer.status == 403
    page.goto(f"{demo.base_url}/bench")
    assert page.evaluate(TARGETS) == []
    page.close()


def test_when_the_pin_is_asked_again_what_was_typed_stands_and_is_not_taken_for_saved(
    tablet: BrowserContext, demo: Running, other_ring: str
) -> None:
    page = tablet.new_page()
    page.goto(other_ring)
    page.get_by_text("Tilde").tap()
    page.get_by_label("PIN", exact=True).fill(MAKERS_PIN)
    press(page, "To work")
    expect(page).to_have_url(other_ring)
    page.get_by_label("or typed").fill("7")
    away = tablet.new_page()
    away.goto(f"{demo.base_url}/bench/hands")
    press(away, "Nobody, for now")
    expect(away.get_by_role("button", name="Nobody, for now")).to_have_count(0)
    press(page, "Done, next")
    expect(page.locator("#bench-saved")).to_contain_text("Not saved: the PIN is asked again.")
    assert page.get_by_label("or typed").input_value() == "7"
    page.get_by_role("link", name="Type the PIN").tap()
    expect(page.get_by_role("heading", name="Whose hands?")).to_be_visible()
    away.close()
    page.close()


def test_two_devices_at_one_ring_the_second_is_told_and_keeps_what_was_typed(
    page: Page, owner: BrowserContext, ring: str
) -> None:
    page.goto(ring)
    other = owner.new_page()
    other.goto(ring)
    press(other, "Start")
    expect(other.get_by_role("button", name="Pause", exact=True)).to_be_visible()
    page.get_by_label(re.compile("Weight out")).fill("9.4")
    press(page, "Done, next")
    expect(page.get_by_role("heading", name="This ring has moved on")).to_be_visible()
    expect(page.get_by_text("Maren started 'Weigh out'")).to_be_visible()
    assert page.get_by_label(re.compile("Weight out")).input_value() == "9.4"
    press(page, "Undo")
    expect(page.get_by_role("button", name="Start", exact=True)).to_be_visible()
    other.close()
