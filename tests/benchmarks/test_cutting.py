"""The command tries its sets, looks at each plan and prints a line; how fast is for the machine to say."""

import re

import pytest

from tests.benchmarks.cutting import main


def test_the_command_prints_opened_area_bound_first_fit_and_the_share_proved(
    capsys: pytest.CaptureFixture[str],
) -> None:
    main(["--seeds", "2", "--only", "15 of several"])
    line = re.compile(
        r"\| 15 of several widths on 8 pieces \| 2 s \| ([0-2]) of 2 \| ([\d,]+) \| ([\d,]+) \| ([\d,]+) \|"
        r" [\d.]+% \| [\d.]+ \| [\d.]+ \|"
    )
    found = [match for told in capsys.readouterr().out.splitlines() if (match := line.fullmatch(told))]
    assert len(found) == 1
    opened, bound, plain = (int(cell.replace(",", "")) for cell in found[0].groups()[1:])
    assert 0 < bound <= opened <= plain
