"""Reading a drawing back: what stands in the SVG, measured as a reader of the SVG would measure it."""

import re
from collections.abc import Iterator
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree as ET

from studio.craft.designs import Design, Finger, Measured, Pattern, PatternWhen, Profile, System, design
from studio.craft.drawing import Svg
from studio.craft.drawing.type_widths import text_width
from studio.craft.reckonings import Reckoning, reckon

SVG = "{http://www.w3.org/2000/svg}"


def a_reckoning(
    profile: Profile = Profile.FLAT,
    width_mm: float = 6.0,
    thickness_mm: float = 1.6,
    *,
    circumference_mm: float = 55.625,
    alloy: str = "gold-750-yellow",
    **changes: Any,
) -> Reckoning:
    """A plain ring whose finger is exactly the ring's size, unless told otherwise."""
    finger = Finger(System.UK, "O½", circumference_mm, Measured.GAUGE, width_mm)
    made: Design = design(profile, width_mm, thickness_mm, alloy, **changes)
    return reckon(finger, replace(made, fit_mm=0.0))


def patterned(pattern: Pattern, **changes: Any) -> Reckoning:
    """A flat ring with a pattern put on the flat strip."""
    return a_reckoning(pattern=pattern, pattern_when=PatternWhen.FLAT, **changes)


def read(svg: Svg) -> ET.Element:
    """The drawing's root; a fault in the XML fails the test here."""
    return ET.fromstring(svg.markup)  # noqa: S314  our own drawing, no stranger's file


def part(root: ET.Element, name: str) -> ET.Element:
    """The one element that carries `data-part`."""
    found = [element for element in root.iter() if element.get("data-part") == name]
    assert len(found) == 1, name
    return found[0]


def number(element: ET.Element, name: str) -> float:
    return float(element.get(name, "nan"))


def corners(element: ET.Element) -> list[tuple[float, float]]:
    """The corners of a path of straight lines with places in full."""
    data = element.get("d", "")
    assert re.fullmatch(r"[MLZ\d.\- ]+", data), data[:80]
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", data)]


def breadth(places: list[tuple[float, float]]) -> float:
    return max(x for x, _ in places) - min(x for x, _ in places)


def height(places: list[tuple[float, float]]) -> float:
    return max(y for _, y in places) - min(y for _, y in places)


def enclosed(places: list[tuple[float, float]]) -> float:
    """Area within closed corners, whichever way they run."""
    around = zip(places, [*places[1:], places[0]], strict=True)
    return abs(sum(x * v - u * y for (x, y), (u, v) in around)) / 2


def words(root: ET.Element) -> list[str]:
    return [element.text or "" for element in root.iter(f"{SVG}text")]


def text_boxes(root: ET.Element) -> Iterator[tuple[str, float, float, float, float]]:
    """Every line of words with the box it takes: left, top, right, foot."""
    serif = {id(t) for g in root.iter() if "Serif" in g.get("font-family", "") for t in g.iter(f"{SVG}text")}
    for element in root.iter(f"{SVG}text"):
        said, size = element.text or "", number(element, "font-size")
        x, y = number(element, "x"), number(element, "y")
        long = text_width(said, size, int(element.get("font-weight", "400"))) * (
            1.06 if id(element) in serif else 1
        )
        share = {"middle": 0.5, "end": 1.0}.get(element.get("text-anchor", ""), 0.0)
        if "rotate" in element.get("transform", ""):
            yield said, x - 0.7 * size, y - long / 2, x + 0.2 * size, y + long / 2
        else:
            drop = 0.2 * size if set(said) & set("gjpqy,") else 0.01 * size
            yield said, x - share * long, y - 0.7 * size, x + (1 - share) * long, y + drop
