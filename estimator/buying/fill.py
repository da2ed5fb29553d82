"""Ways to put pieces into bins: a task in, layouts out, none of them with a claim to be the cheapest.

First fit and best fit make a layout from nothing; `fill` and `search` put all pieces into bins that are
given.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from random import Random

from estimator.buying.task import Layout, Load, Task

MOST_LAST = 4  # rooms, and
MOST_LEFT = 24  # pieces, that are searched exactly at the end of a filling
LAST_STEPS = 150
MOST_WORK = 300_000  # room by piece, of all tries of one filling together

Groups = list[tuple[int, ...]]


def fitted(task: Task) -> Iterator[Layout]:
    """Yield layouts by first fit and best fit, pieces in falling order, with each kind and each sale as the
    usual bin.

    Each bin is then exchanged for the lightest that holds its load. Nothing is yielded where limits run out.
    """
    for usual in range(len(task.kinds) + len(task.sales)):
        for best in (False, True):
            groups = _first_fit(task, usual, best)
            layout = exchanged(task, groups) if groups is not None else None
            if layout is not None:
                yield layout


def _first_fit(task: Task, usual: int, best: bool) -> Groups | None:
    left: list[int] = []
    groups: list[list[int]] = []
    stock = [kind.most for kind in task.kinds]
    for size in task.sizes:
        fits = [place for place, room in enumerate(left) if room >= size]
        if fits:
            place = min(fits, key=lambda p: (left[p], p)) if best else fits[0]
        else:
            room = _open(task, usual, stock, size)
            if room is None:
                return None
            place = len(left)
            left.append(room)
            groups.append([])
        left[place] -= size
        groups[place].append(size)
    return [tuple(group) for group in groups]


def _open(task: Task, usual: int, stock: list[int], size: int) -> int | None:
    """Take a bin for a size: of the usual kind if it fits, else of the cheapest by length; a cut length takes
    all that follows.
    """
    if usual < len(task.kinds) and stock[usual] and task.kinds[usual].room >= size:
        stock[usual] -= 1
        return task.kinds[usual].room
    if usual >= len(task.kinds) and task.kerf == 0:
        return sum(task.sizes)
    fits = [place for place, kind in enumerate(task.kinds) if stock[place] and kind.room >= size]
    if not fits:
        return size if task.sales else None
    lightest = min(fits, key=lambda p: (task.kinds[p].weight * task.kinds[fits[0]].room // task.kinds[p].room, p))
    stock[lightest] -= 1
    return task.kinds[lightest].room


def exchanged(task: Task, groups: Sequence[tuple[int, ...]]) -> Layout | None:
    """Return the groups, heaviest first, each in the lightest bin still to be had; lengths cut from one sale
    become one.

    None where limits run out.
    """
    stock = [kind.most for kind in task.kinds]
    loads: list[Load] = []
    for group in sorted((g for g in groups if g), key=lambda g: (-sum(g), g)):
        load = sum(group)
        fits = [p for p, kind in enumerate(task.kinds) if stock[p] and kind.room >= load]
        fits += range(len(task.kinds), len(task.kinds) + len(task.sales))
        if not fits:
            return None
        lightest = min(fits, key=lambda p: (task.weight(p, load), p))
        if lightest < len(task.kinds):
            stock[lightest] -= 1
        loads.append(Load(lightest, tuple(sorted(group, reverse=True))))
    return merged(task, loads)


def merged(task: Task, loads: Sequence[Load]) -> Layout:
    """Return the loads with all lengths of one sale joined, where no saw cut is lost by it."""
    if task.kerf:
        return tuple(loads)
    joined = [load for load in loads if load.kind < len(task.kinds)]
    cut = sorted((load for load in loads if load.kind >= len(task.kinds)), key=lambda load: load.kind)
    for kind, same in groupby(cut, key=lambda load: load.kind):
        joined.append(Load(kind, tuple(sorted((s for load in same for s in load.sizes), reverse=True))))
    return tuple(joined)


def fill(sizes: Sequence[int], rooms: Sequence[int], tries: int) -> Groups | None:
    """Return all sizes put into the rooms, or None where no try came out; two rooms are settled exactly, none
    of more proves anything.

    Rooms are filled one by one with the largest sum there is, long pieces first; later tries change the order
    of rooms, begin each room with the longest piece left, and shuffle (with a fixed start).
    """
    slack = sum(rooms) - sum(sizes)
    if slack < 0:
        return None
    once = len(rooms) * len(sizes) * (1 + max(rooms, default=0) // 3_000)
    tries = min(tries, max(2, MOST_WORK // (once + 1)))
    chance = Random(1)
    down = sorted(range(len(rooms)), key=lambda p: (-rooms[p], p))
    for number in range(tries):
        order = down if number % 4 < 2 else down[::-1]
        ranked = sorted(sizes)
        if number >= 4:
            order = chance.sample(down, len(down))
            ranked = sorted(sizes, key=lambda s: s * (1 + chance.random() * 0.5 * (1 + number % 3)))
        groups = _fill_once(ranked, [rooms[p] for p in order], slack, number % 2 == 1)
        if groups is not None:
            placed = dict(zip(order, groups, strict=True))
            return [placed[p] for p in range(len(rooms))]
    return None


def _fill_once(ranked: list[int], rooms: Sequence[int], slack: int, longest_first: bool) -> Groups | None:
    """Fill rooms in turn; `ranked` has the pieces to be preferred last."""
    left = list(ranked)
    groups: Groups = []
    for place, room in enumerate(rooms):
        if place == len(rooms) - 1:
            return [*groups, tuple(left)] if sum(left) <= room else None
        if 2 < len(rooms) - place <= MOST_LAST and len(left) <= MOST_LEFT:
            search = Search(left, rooms[place:], LAST_STEPS)
            return [*groups, *search.groups] if search.run() else None
        start = _longest(left, room) if longest_first and len(rooms) - place > 2 else None
        taken = [] if start is None else [left.pop(start)]
        taken += _take(left, room - sum(taken))
        slack -= room - sum(taken)
        if slack < 0:
            return None
        groups.append(tuple(taken))
    return groups if not left else None


def _longest(left: Sequence[int], room: int) -> int | None:
    longest, found = -1, None
    for place, size in enumerate(left):
        if longest <= size <= room:
            longest, found = size, place
    return found


def _take(left: list[int], room: int) -> list[int]:
    """Take from `left` the pieces of the largest sum within the room, those late in the list where there is a
    choice.
    """
    mask = (1 << (room + 1)) - 1
    sums = 1
    reach = [sums]
    for size in left:
        sums |= (sums << size) & mask
        reach.append(sums)
    goal = sums.bit_length() - 1
    taken = []
    for place in range(len(left) - 1, -1, -1):
        if not goal:
            break
        size = left[place]
        if size <= goal and reach[place] >> (goal - size) & 1:
            goal -= size
            taken.append(left.pop(place))
    return taken


class Search:
    """An exact answer to whether sizes fit rooms, within a number of steps: the smallest room first, every
    way to fill it in turn.
    """

    def __init__(self, sizes: Sequence[int], rooms: Sequence[int], steps: int) -> None:
        self.sizes = tuple(sorted(sizes, reverse=True))
        self.order = sorted(range(len(rooms)), key=lambda p: (rooms[p], p))
        self.rooms = [rooms[place] for place in self.order]
        self.steps = steps
        self.filled: Groups = [()] * len(rooms)
        self.failed: set[tuple[int, tuple[int, ...]]] = set()

    @property
    def groups(self) -> Groups:
        """The sizes in each room, in the order in which the rooms were given, once `run` has said True."""
        placed = dict(zip(self.order, self.filled, strict=True))
        return [placed[place] for place in range(len(self.order))]

    def run(self) -> bool | None:
        """Return whether all sizes fit, or None where the steps ran out."""
        return self._room(0, self.sizes, sum(self.rooms) - sum(self.sizes))

    def _room(self, at: int, left: tuple[int, ...], slack: int) -> bool | None:
        if slack < 0:
            return False
        if at == len(self.rooms) - 1:
            self.filled[at] = left
            return True
        if (at, left) in self.failed:
            return False
        room = self.rooms[at]
        first = room == self.rooms[-1] and bool(left)
        for group in _groups(left, room, slack, first):
            if self.steps <= 0:
                return None
            self.steps -= 1
            self.filled[at] = group
            found = self._room(at + 1, _without(left, group), slack - room + sum(group))
            if found is not False:
                return found
        self.failed.add((at, left))
        return False


def _without(left: tuple[int, ...], group: tuple[int, ...]) -> tuple[int, ...]:
    rest = list(left)
    for size in group:
        rest.remove(size)
    return tuple(rest)


def _groups(left: tuple[int, ...], room: int, slack: int, first: bool) -> Iterator[tuple[int, ...]]:
    """Yield every different group that leaves no more than `slack` of a room; with `first` (rooms alike)
    those with the longest.
    """
    if first and left[0] > room:
        return
    mask = (1 << (room + 1)) - 1
    sums = 1
    reach = [sums]
    for size in reversed(left):
        sums |= (sums << size) & mask
        reach.append(sums)
    reach.reverse()
    other = list(range(1, len(left) + 1))  # where the sizes after a place first differ from it
    for place in range(len(left) - 2, -1, -1):
        if left[place] == left[place + 1]:
            other[place] = other[place + 1]

    ways = [(1, room - left[0], left[:1])] if first else [(0, room, left[:0])]
    while ways:
        place, most, group = ways.pop()
        least = max(0, most - slack)
        if not reach[place] >> least & ((1 << (most - least + 1)) - 1):
            continue
        if place == len(left):
            yield group
            continue
        ways.append((other[place], most, group))
        if left[place] <= most:
            ways.append((place + 1, most - left[place], (*group, left[place])))  # comes first
