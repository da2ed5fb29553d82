"""What every sequence solver takes and gives: a square symmetric matrix of whole costs in, an `Answer` out.

A cost is one exact integer per leg (length x K + holes, so that comparing integers compares length first). Nothing here
knows K: sums are compared as they stand.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

Cost = Sequence[Sequence[int]]
Edge = tuple[int, int]

# Sums over all legs, doubled a few times for bounds, stay inside 64 bits below this.
LARGEST_COST = 2**46


class NoTree(ValueError):
    """No tree joins all nodes within the given caps."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A sequence or tree and how good it is: `bound` <= least possible cost <= `cost`, all in the unit of the matrix.

    `proven` says that cost and bound are equal. `order` holds the nodes as visited (a ring's start once, at the front)
    and is None for trees and stars. `edges` are (nearer the start or root, further), in working order. `method` names
    what found it.
    """

    cost: int
    bound: int
    proven: bool
    order: tuple[int, ...] | None
    edges: tuple[Edge, ...]
    method: str


def checked(cost: Cost) -> int:
    """The number of nodes of a matrix that solvers can take.

    Raises:
        ValueError: empty, not square, not symmetric, or an entry that is no whole number from 0 to `LARGEST_COST`.
            The diagonal is not looked at.
    """
    count = len(cost)
    if count == 0 or any(len(row) != count for row in cost):
        raise ValueError("the cost matrix must be square and have at least one node")
    for i in range(count):
        for j in range(i):
            value = cost[i][j]
            if not isinstance(value, int) or not 0 <= value <= LARGEST_COST:
                raise ValueError(f"cost {i}, {j} must be a whole number from 0 to {LARGEST_COST}, found {value!r}")
            if value != cost[j][i]:
                raise ValueError(f"costs {i}, {j} and {j}, {i} differ")
    return count


def check_nodes(count: int, *groups: Iterable[int]) -> None:
    """Nodes named by start, head and tail must exist, each once.

    Raises:
        ValueError: a node outside 0 to `count` - 1, or named twice.
    """
    named = [node for group in groups for node in group]
    if any(not 0 <= node < count for node in named):
        raise ValueError(f"start, root, head and tail must be nodes from 0 to {count - 1}, found {named}")
    if len(set(named)) != len(named):
        raise ValueError(f"start, head and tail must name a node only once, found {named}")


def length(cost: Cost, edges: Iterable[Edge]) -> int:
    """The exact sum of the costs of `edges`."""
    return sum(cost[i][j] for i, j in edges)


def steps(order: Sequence[int]) -> tuple[Edge, ...]:
    """The edges of a walk through `order`."""
    return tuple(pairwise(order))
