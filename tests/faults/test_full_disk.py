"""A disk without room: saving is refused in a sentence, nothing saved is lost, and reading goes on."""

from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from studio.craft.roles import Role
from studio.serving import ADDRESS_FILE
from tests.faults.disks import Disk, a_full_server, a_limited_book, a_small_disk, may_mount
from tests.faults.load import two_rings
from tests.quoting import PDF
from tests.running import a_served_book
from tests.web.house import Fresh, a_house, make_book

OF_ANY_MACHINE = ("a limit of pages", "a server without room")
WAYS = (*OF_ANY_MACHINE, "a small disk") if may_mount() else OF_ANY_MACHINE
"""A machine that lets nobody mount a disk is tested by what the databases themselves say of a full one."""
SENTENCE = "The disk that keeps the book is full, so nothing was saved. Reading goes on."
MOST_UNTIL_FULL = 400
"""Orders that find room in the pages the book holds already, at the very most."""
READ = ("/", "/orders", "/orders/new", "/customers", "/week", "/studio", "/api/orders")


@pytest.fixture(params=WAYS)
def disk(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Disk]:
    if request.param == "a small disk":
        with a_small_disk(tmp_path) as small:
            yield small
    elif request.param == "a server without room":
        copies, known = request.getfixturevalue("made_copies")
        with (
            copies.lent() as url,
            a_house(tmp_path, Fresh(url, *known)) as house,
            a_full_server(house) as full,
        ):
            yield full
    else:
        with a_limited_book(request.getfixturevalue("house")) as limited:
            yield limited


def take_until_full(disk: Disk) -> list[str]:
    """The numbers of the orders that were still taken; the next one was refused in the right words."""
    taken: list[str] = []
    for serial in range(MOST_UNTIL_FULL):
        answer = disk.program.post("/api/orders", json=two_rings(f"w{serial} taken"))
        if answer.status_code != 201:
            assert answer.status_code == 507, answer.text
            assert answer.json() == {"errors": [{"field": None, "message": SENTENCE}]}
            return taken
        taken.append(answer.json()["number"])
    raise AssertionError("the disk never filled up")


def test_a_server_starts_though_it_cannot_write_down_where_it_is(tmp_path: Path) -> None:
    tokens, _ = make_book(tmp_path)
    (tmp_path / ADDRESS_FILE).mkdir()  # no more to be written than a file on a full disk
    with a_served_book(tmp_path) as served:
        signed = {"authorization": f"Bearer {tokens[Role.MAKER]}"}
        assert httpx.get(f"{served.base_url}/api/orders", headers=signed, timeout=60).status_code == 200


def numbers(disk: Disk) -> set[str]:
    return {line["number"] for line in disk.program.get("/api/orders?limit=200").json()["items"]}


def test_a_full_disk_is_told_on_a_clear_page_and_nothing_is_lost(disk: Disk, tmp_path: Path) -> None:
    quoted = disk.quote.partition("-q")[0]
    before = [disk.program.post("/api/orders", json=two_rings(f"b{one} taken")).json() for one in range(3)]
    disk.fill()
    taken = [one["number"] for one in before] + take_until_full(disk)

    # The desk hears the same as a program, on a page.
    plan = {"version": "1", "note": "x" * 3_900, "bench_on": ""}
    shown = disk.browser.post(f"/orders/{taken[0]}/plan", data=plan)
    assert shown.status_code == 507
    assert "The disk is full" in shown.text
    assert SENTENCE in shown.text

    # Who looks was away for an hour: that they are back cannot be written down, and they read all the same.
    assert {path: disk.browser.get(path).status_code for path in READ} == dict.fromkeys(READ, 200)
    assert disk.browser.get(f"/orders/{taken[-1]}").status_code == 200
    assert numbers(disk) == {quoted, *taken}

    # A paper issued before is given out as it stands, and a sheet for the bench is printed.
    assert disk.browser.get(f"/quotes/{disk.quote}.pdf").content == PDF
    sheet = disk.browser.get(f"/orders/{quoted}/bench-sheet.pdf")
    assert (sheet.status_code, sheet.content[:5]) == (200, b"%PDF-")

    copies = tmp_path / "copies"
    copies.mkdir()
    assert disk.half_saved(copies) == ()

    # With room again, saving goes on where it stopped: no number was used up by what was refused.
    disk.empty()
    after = disk.program.post("/api/orders", json=two_rings("a1 taken"))
    assert after.status_code == 201
    assert after.json()["number"] == f"{taken[0].partition('-')[0]}-{len(taken) + 2}"
