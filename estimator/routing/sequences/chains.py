"""Chains and rings: the shortest way from a start through all nodes, open or closed, some nodes fixed at either end.

In: a cost matrix (see `model`). Out: an `Answer`. Ladder: nothing free, add up; few free nodes, dynamic program over
subsets; more, local search and then branch and cut with whole-number bounds, within a counted amount of work.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.routing.sequences.model import Answer, Cost, check_nodes, checked, length, steps

# Free nodes up to which the dynamic program is used: some 15 ms, and the first of equal answers.
SMALL = 13
# Kicks of the local search per node, and subproblems of the proof times nodes.
KICKS = 5
EFFORT = 20_000


def chain(
    cost: Cost, *, start: int = 0, head: Sequence[int] = (), tail: Sequence[int] = (), effort: int = EFFORT
) -> Answer:
    """The shortest path from `start` through every node, ending anywhere.

    The nodes of `head` follow the start in this order; those of `tail` are the last, in this order. Cost and bound are
    in the unit of the matrix. Of equal answers the lexicographically first while at most `SMALL` nodes are free, else
    one that depends on the matrix alone. `effort` limits the proof; where it does not suffice, `proven` is False.

    Raises:
        ValueError: the matrix (see `checked`) or a node named is not usable.
    """
    count = checked(cost)
    check_nodes(count, (start,), head, tail)
    front, back = (start, *head), tuple(tail)
    middle = _middle(cost, front[-1], back[0] if back else None, _free(count, front, back), effort)
    return _answer(cost, (*front, *middle.order, *back), middle, closed=False)


def ring(
    cost: Cost, *, start: int = 0, head: Sequence[int] = (), tail: Sequence[int] = (), effort: int = EFFORT
) -> Answer:
    """The shortest closed walk from `start` through every node and back; a single other node takes two cables.

    `order` begins with the start and does not repeat it; with neither `head` nor `tail` its second node is lower than
    its last. The rest is as for `chain`; `tail` comes just before the return to the start.

    Raises:
        ValueError: the matrix (see `checked`) or a node named is not usable.
    """
    count = checked(cost)
    check_nodes(count, (start,), head, tail)
    front, back = (start, *head), tuple(tail)
    middle = _middle(cost, front[-1], (*back, start)[0], _free(count, front, back), effort)
    order = (*front, *middle.order, *back)
    if not head and not tail and len(order) > 2 and order[1] > order[-1]:
        order = (start, *reversed(order[1:]))
    return _answer(cost, order, middle, closed=True)


@dataclass(frozen=True, slots=True)
class _Middle:
    """The free nodes in order; what the way through them (with both joins) costs at least; how it was found."""

    order: tuple[int, ...]
    bound: int
    method: str


def _free(count: int, front: tuple[int, ...], back: tuple[int, ...]) -> list[int]:
    return [node for node in range(count) if node not in front and node not in back]


def _answer(cost: Cost, order: tuple[int, ...], middle: _Middle, *, closed: bool) -> Answer:
    edges = steps((*order, order[0])) if closed and len(order) > 1 else steps(order)
    total = length(cost, edges)
    free = set(middle.order)
    fixed = length(cost, (edge for edge in edges if free.isdisjoint(edge))) if free else total
    bound = fixed + middle.bound
    return Answer(total, bound, bound == total, order, edges, middle.method)


def _middle(cost: Cost, begin: int, end: int | None, free: list[int], effort: int) -> _Middle:
    """The shortest way from `begin` through the free nodes to `end` (None: anywhere)."""
    if not free:
        return _Middle((), 0, "given")
    if len(free) <= SMALL:
        return _by_subsets(cost, begin, end, free)
    return _by_branching(cost, begin, end, free, effort)


def _by_subsets(cost: Cost, begin: int, end: int | None, free: list[int]) -> _Middle:
    import numpy as np

    from estimator.routing.sequences.subsets import least_order

    between = np.array([[cost[i][j] for j in free] for i in free], dtype=np.int64)
    leave = np.array([cost[begin][j] for j in free], dtype=np.int64)
    arrive = np.array([0 if end is None else cost[j][end] for j in free], dtype=np.int64)
    order = tuple(free[i] for i in least_order(between, leave, arrive))
    return _Middle(order, _way(cost, begin, end, order), "subsets")


def _by_branching(cost: Cost, begin: int, end: int | None, free: list[int], effort: int) -> _Middle:
    """As a closed tour from node 0, the beginning; an end elsewhere is the last node, tied to node 0 at no cost."""
    import numpy as np

    from estimator.routing.sequences.branch import close
    from estimator.routing.sequences.search import short_tour

    nodes = [begin, *free] if end == begin else [begin, *free, end]
    tied = end != begin
    rows = [[0 if i == j or i is None or j is None else cost[i][j] for j in nodes] for i in nodes]
    if tied:
        rows[0][-1] = rows[-1][0] = -1 - sum(map(max, rows))
    tour = short_tour(rows, kicks=KICKS * len(nodes))
    if tied:
        rows[0][-1] = rows[-1][0] = 0
    best, bound = close(np.array(rows, dtype=np.int64), tour, forced=tied, limit=effort // len(nodes))
    if best[1] > best[-1]:
        best = (0, *reversed(best[1:]))
    order = tuple(node for place in (best[1:-1] if tied else best[1:]) if (node := nodes[place]) is not None)
    return _Middle(order, bound, "branch and cut")


def _way(cost: Cost, begin: int, end: int | None, order: tuple[int, ...]) -> int:
    return length(cost, steps((begin, *order, *(() if end is None else (end,)))))
