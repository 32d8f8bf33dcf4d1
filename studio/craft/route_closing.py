"""The operations that make a ring of the blank: heat, bend, seam, rounding up, the pattern on the ring."""

import math

from studio.craft.cautions import Caution
from studio.craft.designs import WIRE_PROFILES, Pattern, Profile
from studio.craft.metals import Metal
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
from studio.craft.route_blank import is_patterned_before_closing, is_struck_closed, pattern_tools, verb
from studio.craft.sizes import named
from studio.craft.solders import admits, seam_solder
from studio.craft.working import Input

JOINT_GAP_MM = 0.1
SOLDER_SHARE = 2.0
"""A seam takes its area by this gap, and twice that is cut: common practice, no source."""


def size_words(reckoning: Reckoning) -> str:
    """The size to arrive at: its label where the ring is that size, and the inside diameter."""
    system = reckoning.finger.system
    near = reckoning.sizes.get(system)
    inside = f"{reckoning.diameter_mm:.2f} inside"
    return f"{named(system, near.label)}, {inside}" if near and abs(near.error_mm) < 0.05 else inside


def heat_figures(reckoning: Reckoning) -> tuple[Input, ...]:
    """How hot the alloy is annealed, what to look for, and how it is cooled."""
    anneal_at = reckoning.alloy.anneal
    return (
        Input("from", anneal_at.low_c, "°C"),
        Input("to", anneal_at.high_c, "°C"),
        Input("sign", anneal_at.sign),
        Input("cooling", str(anneal_at.cooling)),
    )


def anneal(reckoning: Reckoning) -> Operation:
    """The strip is softened before it is bent, at the heat of its alloy, and cooled as that wants."""
    alloy = reckoning.alloy
    return Operation(
        "anneal",
        "Anneal,",
        f"{alloy.anneal.sign}, {alloy.anneal.range_words}. {after_fire(alloy)}",
        (torch(alloy), Caution.HOT, *acid(alloy)),
        does=what_it_does(Does.ANNEALS) | fire(alloy),
        why="Work has hardened the strip: soft, it bends without springing back and without a crack.",
        figures=heat_figures(reckoning),
        tools=("torch", "soldering block", _tongs(reckoning)),
        check="It drops dead from the tongs and does not ring.",
        also=() if is_pickled(alloy) else (Caution.NO_PICKLE, Caution.DARK_GLASSES),
    )


def bend(reckoning: Reckoning) -> Operation:
    """The strip is bent until its ends meet; a pattern is spared."""
    design = reckoning.design
    text = "until the ends meet with no light between."
    is_patterned = is_patterned_before_closing(design)
    if is_patterned:
        text = (
            "with the pattern outward and leather in the pliers, until the ends meet with no light between."
        )
    elif design.profile not in {Profile.FLAT, *WIRE_PROFILES, Profile.COURT}:
        inward = "domed" if design.profile is Profile.FLAT_COURT else "flat"
        text = f"with the {inward} side in, until the ends meet with no light between."
    return Operation(
        "bend",
        "Bend",
        text,
        does=what_it_does(Does.BENDS),
        why="A joint that closes under its own spring stays closed in the fire.",
        tools=("pliers in leather" if is_patterned else "ring-bending pliers", "hide mallet", "mandrel"),
        check="Held against the light, none shows at the joint; it need not be round yet.",
    )


def solder(reckoning: Reckoning) -> Operation:
    """The only seam takes the hardest solder; where the outside is patterned it is fed from the inside."""
    alloy, metal = reckoning.alloy, reckoning.alloy.metal
    is_inside = is_patterned_before_closing(reckoning.design)
    where = "from the inside with " if is_inside else "with "
    flame = "" if is_pickled(alloy) else ", oxidising flame, clean brick"
    fume = (Caution.FUME,) if is_pickled(alloy) else ()
    glare = (Caution.DARK_GLASSES,) if metal in {Metal.PLATINUM, Metal.PALLADIUM} else ()
    side = (
        "Fed from the inside, no solder runs into the pattern, where nothing could clean it away."
        if is_inside
        else "Fed from one side, it is seen on the other when the seam is full."
    )
    return Operation(
        "solder",
        "Solder the seam",
        f"{where}{alloy.solder_hard_name}{flame}. {after_fire(alloy)}",
        (Caution.OXYGEN, *fume, *glare),
        does=what_it_does(Does.CLOSES) | fire(alloy),
        why=f"The first seam takes the hardest solder, so that no later fire opens it. {side}",
        figures=solder_figures(reckoning),
        tools=("torch", *(("flux",) if is_pickled(alloy) else ()), _tongs(reckoning)),
        check="Solder all along the seam on both sides; the ring rings when it is dropped.",
        also=(Caution.HOT, *(acid(alloy) or (Caution.NO_PICKLE,))),
        solder=seam_solder(alloy).grade,
        keep="The ring is open without it.",
    )


