"""The operations after the ring is round: its size, its marks, its letters, its faces, its plating."""

from dataclasses import replace

from studio.craft.cautions import Caution
from studio.craft.designs import Pattern
from studio.craft.hallmark import Foresight, HallmarkRule, Verdict, foresight, is_precious
from studio.craft.operations import INSCRIBE, Does, Measure, Operation, what_it_does
from studio.craft.particulars import Face, MarkPlace, Marks, MarkWish, Particulars, Surface, finish_words
from studio.craft.reckonings import Reckoning
from studio.craft.route_closing import size_words
from studio.craft.units import figure_words
from studio.craft.working import Input


def strike_sponsor(reckoning: Reckoning, marks: Marks | None) -> Operation | None:
    """The studio's own mark, struck before the size is checked, since every blow may open the ring."""
    if marks is None or not marks.has_sponsor or marks.where is MarkPlace.NONE:
        return None
    if not is_precious(reckoning.alloy):
        return None
    return Operation(
        "sponsor",
        "Strike the sponsor's mark",
        f"{marks.where}, away from the seam, room left for the hallmark.",
        (Caution.EYES,),
        does=what_it_does(Does.RESIZES),
        why="A struck mark moves metal and may open the ring, so the size is looked at after.",
        tools=("sponsor's punch", "mandrel"),
        in_passing=f"Strike the sponsor's mark {marks.where}.",
        check="Whole, upright and once; not across the seam or the pattern.",
    )


def size(reckoning: Reckoning) -> Operation:
    """The size is checked after the last thing that moves it and before the first that cannot be undone."""
    where = "both ways round" if reckoning.form is None else "at the waist, both ways round"
    return Operation(
        "size",
        "Check the size,",
        f"{where}: {size_words(reckoning)}.",
        measure=Measure("inside", "mm"),
        does=what_it_does(Does.CHECKS_SIZE),
        why="After this nothing moves the size, and what follows would be spoilt by moving it.",
        figures=(
            Input("inside round", round(reckoning.circumference_mm, 3), "mm"),
            Input("inside across", round(reckoning.diameter_mm, 3), "mm"),
            Input("cleaning up adds, round", round(reckoning.opening_mm, 3), "mm"),
        ),
        tools=("ring stick", "inside calipers"),
        check="On the stick the finger was measured for, and by calipers across two diameters.",
        keep="A ring is not engraved, marked, set or finished before its size is known.",
    )


def hallmark(reckoning: Reckoning, rule: HallmarkRule, marks: Marks | None) -> Operation | None:
    """The way to the assay office: after the last solder and the size, before letters, polish and stones."""
    foreseen = foresight(reckoning, rule)
    if marks is not None and marks.hallmark is MarkWish.THOUGH_EXEMPT and is_precious(reckoning.alloy):
        return _sent("marked though exempt" if _is_exempt(foreseen) else _from(foreseen), foreseen)
    if foreseen is None or foreseen.verdict is Verdict.EXEMPT:
        return None
    if foreseen.verdict is Verdict.REQUIRED:
        keep = "The rule the studio follows asks for it."
        return replace(_sent(_from(foreseen), foreseen), keep=keep)
    limit = f"{figure_words(foreseen.limit_g)} g"
    told = _sent("", foreseen)
    return replace(
        told,
        name="Weigh for the hallmark:",
        text=f"from {limit} on it is sent and marked before the last polish.",
        measure=Measure("weighed", "g"),
        keep="Whether the ring has to be marked is not known before it is weighed.",
        in_passing=f"Weigh: from {limit} on to the assay office first.",
    )


def _is_exempt(foreseen: Foresight | None) -> bool:
    return foreseen is None or foreseen.verdict is Verdict.EXEMPT


def _from(foreseen: Foresight | None) -> str:
    if foreseen is None:
        return ""
    if foreseen.limit_g <= 0:
        return "no weight is exempt"
    return f"{foreseen.metal} from {figure_words(foreseen.limit_g)} g"


def _sent(reason: str, foreseen: Foresight | None) -> Operation:
    figures: tuple[Input, ...] = ()
    if foreseen is not None:
        figures = (
            Input("limit", foreseen.limit_g, "g"),
            Input("finished, from", round(foreseen.low_g, 2), "g"),
            Input("finished, to", round(foreseen.high_g, 2), "g"),
        )
    return Operation(
        "hallmark",
        "Send for the hallmark",
        f"before the last polish: {reason}.",
        does=what_it_does(Does.MARKS),
        why="The assay counts the solder, so the last is on; punch and scrape leave traces that the last"
        " polish takes; and a size moved later stretches the marks.",
        figures=figures,
        tools=("scales", "packing that names what is in it"),
        in_passing="Then to the assay office, before the last polish.",
        check="Weighed out and in; the marks are whole, and the size is still right.",
    )


