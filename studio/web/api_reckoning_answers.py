"""A reckoning as the API gives it."""

from collections.abc import Mapping

from studio.craft.designs import System
from studio.craft.hallmark import Foresight, HallmarkRule, foresight
from studio.craft.reckonings import Reckoning
from studio.craft.sizes import NearestSize
from studio.web.api_models import (
    BlankFigures,
    HallmarkFigures,
    InputOut,
    MassFigures,
    ReckoningOut,
    RingFigures,
    SizeLabel,
    StretchFigures,
    WarningOut,
    WorkingOut,
)


def size_labels(sizes: Mapping[System, NearestSize | None]) -> dict[System, SizeLabel | None]:
    """The nearest label of each system, None where it has none."""
    return {
        system: SizeLabel(label=near.label, error_mm=near.error_mm) if near else None
        for system, near in sizes.items()
    }


def reckoning_out(reckoning: Reckoning, rule: HallmarkRule) -> ReckoningOut:
    """All figures of a ring with their workings and warnings; its hallmark by `rule`."""
    foreseen = foresight(reckoning, rule)
    stretch = reckoning.stretch
    return ReckoningOut(
        ring=RingFigures(
            circumference_mm=reckoning.circumference_mm,
            diameter_mm=reckoning.diameter_mm,
            sizes=size_labels(reckoning.sizes),
            doubt_mm=reckoning.doubt.plus_minus_mm,
            chance=reckoning.doubt.chance,
            finished_width_mm=reckoning.finished_width_mm,
            edge_diameter_mm=None if reckoning.form is None else reckoning.form.edge_mm,
        ),
        blank=BlankFigures(
            true_length_mm=reckoning.true_length_mm,
            mark_mm=reckoning.mark_mm,
            width_mm=reckoning.design.width_mm,
            thickness_mm=reckoning.design.thickness_mm,
            neutral_mm=reckoning.neutral_mm,
            section_mm2=reckoning.section_mm2,
        ),
        mass=MassFigures(
            blank_g=reckoning.blank_g,
            issue_g=reckoning.issue_g,
            ring_g=reckoning.ring_g,
            finished_g=reckoning.finished_g,
        ),
        stretch=StretchFigures(
            mean_percent=stretch.mean_percent,
            low_percent=stretch.low_percent,
            high_percent=stretch.high_percent,
            used_percent=stretch.used_percent,
            records=stretch.records,
        ),
        hallmark=_hallmark(foreseen),
        working=[
            # what is sent was reckoned here: there is nothing in it to be checked
            WorkingOut.model_construct(
                figure=step.figure,
                formula=step.formula,
                inputs=[
                    InputOut.model_construct(name=one.name, value=one.value, unit=one.unit)
                    for one in step.inputs
                ],
                value=step.value,
                unit=step.unit,
                source=step.source,
            )
            for step in (*reckoning.working, *(foreseen.working if foreseen else ()))
        ],
        warnings=[
            WarningOut(code=one.code, message=one.message, needs_reason=one.needs_reason)
            for one in reckoning.caveats
        ],
    )


def _hallmark(foreseen: Foresight | None) -> HallmarkFigures | None:
    if foreseen is None:
        return None
    return HallmarkFigures(
        rule=foreseen.rule,
        limit_g=foreseen.limit_g,
        low_g=foreseen.low_g,
        high_g=foreseen.high_g,
        verdict=foreseen.verdict,
    )
