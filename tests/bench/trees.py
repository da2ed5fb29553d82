"""Trees of 20, 40 and 100 points in a house of right angles, three cables at a point: NetworkX's tree, and the optimum.

NetworkX knows no limit of cables at a point, so its tree is cheaper where it breaks one; the optimum within the limits
is found anew by HiGHS, as one problem with a cut for every group of points that is not joined.
"""

import time
from collections.abc import Iterator, Sequence
from itertools import combinations

import networkx as nx

from estimator.routing.sequences import tree
from tests.bench.metric import house_costs

SIZES = (20, 40, 100)
SEEDS = (1, 2, 3)
ENDS = 3
"""Cable ends at a point; one at the board."""
Edge = tuple[int, int]


def run() -> Iterator[str]:
    """For each size: cost and time against both, and how often NetworkX's tree cannot be built."""
    tree(house_costs(20, 0), root=0, caps=_caps(20))  # imports and first calls are no part of what is measured
    for size in SIZES:
        rows = [_row(house_costs(size, seed)) for seed in SEEDS]
        ours, free, best = (sum(row[place][0] for row in rows) for place in (0, 1, 2))
        taken, theirs, exact = (sum(row[place][1] for row in rows) for place in (0, 1, 2))
        broken, proven = sum(row[3] for row in rows), sum(row[4] for row in rows)
        yield (
            f"tree of {size:3d}: {taken / len(rows):.3f} s, {ours / best:.4f} of the optimum's cost, {proven} of "
            f"{len(rows)} proven, {exact / taken:.1f} times faster than HiGHS alone; NetworkX {free / ours:.4f} of our "
            f"cost, but {broken} of {len(rows)} of its trees break a limit ({theirs / taken:.1f} of our time)"
        )


def _caps(size: int) -> list[int]:
    return [1] + [ENDS] * (size - 1)


def _row(
    cost: list[list[int]],
) -> tuple[tuple[int, float], tuple[int, float], tuple[int, float], bool, bool]:
    """Cost and seconds of ours, NetworkX's and the optimum; whether NetworkX's breaks a limit, and ours is proven."""
    clock = time.perf_counter
    start = clock()
    ours = tree(cost, root=0, caps=_caps(len(cost)))
    first = clock()
    free = nx.minimum_spanning_tree(_graph(cost))
    second = clock()
    best = capped_optimum(cost, _caps(len(cost)))
    third = clock()
    total = int(free.size(weight="weight"))
    broken = any(free.degree[node] > cap for node, cap in enumerate(_caps(len(cost))))
    times = first - start, second - first, third - second
    return (ours.cost, times[0]), (total, times[1]), (best, times[2]), broken, ours.proven


def _graph(cost: list[list[int]]) -> nx.Graph:
    graph = nx.Graph()
    graph.add_weighted_edges_from((i, j, cost[i][j]) for i, j in combinations(range(len(cost)), 2))
    return graph


def capped_optimum(cost: list[list[int]], caps: Sequence[int]) -> int:
    """The least cost of a tree within the caps, by whole numbers and cuts until nothing is left apart."""
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp

    size = len(cost)
    edges = list(combinations(range(size), 2))
    price = np.array([cost[i][j] for i, j in edges], dtype=float)
    rows = [[float(node in edge) for edge in edges] for node in range(size)]
    limits = [LinearConstraint(np.array(rows), 1, np.array(caps, dtype=float))]
    limits.append(LinearConstraint(np.ones((1, len(edges))), size - 1, size - 1))
    while True:
        found = milp(price, constraints=limits, integrality=np.ones(len(edges)), bounds=Bounds(0, 1))
        chosen = [edge for edge, share in zip(edges, found.x, strict=True) if share > 0.5]
        parts = list(nx.connected_components(nx.Graph(chosen)))
        if len(parts) == 1 and len(chosen) == size - 1:
            return sum(cost[i][j] for i, j in chosen)
        for part in parts:
            out = [float((i in part) != (j in part)) for i, j in edges]
            limits.append(LinearConstraint(np.array([out]), 1, np.inf))
