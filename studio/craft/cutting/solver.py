"""HiGHS, the solver of linear and whole-number models: the one place that loads it and reads its verdict."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto


class Verdict(Enum):
    """What the solver says of a model."""

    OPTIMAL = auto()
    IMPOSSIBLE = auto()
    OPEN = auto()  # a limit was reached; values are there where some were found


@dataclass(frozen=True, slots=True)
class Solved:
    """Values of the columns and prices of the rows; both empty where nothing was found.

    `bound` is what no values can stay below.
    """

    verdict: Verdict
    objective: float
    bound: float
    values: Sequence[float]
    prices: Sequence[float]


@dataclass(frozen=True, slots=True)
class Column:
    """One unknown: its cost, its bounds, whether it is whole, and what it adds to which rows."""

    cost: float
    entries: Mapping[int, float]
    low: float = 0.0
    high: float = float("inf")
    is_whole: bool = False


class Model:
    """A model to be minimised; rows first, columns may be added between runs.

    The number of threads is left as it is: set anew after a first run in a process, HiGHS leaves the model
    unsolved without a word. So the status is read after every run.
    """

    def __init__(self, rows: Sequence[tuple[float, float]], columns: Sequence[Column] = ()) -> None:
        import highspy  # noqa: PLC0415  loads for a tenth of a second, and only planning asks for it
        import numpy as np  # noqa: PLC0415  as above

        self._highs = highspy.Highs()  # type: ignore[no-untyped-call]  # its constructor has no annotation
        self._highs.setOptionValue("output_flag", False)  # noqa: FBT003  the option's own value
        self._highs.setOptionValue("mip_rel_gap", 0.0)
        self._highs.setOptionValue("mip_abs_gap", 1e-9)
        nothing = np.array([], dtype=np.int32)
        for low, high in rows:
            self._highs.addRow(low, high, 0, nothing, nothing.astype(np.float64))
        for column in columns:
            self.add(column)

    def add(self, column: Column) -> int:
        """One more column; its number."""
        import highspy  # noqa: PLC0415  as above
        import numpy as np  # noqa: PLC0415  as above

        rows = np.fromiter(column.entries.keys(), dtype=np.int32)
        amounts = np.fromiter(column.entries.values(), dtype=np.float64)
        number = int(self._highs.getNumCol())
        self._highs.addCol(column.cost, column.low, column.high, len(rows), rows, amounts)
        if column.is_whole:
            self._highs.changeColIntegrality(number, highspy.HighsVarType.kInteger)
        return number

    def row(self, low: float, high: float, entries: Mapping[int, float]) -> None:
        """One more row over columns that are there."""
        import numpy as np  # noqa: PLC0415  as above

        columns = np.fromiter(entries.keys(), dtype=np.int32)
        amounts = np.fromiter(entries.values(), dtype=np.float64)
        self._highs.addRow(low, high, len(columns), columns, amounts)

    def bound_row(self, number: int, low: float, high: float) -> None:
        """New bounds for a row that is there."""
        self._highs.changeRowBounds(number, low, high)

    def bound_column(self, number: int, low: float, high: float) -> None:
        """New bounds for a column that is there."""
        self._highs.changeColBounds(number, low, high)

    def price_column(self, number: int, cost: float) -> None:
        """A new cost for a column that is there."""
        self._highs.changeColCost(number, cost)

    def solve(
        self,
        seconds: float,
        *,
        nodes: int | None = None,
        gap: float = 0.0,
        is_primal: bool = False,
        seed: int | None = None,
    ) -> Solved:
        """Minimise within so many seconds and nodes, to within a share `gap` of the least.

        With a `seed` the model is searched as it stands, another seed another way.
        """
        import highspy  # noqa: PLC0415  as above

        highs = self._highs
        highs.setOptionValue("time_limit", highs.getRunTime() + max(seconds, 0.01))
        if nodes is not None:
            highs.setOptionValue("mip_max_nodes", nodes)
        if gap:
            highs.setOptionValue("mip_rel_gap", gap)
        if is_primal:
            highs.setOptionValue("simplex_strategy", 4)
        if seed is not None:
            highs.setOptionValue("random_seed", seed)
            highs.setOptionValue("presolve", "off")
        highs.run()
        status = highs.getModelStatus()
        known = {
            highspy.HighsModelStatus.kOptimal: Verdict.OPTIMAL,
            highspy.HighsModelStatus.kInfeasible: Verdict.IMPOSSIBLE,
        }
        verdict = known.get(status, Verdict.OPEN)
        info = highs.getInfo()
        solution = highs.getSolution()
        found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
        return Solved(
            verdict,
            float(info.objective_function_value),
            float(info.mip_dual_bound),
            list(solution.col_value) if found else [],
            list(solution.row_dual) if found and solution.dual_valid else [],
        )