def inscribe(particulars: Particulars) -> Operation | None:
    """Letters are cut once the size is right, each compared with the order before the first cut."""
    words = particulars.words_to_cut
    if words is None:
        return None
    return Operation(
        INSCRIBE,
        "Cut the inscription",
        f"{words.face}, as written above. Compare it letter by letter before the first cut.",
        (Caution.EYES, Caution.GRAVER),
        does=what_it_does(Does.ENGRAVES),
        why="A size moved after it distorts the letters, and nothing brings back a letter cut wrong.",
        tools=("gravers", "ring clamp", "loupe"),
        check="Read back from the ring, sign by sign, by somebody else than who cut it.",
    )


def finish(reckoning: Reckoning, particulars: Particulars) -> Operation:
    """The faces as agreed; no wheel comes near a pattern, and what is plated later is polished here."""
    is_plain = reckoning.design.pattern is Pattern.PLAIN
    cautions = (Caution.MOTOR,) if is_plain else (Caution.WHEEL, Caution.MOTOR)
    is_oxidised = Surface.OXIDISED in {particulars.inside, particulars.outside}
    is_lettered_outside = (
        particulars.words_to_cut is not None and particulars.words_to_cut.face is Face.OUTSIDE
    )
    if particulars.is_finish_asked:
        words = finish_words(_before_plating(particulars))
        text = f"Emery, then {words}." if is_plain else f"{words[0].upper()}{words[1:]}; the face by hand."
    elif is_plain:
        text = "Emery, then polish inside and out."
    else:
        text = "Inside and edges; brush the face by hand."
    wheel = () if not is_plain else (Does.WHEELS_OUTSIDE,)
    why = "Each grade takes out the marks of the one before."
    if not is_plain:
        why = "A wheel rounds and then erases a pattern, so the face is brushed or rubbed by hand."
    elif is_lettered_outside:
        why += " Over letters only by hand and across: a wheel drags and fills them."
    return Operation(
        "finish",
        "Finish.",
        text,
        (*cautions, *((Caution.OXIDE,) if is_oxidised else ())),
        Measure("finished", "g"),
        what_it_does(Does.POLISHES, *wheel),
        why,
        (
            Input("finished thickness", round(reckoning.finished_thickness_mm, 3), "mm"),
            Input("finished, about", round(reckoning.finished_g, 2), "g"),
        ),
        ("emery", *(("polishing motor",) if is_plain else ("brush", "inside felt")), "scales"),
        f"No scratch of a coarser grade; {size_words(reckoning)} once more; weighed before any stone is in.",
    )


def match_pair(reckoning: Reckoning, mate: Reckoning | None) -> Operation | None:
    """Two rings of one order are laid beside each other before either leaves the bench."""
    if mate is None:
        return None
    alike = []
    if mate.alloy.key == reckoning.alloy.key:
        alike.append("colour")
    if mate.design.pattern is not Pattern.PLAIN and mate.design.pattern is reckoning.design.pattern:
        alike.append("pattern")
    return Operation(
        "match",
        "Match the pair:",
        f"lay it beside the other ring: {', '.join([*alike, 'edges', 'finish'])}.",
        does=what_it_does(Does.MATCHES),
        why="Side by side is how they will be seen first.",
        check="By daylight, both turned the same way.",
        in_passing="Lay it beside the other ring of the pair.",
    )


def plate(reckoning: Reckoning, particulars: Particulars) -> Operation | None:
    """Plating is the last work on the metal: a wheel, a file or a flame would go through it."""
    faces = [
        str(face)
        for face, surface in ((Face.INSIDE, particulars.inside), (Face.OUTSIDE, particulars.outside))
        if surface is Surface.PLATED
    ]
    if not faces:
        return None
    spared = (
        "" if reckoning.design.pattern is Pattern.PLAIN else " The pattern is brushed, not wheeled, first."
    )
    return Operation(
        "plate",
        "Plate last,",
        f"{' and '.join(faces)}, clean and free of grease.{spared}",
        (Caution.BATH,),
        does=what_it_does(Does.PLATES),
        why="The coat is thinner than any polish takes off.",
        tools=("plating bath", "ultrasonic cleaner", "steam"),
        check="Even in the corners; no dull patch where grease was left.",
    )


def _before_plating(particulars: Particulars) -> Particulars:
    """What is plated is polished first."""
    inside, outside = (
        Surface.POLISHED if surface is Surface.PLATED else surface
        for surface in (particulars.inside, particulars.outside)
    )
    return replace(particulars, inside=inside, outside=outside)
