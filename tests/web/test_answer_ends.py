"""When a customer's link ends: with the quote's last day, or a new quote; and two answers at once."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import httpx
import pytest
from sqlmodel import select

from studio.book.agreements import agree
from studio.book.answer_link_tables import AnswerLinkRow
from studio.book.answer_links import make_answer_link
from studio.book.errors import BookError
from studio.book.orders import order
from studio.book.people import PROGRAM
from studio.book.quotes import QuoteState, issue_quote, quote, requotable
from studio.book.studio import change_studio, studio
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.builders import NOW, an_order
from tests.quoting import PDF, a_quote, a_yes, an_amendment, put_figures
from tests.web.answering import NUMBER, QUOTE, a_link, morning, opened, sent, yes
from tests.web.house import House
from tests.web.morning import Morning, a_morning
from tests.web.quoting import quote_of, state_of
from tests.web.shown import Shown

__all__ = ["morning"]

SECOND = timedelta(seconds=1)
ENDS = [
    # The clocks of London go back on 25 October 2026, at two in the night.
    ("Europe/London", date(2026, 10, 24), "2026-10-24T23:00:00"),
    ("Europe/London", date(2026, 10, 25), "2026-10-26T00:00:00"),
    # They go on again on 28 March 2027.
    ("Europe/London", date(2027, 3, 27), "2027-03-28T00:00:00"),
    ("Europe/London", date(2027, 3, 28), "2027-03-28T23:00:00"),
    ("America/New_York", date(2026, 11, 1), "2026-11-02T05:00:00"),
    ("Asia/Kolkata", date(2026, 12, 9), "2026-12-09T18:30:00"),
    ("Pacific/Auckland", date(2026, 9, 26), "2026-09-26T12:00:00"),
    ("Pacific/Auckland", date(2026, 9, 27), "2026-09-27T11:00:00"),
    ("Pacific/Honolulu", date(2026, 12, 9), "2026-12-10T10:00:00"),
    # Beirut goes from midnight straight to one: 28 March 2027 has no midnight, and the day before ends there.
    ("Asia/Beirut", date(2027, 3, 27), "2027-03-27T22:00:00"),
    # In Havana it is midnight twice on 1 November 2026: the day before ends with the first.
    ("America/Havana", date(2026, 10, 31), "2026-11-01T04:00:00"),
]


@pytest.mark.parametrize(("zone", "last_day", "over_at"), ENDS)
def test_a_link_holds_to_the_last_second_of_the_last_day_where_the_studio_is(
    house: House, monkeypatch: pytest.MonkeyPatch, zone: str, last_day: date, over_at: str
) -> None:
    over = datetime.fromisoformat(over_at).replace(tzinfo=UTC)
    made_at = over - timedelta(days=6, hours=12)
    morning = a_morning(house, monkeypatch, made_at)
    with morning.book() as book:
        change_studio(book, facts=replace(studio(book), time_zone=zone), actor=PROGRAM, now=made_at)
        put_figures(book, on=last_day - timedelta(days=30), now=made_at)
        stands = an_order(book, wanted_on=last_day + timedelta(days=90), bench_on=None, now=made_at)
        made = a_quote(book, stands, now=made_at, valid_days=6)
        assert made.valid_until == last_day
        key = make_answer_link(book, number=made.number, actor=PROGRAM, now=made_at)
    path = f"/answer/{key}"
    morning.turn_to(over)
    for answer in (opened(morning, path), sent(morning, path, **yes())):
        assert "This quote has ended. Ask us for a new one." in Shown(answer).words
    assert sent(morning, path, **yes()).status_code == 409
    assert sent(morning, path, act="no", words="Too late?").status_code == 409
    assert state_of(morning, made.order_number) is State.QUOTED
    morning.turn_to(over - SECOND)
    assert "This quote has ended." not in Shown(opened(morning, path)).words
    assert sent(morning, path, **yes()).status_code == 200
    assert state_of(morning, made.order_number) is State.AGREED


def test_a_quote_that_ends_between_the_page_and_the_answer_is_not_agreed(morning: Morning) -> None:
    path = a_link(morning)
    with morning.book() as book:
        ends = quote(book, QUOTE).expires_at
    morning.turn_to(ends - SECOND)
    page = Shown(opened(morning, path))
    morning.turn_to(ends)
    for fields in (yes(), {"act": "yes", "name": ""}, {"act": "no", "words": "Wait!"}):
        answer = sent(morning, path, **page.forms[0].fields | fields)
        assert answer.status_code == 409
        assert "This quote has ended. Ask us for a new one." in Shown(answer).words
        assert Shown(answer).forms == []
    assert state_of(morning, NUMBER) is State.QUOTED


def test_a_quote_made_anew_between_the_page_and_the_answer_is_not_agreed(morning: Morning) -> None:
    path = a_link(morning)
    assert opened(morning, path).status_code == 200
    made = quote_of(morning, NUMBER)
    answer = sent(morning, path, **yes())
    assert answer.status_code == 409
    assert "This quote no longer stands." in Shown(answer).words
    assert opened(morning, f"{path}/quote.pdf").status_code == 200, "what was sent is still there to read"
    with morning.book() as book:
        assert quote(book, made).state is QuoteState.OPEN


def by_link(morning: Morning, path: str, **fields: str) -> Callable[[], bool]:
    """An answer by the link: whether it was taken."""

    def act() -> bool:
        answer: httpx.Response = sent(morning, path, **fields)
        assert answer.status_code in {200, 409}
        return answer.status_code == 200

    return act


def by_verb(morning: Morning, at: str) -> Callable[[], bool]:
    """What somebody of the studio does in the same moment: whether it was done."""

    def act() -> bool:
        try:
            with morning.book() as book:
                if at == "the counter":
                    agree(book, quote=QUOTE, name="Ivo says so", actor=PROGRAM, now=NOW)
                else:
                    draft = requotable(book, NUMBER, now=NOW)
                    issue_quote(book, draft=draft, pdf=PDF, actor=PROGRAM, now=NOW)
        except BookError:
            return False
        return True

    return act


@pytest.mark.parametrize("other", ["another yes", "the counter", "a new quote"])
def test_of_a_yes_and_something_else_at_once_one_is_done(morning: Morning, other: str) -> None:
    path = a_link(morning)
    first = by_link(morning, path, **yes("Jorun"))
    second = by_link(morning, path, **yes("Hanne")) if other == "another yes" else by_verb(morning, other)
    with ThreadPoolExecutor(2) as both:
        done = [each.result() for each in [both.submit(first), both.submit(second)]]
    assert sorted(done) == [False, True]
    with morning.book() as book:
        found = order(book, NUMBER)
        links = book.exec(select(AnswerLinkRow)).all()
    yeses = [line for line in found.history if line.verb == "note the yes"]
    if other == "a new quote" and done[1]:
        assert (found.state, len(found.quotes), yeses) == (State.QUOTED, 2, [])
    else:
        assert (found.state, len(found.quotes), len(yeses)) == (State.AGREED, 1, 1)
    assert [link.reply for link in links] == (["yes"] if other == "another yes" or done[0] else [None])


def test_a_yes_and_a_no_at_once_leave_one_story(morning: Morning) -> None:
    path = a_link(morning)
    with ThreadPoolExecutor(2) as both:
        acts = [by_link(morning, path, **yes()), by_link(morning, path, act="no", words="Not yet.")]
        done = list(both.map(lambda act: act(), acts))
    assert done[0], "a no before it leaves the quote waiting"
    with morning.book() as book:
        found = order(book, NUMBER)
        (link,) = book.exec(select(AnswerLinkRow)).all()
    assert found.state is State.AGREED
    assert link.reply == "yes"
    noes = [line for line in found.history if line.verb == "say no by the link"]
    assert len(noes) == int(done[1])


def an_amended_order(morning: Morning) -> tuple[str, str]:
    """The number of an amendment that waits for its answer, and the path of its link."""
    with morning.book() as book:
        made = an_amendment(book, a_yes(book, quote(book, QUOTE)), words="Half a size larger.")
    assert made.number == f"{NUMBER}-a1"
    return made.number, a_link(morning, made.number)


def test_an_amendment_is_answered_by_a_link_of_its_own(morning: Morning) -> None:
    number, path = an_amended_order(morning)
    words = Shown(opened(morning, path)).words
    assert f"Amendment {number}" in words
    assert "Half a size larger." in words
    assert sent(morning, path, **yes("Jorun M.")).status_code == 200
    with morning.book() as book:
        found = order(book, NUMBER)
        assert quote(book, number).state is QuoteState.AGREED
    assert (found.state, found.agreed_name) == (State.AGREED, "Jorun M.")
    assert NUMBER in morning.see("/").words.partition("Said yes")[2]


def test_a_no_to_an_amendment_needs_a_hand_and_what_was_agreed_stands(morning: Morning) -> None:
    number, path = an_amended_order(morning)
    assert sent(morning, path, act="no", words="Leave it as it was.").status_code == 200
    for role in (Role.OWNER, Role.COUNTER):
        page = morning.see("/", role)
        assert "The customer said no to the amendment: Leave it as it was." in page.words
        assert page.link("Read the answer: Jorun Müller, 2026-1") == f"/quotes/{number}#link-heading"
    with morning.book() as book:
        found = order(book, NUMBER)
        assert quote(book, number).state is QuoteState.OPEN
    assert (found.state, found.agreed_name) == (State.AGREED, "Jorun Müller")


def test_a_no_stands_beside_what_presses_more(morning: Morning) -> None:
    """A promise that is past does not hide what the customer said."""
    with morning.book() as book:
        late = an_order(book, promised_at=NOW - timedelta(hours=1))
        made = a_quote(book, late)
    assert sent(morning, a_link(morning, made.number), act="no", words="Wider, please.").status_code == 200
    words = morning.see("/").words
    assert "Promised for today, 09:00, and nobody has said yes yet." in words
    assert "The customer said no to the quote: Wider, please." in words
    assert "Two things need a hand" in words
