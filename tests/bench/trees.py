"""Trees of 20, 40 and 100 points in a house of right angles, three cables at a point: NetworkX's tree, and a bound.

NetworkX knows no limit of cables at a point, so its tree is cheaper where it breaks one. What no tree within the limits
can go below is found by prices on cable ends (every set of prices gives such a bound) and SciPy's spanning trees;
a tree that costs as much is the cheapest there is.
"""

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

import networkx as nx

from estimator.routing.sequences import tree
from tests.bench.metric import house_costs

SIZES = (20, 40, 100)
SEEDS = (1, 2, 3)
ENDS = 3
"""Cable ends at a point; one at the board."""
FINE, ROUNDS = 64, 600


def run() -> Iterator[str]:
    """For each size: cost and time against both, and how often NetworkX's tree cannot be built."""
    tree(house_costs(20, 0), root=0, caps=_caps(20))  # imports and first calls are no part of what is measured
    for size in SIZES:
        rows = [_row(house_costs(size, seed)) for seed in SEEDS]
        ours, free, least = (sum(row.costs[place] for row in rows) for place in range(3))
        taken, theirs = (sum(row.seconds[place] for row in rows) for place in range(2))
        met = sum(row.costs[0] == row.costs[2] for row in rows)
        yield (
            f"tree of {size:3d}: {taken / len(rows):.4f} s, {ours / least:.4f} of a bound found apart ({met} of {len(rows)} "
            f"meet it), {sum(row.proven for row in rows)} proven; NetworkX: {free / ours:.4f} of our cost in "
            f"{theirs / taken:.1f} of our time, and {sum(row.broken for row in rows)} of {len(rows)} break a limit"
        )


def _caps(size: int) -> list[int]:
    return [1] + [ENDS] * (size - 1)


@dataclass(frozen=True, slots=True)
class Row:
    """Costs of ours, NetworkX's and the bound; seconds of ours and NetworkX's; whether NetworkX's breaks a limit."""

    costs: tuple[int, int, int]
    seconds: tuple[float, float]
    broken: bool
    proven: bool


def _row(cost: list[list[int]]) -> Row:
    caps = _caps(len(cost))
    graph = nx.Graph()
    graph.add_weighted_edges_from((i, j, cost[i][j]) for i, j in combinations(range(len(cost)), 2))
    start = time.perf_counter()
    ours = tree(cost, root=0, caps=caps)
    middle = time.perf_counter()
    free = nx.minimum_spanning_tree(graph)
    seconds = middle - start, time.perf_counter() - middle
    broken = any(free.degree[node] > cap for node, cap in enumerate(caps))
    costs = ours.cost, int(free.size(weight="weight")), capped_bound(cost, caps, ours.cost)
    return Row(costs, seconds, broken, ours.proven)


def capped_bound(cost: list[list[int]], caps: Sequence[int], goal: int) -> int:
    """The best bound met on the way: each round the prices of ends over their cap rise, those of others fall.

    All in whole `FINE`ths of a mm, so nothing is lost to rounding. Stops where it meets `goal`.
    """
    import numpy as np
    from scipy.sparse.csgraph import minimum_spanning_tree

    size = len(cost)
    base = np.array(cost, dtype=np.int64) * FINE
    prices = np.zeros(size, dtype=np.int64)
    best, step = 0, 0.5
    for round_ in range(ROUNDS):
        priced = base + prices[:, None] + prices[None, :] + 1  # the one more: nought would mean no edge
        np.fill_diagonal(priced, 0)
        i, j = minimum_spanning_tree(np.triu(priced)).nonzero()
        ends = np.bincount(np.concatenate((i, j)), minlength=size)
        value = int((base + prices[:, None] + prices[None, :])[i, j].sum()) - int(prices @ np.array(caps))
        best = max(best, -(-value // FINE))
        if best >= goal:
            break
        over = ends - np.array(caps)
        over[(over < 0) & (prices == 0)] = 0
        length = step * (goal * FINE * 1.0 - value) / max(1, int(over @ over))
        prices = np.maximum(0, prices + np.rint(length * over).astype(np.int64))
        step *= 0.99 if round_ % 10 else 0.95
    return best
