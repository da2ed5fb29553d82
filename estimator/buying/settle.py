"""The first engine: combinations of drums by rising weight, each refused or filled; a task in, a layout and a
lower bound out.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import islice, product

from estimator.buying.bounds import Combo, Measure, best_sum, combos
from estimator.buying.fill import Groups, Search, exchanged, fill, merged
from estimator.buying.task import Layout, Load, Task, sums

MOST_WAYS = 30  # to part units cut to order into lengths, that are tried

Room = tuple[int, int]  # kind, room


@dataclass(frozen=True, slots=True)
class Effort:
    """How many combinations are tried, how often each is filled, and how many steps of exact search one may
    take.
    """

    combos: int
    tries: int
    steps: int


@dataclass(frozen=True, slots=True)
class Settled:
    """The layout found below the ceiling, or None, and a weight that no layout goes below (the ceiling where
    all are refused).
    """

    layout: Layout | None
    bound: int


def settle(task: Task, measures: Sequence[Measure], ceiling: int, effort: Effort) -> Settled:
    """Return the lightest layout below `ceiling` that filling finds, and the weight of the first combination
    that stays open.
    """
    bound = ceiling
    refusal = Refusal(task)
    tried = 0
    for combo in combos(task, measures, ceiling):
        if combo.bins is None or tried >= effort.combos:
            return Settled(None, min(bound, combo.weight))
        ways, all_ways = refusal.ways(combo)
        tried += bool(ways)
        for rooms in ways:
            groups, refused = _put(task, rooms, effort)
            if groups is not None:
                return Settled(layout_of(task, rooms, groups), min(bound, combo.weight))
            all_ways = all_ways and refused
        if not all_ways:
            bound = min(bound, combo.weight)
    return Settled(None, bound)


class Refusal:
    """Says in which ways the bins of a combination might hold all pieces, each bin filled as far as whole
    pieces can.
    """

    def __init__(self, task: Task) -> None:
        self.task = task
        self.total = sum(task.sizes)
        self.top = max((kind.room for kind in task.kinds), default=0)
        self.reach = sums(task.sizes, self.top)

    def ways(self, combo: Combo) -> tuple[list[list[Room]], bool]:
        """Return lists of rooms that are large enough in all, and whether these are all there are.

        There is one list, or none, but where a saw cut counts and units are cut to order: several lengths
        then hold a little more than one, since the first piece of each needs no cut.
        """
        if self._most(combo) < self.total:
            return [], True
        ways = list(islice(rooms_ways(self.task, combo), MOST_WAYS + 1))
        return [rooms for rooms in ways[:MOST_WAYS] if self._enough(rooms)], len(ways) <= MOST_WAYS

    def _most(self, combo: Combo) -> int:
        """Return what the bins could hold at the very most if units were parted into as many lengths as are
        of any use.
        """
        task = self.task
        held = sum(kind.room * count for kind, count in zip(task.kinds, combo.bins or (), strict=True))
        lengths = 0
        raw = 0
        for sale, units in zip(task.sales, combo.units, strict=True):
            raw += sale.unit * units
            lengths += units // task.units(sale, task.sizes[-1])
        return held + (raw + task.kerf * min(lengths, len(task.sizes))) // task.grain

    def _enough(self, rooms: list[Room]) -> bool:
        return self.total <= sum(best_sum(self.reach, room) if room <= self.top else room for _, room in rooms)


def rooms_ways(task: Task, combo: Combo) -> Iterator[list[Room]]:
    """Yield kind and room of every bin of a combination, once for every way to part its units into lengths;
    fewest lengths first.
    """
    bins = [(place, task.kinds[place].room) for place, count in enumerate(combo.bins or ()) for _ in range(count)]
    least = [task.units(sale, task.sizes[-1]) for sale in task.sales]
    partings = [
        [()] if not units else _parts(units, low if task.kerf else units)
        for units, low in zip(combo.units, least, strict=True)
    ]
    for parting in product(*partings):
        rooms = list(bins)
        for place, parts in enumerate(parting):
            unit = task.sales[place].unit
            rooms += [(len(task.kinds) + place, (part * unit + task.kerf) // task.grain) for part in parts]
        yield rooms


def _parts(units: int, least: int) -> list[tuple[int, ...]]:
    """Return ways to part units into lengths of `least` or more, fewest first; all of them, or MOST_WAYS and
    more.
    """
    found: list[tuple[int, ...]] = [(units,)]
    grown = found
    while grown and len(found) <= MOST_WAYS:
        grown = [
            (*parts[:-1], one, parts[-1] - one)
            for parts in grown
            for one in range(max((least, *parts[-2:-1])), parts[-1] // 2 + 1)
        ]
        found = found + grown
    return found


def _put(task: Task, rooms: list[Room], effort: Effort) -> tuple[Groups | None, bool]:
    """Return the groups that fill the rooms, or None and whether it is certain that there are none."""
    spaces = [room for _, room in rooms]
    groups = fill(task.sizes, spaces, effort.tries)
    if groups is not None or not effort.steps:
        return groups, False
    search = Search(task.sizes, spaces, effort.steps)
    found = search.run()
    return (search.groups if found else None), found is False


def layout_of(task: Task, rooms: list[Room], groups: Groups) -> Layout:
    """Return the layout of the groups in these rooms, or in lighter ones where there are such."""
    pairs = zip(rooms, groups, strict=True)
    plain = [Load(kind, tuple(sorted(group, reverse=True))) for (kind, _), group in pairs if group]
    layouts = [merged(task, plain)]
    other = exchanged(task, groups)
    if other is not None:
        layouts.append(other)
    return min(layouts, key=task.weigh)
