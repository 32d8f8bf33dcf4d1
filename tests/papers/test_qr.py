import re

import pytest
import segno

from studio.papers.label import CODE_MM
from studio.papers.qr import LEAST_MODULE_MM, LOW_SHEET_CODE_MM, QUIET_MODULES, SHEET_CODE_MM, qr_code

ADDRESS = "http://127.0.0.1:8000/orders/2026-118?sheet=q1"
SIDES = (SHEET_CODE_MM, LOW_SHEET_CODE_MM, CODE_MM)


def modules_of(address: str, side_mm: float) -> int:
    """How many modules a side of the printed code has, without the quiet around them."""
    side = re.search(r'viewBox="0 0 (\d+) \1"', qr_code(address, "Opens the order", side_mm).markup)
    assert side is not None
    return int(side[1]) - 2 * QUIET_MODULES


def test_the_code_on_the_paper_is_the_code_of_the_address() -> None:
    markup = qr_code(ADDRESS, "Opens the order", CODE_MM).markup
    data = re.search(r' d="([^"]*)"', markup)
    assert data is not None
    dark = set()
    for x, y, run in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", data[1]):
        dark |= {(int(x) + step, int(y)) for step in range(int(run))}
    matrix = segno.make(ADDRESS, error="h", micro=False).matrix
    wanted = {
        (x + QUIET_MODULES, y + QUIET_MODULES)
        for y, row in enumerate(matrix)
        for x, module in enumerate(row)
        if module
    }
    assert dark == wanted


@pytest.mark.parametrize("side_mm", SIDES)
def test_the_code_is_quiet_all_round_and_large_enough_for_a_phone(side_mm: float) -> None:
    code = qr_code(ADDRESS, "Opens the order", side_mm)
    modules = len(segno.make(ADDRESS, error="h", micro=False).matrix) + 8
    assert f'viewBox="0 0 {modules} {modules}"' in code.markup
    assert QUIET_MODULES == 4
    assert side_mm / modules >= LEAST_MODULE_MM == 0.4
    assert code.width == code.height == side_mm
    assert f'width="{side_mm}mm"' in code.markup


@pytest.mark.parametrize(("signs", "level"), [(58, "h"), (125, "q"), (152, "m"), (250, "l"), (900, "l")])
def test_a_long_address_takes_less_correction_before_its_modules_grow_too_small(
    signs: int, level: str
) -> None:
    address = f"https://{'w' * (signs - 8)}"
    assert modules_of(address, 26.0) == len(segno.make(address, error=level, micro=False).matrix)


def test_a_label_with_quotes_stays_one_attribute() -> None:
    markup = qr_code(ADDRESS, 'Order "7" <now>', CODE_MM).markup
    assert 'aria-label="Order &quot;7&quot; &lt;now&gt;"' in markup
