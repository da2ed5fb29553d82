"""Good trees within degree caps: greedy joining and single exchanges. Edges and caps in, a tree out, no proof."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

import numpy as np

from estimator.routing.sequences.model import Edge

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]


def greedy(edges: Sequence[Edge], caps: Sequence[int]) -> list[Edge] | None:
    """Take edges in the order given where they join two parts within the caps; None where that leaves several parts.

    No join may use up the last free end of a part that still has others to meet: with all edges given, and caps that
    allow a tree, there is then always another join. An edge passed over may become usable, hence the repeats.
    """
    label = list(range(len(caps)))
    spare = list(caps)
    free = list(caps)
    taken: list[Edge] = []
    waiting = list(edges)
    while len(taken) < len(caps) - 1:
        passed: list[Edge] = []
        before = len(taken)
        for i, j in waiting:
            one, two = _top(label, i), _top(label, j)
            if one == two:
                continue
            last = len(taken) == len(caps) - 2
            if not spare[i] or not spare[j] or (free[one] + free[two] == 2 and not last):
                passed.append((i, j))
                continue
            taken.append((i, j))
            spare[i] -= 1
            spare[j] -= 1
            label[two] = one
            free[one] += free[two] - 2
        if len(taken) == before:
            return None
        waiting = passed
    return taken


def _top(label: list[int], node: int) -> int:
    while label[node] != node:
        label[node] = label[label[node]]
        node = label[node]
    return node


def exchange(price: "Ints", caps: Sequence[int], edges: Sequence[Edge]) -> list[Edge]:
    """Put one edge in for another while that makes the tree cheaper and the caps hold; the largest saving first."""
    tree = list(edges)
    while True:
        parent, heaviest = _rooted(price, tree)
        ends = np.bincount(np.array(tree).ravel(), minlength=len(caps)).tolist()
        better = np.argwhere(np.triu(price < heaviest, 1)).tolist()
        moves = [move for i, j in better if (move := _swap(price, caps, ends, parent, i, j)) is not None]
        if not moves:
            return tree
        _, new, old = min(moves)
        tree = [edge for edge in tree if edge != old and edge[::-1] != old]
        tree.append(new)


def _swap(
    price: "Ints", caps: Sequence[int], ends: list[int], parent: list[int], i: int, j: int
) -> tuple[int, Edge, Edge] | None:
    """The dearest edge that (i, j) can stand in for, as (change of cost, new, old)."""
    best: tuple[int, Edge, Edge] | None = None
    for a, b in _path(parent, i, j):
        change = int(price[i, j] - price[a, b])
        within = all(ends[node] < caps[node] or node in (a, b) for node in (i, j))
        if change < 0 and within and (best is None or change < best[0]):
            best = (change, (i, j), (a, b))
    return best


def _path(parent: list[int], i: int, j: int) -> Iterable[Edge]:
    """The edges of the tree between two nodes."""
    above = [i]
    while above[-1] != parent[above[-1]]:
        above.append(parent[above[-1]])
    place = {node: at for at, node in enumerate(above)}
    steps: list[Edge] = []
    while j not in place:
        steps.append((parent[j], j))
        j = parent[j]
    return [*zip(above[1 : place[j] + 1], above, strict=False), *steps]


def _rooted(price: "Ints", edges: Sequence[Edge]) -> tuple[list[int], "Ints"]:
    """Parents with node 0 on top, and the dearest edge between any two nodes (the diagonal lower than all)."""
    count = len(price)
    beside: list[list[int]] = [[] for _ in range(count)]
    for i, j in edges:
        beside[i].append(j)
        beside[j].append(i)
    parent = [0] * count
    heaviest = np.full((count, count), -1, dtype=np.int64)
    seen = [0]
    for node in seen:
        for child in beside[node]:
            if child != parent[node] or (node == 0 and child != 0):
                parent[child] = node
                heaviest[child, seen] = heaviest[seen, child] = np.maximum(heaviest[node, seen], price[node, child])
                seen.append(child)
    return parent, heaviest
