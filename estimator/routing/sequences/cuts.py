"""Separation for tours: an approximate x in, inequalities that it breaks and every tour keeps out.

Subtour cuts (x inside a set S <= |S| - 1) from components and from minimum cuts (Stoer and Wagner 1997, on the graph
with paths of whole edges shrunk), and 2-matching cuts (Edmonds 1965) with the best teeth for handles met on the way.
"""

from typing import TYPE_CHECKING

import numpy as np

from estimator.routing.sequences.relax import Cut

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]
    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]

EPS = 1e-6
BROKEN = 1e-3
MOST = 40


def separate(nodes: int, ends: "Ints", x: "Floats") -> list[Cut]:
    """Cuts broken by x, most broken first, at most `MOST`; none found is no proof that none exists for 2-matching."""
    parts = components(nodes, ends[x > EPS])
    if len(parts) > 1:
        return [_subtour(part) for part in parts]
    weight = np.zeros((nodes, nodes))
    weight[ends[:, 0], ends[:, 1]] = x
    weight += weight.T
    sets = _cut_sets(weight)
    found = [(2.0 - value, _subtour(part)) for part, value in sets if value < 2.0 - BROKEN]
    handles = [part for part, _ in sets]
    for limit in (EPS, 0.3):
        handles += components(nodes, ends[(x > limit) & (x < 1 - limit)])
    found += [pair for part in handles if (pair := _matching(part, weight)) is not None]
    fresh: dict[object, Cut] = {}
    for _, cut in sorted(found, key=lambda pair: -pair[0]):
        fresh.setdefault(cut.key(), cut)
    return list(fresh.values())[:MOST]


def components(nodes: int, ends: "Ints") -> list["Bools"]:
    """The connected parts of the graph, each as a mask over the nodes, by lowest node."""
    label = list(range(nodes))

    def top(node: int) -> int:
        while label[node] != node:
            label[node] = label[label[node]]
            node = label[node]
        return node

    for i, j in ends.tolist():
        one, two = top(i), top(j)
        label[max(one, two)] = min(one, two)
    tops = np.array([top(node) for node in range(nodes)])
    return [tops == node for node in range(nodes) if tops[node] == node]


def _subtour(part: "Bools") -> Cut:
    """The cut of a set, written for its smaller side."""
    side = part if 2 * int(part.sum()) <= len(part) else ~part
    return Cut(side, (), int(side.sum()) - 1)


def _cut_sets(weight: "Floats") -> list[tuple["Bools", float]]:
    """Sets met by the minimum cut method, each with the x that leaves it."""
    nodes = len(weight)
    mask = np.eye(nodes, dtype=bool)
    work = weight.copy()
    alive = list(range(nodes))
    found: list[tuple[Bools, float]] = []
    _shrink(work, mask, alive)
    while len(alive) > 1:
        last, before, value = _phase(work[np.ix_(alive, alive)])
        one, two = alive[before], alive[last]
        size = int(mask[two].sum())
        if 1 < size < nodes - 1:
            found.append((mask[two].copy(), value))
        _merge(work, mask, alive, one, two)
    return found


def _shrink(work: "Floats", mask: "Bools", alive: list[int]) -> None:
    """Merge the ends of edges with x = 1: some least cut keeps them together."""
    again = True
    while again and len(alive) > 3:
        again = False
        for one in list(alive):
            if one not in alive:
                continue
            two = int(work[one].argmax())
            if work[one, two] >= 1 - EPS and two != one and len(alive) > 3:
                _merge(work, mask, alive, one, two)
                again = True


def _merge(work: "Floats", mask: "Bools", alive: list[int], one: int, two: int) -> None:
    work[one] += work[two]
    work[:, one] += work[:, two]
    work[one, one] = 0.0
    work[two] = 0.0
    work[:, two] = 0.0
    mask[one] |= mask[two]
    alive.remove(two)


def _phase(weight: "Floats") -> tuple[int, int, float]:
    """One maximum adjacency ordering: its last node, the one before it, and the x that leaves the last."""
    near = weight[0].copy()
    near[0] = -np.inf
    before, last = 0, 0
    for _ in range(len(weight) - 1):
        before, last = last, int(near.argmax())
        value = near[last]
        near += weight[last]
        near[last] = -np.inf
    return last, before, float(value)


def _matching(handle: "Bools", weight: "Floats") -> tuple[float, Cut] | None:
    """The best 2-matching cut with this handle if it is broken, with the amount."""
    size = int(handle.sum())
    if not 3 <= size <= len(handle) - 3:
        return None
    inside, outside = np.flatnonzero(handle), np.flatnonzero(~handle)
    leaving = weight[np.ix_(inside, outside)]
    tooth = leaving > 0.5
    if int(tooth.sum()) % 2 == 0:
        flip = np.unravel_index(int(np.abs(leaving - 0.5).argmin()), leaving.shape)
        tooth[flip] = not tooth[flip]
    slack = float((1 - leaving[tooth]).sum() + leaving[~tooth].sum())
    if slack >= 1 - BROKEN or int(tooth.sum()) < 3:
        return None
    pairs = [(int(inside[i]), int(outside[j])) for i, j in np.argwhere(tooth)]
    teeth = tuple(sorted((min(pair), max(pair)) for pair in pairs))
    return (1 - slack) / 2, Cut(handle, teeth, size + len(teeth) // 2)
