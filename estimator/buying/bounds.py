"""Which combinations of drums could hold a task, cheapest first: a task in, combinations by rising weight
out.

A *measure* gives every piece a number; a combination is refused when, by some measure, the most its bins can
hold is less than the sum over all pieces. Size itself is the first measure; column generation supplies
others. No refused combination can be cut, so the weight of the first that is not refused is a lower bound of
every plan.
"""

import heapq
from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache, reduce
from math import gcd

from estimator.buying.task import Task, halves, sums

MOST_CELLS = 60_000  # of one row of the covering table; beyond it the table is coarser, still a lower bound
MOST_STEPS = 20_000  # of one listing
NEVER = 1 << 256  # heavier than any plan


@dataclass(frozen=True, slots=True)
class Combo:
    """Numbers of bins of each kind and of units of each sale; `bins` is None where the listing broke off at
    this weight.
    """

    weight: int
    bins: tuple[int, ...] | None
    units: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Measure:
    """The sum over all pieces, the most one bin of each kind can hold, and the most one unit of each sale can
    hold.
    """

    total: int
    rooms: tuple[int, ...]
    units: tuple[int, ...]

    def refuses(self, combo: Combo) -> bool:
        """Whether the bins of a combination hold less of this measure than all pieces have."""
        held = sum(room * count for room, count in zip(self.rooms, combo.bins or (), strict=True))
        return held + sum(unit * count for unit, count in zip(self.units, combo.units, strict=True)) < self.total


def best_sum(bits: int, room: int) -> int:
    """Return the largest subset sum that is no more than the room."""
    return (bits & ((1 << (room + 1)) - 1)).bit_length() - 1


def area(task: Task) -> Measure:
    """Return the measure by size, each room counted only as far as whole pieces can fill it."""
    bits = sums(task.sizes, max((kind.room for kind in task.kinds), default=0))
    return measure(task, {size: size for size in task.sizes}, [best_sum(bits, kind.room) for kind in task.kinds])


def by_size(task: Task) -> list[Measure]:
    """Return the measure by size, and for each kind one by the size of those pieces alone that are too long
    for it.
    """
    found = [area(task)]
    for kind in task.kinds:
        long = [size for size in task.sizes if size > kind.room]
        if long:
            bits = sums(long, task.kinds[-1].room)
            worth = {size: size if size > kind.room else 0 for size in task.sizes}
            found.append(measure(task, worth, [best_sum(bits, other.room) for other in task.kinds]))
    return found


def measure(task: Task, worth: dict[int, int], rooms: Sequence[int]) -> Measure:
    """Return the measure that gives a piece the worth of its size, with the most that one bin of each kind
    can hold of it.

    In a length cut to order the first piece needs no saw cut. All is multiplied so that a unit's share is a
    whole number.
    """
    rate = max(Fraction(value, size * task.grain - task.kerf) for size, value in worth.items())
    by = rate.denominator if task.sales else 1
    units = tuple(int(rate * by) * sale.unit for sale in task.sales)
    return Measure(sum(worth[size] for size in task.sizes) * by, tuple(room * by for room in rooms), units)


def capped(task: Task) -> Task:
    """Return the task with the most bins of each kind lowered where so many would fit in one unlimited bin
    that weighs no more.

    Among kinds that replace each other the one with the lesser weight stays; an optimum by weight is never
    lost.
    """
    bits = sums(task.sizes, max((kind.room for kind in task.kinds), default=0))
    kinds = []
    for here, kind in enumerate(task.kinds):
        most = kind.most
        for count in range(1, min(kind.most, 40) + 1):
            if _replaced(task, here, count, best_sum(bits, kind.room) * count):
                most = count - 1
                break
        kinds.append(replace(kind, most=most))
    return replace(task, kinds=tuple(kinds))


