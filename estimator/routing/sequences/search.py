"""Local search for short closed tours: a cost matrix of whole numbers in, a good order (no proof) out.

2-opt and moves of up to three neighbours, then small double bridges, in a fixed pseudo-random order: the same matrix
gives the same tour on every machine. Costs may be negative, so an edge that must stay is given a very low one.
"""

from collections.abc import Sequence
from random import Random

Rows = Sequence[Sequence[int]]
# What a move saved (0: none found) and the nodes whose neighbours changed.
Move = tuple[int, tuple[int, ...]]

NEIGHBOURS = 10
SEGMENT = 3
KICK = 30


def short_tour(cost: Rows, *, kicks: int) -> list[int]:
    """A closed tour of all nodes, starting with node 0. `kicks` is the amount of work after the first local optimum."""
    count = len(cost)
    near = [sorted(range(count), key=lambda j: (cost[i][j], j))[: NEIGHBOURS + 1] for i in range(count)]
    near = [[j for j in row if j != i] for i, row in enumerate(near)]
    tour = _nearest_neighbour(cost)
    _settle(tour, cost, near, list(range(count)))
    if count >= 8:
        tour = _kicked(tour, cost, near, kicks)
    at = tour.index(0)
    return tour[at:] + tour[:at]


def _nearest_neighbour(cost: Rows) -> list[int]:
    """Always on to the nearest node not seen yet, from node 0; ties to the lower index."""
    left = list(range(1, len(cost)))
    tour = [0]
    while left:
        row = cost[tour[-1]]
        following = min(left, key=lambda j: (row[j], j))
        left.remove(following)
        tour.append(following)
    return tour


def _kicked(tour: list[int], cost: Rows, near: list[list[int]], kicks: int) -> list[int]:
    """Exchange two short neighbouring stretches, repair, and keep what is not worse."""
    chance = Random(20)
    count = len(tour)
    longest = min(KICK, count // 3)
    for _ in range(kicks):
        turn, first, second = chance.randrange(count), chance.randint(1, longest), chance.randint(1, longest)
        old = tour[turn:] + tour[:turn]
        new = old[first : first + second] + old[:first] + old[first + second :]
        ends = [old[0], old[first - 1], old[first], old[first + second - 1], old[first + second], old[-1]]
        before = sum(cost[old[i - 1]][old[i]] for i in (0, first, first + second))
        after = sum(cost[new[i - 1]][new[i]] for i in (0, second, first + second))
        if after - before - _settle(new, cost, near, ends) <= 0:
            tour = new
    return tour


def _settle(tour: list[int], cost: Rows, near: list[list[int]], queue: list[int]) -> int:
    """Improve `tour` in place until no move starting at a changed node helps; the sum saved."""
    place = [0] * len(tour)
    for at, node in enumerate(tour):
        place[node] = at
    saved = 0
    waiting = set(queue)
    while queue:
        node = queue.pop()
        waiting.discard(node)
        gain, touched = _uncross(node, tour, place, cost, near)
        if not gain:
            gain, touched = _carry(node, tour, place, cost, near)
        saved += gain
        for other in touched:
            if other not in waiting:
                waiting.add(other)
                queue.append(other)
    return saved


def _uncross(a: int, tour: list[int], place: list[int], cost: Rows, near: list[list[int]]) -> Move:
    """The first 2-opt move at `a` that helps: two edges out, two in, what lies between turned round."""
    count = len(tour)
    for step in (1, -1):
        b = tour[(place[a] + step) % count]
        for c in near[a]:
            room = cost[a][b] - cost[a][c]
            if room <= 0:
                break
            d = tour[(place[c] + step) % count]
            gain = room + cost[c][d] - cost[b][d]
            if gain > 0 and c != b and d != a:
                first, last = (b, c) if step == 1 else (c, b)
                _turn(tour, place, place[first], place[last])
                return gain, (a, b, c, d)
    return 0, ()


def _turn(tour: list[int], place: list[int], start: int, end: int) -> None:
    """Turn round the stretch from place `start` on to place `end`, or all that lies outside it if that is shorter."""
    count = len(tour)
    size = (end - start) % count + 1
    if 2 * size > count:
        start, end, size = (end + 1) % count, (start - 1) % count, count - size
    for _ in range(size // 2):
        one, two = tour[start], tour[end]
        tour[start], tour[end] = two, one
        place[one], place[two] = end, start
        start, end = (start + 1) % count, (end - 1) % count


def _carry(a: int, tour: list[int], place: list[int], cost: Rows, near: list[list[int]]) -> Move:
    """The first helpful move of up to `SEGMENT` nodes from `a` on, put in beside a node near to `a`."""
    count, at = len(tour), place[a]
    for step in (1, -1):
        before = tour[(at - step) % count]
        for size in range(1, min(SEGMENT, count - 3) + 1):
            last, after = tour[(at + step * (size - 1)) % count], tour[(at + step * size) % count]
            freed = cost[before][a] + cost[last][after] - cost[before][after]
            if cost[a][near[a][0]] >= freed:  # none of the others is nearer
                continue
            stretch = [tour[(at + step * i) % count] for i in range(size)]
            for c in near[a]:
                if cost[a][c] >= freed:
                    break
                if c in stretch:
                    continue
                for side in (1, -1):
                    d = tour[(place[c] + side) % count]
                    gain = freed - cost[a][c] - cost[last][d] + cost[c][d]
                    if gain > 0 and d not in stretch:
                        _put(stretch if side == 1 else stretch[::-1], c if side == 1 else d, tour, place)
                        return gain, (before, a, last, after, c, d)
    return 0, ()


def _put(stretch: list[int], behind: int, tour: list[int], place: list[int]) -> None:
    """Take `stretch` out of the tour and put it in again just behind the node `behind`."""
    rest = [node for node in tour if node not in stretch]
    at = rest.index(behind) + 1
    tour[:] = rest[:at] + stretch + rest[at:]
    for position, node in enumerate(tour):
        place[node] = position
