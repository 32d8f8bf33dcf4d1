"""Clients that save as fast as they are answered, and remember what they were told is saved."""

import threading
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import httpx

from tests.web.house import a_ring, an_order


@dataclass(frozen=True, slots=True)
class Stage:
    """How an order stands after one save. Note and version change together: one alone would be half."""

    version: int
    note: str
    state: str


def stages(name: str, *, is_called_off: bool) -> tuple[Stage, ...]:
    """The saves an order called `name` goes through: taken, changed, and for some called off."""
    taken, changed = Stage(1, f"{name} taken", "draft"), Stage(2, f"{name} changed", "draft")
    return (taken, changed, Stage(3, changed.note, "called off")) if is_called_off else (taken, changed)


@dataclass(slots=True)
class Saved:
    """An order that a client was told is saved: how it stood by the last answer, and what was asked next."""

    number: str
    stands: Stage
    asked: Stage | None = None


@dataclass(frozen=True, slots=True)
class Unanswered:
    """An order sent of which no answer came; it may be sent again under its key."""

    key: str
    body: Mapping[str, Any]


@dataclass(slots=True)
class Ledger:
    """What the clients were told. `saves` counts the answers that said 'saved'."""

    orders: dict[str, Saved] = field(default_factory=dict)
    unanswered: list[Unanswered] = field(default_factory=list)
    refused: list[str] = field(default_factory=list)
    saves: int = 0
    turn: threading.Condition = field(default_factory=threading.Condition)

    def took(self, name: str, number: str, stage: Stage) -> None:
        """An order was taken."""
        with self.turn:
            self.orders[name] = Saved(number, stage)
            self._count()

    def went_on(self, name: str, stage: Stage) -> None:
        """A further save of an order was answered."""
        with self.turn:
            self.orders[name].stands, self.orders[name].asked = stage, None
            self._count()

    def wait_for(self, saves: int, *, seconds: float = 60) -> None:
        """Wait until so many saves were answered; an answer that refused one ends the waiting too."""
        with self.turn:
            assert self.turn.wait_for(lambda: self.saves >= saves or self.refused, seconds), self.saves

    def _count(self) -> None:
        self.saves += 1
        self.turn.notify_all()


def two_rings(note: str) -> dict[str, Any]:
    """The order as it is sent: two rings, so that half of it would be seen."""
    return an_order(note=note, rings=[a_ring(), a_ring(width=5, finger={"size": "R"})])


def keep_saving(name: str, base_url: str, token: str, ledger: Ledger, orders: int | None = None) -> None:
    """Take orders and change them, `orders` of them or until the server is gone."""
    with httpx.Client(base_url=base_url, headers={"authorization": f"Bearer {token}"}, timeout=60) as api:
        for serial in _count_to(orders):
            try:
                _one_order(api, ledger, f"{name}.{serial}", is_called_off=serial % 2 == 0)
            except httpx.TransportError:
                return
            if ledger.refused:
                return


def _one_order(api: httpx.Client, ledger: Ledger, name: str, *, is_called_off: bool) -> None:
    taken, changed, *called_off = stages(name, is_called_off=is_called_off)
    sent = Unanswered(name, two_rings(taken.note))
    try:
        answer = api.post("/api/orders", json=sent.body, headers={"idempotency-key": sent.key})
    except httpx.TransportError:
        ledger.unanswered.append(sent)
        raise
    if not _is_saved(answer, 201, ledger):
        return
    address = answer.headers["location"]
    ledger.took(name, answer.json()["number"], taken)
    ledger.orders[name].asked = changed
    answer = api.patch(address, json={"version": taken.version, "note": changed.note})
    if not _is_saved(answer, 200, ledger):
        return
    ledger.went_on(name, changed)
    for last in called_off:
        ledger.orders[name].asked = last
        move = {"version": changed.version, "to": last.state, "reason": "moved abroad"}
        answer = api.post(f"{address}/moves", json=move, headers={"idempotency-key": f"{name}-off"})
        if not _is_saved(answer, 200, ledger):
            return
        ledger.went_on(name, last)


def _is_saved(answer: httpx.Response, status: int, ledger: Ledger) -> bool:
    if answer.status_code != status:
        with ledger.turn:
            ledger.refused.append(f"{answer.status_code} {answer.text}")
            ledger.turn.notify_all()
    return answer.status_code == status


def _count_to(orders: int | None) -> Iterator[int]:
    serial = 0
    while orders is None or serial < orders:
        serial += 1
        yield serial


@contextmanager
def clients(
    names: Mapping[str, str], base_url: str, ledger: Ledger, orders: int | None = None
) -> Iterator[None]:
    """Clients at work, by name and token; leaving waits for each to be done or to find the server gone."""
    threads = [
        threading.Thread(target=keep_saving, args=(name, base_url, token, ledger, orders))
        for name, token in names.items()
    ]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        for thread in threads:
            thread.join()
