"""Which rings the law asks to have hallmarked, foreseen from the finished mass. A rule is a setting.

What stands here says what is likely, never what the law is: the assay office has the last word.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from studio.craft.alloys import density_g_cm3
from studio.craft.doubt import NINE_IN_TEN
from studio.craft.metals import Alloy, Metal
from studio.craft.particulars import Marks, MarkWish
from studio.craft.practice import AssayWhen, HallmarkTerms
from studio.craft.reckonings import Reckoning
from studio.craft.working import Input, Notes, Working

ASK = "Ask the assay office first."


class HallmarkRule(StrEnum):
    """Whose rule a studio follows."""

    UK = "uk"
    CONVENTION = "convention"
    NONE = "none"


LIMITS_G: Mapping[HallmarkRule, Mapping[Metal, float]] = {
    HallmarkRule.UK: {Metal.GOLD: 1.0, Metal.SILVER: 7.78, Metal.PLATINUM: 0.5, Metal.PALLADIUM: 1.0},
    HallmarkRule.CONVENTION: {
        Metal.GOLD: 0.0,
        Metal.SILVER: 0.0,
        Metal.PLATINUM: 0.0,
        Metal.PALLADIUM: 0.0,
    },
    HallmarkRule.NONE: {},
}
"""From what mass in g an article must be marked. UK: exemption weights as assay offices publish them;
Convention on the Control and Marking of Articles of Precious Metals (1972): no exemption."""

SOURCES: Mapping[HallmarkRule, str] = {
    HallmarkRule.UK: "UK exemption weights, as the Hallmarking Convention's secretariat and an assay"
    " office print them",
    HallmarkRule.CONVENTION: "Convention on the Control and Marking of Articles of Precious Metals, 1972:"
    " no weight is exempt",
    HallmarkRule.NONE: "no rule",
}


class Verdict(StrEnum):
    """What the finished mass says: surely marked, surely exempt, or the finished ring is weighed first."""

    REQUIRED = "required"
    EXEMPT = "exempt"
    WEIGH = "weigh"


@dataclass(frozen=True, slots=True)
class Foresight:
    """Whether a ring is to be hallmarked, foreseen: masses in g, `low_g` to `high_g` nine times in ten."""

    rule: HallmarkRule
    metal: Metal
    limit_g: float
    finished_g: float
    low_g: float
    high_g: float
    verdict: Verdict
    working: tuple[Working, ...] = ()


def foresight(reckoning: Reckoning, rule: HallmarkRule) -> Foresight | None:
    """Whether the ring must be marked by `rule`; None without a rule or without precious metal.

    Finished mass ± 1.645 standard deviations, by the terms of the studio's practice: required where the low
    end reaches the limit, exempt where the high end stays below it, else the finished ring is weighed. Silver
    925, flat 6 x 1.4 mm closed on 57 mm: 5.18 g ± 0.17, exempt in the UK, which marks silver from 7.78 g.
    """
    alloy = reckoning.alloy
    limit_g = LIMITS_G[rule].get(alloy.metal)
    if limit_g is None:
        return None
    sd_g = mass_sd_g(reckoning, alloy)
    low_g = max(0.0, reckoning.finished_g - NINE_IN_TEN * sd_g)
    high_g = reckoning.finished_g + NINE_IN_TEN * sd_g
    verdict = Verdict.WEIGH
    if low_g >= limit_g:
        verdict = Verdict.REQUIRED
    elif high_g < limit_g:
        verdict = Verdict.EXEMPT
    foreseen = Foresight(rule, alloy.metal, limit_g, reckoning.finished_g, low_g, high_g, verdict)
    return replace(foreseen, working=_working(reckoning, alloy, foreseen))


def density_sd_percent(alloy: Alloy, terms: HallmarkTerms) -> float:
    """One standard deviation of the density, in percent of it.

    The studio's own term, 0.5 %; where nothing is listed for the alloy and what is printed for its kind
    spreads, the spread / sqrt 12 (any value in it is as likely). 18 carat white, 14.7 to 16.9 around 16.33:
    3.9 %.
    """
    is_known = alloy.listed_density is not None and alloy.knows_parts
    if is_known or alloy.density_range is None:
        return terms.density_percent
    low, high = alloy.density_range
    return 100 * (high - low) / math.sqrt(12) / density_g_cm3(alloy)


def mass_sd_g(reckoning: Reckoning, alloy: Alloy) -> float:
    """One standard deviation of the finished mass in g: the terms are independent, so their squares add up.

    Thickness, width and density count by their share of themselves, since the length is cut as reckoned
    whatever the strip; of the finishing loss a third. Flat 6 x 1.4 mm of silver 925, 3 % loss: 2.0 %.
    """
    terms, design, loss = reckoning.practice.hallmark, reckoning.design, _loss(reckoning)
    shares = (
        terms.thickness_mm / design.thickness_mm,
        terms.width_mm / design.width_mm,
        density_sd_percent(alloy, terms) / 100,
        loss / terms.loss_part / (1 - loss),
    )
    return reckoning.finished_g * math.hypot(*shares)


def is_assayed(foreseen: Foresight | None, when: AssayWhen) -> bool:
    """Whether a price has the assay in it.

    It has where the mark is required, and where the studio asks for it when the finished ring has to be
    weighed first.
    """
    if foreseen is None:
        return False
    is_unsure = foreseen.verdict is Verdict.WEIGH and when is AssayWhen.UNSURE
    return foreseen.verdict is Verdict.REQUIRED or is_unsure


def is_precious(alloy: Alloy) -> bool:
    """Whether an assay office marks the metal at all."""
    return alloy.metal in LIMITS_G[HallmarkRule.UK]


def is_marked(reckoning: Reckoning, rule: HallmarkRule, marks: Marks | None) -> bool:
    """Whether a price has the assay in it, as the customer wants the marks.

    Marked though exempt it has; without a mark where the rule leaves it free, it has only where the rule
    requires one; else, and where nobody asked, it goes by the rule and the studio's practice.
    """
    if marks is not None and marks.hallmark is MarkWish.THOUGH_EXEMPT:
        return is_precious(reckoning.alloy)
    wants_none = marks is not None and marks.hallmark is MarkWish.NONE
    when = AssayWhen.REQUIRED if wants_none else reckoning.practice.hallmark.assay_when
    return is_assayed(foresight(reckoning, rule), when)


def _loss(reckoning: Reckoning) -> float:
    return reckoning.practice.finishing_loss_percent / 100


def _working(reckoning: Reckoning, alloy: Alloy, foreseen: Foresight) -> tuple[Working, ...]:
    """The working of the limit and of both ends of the foreseen mass."""
    notes = Notes()
    practice, design = reckoning.practice, reckoning.design
    terms = practice.hallmark
    limit = Input(f"limit for {alloy.metal}", foreseen.limit_g, "g")
    notes.note("hallmark.limit_g", foreseen.limit_g, "g", limit.name, limit, source=SOURCES[foreseen.rule])
    inputs = (
        Input("finished ring", reckoning.finished_g, "g"),
        Input("doubt of thickness", terms.thickness_mm, "mm"),
        Input("thickness", design.thickness_mm, "mm"),
        Input("doubt of width", terms.width_mm, "mm"),
        Input("width", design.width_mm, "mm"),
        Input("doubt of density", density_sd_percent(alloy, terms), "%"),
        Input("finishing loss", practice.finishing_loss_percent, "%"),
        Input("part of the loss", terms.loss_part),
    )
    spread = (
        "1.645 × finished ring × √((doubt of thickness ÷ thickness)² + (doubt of width ÷ width)²"
        " + (doubt of density ÷ 100)² + (finishing loss ÷ part of the loss ÷ (100 − finishing loss))²)"
    )
    source = f"{practice.source_of('hallmark')}; 1.645: table of the normal distribution"
    least = f"max(0, finished ring − {spread})"
    notes.note("hallmark.low_g", foreseen.low_g, "g", least, *inputs, source=source)
    notes.note("hallmark.high_g", foreseen.high_g, "g", f"finished ring + {spread}", *inputs, source=source)
    return notes.working
