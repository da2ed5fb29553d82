"""The second engine's proof: combinations left open are taken one by one; a task in, a layout and a lower
bound out.

For one combination the linear programme asks only whether the pieces fit its bins. Where they do not, even in
fractions, its prices are a measure that refuses the combination and often many after it; where they do, a
dive within the combination tries to fill it.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from estimator.buying.bounds import Combo, Measure, combos
from estimator.buying.fill import Groups, fill
from estimator.buying.patterns import DIVE_CELLS, TINY, Column, Patterns, Relaxed, cut_off
from estimator.buying.settle import Refusal, Room, Settled, layout_of
from estimator.buying.stock import Stock
from estimator.buying.task import Kind, Task

MOST_PROBES = 40
LISTING_STEPS = 8_000  # of one listing, of which there is one for every measure that is won
ROUNDS = 200  # of pricing for one combination
LATER_ROUNDS = 20  # and at every level of its dive
TRIES = 12


def narrow(patterns: Patterns, task: Task, measures: Sequence[Measure], ceiling: int) -> Settled:
    """Return the lightest layout below `ceiling` that is found, and the weight of the first combination that
    stays open.
    """
    held = list(measures)
    refusal = Refusal(task)
    bound = ceiling
    seen: list[Combo] = []
    again = True
    while again:
        again = False
        for combo in combos(task, held, ceiling, LISTING_STEPS):
            if combo.bins is None or len(seen) >= MOST_PROBES or patterns.cells < DIVE_CELLS:
                return Settled(None, min(bound, combo.weight))
            ways, all_ways = refusal.ways(combo)
            if combo in seen or (all_ways and not ways):
                continue
            seen.append(combo)
            answer = _probe(patterns, task, ways[0]) if ways else None
            if isinstance(answer, Measure) and answer.refuses(combo):
                held.append(answer)
                again = True
                break
            bound = min(bound, combo.weight)
            if isinstance(answer, list):
                return Settled(layout_of(task, ways[0], answer), bound)
    return Settled(None, bound)


def _probe(patterns: Patterns, task: Task, rooms: list[Room]) -> Groups | Measure | None:
    """Return groups that fill the rooms, or a measure against their combination, or None."""
    groups = fill(task.sizes, [room for _, room in rooms], TRIES)
    if groups is not None:
        return groups
    inside = _inside(task, rooms)
    relaxed = patterns.relax(inside, ROUNDS)
    if relaxed.money > TINY:
        return patterns.measure(task, relaxed.worth)
    return _dive(patterns, inside, relaxed)


def _inside(task: Task, rooms: list[Room]) -> Task:
    """Return the task of using these bins, all free of charge, and no others; a length cut to order is one of
    them.
    """
    count = Counter(kind for kind, _ in rooms)
    kinds = [
        replace(kind, stock=replace(kind.stock, price=0), most=count[place], limited=True)
        for place, kind in enumerate(task.kinds)
    ]
    kinds += [Kind(Stock("", room, 0), room, 1, 1, True) for kind, room in rooms if kind >= len(task.kinds)]
    return replace(task, kinds=tuple(kinds), sales=())


def _dive(patterns: Patterns, inside: Task, relaxed: Relaxed) -> Groups | None:
    """Keep bins of relaxed solutions until filling succeeds with the rest, or nothing more fits."""
    kept: list[list[tuple[int, ...]]] = [[] for _ in inside.kinds]
    task = inside
    while True:
        columns = cut_off(patterns, task, relaxed)
        for column in columns:
            kept[column.kind].append(patterns.sizes_of(column))
        task = _rest(patterns, task, columns)
        rooms = [kind.room for kind in task.kinds for _ in range(kind.most)]
        groups = fill(task.sizes, rooms, TRIES)
        if groups is not None:
            others = iter(groups)
            return [
                group
                for have, kind in zip(kept, task.kinds, strict=True)
                for group in (*have, *_some(others, kind.most))
            ]
        if not columns or sum(rooms) < sum(task.sizes):
            return None
        relaxed = patterns.relax(task, LATER_ROUNDS)
        if relaxed.money > TINY:
            return None


def _some(groups: Iterator[tuple[int, ...]], count: int) -> list[tuple[int, ...]]:
    return [next(groups) for _ in range(count)]


def _rest(patterns: Patterns, task: Task, columns: Sequence[Column]) -> Task:
    left = Counter(task.sizes)
    for column in columns:
        left.subtract(patterns.sizes_of(column))
    used = Counter(column.kind for column in columns)
    return task.rest(list(left.elements()), [used[place] for place in range(len(task.kinds))])
