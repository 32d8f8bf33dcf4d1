"""The way of one ring over the bench: which steps, in which order, with which cautions and measurements.

Rules, not templates: the order is laid down once in `route`, and each rule says whether its step is needed
and how it reads for this ring. They are common bench practice, no source, where a docstring names none; what
is particular to an alloy (heat, cooling, solder) comes from `studio.craft.alloys`.
"""

import math

from studio.craft.alloys import Metal
from studio.craft.designs import WIRE_PROFILES, Design, Pattern, PatternWhen, Profile, Stock
from studio.craft.particulars import NOT_ASKED, Particulars, Surface, finish_words
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning
from studio.craft.route_forming import anneal_again, form, trial
from studio.craft.route_steps import (
    BLOWS,
    DARK_GLASSES,
    EYES,
    FILINGS,
    FUME,
    HOT,
    INSCRIBE,
    MOTOR,
    OXIDE,
    OXYGEN,
    PICKLE,
    ROLLS,
    SET,
    TORCH,
    WHEEL,
    Measure,
    Step,
    after_fire,
    alloy_of,
    is_pickled,
)
from studio.craft.sizes import named
from studio.craft.units import figure_words


def route(reckoning: Reckoning, particulars: Particulars = NOT_ASKED) -> tuple[Step, ...]:
    """The steps of the ring, in order.

    What always holds: a pattern on the flat strip comes before its ends are squared, since it stretches them;
    squaring and annealing come before bending; a face that is patterned already is soldered from the inside
    and left alone by files; a pattern put on after closing comes after the seam is filed; the size is checked
    after the last thing that changes it; an inscription is cut after that, since resizing would spoil it, and
    before the finish; no wheel finishes a pattern.
    """
    steps = (
        trial(reckoning),
        _weigh(reckoning),
        _roll(reckoning),
        _saw(reckoning),
        _file_profile(reckoning),
        _pattern_flat(reckoning),
        _square(reckoning),
        _anneal(reckoning),
        _bend(reckoning),
        _solder(reckoning),
        _round_up(reckoning),
        _true_sides(reckoning),
        _pattern_closed(reckoning),
        _pattern_over_seam(reckoning),
        anneal_again(reckoning),
        form(reckoning),
        _size(reckoning),
        _inscribe(particulars),
        _set(particulars),
        _finish(reckoning, particulars),
    )
    return tuple(step for step in steps if step is not None)


def _is_patterned_before_closing(design: Design) -> bool:
    return design.pattern is not Pattern.PLAIN and design.pattern_when is PatternWhen.FLAT


def _is_struck_flat(design: Design) -> bool:
    """Whether the pattern is hammered or stamped on the cut strip and so lengthens it."""
    return _is_patterned_before_closing(design) and design.pattern is not Pattern.ROLLED


def _is_struck_closed(design: Design) -> bool:
    return design.pattern is not Pattern.PLAIN and design.pattern_when is PatternWhen.CLOSED


def _is_filed_to_profile(design: Design) -> bool:
    """Whether the section is filed from strip, not drawn as wire."""
    return design.stock is Stock.STRIP and design.profile not in {Profile.FLAT, Profile.SQUARE}


def _stock_words(design: Design) -> str:
    """What is taken from the drawer: strip 6 × 1.6, half-round wire 4 × 1.7."""
    measures = f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}"
    if design.stock is Stock.STRIP:
        return f"strip {measures}"
    if design.profile in WIRE_PROFILES:
        return f"{PROFILE_NAMES[design.profile]} {figure_words(design.width_mm)}"
    return f"{PROFILE_NAMES[design.profile]} wire {measures}"


def _size_words(reckoning: Reckoning) -> str:
    """The size to arrive at: its label where the ring is that size, and the inside diameter."""
    system = reckoning.finger.system
    near = reckoning.sizes.get(system)
    inside = f"{reckoning.diameter_mm:.2f} inside"
    return f"{named(system, near.label)}, {inside}" if near and abs(near.error_mm) < 0.05 else inside


