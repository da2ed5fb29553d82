"""Lower bounds for trees with capped degrees: whole-number multipliers on the nodes, then a plain least spanning tree.

In: costs, caps, a multiplier l(v) >= 0 per node. Out: a bound. Taking l(v) x (ends at v - cap(v)) into the cost never
raises the cost of a tree within the caps, so the least spanning tree of the changed costs is a lower bound. Everything
is in whole numbers (units / `grain`): the bound is exact. Method: Held and Karp 1971; steps after Polyak 1969.
"""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Bools = NDArray[np.bool_]

FAR = np.int64(2**60)
_ROOM = 2**56
STALE = 12


@dataclass(frozen=True, slots=True, eq=False)
class Relaxed:
    """The least spanning tree of the changed costs.

    `parent` of each node (node 0 is the top), `bound` in units / grain, and the `heaviest` edge between any two nodes.
    """

    parent: "Ints"
    bound: int
    heaviest: "Ints"


@dataclass(frozen=True, slots=True, eq=False)
class Allowed:
    """Which edges a tree may use and which it must (both symmetric masks)."""

    may: "Bools"
    must: "Bools"


class Multipliers:
    """The bound as a function of the multipliers, for one cost matrix and one list of caps."""

    def __init__(self, cost: "Ints", caps: "Ints") -> None:
        self.cost, self.caps, self.nodes = cost, caps, len(cost)
        top = max(1, int(cost.max()))
        self.grain = 1 << max(0, min(8, (_ROOM // (top * 8 * self.nodes)).bit_length() - 1))
        self.ceiling = top * self.grain * 4

    def tree(self, weights: "Ints", allowed: Allowed) -> Relaxed | None:
        """The least spanning tree under `weights` on the nodes; None where what is allowed does not join them."""
        prices = self.cost * self.grain + weights[:, None] + weights[None, :]
        ranked = np.where(allowed.must, prices - FAR, np.where(allowed.may, prices, FAR))
        found = _prim(ranked)
        if found is None:
            return None
        parent, heaviest = found
        rest = np.arange(1, self.nodes)
        total = sum(prices[rest, parent[1:]].tolist()) - sum((weights * self.caps).tolist())
        return Relaxed(parent, total, heaviest)

    def climb(self, weights: "Ints", allowed: Allowed, goal: int, rounds: int) -> tuple["Ints", Relaxed] | None:
        """Raise the bound from `weights` on towards `goal` (units / grain): the best weights and their tree.

        Stops at the goal, after `rounds` steps, or where no step is left to take. None: what is allowed holds no tree.
        """
        best: tuple[Ints, Relaxed] | None = None
        pace, stale = 1.0, 0
        for _ in range(rounds):
            now = self.tree(weights, allowed)
            if now is None:
                return None
            if best is None or now.bound > best[1].bound:
                best, stale = (weights, now), 0
            else:
                stale += 1
            if now.bound >= goal:
                break
            if stale >= STALE:
                pace, stale, (weights, now) = pace / 2, 0, best
            over = ends_of(now.parent) - self.caps
            over[(over < 0) & (weights == 0)] = 0
            size = int((over * over).sum())
            if size == 0:
                break
            step = np.rint(over * (pace * (goal - now.bound) / size)).astype(np.int64)
            weights = np.clip(weights + step, 0, self.ceiling)
        return best


def ends_of(parent: "Ints") -> "Ints":
    """The number of edges at each node of a tree given by parents (node 0 is the top)."""
    count = len(parent)
    ends = np.bincount(parent[1:], minlength=count)
    ends[1:] += 1
    return ends.astype(np.int64)


def _prim(price: "Ints") -> tuple["Ints", "Ints"] | None:
    """Parents of the least spanning tree from node 0, and the dearest edge on the way between any two nodes."""
    count = len(price)
    parent = np.zeros(count, dtype=np.int64)
    heaviest = np.full((count, count), -FAR * 2, dtype=np.int64)
    near = price[0].copy()
    outside = np.ones(count, dtype=bool)
    outside[0], near[0] = False, 4 * FAR
    inside = [0]
    for _ in range(count - 1):
        node = int(near.argmin())
        if near[node] >= FAR // 2:
            return None
        up = int(parent[node])
        heaviest[node, inside] = heaviest[inside, node] = np.maximum(heaviest[up, inside], near[node])
        outside[node], near[node] = False, 4 * FAR
        inside.append(node)
        closer = outside & (price[node] < near)
        near[closer] = price[node][closer]
        parent[closer] = node
    return parent, heaviest
