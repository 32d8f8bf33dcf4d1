"""The long proof: `python -m tests.faults --rounds 300 --orders 1000`."""

import argparse
import sys
import tempfile
import time
from pathlib import Path

from studio.craft.roles import Role
from tests.faults.crowds import take_at_once
from tests.faults.kills import half_saved, kill_in_rounds
from tests.running import a_served_book
from tests.web.house import file_url, make_book


def main() -> None:
    """Kill the server under load, then let eight clients order at once; leave with 1 if anything is amiss."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=main.__doc__)
    parser.add_argument("--rounds", type=int, default=300, help="how often the server is killed")
    parser.add_argument("--orders", type=int, default=1000, help="orders from eight clients, in eights")
    parser.add_argument("--seed", type=int, default=11, help="chooses the moments of the kills")
    asked = parser.parse_args()
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        home, url = Path(folder), file_url(Path(folder))
        tokens, _ = make_book(home)
        toll = kill_in_rounds(home, url, tokens[Role.OWNER], rounds=asked.rounds, seed=asked.seed)
    say(
        f"{toll.rounds} kills, {toll.saves} acknowledged saves, {toll.cut_short} cut short, "
        f"{toll.sent_again} sent again: lost {len(toll.lost)}, half-saved {len(toll.half_saved)} "
        f"({time.monotonic() - started:.0f} s)"
    )
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        home = Path(folder)
        tokens, _ = make_book(home)
        with a_served_book(home) as served:
            numbers = take_at_once([served.base_url], tokens[Role.OWNER], orders=asked.orders)
        halves = half_saved(file_url(home))
    doubles = len(numbers) - len(set(numbers))
    gaps = len(set(range(1, max(numbers, default=0) + 1)) - set(numbers))
    say(
        f"{len(numbers)} orders from eight clients: gaps {gaps}, doubles {doubles}, half-saved {len(halves)} "
        f"({time.monotonic() - started:.0f} s)"
    )
    for line in (*toll.lost, *toll.half_saved, *halves):
        say(line)
    sys.exit(1 if toll.lost or toll.half_saved or halves or gaps or doubles else 0)


def say(line: str) -> None:
    """One line to whoever waits."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
