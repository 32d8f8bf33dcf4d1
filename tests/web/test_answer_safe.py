"""What strangers, other sites, masses of requests and people signed in may do with a customer's page."""

import httpx
import pytest
from sqlmodel import select

from studio.book.answer_link_tables import AnswerLinkRow
from studio.craft.orders import State
from studio.craft.roles import Role
from tests.web.answering import NUMBER, QUOTE, a_link, morning, opened, sent, yes
from tests.web.morning import Morning
from tests.web.quoting import state_of

__all__ = ["morning"]

NO_KEY = "/answer/" + "k" * 43


def assert_nobody_else_learns_of_it(answer: httpx.Response) -> None:
    assert answer.headers["cache-control"] == "no-store"
    assert answer.headers["referrer-policy"] == "no-referrer"
    assert "noindex" in answer.headers["x-robots-tag"]
    assert "set-cookie" not in answer.headers


def test_every_answer_there_is_kept_by_nobody(morning: Morning) -> None:
    """The page, the paper, what is to be put right, and each refusal, of whatever part of the app."""
    path = a_link(morning)
    told = {
        200: [opened(morning, path), opened(morning, f"{path}/quote.pdf")],
        422: [sent(morning, path, act="yes", name=""), sent(morning, path, act="no")],
        403: [morning.house.browse("POST", path, None, headers={"sec-fetch-site": "cross-site"})],
        404: [
            opened(morning, NO_KEY),
            opened(morning, f"{NO_KEY}/quote.pdf"),
            opened(morning, f"{path}/more"),
            opened(morning, "/answer/"),
            opened(morning, f"{path}%00"),
        ],
        405: [morning.house.browse("DELETE", path, None)],
        413: [morning.house.browse("POST", path, None, headers={"content-length": "9999999"})],
    }
    for status, answers in told.items():
        for answer in answers:
            assert answer.status_code == status, answer.request.url
            assert_nobody_else_learns_of_it(answer)
    head = morning.house.browse("HEAD", path, None)
    assert (head.status_code, head.content) == (200, b"")
    assert_nobody_else_learns_of_it(head)
    assert sent(morning, path, **yes()).status_code == 200
    again = sent(morning, path, **yes())
    assert again.status_code == 409
    assert_nobody_else_learns_of_it(again)


def test_wrong_links_from_one_address_cost_time_and_a_right_one_does_not(morning: Morning) -> None:
    path = a_link(morning)
    answers = [opened(morning, f"/answer/{'x' * 30}{at}") for at in range(30)]
    codes = [answer.status_code for answer in answers]
    assert codes[:20] == [404] * 20
    assert set(codes) == {404, 429}
    waits = answers[codes.index(429)]
    assert int(waits.headers["retry-after"]) >= 1
    for answer in answers:
        assert_nobody_else_learns_of_it(answer)
    assert opened(morning, path).status_code == 200


def test_one_link_sends_so_many_noes_and_no_more(morning: Morning) -> None:
    path = a_link(morning)
    codes = [sent(morning, path, act="no", words=f"Word {at}.").status_code for at in range(30)]
    assert codes[:20] == [200] * 20
    assert codes[-1] == 429
    assert sent(morning, path, **yes()).status_code == 200, "a yes is heard all the same"


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site", "origin": "null"},
        {"sec-fetch-site": "cross-site", "origin": "null"},
        {"origin": "http://elsewhere.example"},
        {"origin": "http://127.0.0.1:9999"},
    ],
)
def test_another_sites_page_cannot_answer(morning: Morning, headers: dict[str, str]) -> None:
    path = a_link(morning)
    answer = morning.house.send("POST", path, data=yes(), headers=headers)
    assert answer.status_code == 403
    assert state_of(morning, NUMBER) is State.QUOTED


@pytest.mark.parametrize(
    "headers",
    [
        {"sec-fetch-site": "same-origin", "origin": "null"},
        {"origin": "null"},
        {"origin": "http://127.0.0.1:8321"},
        {},
    ],
)
def test_the_page_itself_may_answer_though_it_hides_where_it_comes_from(
    morning: Morning, headers: dict[str, str]
) -> None:
    answer = morning.house.send("POST", a_link(morning), data=yes(), headers=headers)
    assert answer.status_code == 200
    assert state_of(morning, NUMBER) is State.AGREED


@pytest.mark.parametrize("role", list(Role))
def test_who_is_signed_in_sees_and_may_no_more_than_a_stranger(morning: Morning, role: Role) -> None:
    path = a_link(morning)
    cookie = {"cookie": f"shankwright={morning.keys[role]}"}
    stranger = opened(morning, path)
    signed_in = morning.house.browse("GET", path, role, headers=cookie)
    assert signed_in.text == stranger.text
    assert "set-cookie" not in signed_in.headers
    answer = morning.house.browse("POST", path, role, headers=cookie, data=yes("Ned"))
    assert answer.status_code == 200
    with morning.book() as book:
        (row,) = book.exec(select(AnswerLinkRow)).all()
    assert (row.reply, row.name) == ("yes", "Ned")
    words = morning.see(f"/orders/{NUMBER}").words
    assert "Ned, by the link noted the yes of Ned" in words


def test_a_link_opens_nothing_else(morning: Morning) -> None:
    key = a_link(morning).removeprefix("/answer/")
    for headers in ({"cookie": f"shankwright={key}"}, {"authorization": f"Bearer {key}"}):
        for path in ("/", f"/quotes/{QUOTE}", f"/quotes/{QUOTE}.pdf", f"/orders/{NUMBER}", "/studio"):
            assert morning.house.browse("GET", path, None, headers=headers).status_code in {303, 401}
    assert opened(morning, f"/enter/{key}").status_code == 404
