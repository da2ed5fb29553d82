"""A linear relaxation of the tour problem, solved by HiGHS in floats and certified in whole numbers.

In: edges with whole costs, a 0/1 range for each, cuts. Out: an approximate x to look for cuts in, and a lower bound
that is exact whatever the floats did: duals are rounded to whole numbers, and any whole duals give a valid bound (sum
of duals x right sides + what edges of negative reduced cost can take off).
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from estimator.solvers import must, quiet_highs

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]

# Reduced costs stay far below 2**63 with this, and a unit of cost is still divided finely.
_ROOM = 2**60


@dataclass(frozen=True, slots=True, eq=False)
class Cut:
    """x(edges inside `handle`) + x(teeth) <= `most`. Teeth are pairs (i, j), i < j, with one end in the handle."""

    handle: "Bools"
    teeth: tuple[tuple[int, int], ...]
    most: int

    def key(self) -> tuple[bytes, tuple[tuple[int, int], ...]]:
        """What tells two cuts apart."""
        return self.handle.tobytes(), self.teeth


@dataclass(frozen=True, slots=True, eq=False)
class Solved:
    """`x` by edge (None: HiGHS has none), the exact `bound` in units / `grain` (None: proven that no x exists).

    `reduced` costs are exact too, in units / `grain`.
    """

    x: "Floats | None"
    bound: "int | None"
    reduced: "Ints"


class Relaxation:
    """Degree rows, cuts and 0/1 ranges over a fixed list of edges; HiGHS keeps its basis between runs."""

    def __init__(self, nodes: int, ends: "Ints", cost: "Ints", cuts: list[Cut], low: "Ints") -> None:
        self.nodes, self.ends, self.cost = nodes, ends, cost
        self.low, self.high = low.copy(), np.ones(len(cost), dtype=np.int64)
        top = max(1, int(cost.max(initial=1)))
        self.scale = 2.0 ** max(0, top.bit_length() - 17)
        self.grain = 1 << max(0, min(10, (_ROOM // (top * 8 * nodes)).bit_length() - 1))
        self.cuts: list[Cut] = []
        self.rows = np.zeros((0, len(cost)), dtype=np.int64)
        self.solver = quiet_highs(presolve="off", dual_feasibility_tolerance=1e-9, primal_feasibility_tolerance=1e-9)
        self._build()
        self.add(cuts)

    def _build(self) -> None:
        edges = len(self.cost)
        for _ in range(self.nodes):
            must(self.solver.addRow(2.0, 2.0, 0, np.zeros(0, np.int32), np.zeros(0)), "degree row")
        starts = np.arange(edges, dtype=np.int32) * 2
        must(
            self.solver.addCols(
                edges,
                self.cost / self.scale,
                self.low.astype(float),
                self.high.astype(float),
                2 * edges,
                starts,
                self.ends.ravel().astype(np.int32),
                np.ones(2 * edges),
            ),
            "edges",
        )

    def add(self, cuts: list[Cut]) -> None:
        """Put `cuts` into the problem."""
        for cut in cuts:
            row = (cut.handle[self.ends[:, 0]] & cut.handle[self.ends[:, 1]]).astype(np.int64)
            for i, j in cut.teeth:
                row[(self.ends[:, 0] == i) & (self.ends[:, 1] == j)] = 1
            on = np.flatnonzero(row).astype(np.int32)
            must(self.solver.addRow(-np.inf, float(cut.most), len(on), on, np.ones(len(on))), "cut")
            self.cuts.append(cut)
            self.rows = np.vstack([self.rows, row])

    def fix(self, low: "Ints", high: "Ints") -> None:
        """Set the range of every edge."""
        changed = np.flatnonzero((low != self.low) | (high != self.high)).astype(np.int32)
        if len(changed):
            least, most = low[changed].astype(float), high[changed].astype(float)
            must(self.solver.changeColsBounds(len(changed), changed, least, most), "ranges")
        self.low, self.high = low.copy(), high.copy()

    def tight(self) -> list[Cut]:
        """The cuts that bind in the last solution."""
        worth = np.array(self.solver.getSolution().row_dual)[self.nodes :]
        return [cut for cut, dual in zip(self.cuts, worth, strict=True) if dual < -1e-9]

    def solve(self) -> Solved:
        """Run HiGHS and certify what it says. `bound` None: HiGHS finds no x, and that is proven in whole numbers."""
        from highspy import HighsModelStatus

        must(self.solver.run(), "run")
        status = self.solver.getModelStatus()
        solution = self.solver.getSolution()
        duals = np.array(solution.row_dual) * self.scale * self.grain
        bound, reduced = self._certify(duals, self.cost * self.grain)
        if status == HighsModelStatus.kOptimal:
            return Solved(np.array(solution.col_value), bound, reduced)
        if status == HighsModelStatus.kInfeasible:
            _, there, ray = self.solver.getDualRay()  # type: ignore[attr-defined]  # there, but not in its stub
            if there and self._refutes(np.array(ray)):
                return Solved(None, None, reduced)
        return Solved(None, bound, reduced)

    def _refutes(self, ray: "Floats") -> bool:
        """Do the multipliers of `ray`, in whole numbers, show that no x exists?"""
        size = np.abs(ray).max(initial=0.0)
        if size == 0:
            return False
        return any(self._certify(sign * ray / size * 2**20, np.zeros_like(self.cost))[0] > 0 for sign in (1, -1))

    def _certify(self, duals: "Floats", cost: "Ints") -> tuple[int, "Ints"]:
        """The bound these multipliers give once rounded to whole numbers, and the reduced costs; nothing overflows."""
        rows = self.nodes + len(self.cuts)
        if len(duals) != rows or not 2 * float(np.abs(duals).sum()) < _ROOM:
            duals = np.zeros(rows)
        whole = np.rint(duals).astype(np.int64)
        degree: Ints = whole[: self.nodes]
        cut: Ints = np.minimum(whole[self.nodes :], 0).astype(np.int64)
        reduced = cost - degree[self.ends[:, 0]] - degree[self.ends[:, 1]] - cut @ self.rows
        taken = np.where(reduced < 0, self.high, self.low) * reduced
        most = (c.most * int(dual) for c, dual in zip(self.cuts, cut, strict=True))
        off: list[int] = taken[taken != 0].tolist()
        return 2 * int(degree.sum()) + sum(most) + sum(off), reduced
