"""The way over the bench on its page: read, changed within the rules of order, and on the sheet after."""

import pytest

from studio.craft.designs import Pattern, PatternWhen
from studio.craft.roles import Role
from tests.builders import a_design, a_ring, an_order
from tests.papers.printed import text_of
from tests.quoting import a_quote, a_yes, put_figures
from tests.web.house import House
from tests.web.morning import Morning, a_morning

HAMMERED = a_design(pattern=Pattern.HAMMERED, pattern_when=PatternWhen.FLAT)
ORDER = "/orders/2026-1"
PAGE = f"{ORDER}/rings/1/route"


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """One order of a hammered ring that is agreed."""
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        put_figures(book)
        a_yes(book, a_quote(book, an_order(book, rings=[a_ring(design=HAMMERED)])))
    return found


def press(morning: Morning, button: str, role: Role = Role.MAKER, **typed: str) -> tuple[int, str, str]:
    """Press a button of the page: the answer's status, where it leads, and its words."""
    fields = morning.see(PAGE, role).form(PAGE).fields
    status, where, shown = morning.send(PAGE, {**fields, "do": button, **typed}, role)
    return status, where, shown.words


def test_the_page_says_of_every_step_why_with_what_and_what_to_heed(morning: Morning) -> None:
    words = morning.see(f"{ORDER}", Role.MAKER).link("The way over the bench, The ring")
    assert words == PAGE
    page = morning.see(PAGE, Role.MAKER).words
    assert "Bend" in page
    assert "Mix acid into water, never water into acid." in page
    assert "Local rules and trained supervision come first." in page
    assert "min planned" in page
    assert "Figures true length" in page


@pytest.mark.parametrize("role", Role)
def test_everybody_at_the_bench_may_change_the_way(morning: Morning, role: Role) -> None:
    typed = {"name": "Photograph it", "text": "both sides", "at": "2", "minutes": "5"}
    status, where, _ = press(morning, "add", role, **typed)
    assert (status, where) == (303, PAGE)
    words = morning.see(PAGE, role).words
    assert "Photograph it both sides your own step" in words
    assert "5 min" in words
    assert "changed the way over the bench of ring 2026-1/1" in morning.see(ORDER, role).words


def test_the_sheet_says_what_the_page_says(morning: Morning) -> None:
    press(morning, "add", name="Photograph it", text="both sides", at="2")
    sheet = morning.fetch(f"{ORDER}/bench-sheet.pdf", Role.MAKER)[2]
    assert "2 Photograph it both sides" in text_of(sheet)


def test_a_step_that_would_break_a_rule_stays_and_the_reason_is_said(morning: Morning) -> None:
    status, _, words = press(morning, "move:square", to="3")
    assert status == 422
    assert "The route stays as it is" in words
    assert "A pattern stretches the strip" in words


def test_what_was_typed_stands_again_beside_what_is_to_be_put_right(morning: Morning) -> None:
    typed = {"name": "", "text": "with the big pliers", "at": "3", "does_solders": "yes"}
    fields = morning.see(PAGE).form(PAGE).fields
    status, _, shown = morning.send(PAGE, {**fields, "do": "add", **typed})
    assert status == 422
    assert "The name of the step is not given yet." in shown.words
    assert "Say with which solder" in shown.words
    assert "with the big pliers" in shown.words


def test_a_step_is_moved_by_one_reworded_and_all_of_it_taken_back(morning: Morning) -> None:
    press(morning, "add", name="Photograph it", at="1")
    status, where, _ = press(morning, "later:own-1")
    assert (status, where) == (303, f"{PAGE}#step-own-1")
    press(morning, "reword:own-1", name="Photograph both sides", text="by daylight", minutes="4")
    assert "Photograph both sides by daylight" in morning.see(PAGE).words
    assert "Back to the route as the rules have it" in morning.see(PAGE).words
    press(morning, "rules")
    assert "Photograph" not in morning.see(PAGE).words


def test_the_form_of_a_step_stands_open_where_it_is_asked_for(morning: Morning) -> None:
    assert "Put it at step" not in morning.see(PAGE).words
    assert "Put it at step" in morning.see(f"{PAGE}?step=bend").words


def test_a_button_nobody_made_changes_nothing(morning: Morning) -> None:
    assert press(morning, "burn:bend")[0] == 422
    assert press(morning, "earlier:nothing")[0] == 409


def test_a_page_that_is_older_than_the_order_says_so_and_keeps_what_was_typed(morning: Morning) -> None:
    fields = morning.see(PAGE).form(PAGE).fields
    press(morning, "add", name="Weigh it again", at="1")
    status, _, shown = morning.send(PAGE, {**fields, "do": "add", "name": "Photograph it", "at": "2"})
    assert status == 409
    assert "Changed meanwhile" in shown.words
    assert shown.forms[-1].fields["name"] == "Photograph it"


def test_a_ring_that_is_not_there_has_no_way(morning: Morning) -> None:
    assert morning.see(f"{ORDER}/rings/9/route").status == 404
