"""The command measures and prints; whether an aim is reached is for the machine it runs on to say."""

import re

import pytest

from tests.benchmarks.__main__ import main
from tests.benchmarks.aims import Figures, aims
from tests.benchmarks.asked import Asked
from tests.benchmarks.load import Load
from tests.benchmarks.page_rates import Rate


def test_the_command_prints_one_table_that_ends_with_the_aims(capsys: pytest.CaptureFixture[str]) -> None:
    given = "--only live --books sqlite --orders 100 --seconds 1 --processes 1 --connections 2"
    main(given.split(" "))
    told = capsys.readouterr().out.splitlines()
    live = ("| counter figures |", "| API reckoning |")
    rows = [line.split(" | ") for line in told if line.startswith(live)]
    assert [row[1:5] for row in rows] == [["SQLite", "100", "1", "2"]] * 2
    for row in rows:
        assert all(float(cell) > 0 for cell in row[5:11]), row
    aim = re.compile(r"\| API reckoning: at least 0\.6 .* \| least \d\.\d\d \| (yes|no) \|")
    assert any(aim.fullmatch(line) for line in told)
    assert "| serve answers within 2 s | not measured | – |" in told


def rate(orders: int, p50_ms: float, p99_ms: float, share: float, connections: int = 8) -> Rate:
    floor = Load(1000, 1000.0, 1.0, 2.0)
    load = Load(1000, 1000.0 * share, p50_ms, p99_ms)
    return Rate(Asked("list page", "/orders"), "SQLite", orders, 1, connections, load, floor)


@pytest.mark.parametrize(
    ("large", "reached"),
    [((10.0, 19.0, 0.15), [True, True, True]), ((12.0, 24.0, 0.14), [False, False, False])],
    ids=["just reached", "just missed"],
)
def test_an_aim_is_reached_or_not_by_its_figure(
    large: tuple[float, float, float], reached: list[bool]
) -> None:
    found = Figures(rates=[rate(1_000, 10.0, 30.0, 0.1), rate(100_000, *large)])
    told = [aim for aim in aims(found) if aim.says.startswith("list page")]
    assert [aim.is_reached for aim in told] == reached


def test_what_was_not_measured_is_neither_reached_nor_missed() -> None:
    assert {aim.is_reached for aim in aims(Figures())} == {None}
