"""What the steps of a ring say, carried into its bench record, and put back where it is taken back."""

from collections.abc import Mapping
from dataclasses import asdict, replace
from typing import Any

from studio.book.bench_records import BenchDraft
from studio.craft.bench_figures import RecordFigures
from studio.craft.units import from_micrometres, to_micrometres

Fields = dict[str, float | None]
"""Figures of a bench record by their names, in mm."""


def moved(was: RecordFigures, said: RecordFigures) -> Fields:
    """The figures that are said now and were not before, or otherwise; to the micrometre."""
    before = _in_um(was)
    return {
        name: None if um is None else from_micrometres(um)
        for name, um in _in_um(said).items()
        if um != before[name]
    }


def put_back(stands: BenchDraft, was: RecordFigures, kept: Mapping[str, float | None]) -> Fields:
    """The figures as they were before, out of `kept`; none where somebody put the record right since."""
    as_put = _in_um(was)
    is_as_put = all(_um(getattr(stands, name)) == as_put[name] for name in kept)
    return dict(kept) if is_as_put else {}


def with_figures(draft: BenchDraft, fields: Fields) -> BenchDraft:
    """The draft with these figures, the rest as it is."""
    changes: dict[str, Any] = dict(fields)
    return replace(draft, **changes)


def _in_um(figures: RecordFigures) -> dict[str, int | None]:
    return {name: _um(mm) for name, mm in asdict(figures).items()}


def _um(mm: float | None) -> int | None:
    return None if mm is None else to_micrometres(mm)
