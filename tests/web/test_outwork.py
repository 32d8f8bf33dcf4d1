"""Where things lie and outside work in a browser: found by telephone, moved, sent out, overdue, back."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import timedelta
from io import BytesIO

import pytest
from pypdf import PdfReader

from studio import clock
from studio.book.engine import session
from studio.book.outwork import Sending, add_outworker, send_out
from studio.book.outwork_reads import slips_back, slips_out
from studio.book.people import PROGRAM
from studio.book.places import add_place
from studio.book.whereabouts import lies_of
from studio.craft.orders import State
from studio.craft.outwork import Trade
from studio.craft.roles import Role
from tests.builders import an_order
from tests.web.house import House
from tests.web.shown import Shown

SLIP = {
    "worker-new": "1",
    "what-new": "Set the stone.",
    "due_on-new": "19 Dec 2099",
    "value-new": "120",
    "weight_g-new": "4.25",
}


@dataclass(frozen=True, slots=True)
class Sent:
    """An order at the bench, a place and a setter."""

    house: House
    number: str

    @property
    def ring(self) -> str:
        return f"{self.number}/1"

    def see(self, path: str, role: Role = Role.OWNER) -> Shown:
        return Shown(self.house.browse("GET", path, role))

    def send(
        self, page: str, action: str, typed: Mapping[str, str], role: Role = Role.OWNER, press: str = ""
    ) -> Shown:
        form = self.see(page, role).form(action)
        return Shown(self.house.browse("POST", action, role, data=form.filled(press, **typed)))

    def put(self, place: str, role: Role) -> Shown:
        form = self.see("/whereabouts", role).form("/whereabouts").fields
        typed = form | {"place": place, "thing": self.ring}
        return Shown(self.house.browse("POST", "/whereabouts", role, data=typed))

    def slip(self, **typed: str) -> Shown:
        told = SLIP | {f"{name}-new": value for name, value in typed.items()}
        return self.send(f"/outwork?order={self.number}", "/outwork", told)

    def place(self) -> str:
        with session(self.house.engine) as book:
            return lies_of(book, self.number, self.ring).place


@pytest.fixture
def sent(house: House) -> Sent:
    now = clock.now()
    with session(house.engine) as book:
        number = an_order(book, state=State.AT_THE_BENCH, now=now).number
        add_place(book, name="Safe, tray 2", actor=PROGRAM, now=now)
        add_outworker(book, name="Hale", trade=Trade.SETTER, actor=PROGRAM, now=now)
    return Sent(house, number)


def test_a_telephone_number_shows_where_each_ring_lies(sent: Sent) -> None:
    assert sent.put("1", Role.COUNTER).status == 303
    for path in ("/whereabouts?q=%2B44+(0)1632+960-715", "/orders?q=0044+1632+960715"):
        words = sent.see(path, Role.COUNTER).words
        assert "Jorun Müller 01632 960 715" in words
        assert f"{sent.ring}. At the bench, not begun, next: Weigh out Safe, tray 2 since" in words
    maker = sent.see("/whereabouts?q=01632+960+715", Role.MAKER).words
    assert "Nothing of a running order is found by this." in maker
    assert "Safe, tray 2" in sent.see("/whereabouts?q=tray+muller", Role.MAKER).words


@pytest.mark.parametrize("role", Role)
def test_anybody_moves_a_thing_in_one_step(sent: Sent, role: Role) -> None:
    answer = sent.put("", role)
    assert (answer.status, answer.by_id("f-place-wrong")) == (
        422,
        "Choose the place first, then press again.",
    )
    assert sent.put("99", role).by_id("f-place-wrong").startswith("The studio has no such place.")
    assert sent.put("1", role).status == 303
    assert sent.place() == "Safe, tray 2"


def test_a_slip_goes_out_is_printed_without_a_name_and_comes_back(sent: Sent) -> None:
    assert sent.slip(expected="35").status == 303
    with session(sent.house.engine) as book:
        (out,) = slips_out(book)
    assert (out.value_minor, out.weight_out_mg, out.expected_minor) == (12_000, 4_250, 3_500)
    assert "cost expected £35.00" in sent.see("/outwork").words
    assert "cost expected" not in sent.see("/outwork", Role.MAKER).words
    paper = sent.house.browse("GET", f"/outwork/{out.number}.pdf", Role.MAKER)
    told = " ".join(PdfReader(BytesIO(paper.content)).pages[0].extract_text().split())
    facts = ("Hale, setter", "Set the stone.", "4.25 g", "£120.00", "19 December 2099")
    for words in (out.number, sent.number, *facts):
        assert words in told.replace("\N{NO-BREAK SPACE}", " ")
    assert [word for word in ("Jorun", "Müller", "960 715") if word in told] == []
    bench = sent.see(f"/bench/{sent.ring}", Role.MAKER)
    assert "Out With Hale, setter since" in bench.words
    ticked = sent.send(f"/bench/{sent.ring}", f"/bench/{sent.ring}", {}, Role.MAKER, "Done, next")
    assert ticked.status == 409
    assert f"{sent.ring} is out with Hale, setter by slip {out.number}" in ticked.words
    back = f"/outwork/{out.number}/back"
    wrong = sent.send(
        "/outwork", back, {f"weight_g-{out.number}": "heavy", f"condition-{out.number}": "fine"}
    )
    assert wrong.status == 422
    assert wrong.form(back).fields[f"condition-{out.number}"] == "fine"
    typed = {f"weight_g-{out.number}": "4.2", f"cost-{out.number}": "36", f"place-{out.number}": "1"}
    assert sent.send("/outwork", back, typed).status == 303
    with session(sent.house.engine) as book:
        (done,) = slips_back(book)
    assert (done.weight_in_mg, done.cost_minor, sent.place()) == (4_200, 3_600, "Safe, tray 2")
    assert "0.05 g lighter" in sent.see("/outwork").words


def test_what_is_missing_on_a_slip_is_said_at_its_field_and_nothing_typed_is_lost(sent: Sent) -> None:
    answer = sent.slip(worker="", value="lots", due_on="", held_by="the courier")
    assert answer.status == 422
    assert answer.by_id("f-worker-new-wrong") == "The outside worker is not given yet."
    assert answer.by_id("f-due-on-new-wrong") == "The day it is due is not given yet."
    fields = answer.form("/outwork").fields
    assert (fields["value-new"], fields["held_by-new"]) == ("lots", "the courier")
    assert fields["thing-1"] == sent.ring
    assert "There is no order 1999-1." in sent.see("/outwork?order=1999-1").words


def test_outside_work_over_its_day_is_chased_from_in_hand(sent: Sent) -> None:
    before = clock.now() - timedelta(days=9)
    due_on = (clock.now() - timedelta(days=3)).date()
    with session(sent.house.engine) as book:
        sending = Sending((sent.ring,), 1, "Set the stone.", 12_000, due_on)
        send_out(book, number=sent.number, sending=sending, actor=PROGRAM, now=before)
    number = f"{sent.number}-w1"
    for role in (Role.COUNTER, Role.MAKER):
        shown = sent.see("/", role)
        assert f"Late Slip {number} is out with Hale, setter; it was due" in shown.words
        assert shown.link(f"Chase it: Jorun Müller, {sent.number}") == f"/outwork#slip-{number}"
    assert "One slip out of the house, one overdue" in sent.see("/outwork").words
    assert "Overdue 3 days, due" in sent.see("/outwork").words


def test_the_bench_says_where_a_ring_lies(sent: Sent) -> None:
    page = f"/bench/{sent.ring}"
    assert "Lies: Nobody has said where" in sent.see(page, Role.MAKER).words
    assert (
        sent.send(page, f"{page}/place", {}, Role.MAKER).by_id("f-place-wrong").startswith("Choose the place")
    )
    assert sent.send(page, f"{page}/place", {"place": "1"}, Role.MAKER).status == 303
    assert "Lies: Safe, tray 2, since" in sent.see(page, Role.MAKER).words


def test_the_lists_are_kept_and_a_name_stands_once(sent: Sent) -> None:
    lists = "/whereabouts/lists"
    wrong = sent.send(lists, "/whereabouts/places", {"place_name": "safe, tray 2"})
    assert wrong.by_id("f-place-name-wrong").startswith("There is another called")
    assert sent.send(lists, "/outwork/workers", {"worker_name": "Finch", "trade": "engraver"}).status == 303
    assert "Finch, engraver" in sent.see(lists).words
    assert sent.send(lists, "/outwork/workers/2/off", {}).status == 303
    assert sent.send(lists, "/whereabouts/places/1/off", {}).status == 303
    words = sent.see(lists).words
    assert "Finch" not in words
    assert "No place is named yet" in words