def solder_figures(reckoning: Reckoning) -> tuple[Input, ...]:
    """The seam's solder: its name, its melting range, the heat by which it has to flow, and how much is cut.

    A section of 5 x 1.5 mm: 1.5 mm3 at most.
    """
    alloy = reckoning.alloy
    chosen = seam_solder(alloy)
    admitted = admits(alloy, chosen)
    told = [Input("solder", alloy.solder)]
    if chosen.range_words:
        told.append(Input("listed", chosen.range_words))
    if admitted.at_most_c is not None:
        told.append(Input("has to flow by", admitted.at_most_c, "°C"))
    if admitted.disagreement:
        told.append(Input("sources differ", admitted.disagreement))
    volume_mm3 = SOLDER_SHARE * JOINT_GAP_MM * reckoning.section_mm2
    return (*told, Input("solder, at most", round(volume_mm3, 2), "mm³"))


def round_up(reckoning: Reckoning) -> Operation:
    """A ring that is patterned once closed is first smaller, by what the pattern will stretch it."""
    target = size_words(reckoning)
    label, inside_mm = "inside", reckoning.diameter_mm
    if reckoning.form is not None:
        inside_mm = reckoning.form.closed_mm / math.pi
        target, label = f"{inside_mm:.2f} inside, before it is formed", "before"
    if is_struck_closed(reckoning.design):
        inside_mm = reckoning.true_length_mm / math.pi - 2 * reckoning.neutral_mm
        target, label = f"{inside_mm:.2f} inside, the pattern opens it", "before"
    return Operation(
        "round",
        "Round up",
        f"with a hide mallet. {target}.",
        measure=Measure(label, "mm"),
        does=what_it_does(Does.ROUNDS),
        why="Hide rounds the ring and stretches it little; steel would thin it. The mandrel tapers: turn"
        " the ring.",
        figures=(Input("inside", round(inside_mm, 3), "mm"),),
        tools=("round mandrel", "hide mallet"),
        check="No light between ring and mandrel, and none from the other side.",
    )


def true_sides(reckoning: Reckoning) -> Operation:
    """The seam is cleaned as little as it takes, and never through a pattern that is there already."""
    is_patterned = is_patterned_before_closing(reckoning.design)
    where = "inside, no more. Not the outside." if is_patterned else "inside and out, no more."
    outside = () if is_patterned else (Does.FILES_OUTSIDE,)
    return Operation(
        "sides",
        "True the sides,",
        f"file the seam flush {where}",
        (Caution.FILINGS,),
        does=what_it_does(Does.FILES_SEAM, *outside),
        why="What is filed at the seam makes the ring thin there and the size larger: as little as it takes.",
        tools=("half-round file", "emery on flat glass"),
        check="The sides are parallel, the seam is felt no more, and the metal is as thick there as"
        " beside it.",
    )


def pattern_closed(reckoning: Reckoning) -> Operation | None:
    """A pattern put on the closed ring opens it: the size is tried while it grows."""
    design = reckoning.design
    if not is_struck_closed(design):
        return None
    return Operation(
        "pattern",
        verb(design),
        "all round on a steel mandrel, turned end for end. Try the size often.",
        (Caution.BLOWS,),
        Measure("after", "mm"),
        what_it_does(Does.PATTERNS_RING),
        "Every blow opens the ring: stop at the size, not at the end of the round.",
        (Input("stretch expected", reckoning.stretch.used_percent, "%"),),
        (*pattern_tools(design), "steel mandrel"),
        "Even all round, and the size not passed.",
    )


def pattern_over_seam(reckoning: Reckoning) -> Operation | None:
    """The seam cuts through a pattern that was there before: it is worked over, on the mandrel."""
    design = reckoning.design
    if not is_patterned_before_closing(design):
        return None
    is_rolled = design.pattern is Pattern.ROLLED
    return Operation(
        "seam-pattern",
        "Work the pattern over the seam,",
        "with a punch, on a steel mandrel." if is_rolled else "lightly, on a steel mandrel.",
        (Caution.EYES,),
        does=what_it_does(Does.MENDS_PATTERN),
        why="The seam cuts through the pattern and shows as a line until it is worked over.",
        tools=("punch" if is_rolled else pattern_tools(design)[0], "steel mandrel"),
        check="Turned under the lamp, nobody can say where the seam is.",
    )


def _tongs(reckoning: Reckoning) -> str:
    """Copper for what goes into the pickle; ceramic or tungsten for platinum, which steel would spoil."""
    return "copper tongs" if is_pickled(reckoning.alloy) else "clean ceramic or tungsten tips"
