"""The second engine: column generation and a dive; a task that the first engine left open in, layouts and
measures out.

The linear programme speaks in floats and proves nothing. What it suggests is taken up twice: its prices,
rounded down to whole numbers, become a measure whose rooms are computed anew in whole numbers; its columns
become bins of whole pieces.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import TYPE_CHECKING

from estimator.buying.bounds import Measure, measure
from estimator.buying.task import TABLE_CELLS, Layout, Task, halves
from estimator.solvers import must, quiet_highs

if TYPE_CHECKING:
    from numpy import bool_, float64, int64
    from numpy.typing import NDArray

ALL_CELLS = 1_500_000_000  # of all pricing tables for one task, of which
DIVE_CELLS = 60_000_000  # are kept back for a dive at the end
TINY = 1e-7
PRECISE = 1 << 50  # the sum of all worths of a measure stays below it, so that 64-bit sums are exact


@dataclass(frozen=True, slots=True)
class Column:
    """A way to cut one bin of a kind: how many of each distinct size, sizes falling."""

    kind: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Relaxed:
    """A solved linear programme: how often each column is used, the worth of each distinct size, and the sum
    of money.
    """

    columns: tuple[tuple[Column, float], ...]
    worth: tuple[float, ...]
    money: float


@dataclass(slots=True)
class Patterns:
    """The distinct sizes of a task, and all columns known so far in the order in which they were found."""

    task: Task
    sizes: tuple[int, ...] = ()
    known: dict[Column, None] = field(default_factory=dict)
    cells: int = ALL_CELLS

    def __post_init__(self) -> None:
        self.sizes = tuple(sorted(set(self.task.sizes), reverse=True))

    @property
    def small_enough(self) -> bool:
        """Whether a pricing table of this task is within TABLE_CELLS."""
        return len(self.sizes) * max((kind.room for kind in self.task.kinds), default=0) <= TABLE_CELLS

    def sizes_of(self, column: Column) -> tuple[int, ...]:
        """Return the sizes of the pieces in a column."""
        return tuple(size for size, count in zip(self.sizes, column.counts, strict=True) for _ in range(count))

    def learn(self, layout: Layout) -> None:
        """Add the bins of a layout to the known columns; lengths cut to order are no columns."""
        for load in layout:
            if load.kind < len(self.task.kinds):
                have = Counter(load.sizes)
                self.known[Column(load.kind, tuple(have[size] for size in self.sizes))] = None

    def relax(self, task: Task, rounds: int) -> Relaxed:
        """Solve the linear programme of a task with these sizes, or some of them, by at most so many rounds
        of pricing.

        Lengths cut to order enter piece by piece, in fractions of a unit, so they are not dearer here than
        they are.
        """
        need = Counter(task.sizes)
        demand = tuple(need[size] for size in self.sizes)
        master = _Master(self, task, demand)
        solved = master.solve()
        top = max((kind.room for kind in task.kinds if kind.most), default=0)
        while rounds and self.cells > 0 and top:
            rounds -= 1
            self.cells -= len(need) * (top + 1)
            if not master.add(_Table(self.sizes, demand, solved.worth, top)):
                break
            solved = master.solve()
        return solved

    def measure(self, task: Task, worth: Sequence[float]) -> Measure | None:
        """Return the measure by worth in whole numbers, or None where no piece is worth anything."""
        need = Counter(task.sizes)
        total = sum(max(0.0, value) * need[size] for size, value in zip(self.sizes, worth, strict=True))
        if total <= 0:
            return None
        whole = [int(max(0.0, value) / total * PRECISE) for value in worth]
        demand = tuple(need[size] for size in self.sizes)
        rooms = best_worths(self.sizes, demand, whole, [kind.room for kind in task.kinds])
        return measure(task, {s: w for s, w in zip(self.sizes, whole, strict=True) if need[s]}, rooms)


def best_worths(sizes: Sequence[int], demand: Sequence[int], worth: Sequence[int], rooms: Sequence[int]) -> list[int]:
    """Return the most worth that fits each room, in whole numbers below 2^63, no more of a size than is in
    demand.
    """
    import numpy

    top = max(rooms, default=0)
    value: NDArray[int64] = numpy.zeros(top + 1, dtype=numpy.int64)
    for size, most, each in zip(sizes, demand, worth, strict=True):
        for count in halves(min(most, top // size)):
            step = count * size
            numpy.maximum(value[step:], value[:-step] + count * each, out=value[step:])
    return [int(value[room]) for room in rooms]


class _Table:
    """For every room up to the longest, the most worth that it can hold, and what to put into it for that."""

    def __init__(self, sizes: Sequence[int], demand: Sequence[int], worth: Sequence[float], top: int) -> None:
        import numpy

        self.sizes = sizes
        self.value: NDArray[float64] = numpy.zeros(top + 1)
        self.taken: list[tuple[int, int, NDArray[bool_]]] = []
        for place, (size, most, each) in enumerate(zip(sizes, demand, worth, strict=True)):
            if each <= TINY:
                continue
            for count in halves(min(most, top // size)):
                step = count * size
                more = self.value[:-step] + count * each
                better = more > self.value[step:] + TINY
                self.value[step:] = numpy.where(better, more, self.value[step:])
                self.taken.append((place, count, better))

    def counts(self, room: int) -> tuple[int, ...]:
        """Return how many of each size make the most worth in a room."""
        counts = [0] * len(self.sizes)
        for place, count, better in reversed(self.taken):
            step = count * self.sizes[place]
            if room >= step and better[room - step]:
                counts[place] += count
                room -= step
        return tuple(counts)


class _Master:
    """The linear programme over the known columns: each size covered, limits kept, least money."""

    def __init__(self, patterns: Patterns, task: Task, demand: tuple[int, ...]) -> None:
        self.patterns = patterns
        self.task = task
        self.highs = quiet_highs(solver="simplex")
        self.limited = [place for place, kind in enumerate(task.kinds) if kind.limited]
        self.columns: list[Column] = []
        for count in demand:
            must(self.highs.addRow(float(count), self.highs.inf, 0, [], []), "row")
        for place in self.limited:
            must(self.highs.addRow(-self.highs.inf, float(task.kinds[place].most), 0, [], []), "row")
        self.singles = [self._single(size) for size in patterns.sizes]
        for place, price in enumerate(self.singles):
            must(self.highs.addCol(price, 0.0, self.highs.inf, 1, [place], [1.0]), "column")
        for column in patterns.known:
            proper = all(have <= most for have, most in zip(column.counts, demand, strict=True))
            if proper and column.kind < len(task.kinds) and self._fits(column):
                self._add(column)

    def _fits(self, column: Column) -> bool:
        """Whether the kind has the room: what a length cut to order holds differs from combination to
        combination.
        """
        return sum(self.patterns.sizes_of(column)) <= self.task.kinds[column.kind].room

    def _single(self, size: int) -> float:
        """The price of one piece bought to order, or, where nothing is cut to order, one that no plan would
        pay.
        """
        task = self.task
        cut = [sale.price * (size * task.grain - task.kerf) / sale.unit for sale in task.sales]
        return min(cut, default=10.0 * (1 + sum(kind.stock.price for kind in task.kinds)))

    def _add(self, column: Column) -> None:
        entries = [(place, float(count)) for place, count in enumerate(column.counts) if count]
        if column.kind in self.limited:
            entries.append((len(column.counts) + self.limited.index(column.kind), 1.0))
        price = float(self.task.kinds[column.kind].stock.price)
        rows, values = [row for row, _ in entries], [value for _, value in entries]
        must(self.highs.addCol(price, 0.0, self.highs.inf, len(rows), rows, values), "column")
        self.columns.append(column)

    def add(self, table: _Table) -> bool:
        """Add the best column of each kind that would lower the sum, and say whether there was one."""
        found = False
        for place, kind in enumerate(self.task.kinds):
            if kind.most and table.value[kind.room] > kind.stock.price + self._rent(place) + 1e-6 * (
                1 + kind.stock.price
            ):
                column = Column(place, table.counts(kind.room))
                self.patterns.known[column] = None
                if column not in self.columns:
                    self._add(column)
                    found = True
        return found

    def _rent(self, kind: int) -> float:
        """What one more bin of a limited kind would save."""
        if kind not in self.limited:
            return 0.0
        return -float(self.duals[len(self.patterns.sizes) + self.limited.index(kind)])

    def solve(self) -> Relaxed:
        must(self.highs.run(), "run")
        solution = self.highs.getSolution()
        self.duals = list(solution.row_dual)
        used = list(solution.col_value)[len(self.singles) :]
        pairs = tuple((c, x) for c, x in zip(self.columns, used, strict=True) if x > TINY)
        return Relaxed(pairs, tuple(self.duals[: len(self.patterns.sizes)]), float(self.highs.getObjectiveValue()))


def cut_off(patterns: Patterns, task: Task, relaxed: Relaxed) -> list[Column]:
    """Return bins to keep from a relaxed solution: every whole use of a column, or else the column used most;
    none if there is none.
    """
    left = Counter(task.sizes)
    stock = [kind.most if kind.limited else len(task.sizes) for kind in task.kinds]
    kept: list[Column] = []
    ranked = sorted(relaxed.columns, key=lambda pair: (-pair[1], pair[0].kind, pair[0].counts))
    whole = list(chain.from_iterable([column] * int(used + 1e-6) for column, used in ranked))
    for column in whole or [column for column, _ in ranked[:1]]:
        fits = all(left[size] >= count for size, count in zip(patterns.sizes, column.counts, strict=True))
        if fits and stock[column.kind]:
            stock[column.kind] -= 1
            left.subtract(dict(zip(patterns.sizes, column.counts, strict=True)))
            kept.append(column)
    return kept
