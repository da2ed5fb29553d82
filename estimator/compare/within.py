"""A spending limit: a job's tree and a limit go in, the best plan within it, what it leaves out and what that would take.

Groups with a `priority` may be left out whole; all else stays. Every plan is priced by the whole engine.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes
from estimator.compare.choice import MOST_THINGS, Kept, Thing, best_within
from estimator.compare.edits import Edit
from estimator.compare.leaving_out import leaving_out
from estimator.compare.variants import Variant, variant
from estimator.job.model import Job
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.problems import Place, Problem, Refused
from estimator.result import Estimate


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A group that the plan leaves out: its points, and what the plan would come to with it; None where that is no job.

    Then `why` says what stands in the way, and `needs` names the others left out with any one of which it is a job.
    """

    group: str
    priority: int
    points: int
    with_it: Decimal | None
    needs: tuple[str, ...] = ()
    why: Problem | None = None


@dataclass(frozen=True, slots=True)
class Within:
    """The best plan within a limit. `plan` None: nothing that the job could do without brings it within.

    `least` is what the job comes to with every group left out that may be, None where that is no job. `edits` would make
    the plan the job: none where it leaves nothing out, or does not start from the job file as it stands.
    """

    limit: Decimal
    plan: Variant | None
    kept: tuple[str, ...]
    left_out: tuple[LeftOut, ...]
    least: Decimal | None
    proven: bool
    tried: int
    edits: tuple[Edit, ...] = ()


def within(
    tree: Tree, catalogue: Catalogue, base: Estimate, limit: Decimal, place: Place, memory: Memory | None = None
) -> Within:
    """Choose what to keep (see `choice`): as many points of the first priority as can be had, then of the next.

    All plans share a memory, a new one by default.

    Raises:
        Refused: the job comes to more, and no group has a priority, or too many have.
    """
    things = _things(base, limit, place)
    names = tuple(thing.name for thing in things)
    plans = _Plans(tree, catalogue, base, names, place, Memory() if memory is None else memory)
    if base.budget.total <= limit:
        plan = plans.plan(frozenset(names))
        return Within(limit, plan, tuple(sorted(names)), (), plans.price(frozenset()), True, len(plans.made))
    best = best_within(things, plans.price, limit)
    least = plans.price(frozenset())
    if best is None:
        return Within(limit, None, (), (), least, len(things) <= MOST_THINGS, len(plans.made))
    out = sorted((thing for thing in things if thing.name not in best.kept), key=lambda one: (one.priority, one.name))
    left = tuple(_left_out(plans, best.kept, thing, [other.name for other in out]) for thing in out)
    return Within(limit, plans.plan(best.kept), tuple(sorted(best.kept)), left, least, best.proven, best.tried)


def _left_out(plans: "_Plans", kept: Kept, thing: Thing, out: Sequence[str]) -> LeftOut:
    """What the plan would be with one thing more; where that is no job, why, and what would have to come with it."""
    alone = plans.plan(kept | {thing.name})
    if alone.estimate is not None:
        return LeftOut(thing.name, thing.priority, thing.points, alone.estimate.budget.total)
    others = (other for other in out if other != thing.name)
    needs = tuple(other for other in others if plans.price(kept | {thing.name, other}) is not None)
    return LeftOut(thing.name, thing.priority, thing.points, None, needs, next(iter(alone.problems), None))


def _things(base: Estimate, limit: Decimal, place: Place) -> tuple[Thing, ...]:
    """The groups that may be left out; a job that is within the limit as it stands needs none."""
    counts = {group.name: 0 for group in base.job.groups}
    for point in base.setout.points:
        counts[point.group] += 1
    things = tuple(
        Thing(group.name, group.priority, counts[group.name]) for group in base.job.groups if group.priority is not None
    )
    if base.budget.total <= limit:
        return things
    if not things:
        found = f"the job comes to {base.budget.total} inc VAT, which is more than {limit}, and no group has a priority"
        write = "write priority = 1, 2, 3 ... on the groups that could be left out (1 is kept longest)"
        raise Refused([Problem(place, "points", found, write)])
    if len(things) > MOST_THINGS:
        write = f"give a priority to {MOST_THINGS} groups or fewer"
        raise Refused([Problem(place, "points", f"{len(things)} groups have a priority", write)])
    return things


class _Plans:
    """Plans that were priced, by what they keep."""

    def __init__(
        self,
        tree: Tree,
        catalogue: Catalogue,
        base: Estimate,
        names: tuple[str, ...],
        place: Place,
        memory: Memory,
    ) -> None:
        self.memory = memory
        self.tree = tree
        self.catalogue = catalogue
        self.base = base
        self.names = frozenset(names)
        self.place = place
        self.made: dict[Kept, Variant] = {}

    def price(self, kept: Kept) -> Decimal | None:
        estimate = self.plan(kept).estimate
        return None if estimate is None else estimate.budget.total

    def plan(self, kept: Kept) -> Variant:
        if kept not in self.made:
            self.made[kept] = self._make(self.base.job, kept)
        return self.made[kept]

    def _make(self, job: Job, kept: Kept) -> Variant:
        gone = sorted(self.names - kept)
        changes = leaving_out(job, self.base.setout, gone, self.place) if gone else Changes(place=self.place)
        name = f"without {', '.join(gone)}" if gone else "everything"
        return variant(self.tree, self.catalogue, name, changes, self.memory)