def _replaced(task: Task, here: int, count: int, load: int) -> bool:
    weight = task.kinds[here].weight * count
    for there, kind in enumerate(task.kinds):
        less = kind.weight < weight or (kind.weight == weight and (count > 1 or there < here))
        if there != here and not kind.limited and kind.room >= load and less:
            return True
    return any(task.weight(len(task.kinds) + k, load) <= weight for k in range(len(task.sales)))


class _Cover:
    """The least weight of covering what is left of the sizes with kinds from the j-th on, by a table on a
    grid that may be coarse.
    """

    def __init__(self, task: Task, sizes: Measure) -> None:
        self.left = sizes.total
        self.lengths = sizes.rooms
        self.units = sizes.units
        if self.left > MOST_CELLS // 3 * max(reduce(gcd, self.lengths + self.units, 0), 1):
            by = self.left // sum(task.sizes)
            self.lengths = tuple(kind.room * by for kind in task.kinds)
        self.grid = max(reduce(gcd, self.lengths + self.units, 0), -(-self.left // MOST_CELLS), 1)
        self.rows = self._rows(task)

    def _rows(self, task: Task) -> list["_Stairs"]:
        last = self.cell(self.left)
        rows = [_Stairs([0], [0])]
        for sale, length in reversed(list(zip(task.sales, self.units, strict=True))):
            rows.append(rows[-1].with_any_number(self.cell(length), task.unit_weight(sale), last))
        for kind, length in reversed(list(zip(task.kinds, self.lengths, strict=True))):
            step = self.cell(length)
            few = kind.most * step <= last and kind.most * (last + 1) < 4 * MOST_CELLS
            row = rows[-1]
            for count in halves(kind.most) if few else ():
                # Every number of bins is a sum of some of these.
                row = row.with_one(count * step, count * kind.weight, last)
            rows.append(row if few else row.with_any_number(step, kind.weight, last))
        return rows[::-1]

    def cell(self, length: int) -> int:
        return -(-length // self.grid) if length > 0 else 0


class _Stairs:
    """The least weight of covering any number of cells, as the steps at which it rises: `weights[i]` covers `cells[i]`.

    Both rise; no step covers less than another for as much.
    """

    __slots__ = ("cells", "weights")

    def __init__(self, cells: list[int], weights: list[int]) -> None:
        self.cells = cells
        self.weights = weights

    def least(self, cell: int) -> int:
        """The least weight that covers a number of cells."""
        place = bisect_left(self.cells, cell)
        return self.weights[place] if place < len(self.weights) else NEVER

    def with_one(self, step: int, weight: int, last: int) -> "_Stairs":
        """The same with one thing more to be had; to cover more than `last` cells is to cover those."""
        return self._joined(step, weight, last, again=False)

    def with_any_number(self, step: int, weight: int, last: int) -> "_Stairs":
        """The same with as many as wanted of one thing more."""
        return self._joined(step, weight, last, again=True)

    def _joined(self, step: int, weight: int, last: int, *, again: bool) -> "_Stairs":
        """Steps with and without the thing by rising cells; what it is added to are the old steps, or with `again` the new."""
        if not step:
            return self
        new = _Stairs([], [])
        base = new if again else self
        plain = added = 0
        while True:
            more = base.cells[added] + step if added < len(base.cells) and base.cells[added] < last else None
            if plain < len(self.cells) and (more is None or self.cells[plain] <= more):
                kept = new._put(self.cells[plain], self.weights[plain])
                plain += 1
            elif more is not None:
                kept = new._put(min(more, last), base.weights[added] + weight)
                added += 1
            else:
                return new
            if again:
                added = min(added, kept)

    def _put(self, cell: int, weight: int) -> int:
        """Take in a step that covers no less than those there, and tell how many of those stay: lighter ones do."""
        while self.weights and self.weights[-1] >= weight:
            self.cells.pop()
            self.weights.pop()
        kept = len(self.cells)
        if not kept or self.cells[-1] < cell:
            self.cells.append(cell)
            self.weights.append(weight)
        return kept


@lru_cache(maxsize=2)
def _cover(task: Task, sizes: Measure) -> _Cover:
    """The table of a task, which is listed anew for every measure that is won against it."""
    return _Cover(task, sizes)


class _Rate:
    """The least weight of covering what is left of a measure with kinds from the j-th on, bins counted in
    fractions.
    """

    def __init__(self, task: Task, by: Measure) -> None:
        self.holds = by.rooms + by.units
        rates = [
            (Fraction(kind.weight, room), place, room * kind.most, kind.weight * kind.most)
            for place, (kind, room) in enumerate(zip(task.kinds, by.rooms, strict=True))
            if room
        ]
        rates += [
            (Fraction(task.unit_weight(sale), unit), len(task.kinds) + place, -1, 0)
            for place, (sale, unit) in enumerate(zip(task.sales, by.units, strict=True))
            if unit
        ]
        self.rates = [(r.numerator, r.denominator, place, most, whole) for r, place, most, whole in sorted(rates)]

    def least(self, left: int, first: int) -> int:
        weight = 0
        for up, down, place, most, whole in self.rates:
            if left <= 0:
                return weight
            if place >= first:
                if most < 0 or most >= left:
                    return weight - (-left * up) // down
                left -= most
                weight += whole
        return NEVER if left > 0 else weight


# least weight, -place, counts, weight so far, what is left by each measure
_Node = tuple[int, int, tuple[int, ...], int, tuple[int, ...]]


class _Listing:
    def __init__(self, task: Task, measures: Sequence[Measure], ceiling: int) -> None:
        self.task = task
        self.ceiling = ceiling
        self.cover = _cover(task, measures[0])
        self.rates = [_Rate(task, by) for by in measures]
        self.weights = [kind.weight for kind in task.kinds] + [task.unit_weight(sale) for sale in task.sales]
        self.most = [kind.most for kind in task.kinds] + [task.units(sale, sum(task.sizes)) for sale in task.sales]
        self.heap: list[_Node] = []
        self.pushed = 0
        self.push((), 0, (self.cover.left, *(by.total for by in measures)))

    def push(self, counts: tuple[int, ...], weight: int, left: tuple[int, ...]) -> None:
        place = len(counts)
        least = weight + self.cover.rows[place].least(self.cover.cell(left[0]))
        for rate, part in zip(self.rates, left[1:], strict=True):
            if least < self.ceiling and part > 0:
                least = max(least, weight + rate.least(part, place))
        if least < self.ceiling:
            heapq.heappush(self.heap, (least, -place, counts, weight, left))
            self.pushed += 1

    def split(self, node: _Node) -> None:
        """Push the node with every number of bins of the next kind, or of units of the next sale, that may
        still be light enough.
        """
        _, deep, counts, weight, left = node
        place = -deep
        by_place = [self.cover.lengths + self.cover.units, *(rate.holds for rate in self.rates)]
        holds = [row[place] for row in by_place]
        sale = place >= len(self.task.kinds)
        count = 0
        if place == len(self.weights) - 1 and left[0] > 0:
            count = -(-left[0] // holds[0])
        while count <= self.most[place]:
            heavier = weight + count * self.weights[place] + (1 if sale and count else 0)
            if heavier >= self.ceiling:
                return
            rest = tuple(part - count * held for part, held in zip(left, holds, strict=True))
            self.push((*counts, count), heavier, rest)
            count += 1


def combos(task: Task, measures: Sequence[Measure], ceiling: int, most_steps: int = MOST_STEPS) -> Iterator[Combo]:
    """Yield the combinations that no measure refuses, by rising weight, while they weigh less than `ceiling`.

    The first measure is the one by size. Where `most_steps` do not suffice, the last item has `bins` None.
    """
    listing = _Listing(task, measures, ceiling)
    kinds = len(task.kinds)
    while listing.heap:
        node = heapq.heappop(listing.heap)
        least, deep, counts, _, _ = node
        if -deep == len(listing.weights):
            yield Combo(least, counts[:kinds], counts[kinds:])
        elif listing.pushed > most_steps:
            yield Combo(least, None)
            return
        else:
            listing.split(node)
