"""The operations of a ring's route up to the squared blank: metal, mark, section, pattern, ends."""

from studio.craft.cautions import Caution
from studio.craft.designs import WIRE_PROFILES, Design, Pattern, PatternWhen, Profile, Stock
from studio.craft.operations import Does, Measure, Operation, what_it_does
from studio.craft.profiles import PROFILE_NAMES
from studio.craft.reckonings import Reckoning
from studio.craft.units import figure_words
from studio.craft.working import Input


def is_patterned_before_closing(design: Design) -> bool:
    """Whether the face is worked on the flat strip, by hammer, punch or rolls."""
    return design.pattern is not Pattern.PLAIN and design.pattern_when is PatternWhen.FLAT


def is_struck_flat(design: Design) -> bool:
    """Whether the pattern is hammered or stamped on the cut strip and so lengthens it."""
    return is_patterned_before_closing(design) and design.pattern is not Pattern.ROLLED


def is_struck_closed(design: Design) -> bool:
    """Whether the pattern is put on after the ring is closed."""
    return design.pattern is not Pattern.PLAIN and design.pattern_when is PatternWhen.CLOSED


def verb(design: Design) -> str:
    """How the face is worked: 'Hammer the face,'."""
    return "Hammer the face," if design.pattern is Pattern.HAMMERED else "Stamp the face,"


def pattern_tools(design: Design) -> tuple[str, ...]:
    """What works the face."""
    return ("texturing hammer",) if design.pattern is Pattern.HAMMERED else ("punches", "chasing hammer")


def weigh(reckoning: Reckoning) -> Operation:
    """The metal for the ring: its blank and one saw cut."""
    metal = f"{reckoning.issue_g:.2f} g of {reckoning.alloy.name}, {_stock_words(reckoning.design)}."
    return Operation(
        "weigh",
        "Weigh out",
        metal,
        measure=Measure("issued", "g"),
        does=what_it_does(Does.WEIGHS_OUT),
        why="What is weighed out and what comes back say where the metal went.",
        figures=(Input("issue", round(reckoning.issue_g, 3), "g"),),
        tools=("scales", "micrometer"),
        check="Alloy and thickness are those of the order, measured, not read from a label.",
    )


def roll(reckoning: Reckoning) -> Operation | None:
    """Rolling thins and lengthens the strip, so it comes before the mark; thickness is measured after."""
    design = reckoning.design
    if design.pattern is not Pattern.ROLLED:
        return None
    thickness = figure_words(design.thickness_mm)
    return Operation(
        "roll",
        "Roll the pattern",
        f"in one pass. Not {thickness} thick after it? Reckon again before marking.",
        (Caution.ROLLS,),
        Measure("thick after", "mm"),
        what_it_does(Does.ROLLS, Does.PATTERNS_STRIP),
        "Rolling thins and lengthens the strip, so the mark is set on it after. A second pass doubles"
        " the print.",
        (Input("thickness after", design.thickness_mm, "mm"),),
        ("rolling mill", "pattern plate", "micrometer"),
        "The print is even from edge to edge; the mean of ridge and valley is the thickness.",
    )


def saw(reckoning: Reckoning) -> Operation:
    """The blank is scribed at its mark and sawn off."""
    label = "before" if is_struck_flat(reckoning.design) else "sawn"
    return Operation(
        "saw",
        f"Scribe {reckoning.mark_mm:.1f} and saw",
        "outside the line, blade 1/0.",
        (Caution.EYES,),
        Measure(label, "mm"),
        what_it_does(Does.CUTS),
        "The mark holds what both ends lose when they are squared. A strip that is long is filed, a"
        " short one lost.",
        (Input("mark", reckoning.mark_mm, "mm"), Input("saw cut", reckoning.kerf_mm, "mm")),
        ("dividers", "steel rule", "saw frame, blade 1/0"),
        "Measured after the cut, and written down.",
        keep="Without it there is no blank.",
    )


def file_profile(reckoning: Reckoning) -> Operation | None:
    """A section filed from strip gets its shape while it is flat and can be held; a pattern comes on top."""
    design = reckoning.design
    if design.stock is not Stock.STRIP or design.profile in {Profile.FLAT, Profile.SQUARE}:
        return None
    return Operation(
        "profile",
        f"File to {PROFILE_NAMES[design.profile]},",
        f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}. Keep the filings.",
        (Caution.FILINGS, Caution.EYES),
        does=what_it_does(Does.FILES_OUTSIDE),
        why="Flat, the strip can be held and sighted along; closed, it cannot.",
        figures=(Input("width", design.width_mm, "mm"), Input("thickness", design.thickness_mm, "mm")),
        tools=("flat file", "template of the section", "calipers"),
        check="The template sits without light between, all along.",
    )


def pattern_flat(reckoning: Reckoning) -> Operation | None:
    """A pattern struck on the strip stretches it, so its ends are squared after."""
    design = reckoning.design
    if not is_struck_flat(design):
        return None
    return Operation(
        "pattern",
        verb(design),
        f"edge to edge, {_bed(design)}.",
        (Caution.BLOWS,),
        Measure("after", "mm"),
        what_it_does(Does.PATTERNS_STRIP, Does.STRETCHES_STRIP, Does.HARDENS),
        "The strip grows under the blows: measured before and after, it tells how much the next one will.",
        (
            Input("length before", round(reckoning.mark_mm, 3), "mm"),
            Input("stretch expected", reckoning.stretch.used_percent, "%"),
        ),
        (*pattern_tools(design), "steel block"),
        "Even to both ends, edges not cracked, and longer than the true length.",
    )


def square(reckoning: Reckoning) -> Operation:
    """The ends are squared to the true length, after whatever stretched the strip."""
    return Operation(
        "square",
        f"Square the ends to {reckoning.true_length_mm:.2f}.",
        "Keep the filings.",
        measure=Measure("true", "mm"),
        does=what_it_does(Does.SQUARES),
        why="Solder fills no gap: only ends that are square and true meet all across.",
        figures=(Input("true length", reckoning.true_length_mm, "mm"),),
        tools=("flat file", "try square", "calipers"),
        check="Against the light the square shows none at either end.",
    )


def _bed(design: Design) -> str:
    """What lies under the strip: flat steel under a flat inside, a groove under a rounded one."""
    is_rounded = design.profile in {Profile.COURT, Profile.FLAT_COURT, Profile.ROUND}
    return "in a grooved block" if is_rounded else "on flat steel"


def _stock_words(design: Design) -> str:
    """What is taken from the drawer: strip 6 × 1.6, half-round wire 4 × 1.7."""
    measures = f"{figure_words(design.width_mm)} × {figure_words(design.thickness_mm)}"
    if design.stock is Stock.STRIP:
        return f"strip {measures}"
    if design.profile in WIRE_PROFILES:
        return f"{PROFILE_NAMES[design.profile]} {figure_words(design.width_mm)}"
    return f"{PROFILE_NAMES[design.profile]} wire {measures}"
