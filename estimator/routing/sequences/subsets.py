"""Exact dynamic program over subsets: the shortest path through a few free nodes, lexicographically first of equals.

In: costs between free nodes, from the beginning to each, from each to the end. Out: their order. Whole numbers all
through.
Method: Held and Karp, "A dynamic programming approach to sequencing problems", 1962 (Bellman independently).
"""

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Ints = NDArray[np.int64]

FAR = np.int64(2**61)


def least_order(between: "Ints", begin: "Ints", end: "Ints") -> tuple[int, ...]:
    """The order of free nodes that makes begin -> all -> end least; of equal ones the lexicographically first.

    Memory is k x 2^k numbers of 8 bytes: 1.7 MB for 14 nodes, 10 MB for 16.
    """
    table = _table(between, end)
    count = len(begin)
    order: list[int] = []
    leaving, left = begin, 2**count - 1
    while left:
        sums = [int(leaving[i] + table[left ^ (1 << i), i]) if left >> i & 1 else int(FAR) for i in range(count)]
        chosen = sums.index(min(sums))
        order.append(chosen)
        leaving, left = between[chosen], left ^ (1 << chosen)
    return tuple(order)


def _table(between: "Ints", end: "Ints") -> "Ints":
    """table[S, j] is the least cost of going from j through every node of S (which lacks j) to the end."""
    count = len(end)
    bits = 1 << np.arange(count)
    subsets = np.arange(2**count)
    inside = (subsets[:, None] & bits) != 0
    sizes = inside.sum(axis=1)
    table = np.full((2**count, count), FAR, dtype=np.int64)
    table[0] = end
    for size in range(1, count):
        rows = subsets[sizes == size]
        member = inside[rows]
        onward = np.where(member, table[np.where(member, rows[:, None] ^ bits, 0), np.arange(count)], FAR)
        best = (between[None, :, :] + onward[:, None, :]).min(axis=2)
        table[rows] = np.where(member, FAR, best)
    return table
