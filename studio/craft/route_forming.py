"""The operations of an anticlastic band alone: a copper trial, then course after course."""

import math

from studio.craft.anticlastic import Groove
from studio.craft.cautions import Caution
from studio.craft.designs import Pattern
from studio.craft.operations import (
    Does,
    Measure,
    Operation,
    acid,
    after_fire,
    fire,
    is_pickled,
    torch,
    what_it_does,
)
from studio.craft.reckonings import Reckoning
from studio.craft.route_closing import heat_figures
from studio.craft.working import Input

COURSE_STRAIN_PERCENT = 3.0
FEWEST_COURSES, MOST_COURSES = 3, 6
"""A course takes about so much of the edges' strain; a ring has three to six: common practice, no source."""


def trial(reckoning: Reckoning) -> Operation | None:
    """Where nobody can say closely enough how far the waist draws in, a piece of copper can."""
    formed = reckoning.form
    if formed is None or not formed.wants_copper_trial:
        return None
    return Operation(
        "trial",
        "Make a trial",
        f"in copper, same strip and groove: its waist may come out up to {formed.shift_mm:.2f} smaller"
        " round.",
        measure=Measure("its waist", "mm"),
        does=what_it_does(Does.TRIES),
        why="How far the waist draws in nobody has published, and here it may be more than a quarter US"
        " size.",
        figures=(Input("range of the waist", round(formed.shift_mm, 3), "mm"),),
        tools=("copper strip", "groove or sinusoidal stake", "plastic mallet"),
        check="Its waist is written down: the strip of the ring is cut by it.",
    )


def courses_of(strain_percent: float) -> int:
    """How many courses the edges are sunk in: one for each 3 % they stretch, three at least, six at most.

    7.3 % longer than the waist: 3. 15 %: 5.
    """
    return min(MOST_COURSES, max(FEWEST_COURSES, math.ceil(strain_percent / COURSE_STRAIN_PERCENT)))


def form(reckoning: Reckoning) -> tuple[Operation, ...]:
    """Each course with the annealing before it, in order; nothing for a band.

    Closing and rounding up harden the metal, and so does every course. Sunk from both edges by turns, the
    waist stays in the middle.
    """
    formed = reckoning.form
    if formed is None:
        return ()
    count = courses_of(formed.edge_strain_percent)
    is_patterned = reckoning.design.pattern is not Pattern.PLAIN
    return tuple(
        operation
        for course in range(1, count + 1)
        for operation in (
            _anneal(reckoning, course, count),
            _course(formed.groove, course, count, is_patterned=is_patterned),
        )
    )


def _key(word: str, course: int) -> str:
    return word if course == 1 else f"{word}-{course}"


def _anneal(reckoning: Reckoning, course: int, count: int) -> Operation:
    alloy = reckoning.alloy
    return Operation(
        _key("anneal-form", course),
        "Anneal again,",
        f"{alloy.anneal.sign}, away from the seam. {after_fire(alloy)}",
        (torch(alloy), Caution.HOT, *acid(alloy)),
        does=what_it_does(Does.ANNEALS) | fire(alloy),
        why="What came before has hardened the metal, and hard edges crack before they stretch.",
        figures=heat_figures(reckoning),
        tools=("torch", "soldering block"),
        check=f"Before course {course} of {count}: no crack at the edges, the seam whole.",
        also=() if is_pickled(alloy) else (Caution.NO_PICKLE, Caution.DARK_GLASSES),
        course=course,
        row="anneal-form",
    )


def _course(groove: Groove, course: int, count: int, *, is_patterned: bool) -> Operation:
    text = (
        f"in {count} courses, annealed before each: radius {groove.radius_mm:.1f}, both edges by turns and"
        f" all round, until they stand {groove.rise_mm:.2f} over the waist, {groove.finished_width_mm:.2f}"
        " wide."
    )
    rise_mm = groove.rise_mm * course / count
    if course > 1:
        text = (
            f"course {course} of {count}, both edges by turns, until they stand {rise_mm:.2f} over the waist."
        )
    hammer = "plastic mallet" if is_patterned else "cross-peen hammer, plastic on steel or steel on plastic"
    spared = " The pattern is not flattened." if is_patterned else ""
    last = "The waist is in the middle and round, the edges stand alike; planish with light blows."
    return Operation(
        _key("form", course),
        "Sink over the groove,",
        text,
        (Caution.BLOWS,),
        Measure("waist", "mm"),
        what_it_does(Does.FORMS),
        "The edges must grow longer than the waist; a little in each course, in overlapping rows, so"
        " none tears.",
        (
            Input("course", course, f"of {count}"),
            Input("radius of the groove", round(groove.radius_mm, 3), "mm"),
            Input("rise after this course", round(rise_mm, 3), "mm"),
        ),
        ("groove or sinusoidal stake", hammer),
        f"{last if course == count else 'Both edges stand alike and no edge has cracked.'}{spared}",
        course=course,
        row="form",
    )
