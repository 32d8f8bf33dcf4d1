"""Cutting plans beside their bound and first-fit: `python -m tests.benchmarks.cutting [--seeds 100]`.

Each row is one kind of set, tried on the seeds 1 to n within its time. The machine decides the seconds; a
plan that is through before its time is over is the same on every machine.
"""

import argparse
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from time import perf_counter

from studio.craft.cutting import first_fit, plan
from tests.cutting import KERF_UM, Set, check, one_width, several_widths, triplets, wire


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of set: how it is made from a seed, its time, and on how many of the seeds it is tried."""

    name: str
    make: Callable[[int], Set]
    seconds: float
    share: float = 1.0


ROWS = (
    Row("60 of one width", partial(one_width, 60), 1.0),
    Row("60 wires", partial(wire, 60), 1.0),
    Row("15 of several widths on 8 pieces", partial(several_widths, 15, 8), 2.0),
    Row("20 of several widths on 20 pieces", partial(several_widths, 20, 20, share=3.0), 2.0),
    Row("60 of several widths on 20 pieces", partial(several_widths, 60, 20), 10.0, 0.1),
    Row("1,000 of one width", partial(one_width, 1000), 10.0, 0.05),
    Row("1,000 of several widths on 40 pieces", partial(several_widths, 1000, 40), 10.0, 0.05),
    Row("triplets, 60", partial(triplets, 60), 5.0, 0.1),
    Row("triplets, 120", partial(triplets, 120), 5.0, 0.1),
    Row("triplets, 249", partial(triplets, 249), 5.0, 0.1),
)


@dataclass(frozen=True, slots=True)
class Tried:
    """What one plan came to."""

    seed: int
    is_proved: bool
    opened_mm2: float
    bound_mm2: float
    first_fit_mm2: float
    gap: float
    seconds: float


def tried(row: Row, seed: int) -> Tried:
    """Plan one set, and look at the plan."""
    stock, blanks = row.make(seed)
    began = perf_counter()
    made = plan(stock, blanks, KERF_UM, seconds=row.seconds)
    took = perf_counter() - began
    check(made, stock, blanks, KERF_UM)
    plain = first_fit(stock, blanks, KERF_UM)
    opened, bound = made.opened_area_um2 / 1e6, made.bound_area_um2 / 1e6
    return Tried(seed, made.is_proved, opened, bound, plain.opened_area_um2 / 1e6, made.gap, took)


def told(row: Row, found: Sequence[Tried]) -> str:
    """One line of the table."""
    within = sum(one.is_proved and one.seconds <= row.seconds for one in found)
    opened = sum(one.opened_mm2 for one in found) / len(found)
    plain = sum(one.first_fit_mm2 for one in found) / len(found)
    bound = sum(one.bound_mm2 for one in found) / len(found)
    largest = max(one.gap for one in found)
    times = sorted(one.seconds for one in found)
    cells = (
        row.name, f"{row.seconds:g} s", f"{within} of {len(found)}", f"{opened:,.0f}", f"{bound:,.0f}",
        f"{plain:,.0f}", f"{largest:.2%}", f"{times[len(times) // 2]:.2f}", f"{times[-1]:.2f}",
    )  # fmt: skip
    return f"| {' | '.join(cells)} |"


def main(given: Sequence[str] | None = None) -> None:
    """Try every kind of set and print the table; with --every also each seed."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks.cutting", description=main.__doc__)
    parser.add_argument("--seeds", type=int, default=100)
    parser.add_argument("--only", default="", help="only rows whose name holds this")
    parser.add_argument("--every", action="store_true")
    asked = parser.parse_args(given)
    head = (
        "| set | time | proved within | opened mm² | bound | first-fit | largest gap | median s | longest |"
    )
    print(head + "\n" + "|---" * 9 + "|")  # noqa: T201  a command prints
    for row in ROWS:
        if asked.only not in row.name:
            continue
        found = []
        for seed in range(1, max(1, round(asked.seeds * row.share)) + 1):
            found.append(tried(row, seed))
            if asked.every:
                print(f"{row.name}: {found[-1]}")  # noqa: T201  as above
        print(told(row, found), flush=True)  # noqa: T201  as above


if __name__ == "__main__":
    main()
