"""Shortest ways by Dijkstra: neighbours with exact whole costs go in, distances or one chain of nodes come out."""

from collections.abc import Iterable, Sequence
from heapq import heappop, heappush

Near = Sequence[Sequence[tuple[int, int]]]

_BITS = 24
_MASK = (1 << _BITS) - 1


def distances(near: Near, source: int, targets: Iterable[int]) -> dict[int, int]:
    """Least cost from `source` to each of `targets` that can be reached; those out of reach are left out."""
    wanted = dict.fromkeys(targets)
    found: dict[int, int] = {}
    best: list[int | None] = [None] * len(near)
    best[source] = 0
    heap = [source]  # cost and node in one whole number, which is quicker to compare than a pair
    while heap and wanted:
        entry = heappop(heap)
        node, cost = entry & _MASK, entry >> _BITS
        if cost != best[node]:
            continue
        if node in wanted:
            found[node] = cost
            del wanted[node]
        for other, step in near[node]:
            total = cost + step
            known = best[other]
            if known is None or total < known:
                best[other] = total
                heappush(heap, total << _BITS | other)
    return found


def chain(near: Near, source: int, target: int) -> tuple[int, ...] | None:
    """The nodes of one shortest way, both ends included; None where there is none.

    Of equal ways each node comes from the lowest-numbered node that was settled before it.
    """
    best: dict[int, int] = {source: 0}
    came: dict[int, int] = {}
    done: set[int] = set()
    heap = [source]
    while heap:
        entry = heappop(heap)
        node, cost = entry & _MASK, entry >> _BITS
        if node in done:
            continue
        if node == target:
            return _walk_back(came, source, target)
        done.add(node)
        for other, step in near[node]:
            if other in done:
                continue
            total = cost + step
            known = best.get(other)
            if known is None or total < known or (total == known and node < came[other]):
                best[other] = total
                came[other] = node
                if known is None or total < known:
                    heappush(heap, total << _BITS | other)
    return None


def _walk_back(came: dict[int, int], source: int, target: int) -> tuple[int, ...]:
    nodes = [target]
    while nodes[-1] != source:
        nodes.append(came[nodes[-1]])
    return tuple(reversed(nodes))
