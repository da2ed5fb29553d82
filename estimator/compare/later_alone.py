"""Now and later of a scenario that adds some things and takes others out: what is added is priced by itself.

Later costs are those of what is added. What is taken out saves money now and nothing later, and could be taken out without
adding anything: so it is no part of the price now, and told apart.
"""

from collections.abc import Iterator
from dataclasses import replace

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes
from estimator.compare.later import Later, extra_of, later, without_reserve
from estimator.compare.variants import Variant, variant
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.result import Estimate


def later_of(tree: Tree, catalogue: Catalogue, base: Estimate, one: Variant, memory: Memory) -> Later | None:
    """Now and later of a scenario that can be worked out; None where it adds nothing.

    A thing that takes another's place by one change (a larger cable) is a difference in itself.
    """
    if one.estimate is None or (found := later(base, one.estimate)) is None:
        return None
    out = taking_out(tree, catalogue, base, one.changes, memory)
    if out is None:
        return found
    without = variant(tree, catalogue, "", out, memory).estimate
    alone = None if without is None else later(without, one.estimate)
    if without is None or alone is None:
        return replace(found, netted=True)
    return replace(alone, saved=without_reserve(base) - without_reserve(without))


def taking_out(tree: Tree, catalogue: Catalogue, base: Estimate, changes: Changes, memory: Memory) -> Changes | None:
    """Those of several changes that only take something out; None where there are none, or no others."""
    if len(changes.change) + len(changes.remove) + len(changes.add) == 1:
        return None
    less = tuple(_less(tree, catalogue, base, changes, memory))
    if not (less or changes.remove) or not (changes.add or len(less) < len(changes.change)):
        return None
    return replace(changes, change=less, add=())


def _less(
    tree: Tree, catalogue: Catalogue, base: Estimate, changes: Changes, memory: Memory
) -> Iterator[tuple[str, object]]:
    """The values whose change makes the job cheaper and adds nothing that would have to be opened for."""
    for pair in changes.change:
        alone = variant(tree, catalogue, "", Changes(change=(pair,), place=changes.place), memory).estimate
        if alone is not None and without_reserve(alone) < without_reserve(base) and extra_of(base, alone).nothing:
            yield pair
