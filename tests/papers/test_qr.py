import re

import segno

from studio.papers.qr import MODULE_MM, QUIET_MODULES, qr_code

ADDRESS = "http://127.0.0.1:8000/orders/2026-118"


def test_the_code_on_the_paper_is_the_code_of_the_address() -> None:
    markup = qr_code(ADDRESS, "Opens the order").markup
    data = re.search(r' d="([^"]*)"', markup)
    assert data is not None
    dark = set()
    for x, y, run in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", data[1]):
        dark |= {(int(x) + step, int(y)) for step in range(int(run))}
    matrix = segno.make(ADDRESS, error="m", micro=False).matrix
    wanted = {
        (x + QUIET_MODULES, y + QUIET_MODULES)
        for y, row in enumerate(matrix)
        for x, module in enumerate(row)
        if module
    }
    assert dark == wanted


def test_the_code_is_quiet_all_round_and_large_enough_for_a_phone() -> None:
    code = qr_code(ADDRESS, "Opens the order")
    modules = len(segno.make(ADDRESS, error="m", micro=False).matrix) + 8
    assert f'viewBox="0 0 {modules} {modules}"' in code.markup
    assert QUIET_MODULES == 4
    assert MODULE_MM >= 0.6
    assert code.width == round(modules * MODULE_MM, 2)
    assert f'width="{code.width}mm"' in code.markup


def test_a_label_with_quotes_stays_one_attribute() -> None:
    assert 'aria-label="Order &quot;7&quot; &lt;now&gt;"' in qr_code(ADDRESS, 'Order "7" <now>').markup
