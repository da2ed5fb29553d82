"""The second engine's search: a relaxed solution is kept bin by bin, the rest settled anew; a task in, a
better layout or None out.
"""

from collections import Counter

from estimator.buying.bounds import by_size, capped
from estimator.buying.patterns import Column, Patterns, cut_off
from estimator.buying.settle import Effort, settle
from estimator.buying.task import Layout, Load, Task

LEVEL = Effort(combos=12, tries=8, steps=0)
LAST = Effort(combos=60, tries=8, steps=1_000)
FEW = 24  # pieces left, from which on combinations are searched exactly
LATER_ROUNDS = 12  # of pricing, at every level below the first


def dive(patterns: Patterns, task: Task, ceiling: int, columns: list[Column]) -> Layout | None:
    """Return a layout lighter than `ceiling`, or None where the dive finds none."""
    best: Layout | None = None
    kept: list[Load] = []
    rest = task
    while columns:
        for column in columns:
            kept.append(Load(column.kind, patterns.sizes_of(column)))
        rest = _rest(task, kept)
        gone = task.weigh(tuple(kept))
        if not rest.sizes:
            return tuple(kept) if gone < ceiling else best
        effort = LAST if len(rest.sizes) <= FEW else LEVEL
        found = settle(capped(rest), by_size(rest), ceiling - gone, effort)
        if found.layout is not None:
            best = (*kept, *found.layout)
            ceiling = task.weigh(best)
        if ceiling - gone <= found.bound:
            return best
        columns = cut_off(patterns, rest, patterns.relax(rest, LATER_ROUNDS))
    return best


def _rest(task: Task, kept: list[Load]) -> Task:
    left = Counter(task.sizes)
    for load in kept:
        left.subtract(load.sizes)
    used = Counter(load.kind for load in kept)
    return task.rest(list(left.elements()), [used[place] for place in range(len(task.kinds))])
