"""The figures of weight: the metal to issue for a ring and what becomes of it. Masses in g."""

from dataclasses import dataclass

from studio.craft.alloys import density_g_cm3
from studio.craft.blank_figures import BlankFigures
from studio.craft.elements import ELEMENT_DENSITIES
from studio.craft.metals import Alloy
from studio.craft.practice import Practice
from studio.craft.weights import after_loss_g, mass_g
from studio.craft.working import Input, Notes

_ONE_CUT = "blade 1/0 by a chart of saw blades, a tenth wider by common practice"


@dataclass(frozen=True, slots=True)
class WeightFigures:
    """What the ring weighs on its way, in g; density in g/cm3."""

    density_g_cm3: float
    blank_g: float
    issue_g: float
    ring_g: float
    finished_g: float


def weight_figures(alloy: Alloy, blank: BlankFigures, practice: Practice, notes: Notes) -> WeightFigures:
    """Blank, metal to issue, closed ring and finished ring.

    The ring is the trued strip bent up: section of the profile times true length. A pattern put on after
    closing makes it longer and thinner, not heavier; how a pattern on the flat strip thins it before it is
    trued, by its stretch, is left out, so such a ring comes out that much lighter.
    """
    density = _density(alloy, notes)
    rho = Input("density", density, "g/cm³")
    stock = Input("stock section", blank.stock_section_mm2, "mm²")
    blank_g = notes.note(
        "mass.blank_g",
        mass_g(density, blank.stock_section_mm2, blank.mark_mm),
        "g",
        "density × stock section × mark ÷ 1000",
        rho,
        stock,
        Input("mark", blank.mark_mm, "mm"),
        source="plane geometry",
    )
    issue_g = notes.note(
        "mass.issue_g",
        blank_g + mass_g(density, blank.stock_section_mm2, practice.kerf_mm),
        "g",
        "blank + density × stock section × kerf ÷ 1000",
        Input("blank", blank_g, "g"),
        rho,
        stock,
        Input("kerf", practice.kerf_mm, "mm"),
        source=f"one saw cut: {practice.source_of('kerf_mm') if 'kerf_mm' in practice.said else _ONE_CUT}",
    )
    ring_g = notes.note(
        "mass.ring_g",
        mass_g(density, blank.section_mm2, blank.true_length_mm),
        "g",
        "density × section × true length ÷ 1000",
        rho,
        Input("section", blank.section_mm2, "mm²"),
        Input("true length", blank.true_length_mm, "mm"),
        source="Pappus: volume is the section times the path of its centroid",
    )
    finished_g = notes.note(
        "mass.finished_g",
        after_loss_g(ring_g, practice.finishing_loss_percent),
        "g",
        "ring × (1 − finishing loss ÷ 100)",
        Input("ring", ring_g, "g"),
        Input("finishing loss", practice.finishing_loss_percent, "%"),
        source=practice.source_of("finishing_loss_percent"),
    )
    return WeightFigures(density, blank_g, issue_g, ring_g, finished_g)


def _density(alloy: Alloy, notes: Notes) -> float:
    density = density_g_cm3(alloy)
    if alloy.listed_density is not None:
        listed = Input("listed density", alloy.listed_density, "g/cm³")
        return notes.note(
            "mass.density_g_cm3", density, "g/cm³", "listed density", listed, source=alloy.source
        )
    volumes = [f"parts of {element} ÷ density of {element}" for element in alloy.composition]
    inputs = [
        entry
        for element, parts in alloy.composition.items()
        for entry in (
            Input(f"parts of {element}", parts, "in 1000"),
            Input(f"density of {element}", ELEMENT_DENSITIES[element], "g/cm³"),
        )
    ]
    formula = f"1000 ÷ ({' + '.join(volumes)}), to 0.001"
    return notes.note("mass.density_g_cm3", density, "g/cm³", formula, *inputs, source=alloy.source)
