"""The least spanning tree within degree caps: trees from `grow`, the proof by multipliers and by splitting on edges.

In: a cost matrix, caps that allow a tree, a limit on subproblems (None: until proven). Out: edges (i, j), i < j, and an
exact lower bound.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from typing import TYPE_CHECKING

import numpy as np

from estimator.routing.sequences.bounds import Allowed, Multipliers, Relaxed, ends_of
from estimator.routing.sequences.grow import exchange, greedy
from estimator.routing.sequences.model import Cost, Edge, length

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Bools = NDArray[np.bool_]

BURSTS_AT_ROOT = 25
BURSTS_BELOW = 1
BURST = 20


def least_tree(cost: Cost, caps: Sequence[int], limit: int | None) -> tuple[list[Edge], int]:
    """The best tree found and a lower bound; equal in cost when proven."""
    search = _Search(cost, caps)
    search.split(limit)
    return search.edges, search.bound


@dataclass(frozen=True, slots=True, order=True)
class _Open:
    """A subproblem not settled yet: its bound, where its multipliers stand, their tree and what edges are left."""

    bound: int
    number: int
    weights: "Ints" = field(compare=False)
    relaxed: Relaxed = field(compare=False)
    allowed: Allowed = field(compare=False)


class _Search:
    """One proof in progress: the best tree and the proven bound."""

    def __init__(self, cost: Cost, caps: Sequence[int]) -> None:
        self.cost, self.caps, self.nodes = cost, list(caps), len(cost)
        self.price = np.array(cost, dtype=np.int64)
        np.fill_diagonal(self.price, 0)
        self.multipliers = Multipliers(self.price, np.array(caps, dtype=np.int64))
        self.every = ~np.eye(self.nodes, dtype=bool)
        self.edges: list[Edge] = []
        self.best, self.bound = -1, 0
        self._grow(self.price, self.every)

    def _grow(self, price: "Ints", may: "Bools") -> None:
        """Build a tree by `price`, improve it, keep it if it is better."""
        tails, heads = np.nonzero(np.triu(may, 1))
        ranks = np.lexsort((heads, tails, price[tails, heads]))
        edges = greedy(list(zip(tails[ranks].tolist(), heads[ranks].tolist(), strict=True)), self.caps)
        if edges is not None:
            self._take(exchange(self.price, self.caps, edges))

    def _take(self, edges: Sequence[Edge]) -> None:
        total = length(self.cost, edges)
        if self.best < 0 or total < self.best:
            self.edges, self.best = sorted((min(edge), max(edge)) for edge in edges), total

    @property
    def goal(self) -> int:
        """The least bound that proves the best tree, in units / grain: costs are whole, so just above one unit less."""
        return (self.best - 1) * self.multipliers.grain + 1

    def split(self, limit: int | None) -> None:
        """Settle the whole problem, then the parts it falls into, most promising first."""
        nothing = np.zeros((self.nodes, self.nodes), dtype=bool)
        first = self._settle(np.zeros(self.nodes, dtype=np.int64), Allowed(self.every, nothing), 0, BURSTS_AT_ROOT)
        waiting = [] if first is None else [first]
        number = 0
        while waiting and waiting[0].bound < self.best:
            self.bound = max(self.bound, waiting[0].bound)
            if limit is not None and (limit := limit - 1) < 0:
                return
            item = heappop(waiting)
            for allowed in self._halves(item):
                number += 1
                part = self._settle(item.weights, allowed, number, BURSTS_BELOW)
                if part is not None:
                    heappush(waiting, part)
        self.bound = self.best

    def _settle(self, weights: "Ints", allowed: Allowed, number: int, bursts: int) -> _Open | None:
        """Raise the bound, trying trees on the way; None when no better tree is left there."""
        grain, idle = self.multipliers.grain, 0
        reached = None
        for _ in range(bursts):
            found = self.multipliers.climb(weights, allowed, self.goal, BURST)
            if found is None:
                return None
            weights, relaxed = found
            self._offer(weights, relaxed, allowed)
            if relaxed.bound >= self.goal:
                return None
            idle = 0 if reached is None or (relaxed.bound - reached) * 20 > self.goal - reached else idle + 1
            reached = relaxed.bound
            allowed = self._narrow(weights, relaxed, allowed)
            if idle > 2:
                break
        return _Open(-(-relaxed.bound // grain), number, weights, relaxed, allowed)

    def _offer(self, weights: "Ints", relaxed: Relaxed, allowed: Allowed) -> None:
        """Try the tree of the bound if it keeps the caps, else the greedy tree of its prices."""
        if (ends_of(relaxed.parent) <= self.multipliers.caps).all():
            tree = [(int(up), node) for node, up in enumerate(relaxed.parent) if node]
            self._take(exchange(self.price, self.caps, tree))
        else:
            self._grow(self.price * self.multipliers.grain + weights[:, None] + weights[None, :], allowed.may)

    def _narrow(self, weights: "Ints", relaxed: Relaxed, allowed: Allowed) -> Allowed:
        """Leave out every edge whose exchange into the tree of the bound would already reach the best cost."""
        prices = self.price * self.multipliers.grain + weights[:, None] + weights[None, :]
        may = allowed.may & (relaxed.bound + prices - relaxed.heaviest < self.goal)
        return Allowed(may | allowed.must, allowed.must)

    def _halves(self, item: _Open) -> list[Allowed]:
        """The trees with one edge and those without it; fewer where the caps or an only tree rule a half out."""
        edge = self._undecided(item)
        if edge is None:
            return []
        i, j = edge
        may, must = item.allowed.may.copy(), item.allowed.must.copy()
        may[i, j] = may[j, i] = False
        without = Allowed(may, must)
        return [half for half in (without, self._with(item.allowed, i, j)) if half is not None]

    def _with(self, allowed: Allowed, i: int, j: int) -> Allowed | None:
        """The edge bound in; a node whose bound edges use up its cap takes no others."""
        may, must = allowed.may.copy(), allowed.must.copy()
        must[i, j] = must[j, i] = True
        for node in (i, j):
            bound = int(must[node].sum())
            if bound > self.caps[node]:
                return None
            if bound == self.caps[node]:
                may[node] = may[:, node] = must[node]
        return Allowed(may, must)

    def _undecided(self, item: _Open) -> Edge | None:
        """A free edge of the bound's tree at the node furthest over its cap, else at a multiplier; the cheapest."""
        parent = item.relaxed.parent
        free = [(int(up), node) for node, up in enumerate(parent) if node and not item.allowed.must[up, node]]
        over = ends_of(parent) - self.multipliers.caps

        def rank(edge: Edge) -> tuple[int, int, int, Edge]:
            weighted = sum(int(item.weights[node] > 0) for node in edge)
            return max(int(over[node]) for node in edge), weighted, -self.cost[edge[0]][edge[1]], edge

        return max(free, key=rank, default=None)
