"""A row of the work at the bench, read as what happened."""

from studio.book.bench_work_tables import BenchWorkRow
from studio.craft.bench_work import Happened, What
from studio.craft.units import from_micrometres


def as_happened(row: BenchWorkRow) -> Happened:
    """A row as what happened."""
    figure = None
    if row.figure_um is not None:
        figure = from_micrometres(row.figure_um)
    elif row.figure_mg is not None:
        figure = row.figure_mg / 1000
    return Happened(
        row.serial,
        What(row.what),
        row.operation,
        row.at,
        row.maker,
        figure,
        row.minutes,
        row.then_operation,
        row.reason,
        row.undoes,
    )
