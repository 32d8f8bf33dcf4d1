"""What is told, and what stays as it was, when a paper cannot be made."""

import asyncio
from typing import Any

import pytest
from starlette.requests import ClientDisconnect, Request

from studio.craft.roles import Role
from studio.papers.paper import Paper
from studio.papers.pool import Cause, PaperFailed, PaperNotMade
from studio.papers.printing import HousePrinter
from studio.web.printing import printed_while_asked
from tests.web.house import House
from tests.web.priced import ask_for_quote, put_in_rates, say_yes

WORDS = {
    Cause.TOO_SLOW: "The paper could not be made in time.",
    Cause.TOO_BIG: "The paper asks for more memory than it may take.",
    Cause.INTERRUPTED: "The paper was interrupted while it was made.",
}


class Refusing:
    """A printer that makes nothing."""

    def __init__(self, error: Exception) -> None:
        self.error = error

    async def pdf(self, _paper: Paper, /) -> bytes:
        raise self.error


class Waiting:
    """A printer that is never done, and knows whether it was left."""

    def __init__(self) -> None:
        self.is_at_it = asyncio.Event()
        self.is_left = False

    async def pdf(self, _paper: Paper, /) -> bytes:
        self.is_at_it.set()
        try:
            await asyncio.Event().wait()
        except asyncio.CancelledError:
            self.is_left = True
            raise
        raise AssertionError("nobody sets it")


@pytest.fixture
def agreed(new_house: House) -> str:
    number = new_house.take_order()
    say_yes(new_house, number)
    return number


@pytest.mark.parametrize("cause", list(Cause))
@pytest.mark.parametrize("path", ["/orders/{number}/bench-sheet.pdf", "/week/papers.pdf", "/week/labels.pdf"])
def test_a_paper_that_is_not_made_is_told_with_what_to_do(
    new_house: House, agreed: str, path: str, cause: Cause
) -> None:
    new_house.app.state.printer = Refusing(PaperNotMade(cause))
    told = new_house.ask("GET", path.format(number=agreed))
    assert told.status_code == 503
    assert told.headers["retry-after"] == "5"
    (error,) = told.json()["errors"]
    assert error["field"] is None
    assert error["message"].startswith(WORDS[cause])
    assert error["message"].endswith("Nothing was changed by it.")
    shown = new_house.browse("GET", path.format(number=agreed))
    assert shown.status_code == 503
    assert "The paper is not made" in shown.text
    assert WORDS[cause] in shown.text


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (PaperNotMade(Cause.TOO_SLOW), 503),
        (PaperNotMade(Cause.INTERRUPTED), 503),
        (PaperFailed("X", "y"), 500),
    ],
    ids=["too-slow", "interrupted", "failed"],
)
def test_a_quote_whose_paper_is_not_made_is_not_issued_and_can_be_asked_for_again(
    new_house: House, error: Exception, status: int
) -> None:
    put_in_rates(new_house)
    number = new_house.take_order()
    before = new_house.ask("GET", f"/api/orders/{number}").json()
    new_house.app.state.printer = Refusing(error)
    assert ask_for_quote(new_house, number, key="one-and-the-same").status_code == status
    assert new_house.ask("GET", f"/api/orders/{number}").json() == before
    new_house.app.state.printer = HousePrinter()
    told = ask_for_quote(new_house, number, key="one-and-the-same")
    assert told.status_code == 201
    assert told.json()["number"] == f"{number}-q1"


def test_a_fault_of_the_printer_is_told_with_a_reference_alone(new_house: House, agreed: str) -> None:
    new_house.app.state.printer = Refusing(PaperFailed("LookupError", "paper.html:7 block"))
    told = new_house.ask("GET", f"/orders/{agreed}/bench-sheet.pdf", Role.MAKER)
    assert told.status_code == 500
    assert "The reference is" in told.json()["errors"][0]["message"]
    assert "LookupError" not in told.text


def test_a_reader_who_goes_away_leaves_the_paper(new_house: House) -> None:
    async def run() -> bool:
        waiting = Waiting()
        new_house.app.state.printer = waiting
        sent: list[dict[str, Any]] = [{"type": "http.request", "body": b""}]

        async def receive() -> dict[str, Any]:
            if sent:
                return sent.pop()
            await waiting.is_at_it.wait()
            return {"type": "http.disconnect"}

        request = Request({"type": "http", "app": new_house.app}, receive)
        with pytest.raises(ClientDisconnect):
            await printed_while_asked(request, Paper("empty_week", (), "A paper"))
        await asyncio.sleep(0)
        return waiting.is_left

    assert asyncio.run(run())
