"""All figures of one ring, from the finger to the metal to issue."""

from collections.abc import Mapping
from dataclasses import dataclass

from studio.craft import designs
from studio.craft.blank_figures import blank_figures, stretch_figures
from studio.craft.caveats import design_caveats, finger_caveats
from studio.craft.designs import Design, Finger, System
from studio.craft.doubt import Doubt, doubt_figures
from studio.craft.fit import fit
from studio.craft.form_figures import FormFigures, form_figures
from studio.craft.knuckle import knuckle_advice
from studio.craft.metals import Alloy
from studio.craft.practice import COMMON_PRACTICE, Practice
from studio.craft.ring_figures import ring_figures
from studio.craft.sizes import NearestSize
from studio.craft.stock import Lengths
from studio.craft.stretch import Stretch
from studio.craft.weight_figures import weight_figures
from studio.craft.working import Caveat, Notes, Unkept, Working


@dataclass(frozen=True, slots=True)
class Reckoning:
    """Every figure of a ring, with its working. Lengths in mm, areas in mm2, masses in g.

    Figures are not rounded; whoever shows them rounds. `lengths` are those of the closed ring by each
    rule. `neutral_length_mm` is the neutral line of
    the closed ring: the true length, but for a pattern put on after closing, which stretches it that far.
    `practice` is what it was reckoned by.
    """

    finger: Finger
    design: Design
    fit_mm: float
    fit_reason: str  # 'the gauge is as wide as the ring'
    circumference_mm: float
    diameter_mm: float
    sizes: Mapping[System, NearestSize | None]
    finished_width_mm: float
    form: FormFigures | None  # of an anticlastic band, else None
    finished_thickness_mm: float
    opening_mm: float  # what cleaning up the inside adds to the circumference
    section_mm2: float
    neutral_mm: float
    neutral_length_mm: float
    true_length_mm: float
    lengths: Lengths
    trim_mm: float
    mark_mm: float
    stretch: Stretch
    stock_section_mm2: float
    kerf_mm: float
    density_g_cm3: float
    blank_g: float
    issue_g: float
    ring_g: float
    finished_g: float
    doubt: Doubt
    practice: Practice
    working: tuple[Working, ...]
    caveats: tuple[Caveat, ...]

    @property
    def alloy(self) -> Alloy:
        """What the ring is made of."""
        return self.practice.alloys[self.design.alloy]

    @property
    def din_length_mm(self) -> float | None:
        """The length by DIN 6935 where it says something of its own (flat and square, r/t < 5), else None."""
        return self.lengths.din_mm

    @property
    def flat_length_mm(self) -> float:
        """Length between the broken lines before any pattern: the mark less the trim."""
        return self.mark_mm - self.trim_mm


def reckon(finger: Finger, design: Design, practice: Practice = COMMON_PRACTICE) -> Reckoning:
    """All figures of `design` made for `finger` by the studio's own `practice`.

    Raises `Refused` with every reason why the ring cannot be made. ISO 57 from a gauge as wide as the ring,
    plain flat 6 x 1.4 mm: true length 61.40 mm, mark 62.40 mm.
    """
    made = _checked(design, practice)
    alloy = practice.alloys[made.alloy]
    notes = Notes()
    allowance = fit(finger, made, practice)
    ring = ring_figures(finger, made, allowance, practice, notes)
    stretched = stretch_figures(made, practice, notes)
    knuckle = knuckle_advice(finger, made, ring.circumference_mm, practice, notes)
    formed = form_figures(finger, made, ring.circumference_mm, practice, notes)
    closed_mm = ring.circumference_mm if formed is None else formed.closed_mm
    blank = blank_figures(made, closed_mm, stretched, practice, notes)
    weight = weight_figures(alloy, blank, practice, notes)
    shift_mm = 0.0 if formed is None else formed.shift_mm
    unsure = doubt_figures(finger, stretched, blank.neutral_length_mm, practice, notes, shift_mm=shift_mm)
    return Reckoning(
        finger=finger,
        design=made,
        fit_mm=allowance.fit_mm,
        fit_reason=allowance.reason,
        circumference_mm=ring.circumference_mm,
        diameter_mm=ring.diameter_mm,
        sizes=ring.sizes,
        finished_width_mm=ring.finished_width_mm,
        form=formed,
        finished_thickness_mm=ring.finished_thickness_mm,
        opening_mm=ring.opening_mm,
        section_mm2=blank.section_mm2,
        neutral_mm=blank.neutral_mm,
        neutral_length_mm=blank.neutral_length_mm,
        true_length_mm=blank.true_length_mm,
        lengths=blank.lengths,
        trim_mm=practice.trim_mm,
        mark_mm=blank.mark_mm,
        stretch=stretched,
        stock_section_mm2=blank.stock_section_mm2,
        kerf_mm=practice.kerf_mm,
        density_g_cm3=weight.density_g_cm3,
        blank_g=weight.blank_g,
        issue_g=weight.issue_g,
        ring_g=weight.ring_g,
        finished_g=weight.finished_g,
        doubt=unsure,
        practice=practice,
        working=notes.working,
        caveats=(
            *allowance.caveats,
            *finger_caveats(finger),
            *knuckle.caveats,
            *design_caveats(made, alloy, blank),
            *(() if formed is None else formed.caveats),
        ),
    )


def finished_g(finger: Finger, design: Design, practice: Practice = COMMON_PRACTICE) -> float:
    """What the finished ring weighs in g, the same as `reckon` says, in a third of the time.

    For whoever tries many designs. Raises `Refused` as `reckon` does.
    """
    made, notes = _checked(design, practice), Unkept()
    circumference_mm = finger.reckoned_circumference_mm + fit(finger, made, practice).fit_mm
    formed = form_figures(finger, made, circumference_mm, practice, notes)
    closed_mm = circumference_mm if formed is None else formed.closed_mm
    blank = blank_figures(made, closed_mm, stretch_figures(made, practice, notes), practice, notes)
    return weight_figures(practice.alloys[made.alloy], blank, practice, notes).finished_g


def _checked(chosen: Design, practice: Practice) -> Design:
    """The design as `design` would make it, so that nothing unmakeable is reckoned however it was built."""
    return designs.design(
        chosen.profile,
        chosen.width_mm,
        chosen.thickness_mm,
        chosen.alloy,
        chosen.stock,
        pattern=chosen.pattern,
        pattern_when=chosen.pattern_when,
        stretch_percent=chosen.stretch_percent,
        fit_mm=chosen.fit_mm,
        form=chosen.form,
        alloys=practice.alloys,
    )
