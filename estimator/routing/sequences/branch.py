"""Branch and cut: proves a closed tour least, or finds a shorter one, with bounds that are exact whole numbers.

In: a cost matrix, a tour to start from, whether edge (0, last) must be used, a limit on the number of subproblems. Out:
the best tour known and a lower bound; equal means proven. Work is counted, never timed, so the same matrix gives the
same answer.
Method: Dantzig, Fulkerson, Johnson 1954; Padberg and Rinaldi 1991.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from typing import TYPE_CHECKING

import numpy as np

from estimator.routing.sequences.cuts import EPS, separate
from estimator.routing.sequences.relax import Cut, Relaxation, Solved

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]

ROUNDS_AT_ROOT = 80
ROUNDS_BELOW = 12
CANDIDATES = 6
# Cutting goes on while one of the last few rounds closed this share of the gap; else branching is cheaper.
WORTH_A_ROUND = 0.02
PATIENCE = 3


def close(cost: "Ints", tour: Sequence[int], *, forced: bool, limit: int) -> tuple[tuple[int, ...], int]:
    """The best tour found and an exact lower bound on every tour (with edge 0 to last, where `forced`).

    `limit` is the number of subproblems looked at after the root.
    """
    search = _Search(cost, tour, forced=forced)
    search.root()
    search.tree(limit)
    return search.tour, search.bound


@dataclass(frozen=True, slots=True, order=True)
class _Open:
    """A subproblem not settled yet: what it cannot fall below, and the ranges of the edges."""

    bound: int
    number: int
    low: "Ints" = field(compare=False)
    high: "Ints" = field(compare=False)


class _Search:
    """One proof in progress: best tour, proven bound, and a relaxation over the edges a better tour could use."""

    def __init__(self, cost: "Ints", tour: Sequence[int], *, forced: bool) -> None:
        self.price, self.nodes = cost, len(cost)
        self.tour, self.best, self.bound = tuple(tour), _length(cost, tour), 0
        ends = np.argwhere(np.triu(np.ones(cost.shape, dtype=bool), 1))
        low = np.zeros(len(ends), dtype=np.int64)
        if forced:
            low[self.nodes - 2] = 1
        self.relaxed = self._relaxation(ends, [], low)

    def _relaxation(self, ends: "Ints", cuts: list[Cut], low: "Ints") -> Relaxation:
        return Relaxation(self.nodes, ends, self.price[ends[:, 0], ends[:, 1]], cuts, low)

    def root(self) -> None:
        """Cut as long as it pays; leave out edges no better tour can use, and start again with the rest."""
        while self.bound < self.best:
            solved, bound = self._cut(ROUNDS_AT_ROOT)
            self.bound = max(self.bound, bound)
            if self.bound >= self.best or not self._leave_out(solved):
                return

    def _leave_out(self, solved: Solved) -> bool:
        """Drop edges, and bind others, by exact reduced cost; were there many?"""
        relaxed = self.relaxed
        room = (self.best - 1) * relaxed.grain - (solved.bound or 0)
        stays = solved.reduced <= room
        stays |= relaxed.low == 1
        low = relaxed.low | (-solved.reduced > room)
        if stays.sum() > 0.8 * len(stays) and low.sum() == relaxed.low.sum():
            return False
        self.relaxed = self._relaxation(relaxed.ends[stays], relaxed.tight(), low[stays])
        return True

    def _cut(self, rounds: int) -> tuple[Solved, int]:
        """Solve and cut until x is a tour, the bound is enough, or rounds stop paying: the last solution and bound."""
        relaxed, start = self.relaxed, 0
        slow = 0
        while True:
            solved = relaxed.solve()
            bound = self._whole(solved)
            if bound >= self.best or solved.x is None:
                return solved, bound
            cuts = separate(self.nodes, relaxed.ends, solved.x)
            if not cuts and np.abs(solved.x - np.rint(solved.x)).max(initial=0.0) <= EPS:
                self._take(relaxed.ends[solved.x > 0.5])
            slow = 0 if bound - start > WORTH_A_ROUND * (self.best - start) else slow + 1
            rounds -= 1
            if not cuts or rounds <= 0 or slow > PATIENCE:
                return solved, bound
            start = max(start, bound)
            relaxed.add(cuts)

    def _whole(self, solved: Solved) -> int:
        """The bound rounded up to a whole unit; a subproblem proven empty counts as the best known."""
        return self.best if solved.bound is None else -(-solved.bound // self.relaxed.grain)

    def _take(self, ends: "Ints") -> None:
        """Keep the tour that these edges are, if they are one and it is better."""
        walk = _walk(self.nodes, ends)
        if walk is not None and (found := _length(self.price, walk)) < self.best:
            self.tour, self.best = walk, found

    def tree(self, limit: int) -> None:
        """Split what the root left open, most promising first."""
        waiting = [_Open(self.bound, 0, self.relaxed.low, self.relaxed.high)] if self.bound < self.best else []
        number = 0
        while waiting and waiting[0].bound < self.best:
            self.bound = max(self.bound, waiting[0].bound)
            if limit <= 0:
                return
            limit -= 1
            item = heappop(waiting)
            self.relaxed.fix(item.low, item.high)
            solved, bound = self._cut(ROUNDS_BELOW)
            for child in self._split(solved, max(bound, item.bound)):
                number += 1
                heappush(waiting, _Open(child.bound, number, child.low, child.high))
        self.bound = self.best

    def _split(self, solved: Solved, bound: int) -> list[_Open]:
        """Two subproblems that hold every better tour, the best split of a few tried; fewer where one is empty."""
        if bound >= self.best:
            return []
        low, high = self.relaxed.low, self.relaxed.high
        if (low == high).all():
            self._take(self.relaxed.ends[low == 1])
            return []
        best: tuple[int, list[_Open]] = (-1, [])
        for edge in self._candidates(solved):
            tried = [self._try(edge, value, low, high, bound) for value in (1, 0)]
            children = [child for child in tried if child.bound < self.best]
            if len(children) < 2:
                self.relaxed.fix(low, high)
                return children
            score = (children[0].bound - bound + 1) * (children[1].bound - bound + 1)
            best = max(best, (score, children), key=lambda pair: pair[0])
        self.relaxed.fix(low, high)
        return best[1]

    def _candidates(self, solved: Solved) -> list[int]:
        """Edges worth trying: most undecided first, dearer first, then by index."""
        free = np.flatnonzero(self.relaxed.low < self.relaxed.high)
        if solved.x is None:
            return [int(edge) for edge in free[:1]]
        off = np.round(np.abs(solved.x[free] - 0.5), 6)
        order = np.lexsort((free, -self.relaxed.cost[free], off))
        chosen = [int(free[i]) for i in order[:CANDIDATES] if off[i] < 0.5 - EPS]
        return chosen or [int(free[i]) for i in order[:1]]

    def _try(self, edge: int, value: int, low: "Ints", high: "Ints", bound: int) -> _Open:
        """The subproblem with the edge fixed, and how far its relaxation rises."""
        one, two = low.copy(), high.copy()
        one[edge] = two[edge] = value
        self.relaxed.fix(one, two)
        return _Open(max(bound, self._whole(self.relaxed.solve())), edge, one, two)


def _length(cost: "Ints", tour: Sequence[int]) -> int:
    return sum(int(cost[tour[i - 1], tour[i]]) for i in range(len(tour)))


def _walk(nodes: int, ends: "Ints") -> tuple[int, ...] | None:
    """The edges as one closed walk from node 0, or None where they are no tour."""
    beside: list[list[int]] = [[] for _ in range(nodes)]
    for i, j in ends.tolist():
        beside[i].append(j)
        beside[j].append(i)
    if any(len(two) != 2 for two in beside):
        return None
    walk = [0]
    before, here = 0, min(beside[0])
    while here != 0:
        walk.append(here)
        before, here = here, beside[here][1] if beside[here][0] == before else beside[here][0]
    return tuple(walk) if len(walk) == nodes else None
