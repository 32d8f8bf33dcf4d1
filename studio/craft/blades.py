"""Saw blades by their number, and what one cut of each takes.

Thicknesses by a chart of saw blades in thousandths of an inch (it misprints the mm of 3/0 and of 3, which are
not taken over); 8/0 and 7/0 from memory. A cut is a tenth wider than its blade: common practice, no source.
"""

_INCH_MM = 25.4
_WIDER = 1.1
THOUSANDTHS_IN = {
    "8/0": 6.3, "7/0": 6.7, "6/0": 7.0, "5/0": 8.0, "4/0": 8.6, "3/0": 9.5, "2/0": 10.3, "1/0": 11.0,
    "1": 12.0, "2": 13.4, "3": 14.0, "4": 15.0, "6": 17.3,
}  # fmt: skip
"""Thickness of each blade in thousandths of an inch, the finest first."""


def kerf_mm(blade: str) -> float:
    """What one cut takes, to 0.01 mm. 1/0: 0.31; 4/0: 0.24. Raises `KeyError` for no such blade."""
    return round(THOUSANDTHS_IN[blade] / 1000 * _INCH_MM * _WIDER, 2)
