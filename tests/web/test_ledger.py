"""The metal ledger on its pages: written by hand, corrected, counted, refined, and as CSV."""

import csv
import io

import pytest

from studio.book.ledger_reads import ledger_balances, ledger_lines
from studio.book.people import PROGRAM
from studio.book.pieces import PieceDraft, put_piece, take_out
from studio.craft.chain import head_words
from studio.craft.drawer import Measures, PieceKind
from studio.craft.ledger import Account, Pot
from studio.craft.roles import Role
from tests.builders import NOW
from tests.web.house import House
from tests.web.morning import Morning, a_morning

SILVER = "silver-925"
HERE = "/metal/ledger/2026-11"
SHEET = Measures(PieceKind.SHEET, SILVER, 198, 24, 1.5)


@pytest.fixture
def morning(house: House, monkeypatch: pytest.MonkeyPatch) -> Morning:
    """A book with a piece in the drawer and 73.8 g in the scrap box."""
    found = a_morning(house, monkeypatch)
    with found.book() as book:
        put_piece(book, piece=PieceDraft(SHEET, lot="A-77"), actor=PROGRAM, now=NOW)
        old = put_piece(book, piece=PieceDraft(SHEET, mass_g=73.8), actor=PROGRAM, now=NOW)
        take_out(book, piece_id=old.id, why="=1+1", to=Account.SCRAP, version=1, actor=PROGRAM, now=NOW)
    return found


def held(morning: Morning, account: Account) -> int:
    with morning.book() as book:
        return ledger_balances(book).get(Pot(account, SILVER), 0)


def test_a_movement_is_written_down_once_refused_with_what_was_typed_and_taken_back(morning: Morning) -> None:
    form = morning.see(HERE).form("/metal/movements")
    typed = {"what": "issued to the bench", "alloy": SILVER, "mass": "74 g", "note": "to cast"}
    status, _, page = morning.send("/metal/movements", form.filled(**typed))
    assert (status, page.form("/metal/movements").fields["mass"]) == (422, "74 g")
    assert "73.8" in page.words
    sent = form.filled(**typed | {"mass": "3.8"})
    assert [morning.send("/metal/movements", sent)[0] for _ in range(2)] == [303, 303]
    assert (held(morning, Account.BENCH), held(morning, Account.SCRAP)) == (3_800, 70_000)
    back = "/metal/movements/4/correction"
    form = morning.see(HERE).form(back)
    assert morning.send(back, form.filled())[0] == 422
    assert morning.send(back, form.filled(**{"why-4": "not cast"}))[0] == 303
    assert held(morning, Account.BENCH) == 0
    assert "takes back 4" in morning.see(HERE).words


def test_the_csv_has_every_row_with_its_hash_and_runs_no_formula(morning: Morning) -> None:
    _, _, sent = morning.fetch(f"{HERE}.csv", Role.MAKER)
    rows = list(csv.DictReader(io.StringIO(sent.decode("utf-8-sig"))))
    assert [(row["what"], row["g"], row["fine g"]) for row in rows] == [
        ("bought", "73.846", "68.307"),
        ("bought", "73.800", "68.265"),
        ("taken out of the drawer", "73.800", "68.265"),
    ]
    assert rows[-1]["note"] == "'=1+1"
    assert rows[-1]["from piece"] == "S-002"
    with morning.book() as book:
        assert [row["hash"] for row in rows] == [line.hash for line in ledger_lines(book)]
    head = head_words(rows[-1]["hash"])
    for page in (HERE, "/studio/months/2026-11"):
        assert f"Row 3, Wed 25 Nov 2026, 10:00: {head}" in morning.see(page).words
    found = [morning.fetch(f"/metal/ledger{rest}")[0] for rest in ("/2026-13", "/2026", "")]
    assert found == [404, 200, 200]


def test_a_difference_of_the_stock_take_wants_its_reason_beside_its_field(morning: Morning) -> None:
    form = morning.see("/metal/count", Role.MAKER).form("/metal/count")
    typed = {"piece-1.mass": "73.5", "scrap-silver-925.mass": "73.8"}
    status, _, page = morning.send("/metal/count", form.filled(**typed), Role.MAKER)
    assert status == 422
    assert page.form("/metal/count").fields["piece-1.mass"] == "73.5"
    assert "S-001: The reason is not given yet." in page.words
    sent = form.filled(**typed | {"piece-1.reason": "weighed on the new scales"})
    assert morning.send("/metal/count", sent, Role.MAKER)[0] == 303
    assert held(morning, Account.DIFFERENCE) == 346
    assert "weighed on the new scales" in morning.see("/metal/pieces/1").words
    assert morning.fetch(f"/metal/pieces/{10**12}")[0] == 404


def test_a_lot_goes_to_the_refiner_and_comes_back_beside_what_was_expected(morning: Morning) -> None:
    form = morning.see("/metal/refiner").form("/metal/refiner")
    typed = {"refiner": "Crucible and Sons", "alloy": SILVER, "mass": "40"}
    assert morning.send("/metal/refiner", form.filled(**typed))[0] == 303
    form = morning.see("/metal/refiner").form("/metal/refiner/1")
    said = {"assay-1": "921", "paid_fine-1": "35.52", "charges-1": "4.50", "paid-1": "26.10"}
    status, _, page = morning.send("/metal/refiner/1", form.filled(**said | {"assay-1": "good"}))
    assert (status, page.form("/metal/refiner/1").fields["paid_fine-1"]) == (422, "35.52")
    assert morning.send("/metal/refiner/1", form.filled(**said))[0] == 303
    words = morning.see("/metal/refiner").words
    assert "35.890" in words  # 40 g of 925 are 37 g fine, of which 97 % are expected
    assert "-0.370 (-1.03 %) £26.10 paid, £0.32 less than expected" in words


def test_who_takes_a_piece_out_says_where_its_metal_went(morning: Morning) -> None:
    form = morning.see("/metal").form("/metal/1/out")
    bad = form.filled(**{"why-1": "cast", "to-1": "bench", "ring-1": "2026-999/1"})
    assert morning.send("/metal/1/out", bad)[0] == 422
    assert morning.send("/metal/1/out", form.filled(**{"why-1": "sold", "to-1": "sold"}))[0] == 303
    assert held(morning, Account.SOLD) == 73_846
