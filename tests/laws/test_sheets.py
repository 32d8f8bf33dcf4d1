"""Every design that is accepted has a bench sheet, whatever was typed beside it, and no letter is missing.

A letter that no font has is drawn as the glyph .notdef, which spoils what is read aloud; the printer says so
in its log.
"""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import cycle

from hypothesis import given, settings
from hypothesis import strategies as st

from studio.craft.alloys import ALLOYS
from studio.craft.designs import (
    WIRE_PROFILES,
    Design,
    Finger,
    Pattern,
    PatternWhen,
    Profile,
    design,
)
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import reckon
from studio.craft.route import route
from studio.papers.bench_sheet import bench_sheets
from studio.papers.printing import printed
from studio.papers.render import print_markup
from tests.builders import a_finger
from tests.papers.printed import text_of
from tests.papers.sheets import a_ring
from tests.strategies import designs, whole_fingers

TYPED = st.text(max_size=30) | st.sampled_from(
    ("Łukasz Ωμέγα", "Ünal Şahin", "💍 Ring", "王小明", "\0\ufffe")
)


class _MissingLetters(logging.Handler):
    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.said: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if ".notdef" in record.getMessage():
            self.said.append(record.getMessage())


@contextmanager
def missing_letters() -> Iterator[list[str]]:
    """What the printer says of letters it could not print."""
    heard, log = _MissingLetters(), logging.getLogger("weasyprint")
    log.addHandler(heard)
    try:
        yield heard.said
    finally:
        log.removeHandler(heard)


def test_a_missing_letter_would_be_heard_of() -> None:
    for letter, is_missing in (("\U0010fffd", True), ("é", False)):
        body = f'<html lang="en"><title>A letter</title><body><p>Ring {letter}</p></body></html>'
        with missing_letters() as said:
            print_markup([body], [], title="A letter")
        assert bool(said) is is_missing


def test_a_sheet_of_every_section_and_pattern_has_all_its_letters() -> None:
    faces: list[tuple[Pattern, PatternWhen | None]] = [
        (pattern, when) for pattern in (Pattern.HAMMERED, Pattern.STAMPED) for when in PatternWhen
    ]
    faces += [(Pattern.PLAIN, None), (Pattern.ROLLED, PatternWhen.FLAT)]
    made = []
    for profile, (pattern, when), alloy in zip(
        Profile, cycle(faces), cycle(sorted(ALLOYS)[::5]), strict=False
    ):
        thick = None if profile in WIRE_PROFILES else 1.6
        chosen = design(profile, 2 if thick is None else 5, thick, alloy, pattern=pattern, pattern_when=when)
        made.append(reckon(a_finger(), chosen))
    with missing_letters() as said:
        words = text_of(printed(bench_sheets([a_ring(found) for found in made], title="Bench sheets")))
    assert said == []
    assert len(made) == len(Profile)
    for found in made:
        assert all(step.name in words for step in route(found))
        assert PROFILE_NAMES[found.design.profile] in words.lower()


@settings(max_examples=8)  # a sheet takes most of a second
@given(whole_fingers(), designs(), TYPED, TYPED)
def test_every_design_has_a_sheet_on_which_no_letter_is_missing(
    finger: Finger, chosen: Design, customer: str, note: str
) -> None:
    found = reckon(finger, chosen)
    ring = a_ring(found, customer=customer, note=note, reasons={"narrow-gauge": note})
    with missing_letters() as said:
        words = text_of(printed(bench_sheets([ring], title="Bench sheet")))
    assert said == []
    assert "2026-118" in words
    assert all(step.name in words for step in route(found))