def _weigh(reckoning: Reckoning) -> Step:
    metal = f"{reckoning.issue_g:.2f} g of {alloy_of(reckoning).name}, {_stock_words(reckoning.design)}."
    return Step("weigh", "Weigh out", metal, (), Measure("issued", "g"))


def _roll(reckoning: Reckoning) -> Step | None:
    """Rolling thins and lengthens the strip, so it comes before the mark; thickness is measured after."""
    if reckoning.design.pattern is not Pattern.ROLLED:
        return None
    thickness = figure_words(reckoning.design.thickness_mm)
    text = f"in one pass. Not {thickness} thick after it? Reckon again before marking."
    return Step("roll", "Roll the pattern", text, (ROLLS,), Measure("thick after", "mm"))


def _saw(reckoning: Reckoning) -> Step:
    label = "before" if _is_struck_flat(reckoning.design) else "sawn"
    name = f"Scribe {reckoning.mark_mm:.1f} and saw"
    return Step("saw", name, "outside the line, blade 1/0.", (EYES,), Measure(label, "mm"))


def _file_profile(reckoning: Reckoning) -> Step | None:
    """A section filed from strip gets its shape while it is flat and can be held; a pattern comes on top."""
    design = reckoning.design
    if not _is_filed_to_profile(design):
        return None
    name = f"File to {PROFILE_NAMES[design.profile]},"
    text = f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}. Keep the filings."
    return Step("profile", name, text, (FILINGS, EYES))


def _verb(design: Design) -> str:
    return "Hammer the face," if design.pattern is Pattern.HAMMERED else "Stamp the face,"


def _bed(design: Design) -> str:
    """What lies under the strip: flat steel under a flat inside, a groove under a rounded one."""
    is_rounded = design.profile in {Profile.COURT, Profile.FLAT_COURT, Profile.ROUND}
    return "in a grooved block" if is_rounded else "on flat steel"


def _pattern_flat(reckoning: Reckoning) -> Step | None:
    design = reckoning.design
    if not _is_struck_flat(design):
        return None
    text = f"edge to edge, {_bed(design)}."
    return Step("pattern", _verb(design), text, (BLOWS,), Measure("after", "mm"))


def _square(reckoning: Reckoning) -> Step:
    name = f"Square the ends to {reckoning.true_length_mm:.2f}."
    return Step("square", name, "Keep the filings.", (), Measure("true", "mm"))


def _anneal(reckoning: Reckoning) -> Step:
    alloy = alloy_of(reckoning)
    text = f"{alloy.anneal.sign}, {alloy.anneal.range_words}. {after_fire(alloy)}"
    return Step("anneal", "Anneal,", text, (TORCH, HOT, *((PICKLE,) if is_pickled(alloy) else ())))


def _bend(reckoning: Reckoning) -> Step:
    design = reckoning.design
    text = "until the ends meet with no light between."
    if _is_patterned_before_closing(design):
        text = (
            "with the pattern outward and leather in the pliers, until the ends meet with no light between."
        )
    elif design.profile not in {Profile.FLAT, *WIRE_PROFILES, Profile.COURT}:
        inward = "domed" if design.profile is Profile.FLAT_COURT else "flat"
        text = f"with the {inward} side in, until the ends meet with no light between."
    return Step("bend", "Bend", text)


def _solder(reckoning: Reckoning) -> Step:
    """The only seam takes the hardest solder; where the outside is patterned it is fed from the inside."""
    alloy = alloy_of(reckoning)
    where = "from the inside with " if _is_patterned_before_closing(reckoning.design) else "with "
    text = f"{where}{alloy.solder_hard_name}. {after_fire(alloy)}"
    fume = (FUME,) if is_pickled(alloy) else ()
    glare = (DARK_GLASSES,) if alloy.metal in {Metal.PLATINUM, Metal.PALLADIUM} else ()
    return Step("solder", "Solder the seam", text, (OXYGEN, *fume, *glare))


