"""Branch and bound over options: a core and a ceiling in; better choices, and the least that any can cost, out."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from estimator.buying.purchase.choices import Core
from estimator.buying.purchase.programme import Programme, Told

if TYPE_CHECKING:
    from numpy import float64, int64
    from numpy.typing import NDArray

CANDIDATES = 8
"""Wants or packs that are tried as the next to branch on."""
MOST_SOLVED = 800_000
"""Columns of the programmes of one search."""
OVERHEAD = 200
"""Columns that a programme counts for beside its own."""
WHOLE = 1e-6

Refused = Sequence[tuple[int, int]]
"""Options that cannot be had: the place of the want, the number of the option."""
Offer = Callable[[Sequence[int], Sequence[int]], tuple[int, Refused]]
"""Gets a choice of options and how many of each pack; tells what a choice must cost less than from now on,
and what of it cannot be had.
"""


@dataclass(slots=True)
class Work:
    """What may still be done, counted in columns of linear programmes and in cells of tables."""

    left: int
    cells: int


@dataclass(frozen=True, slots=True)
class _Node:
    """The least and the most that may be taken of each column, and what that comes to."""

    low: "NDArray[int64]"
    high: "NDArray[int64]"
    told: Told


class Proof:
    """The search over one core."""

    def __init__(self, core: Core, ceiling: int, offer: Offer) -> None:
        self.ceiling, self.offer = ceiling, offer
        self.programme = Programme(core)
        self.gone: list[int] = []
        self.solved = 0
        self.left: list[int] = []

    def run(self, work: Work) -> int:
        """The bound after as much work as there may be: the ceiling where nothing below it is left; 0 where it does not fit."""
        import numpy as np

        if not self.programme.fits:
            return 0
        each = len(self.programme.tops) + OVERHEAD
        most = min(MOST_SOLVED, work.left) // each
        tops = self.programme.tops
        open_ = [self.node(np.zeros(len(tops), dtype=np.int64), tops)]
        while open_:
            node = open_.pop()
            if node.told.bound >= self.ceiling:
                continue
            if self.solved >= most or node.told.taken is None:
                self.left.append(node.told.bound)
                continue
            open_ += self.split(node, node.told.taken)
        work.left -= self.solved * each
        return min([self.ceiling, *self.left])

    def node(self, low: "NDArray[int64]", high: "NDArray[int64]") -> _Node:
        """A node, with what costs too much or cannot be had left out."""
        first = self.programme.first
        high = high.copy()
        high[self.gone] = 0
        if not all(high[start:end].any() for start, end in pairwise(first)):
            return _Node(low, high, Told(self.ceiling, high, 0, None))
        self.solved += 1
        told = self.programme.solve(low, high, self.ceiling)
        return _Node(low, self.fewer(low, high, told), told)

    def fewer(self, low: "NDArray[int64]", high: "NDArray[int64]", told: Told) -> "NDArray[int64]":
        """The most of each column where no more than what is between bound and ceiling may be spent on it."""
        import numpy as np

        gap = self.ceiling * self.programme.fine - told.exact - 1
        options = self.programme.first[-1]
        above = told.above
        fewer = high.copy()
        fewer[:options][above[:options] > gap] = 0
        coins = above[options:]
        rest = np.where(coins > 0, low[options:] + max(0, gap) // np.maximum(1, coins), high[options:])
        fewer[options:] = np.minimum(high[options:], rest)
        return fewer

    def split(self, node: _Node, taken: "NDArray[float64]") -> list[_Node]:
        """The nodes that a node comes to, the likelier last."""
        best: tuple[tuple[int, int], list[_Node]] | None = None
        for low, high, other_low, other_high in self.branches(node, taken):
            both = [self.node(low, high), self.node(other_low, other_high)]
            kept = [one for one in both if one.told.bound < self.ceiling]
            if len(kept) < 2:
                return kept
            bounds = sorted(one.told.bound for one in both)
            if best is None or (bounds[0], bounds[1]) > best[0]:
                best = (bounds[0], bounds[1]), sorted(both, key=lambda one: -one.told.bound)
        return best[1] if best is not None else self.take(node, taken)

    def branches(
        self, node: _Node, taken: "NDArray[float64]"
    ) -> "list[tuple[NDArray[int64], NDArray[int64], NDArray[int64], NDArray[int64]]]":
        """Ways to part a node in two, the columns of most doubt first."""
        first = self.programme.first
        found = []
        for place in range(len(first) - 1):
            own = taken[first[place] : first[place + 1]]
            doubt = 1.0 - float(own.max())
            if doubt > WHOLE:
                found.append((doubt, place, -1))
        for column in range(first[-1], len(taken)):
            part = float(taken[column]) % 1.0
            if WHOLE < part < 1 - WHOLE:
                found.append((min(part, 1 - part), column, column))
        found.sort(key=lambda one: (-one[0], one[1]))
        return [
            self.by_coin(node, taken, column) if column >= 0 else self.by_want(node, taken, place)
            for _, place, column in found[:CANDIDATES]
        ]

    def by_want(
        self, node: _Node, taken: "NDArray[float64]", place: int
    ) -> "tuple[NDArray[int64], NDArray[int64], NDArray[int64], NDArray[int64]]":
        """The options of a want that bring less than what is taken of them all, and those that bring more, at the till where
        they differ most.
        """
        first, values = self.programme.first, self.programme.values
        columns = [at for at in range(first[place], first[place + 1]) if node.high[at]]
        used = [at for at in columns if taken[at] > WHOLE]
        at = max(
            range(values.shape[1]),
            key=lambda of: (
                int(values[used, of].max() - values[used, of].min()) / (1 + int(self.programme.asked[of])),
                -of,
            ),
        )
        mean = sum(float(taken[one]) * int(values[one, at]) for one in used)
        less = [one for one in columns if values[one, at] <= mean]
        if len(less) == len(columns) or not less:
            less = used[:1]
        low, other = node.high.copy(), node.high.copy()
        low[[one for one in columns if one not in less]] = 0
        other[less] = 0
        return node.low, low, node.low, other

    def by_coin(
        self, node: _Node, taken: "NDArray[float64]", column: int
    ) -> "tuple[NDArray[int64], NDArray[int64], NDArray[int64], NDArray[int64]]":
        """No more packs than are taken, or one more at least."""
        most = int(taken[column])
        high, low = node.high.copy(), node.low.copy()
        high[column] = most
        low[column] = most + 1
        return node.low, high, low, node.high

    def take(self, node: _Node, taken: "NDArray[float64]") -> list[_Node]:
        """Offer a whole choice; where some of it cannot be had, the node without that."""
        first = self.programme.first
        numbers = [int(taken[start:end].argmax()) for start, end in pairwise(first)]
        counts = [round(float(count)) for count in taken[first[-1] :]]
        self.ceiling, refused = self.offer(numbers, counts)
        self.gone += [first[place] + number for place, number in refused]
        if refused:
            return [self.node(node.low, node.high)]
        if node.told.bound < self.ceiling:
            self.left.append(node.told.bound)
        return []
