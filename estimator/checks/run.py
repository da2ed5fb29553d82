"""All checks, in one list: the worked-out job in, every finding out, worst first."""

from collections.abc import Callable
from dataclasses import dataclass

from estimator.building.model import Building
from estimator.buying.model import Order
from estimator.catalogue.model import Catalogue
from estimator.checks import (
    boards,
    ground,
    lights,
    papers,
    places,
    prices,
    rooms,
    shared_walls,
    supply,
    unchecked,
    walls,
)
from estimator.checks.model import LEVELS, Finding
from estimator.costing.model import Budget
from estimator.job.model import Job
from estimator.routing.model import Routes
from estimator.setout.model import SetOut
from estimator.takeoff.model import TakeOff


@dataclass(frozen=True, slots=True)
class Worked:
    """What a check may look at."""

    job: Job
    catalogue: Catalogue
    building: Building
    placed: SetOut
    routes: Routes
    takeoff: TakeOff
    order: Order
    budget: Budget


CHECKS: tuple[Callable[[Worked], tuple[Finding, ...]], ...] = (
    lambda worked: worked.placed.findings,
    lambda worked: worked.routes.findings,
    lambda worked: worked.order.findings,
    lambda worked: rooms.meetings(worked.job, worked.catalogue, worked.building),
    lambda worked: shared_walls.two_faces(worked.job, worked.catalogue, worked.building, worked.placed),
    lambda worked: papers.certificate(worked.job),
    lambda worked: supply.supply_values(worked.job),
    lambda worked: supply.chain(worked.job),
    lambda worked: supply.ways_outside(worked.job),
    lambda worked: supply.trenches(worked.job),
    lambda worked: ground.unused(worked.job),
    lambda worked: ground.unlikely(worked.job, worked.catalogue),
    lambda worked: walls.insulation(worked.job, worked.placed),
    lambda worked: lights.switches(worked.job, worked.catalogue, worked.placed),
    lambda worked: boards.ways(worked.job, worked.catalogue),
    lambda worked: places.indoors_only(worked.catalogue, worked.placed),
    lambda worked: prices.invented(worked.budget),
    lambda worked: prices.not_chosen(worked.order),
    lambda worked: prices.aged(worked.job, worked.catalogue, worked.order),
    lambda worked: prices.delivery_unknown(worked.catalogue, worked.order),
    lambda worked: unchecked.not_looked_at(worked.job),
)


def findings(
    job: Job,
    catalogue: Catalogue,
    building: Building,
    placed: SetOut,
    routes: Routes,
    takeoff: TakeOff,
    order: Order,
    budget: Budget,
) -> tuple[Finding, ...]:
    """Every finding of every check: by level (stop, ask, note, unchecked), then check, subject and words."""
    worked = Worked(job, catalogue, building, placed, routes, takeoff, order, budget)
    told = dict.fromkeys(finding for check in CHECKS for finding in check(worked))
    return tuple(sorted(told, key=lambda one: (LEVELS.index(one.level), one.check, one.subject, one.message)))