def _round_up(reckoning: Reckoning) -> Step:
    """A ring that is patterned once closed is first smaller, by what the pattern will stretch it."""
    target = _size_words(reckoning)
    label = "inside"
    if reckoning.form is not None:
        target, label = f"{reckoning.form.closed_mm / math.pi:.2f} inside, before it is formed", "before"
    if _is_struck_closed(reckoning.design):
        before = reckoning.true_length_mm / math.pi - 2 * reckoning.neutral_mm
        target, label = f"{before:.2f} inside, the pattern opens it", "before"
    return Step("round", "Round up", f"with a hide mallet. {target}.", (), Measure(label, "mm"))


def _true_sides(reckoning: Reckoning) -> Step:
    is_patterned = _is_patterned_before_closing(reckoning.design)
    seam = "file the seam inside. Not the outside." if is_patterned else "file the seam inside and out."
    return Step("sides", "True the sides,", seam, (FILINGS,))


def _pattern_closed(reckoning: Reckoning) -> Step | None:
    design = reckoning.design
    if not _is_struck_closed(design):
        return None
    text = "all round on a steel mandrel, turned end for end. Try the size often."
    return Step("pattern", _verb(design), text, (BLOWS,), Measure("after", "mm"))


def _pattern_over_seam(reckoning: Reckoning) -> Step | None:
    """The seam cuts through a pattern that was there before: it is worked over, on the mandrel."""
    design = reckoning.design
    if not _is_patterned_before_closing(design):
        return None
    is_rolled = design.pattern is Pattern.ROLLED
    text = "with a punch, on a steel mandrel." if is_rolled else "lightly, on a steel mandrel."
    return Step("seam-pattern", "Work the pattern over the seam,", text, (EYES,))


def _size(reckoning: Reckoning) -> Step:
    where = "both ways round" if reckoning.form is None else "at the waist, both ways round"
    text = f"{where}: {_size_words(reckoning)}."
    return Step("size", "Check the size,", text, (), Measure("inside", "mm"))


def _inscribe(particulars: Particulars) -> Step | None:
    """Letters are cut once the size is right, each compared with the order before the first cut."""
    words = particulars.words_to_cut
    if words is None:
        return None
    text = f"{words.face}, as written above. Compare it letter by letter before the first cut."
    return Step(INSCRIBE, "Cut the inscription", text, (EYES,))


def _set(particulars: Particulars) -> Step | None:
    """Stones are counted and looked at before the first is set: what breaks then breaks on our bench."""
    if not particulars.stone_count:
        return None
    many = f"the {particulars.stone_count} stones" if particulars.stone_count > 1 else "the stone"
    text = "as written above. Count them and look at each under the loupe first."
    return Step(SET, f"Set {many}", text, (EYES,))


def _finish(reckoning: Reckoning, particulars: Particulars) -> Step:
    weighed = Measure("finished", "g")
    if particulars.is_finish_asked:
        is_plain = reckoning.design.pattern is Pattern.PLAIN
        words = finish_words(particulars)
        text = f"Emery, then {words}." if is_plain else f"{words[0].upper()}{words[1:]}; the face by hand."
        cautions = (MOTOR,) if is_plain else (WHEEL, MOTOR)
        bath = (OXIDE,) if Surface.OXIDISED in {particulars.inside, particulars.outside} else ()
        return Step("finish", "Finish.", text, (*cautions, *bath), weighed)
    if reckoning.design.pattern is Pattern.PLAIN:
        return Step("finish", "Finish.", "Emery, then polish inside and out.", (MOTOR,), weighed)
    return Step("finish", "Finish.", "Inside and edges; brush the face by hand.", (WHEEL, MOTOR), weighed)
