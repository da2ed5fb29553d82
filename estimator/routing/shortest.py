"""Shortest ways by Dijkstra: neighbours with exact whole costs go in, distances or one chain of nodes come out."""

from collections.abc import Iterable, Mapping, Sequence
from heapq import heappop, heappush

Near = Sequence[Sequence[tuple[int, int]]]

_BITS = 24
_MASK = (1 << _BITS) - 1
_FAR = 1 << 62
"""More than any way costs."""


def distances(near: Near, source: int, targets: Iterable[int]) -> dict[int, int]:
    """Least cost from `source` to each of `targets` that can be reached; those out of reach are left out."""
    wanted = set(targets)
    found: dict[int, int] = {}
    best = [_FAR] * len(near)
    best[source] = 0
    heap = [source]  # cost and node in one whole number, which is quicker to compare than a pair
    while heap and wanted:
        entry = heappop(heap)
        node, cost = entry & _MASK, entry >> _BITS
        if cost != best[node]:
            continue
        if node in wanted:
            found[node] = cost
            wanted.remove(node)
        for other, step in near[node]:
            total = cost + step
            if total < best[other]:
                best[other] = total
                heappush(heap, total << _BITS | other)
    return found


def chain(near: Near, source: int, target: int) -> tuple[int, ...] | None:
    """The nodes of one shortest way, both ends included; None where there is none.

    Of equal ways each node comes from the lowest-numbered node that was settled before it.
    """
    best = [_FAR] * len(near)
    best[source] = 0
    settled: dict[int, int] = {}
    heap = [source]
    while heap:
        entry = heappop(heap)
        node, cost = entry & _MASK, entry >> _BITS
        if cost != best[node]:
            continue
        settled[node] = len(settled)
        if node == target:
            return _walk_back(near, best, settled, source, target)
        for other, step in near[node]:
            total = cost + step
            if total < best[other]:
                best[other] = total
                heappush(heap, total << _BITS | other)
    return None


def _walk_back(
    near: Near, best: Sequence[int], settled: Mapping[int, int], source: int, target: int
) -> tuple[int, ...]:
    nodes = [target]
    while nodes[-1] != source:
        here = nodes[-1]
        nodes.append(
            min(
                other
                for other, step in near[here]
                if best[other] + step == best[here] and settled.get(other, len(near)) < settled[here]
            )
        )
    return tuple(reversed(nodes))
