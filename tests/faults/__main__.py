"""The long proof: `python -m tests.faults --rounds 300 --orders 1000`, also `--database postgresql`."""

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path

from studio.craft.roles import Role
from tests.faults.crowds import take_at_once
from tests.faults.kills import half_saved, kill_in_rounds
from tests.postgresql.both import POSTGRESQL, SQLITE
from tests.postgresql.server import a_server
from tests.running import a_served_book
from tests.web.house import file_url, make_book

AddressOf = Callable[[Path], str]
"""The address of a new book for a folder."""


def main() -> None:
    """Kill the server under load, then let eight clients order at once; leave with 1 if anything is amiss."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=main.__doc__)
    parser.add_argument("--rounds", type=int, default=300, help="how often the server is killed")
    parser.add_argument("--orders", type=int, default=1000, help="orders from eight clients, in eights")
    parser.add_argument("--seed", type=int, default=11, help="chooses the moments of the kills")
    parser.add_argument(
        "--database", choices=(SQLITE, POSTGRESQL), default=SQLITE, help="where the book lies"
    )
    parser.add_argument("--processes", type=int, default=1, help="how many serve the eight clients")
    asked = parser.parse_args()
    with _addresses(asked.database) as address_of:
        amiss = _kills(address_of, asked.rounds, asked.seed)
        amiss += _crowd(address_of, asked.orders, asked.processes)
    for line in amiss:
        say(line)
    sys.exit(1 if amiss else 0)


@contextmanager
def _addresses(database: str) -> Iterator[AddressOf]:
    if database == SQLITE:
        yield file_url
        return
    with a_server() as server:
        yield lambda home: server.make(home.name)


def _kills(address_of: AddressOf, rounds: int, seed: int) -> tuple[str, ...]:
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        home, url = Path(folder), address_of(Path(folder))
        tokens, _ = make_book(home, url)
        toll = kill_in_rounds(home, url, tokens[Role.OWNER], rounds=rounds, seed=seed)
    say(
        f"{toll.rounds} kills, {toll.saves} acknowledged saves, {toll.cut_short} cut short, "
        f"{toll.sent_again} sent again: lost {len(toll.lost)}, half-saved {len(toll.half_saved)} "
        f"({time.monotonic() - started:.0f} s)"
    )
    return (*toll.lost, *toll.half_saved)


def _crowd(address_of: AddressOf, orders: int, processes: int) -> tuple[str, ...]:
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        url = address_of(Path(folder))
        tokens, _ = make_book(Path(folder), url)
        with ExitStack() as served:
            homes = [Path(folder, f"process-{turn}") for turn in range(processes)]
            for home in homes:
                home.mkdir()
            doors = [served.enter_context(a_served_book(home, url)).base_url for home in homes]
            numbers = take_at_once(doors, tokens[Role.OWNER], orders=orders)
        halves = half_saved(url)
    doubles = len(numbers) - len(set(numbers))
    gaps = len(set(range(1, max(numbers, default=0) + 1)) - set(numbers))
    say(
        f"{len(numbers)} orders from eight clients: gaps {gaps}, doubles {doubles}, half-saved {len(halves)} "
        f"({time.monotonic() - started:.0f} s)"
    )
    amiss = [f"{gaps} gaps and {doubles} doubles"] if gaps or doubles else []
    return (*amiss, *halves)


def say(line: str) -> None:
    """One line to whoever waits."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
