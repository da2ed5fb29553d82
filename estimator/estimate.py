"""The order of the stages, written down once: a job and a catalogue in, an `Estimate` out."""

from collections.abc import Hashable

from estimator.building.adjoining import BACK_TO_BACK
from estimator.building.build import build
from estimator.building.model import Building
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue
from estimator.checks.run import findings
from estimator.costing.budget import budget
from estimator.job.model import Job
from estimator.memory import NOTHING, Memory, Same, same
from estimator.result import Estimate
from estimator.routing.model import Routes
from estimator.routing.route import route
from estimator.setout.model import SetOut
from estimator.setout.place import set_out
from estimator.takeoff.measure import take_off
from estimator.takeoff.model import TakeOff


def estimate(job: Job, catalogue: Catalogue, memory: Memory = NOTHING) -> Estimate:
    """Work the whole job out; a pure function of job and catalogue.

    A `memory` shared with other estimates spares work that was done for them; it changes nothing in what comes out.

    Raises:
        Refused: the job cannot be worked out as written, with every reason the failing stage found.
    """
    building, placed, routes, measured = memory.recall(
        ("measured", Same(catalogue), *_physical(job)), lambda: _measured(job, catalogue, memory)
    )
    key = ("order", Same(catalogue), Same(measured), Same(job.buying), job.allowances.kerf_mm)
    bought = memory.recall(key, lambda: order(job, catalogue, measured, memory))
    money = budget(job, catalogue, measured, bought)
    told = findings(job, catalogue, building, placed, routes, measured, bought, money)
    return Estimate(job, catalogue, building, placed, routes, measured, bought, money, told)


def _measured(job: Job, catalogue: Catalogue, memory: Memory) -> tuple[Building, SetOut, Routes, TakeOff]:
    """The stages that money has no part in."""
    rule = catalogue.rules.get((job.ruleset, BACK_TO_BACK))
    limit = rule.value if rule else None
    building = memory.recall(("building", Same(job.rooms), limit), lambda: build(job, limit))
    placed = set_out(job, catalogue, building, memory)
    routes = route(job, catalogue, building, placed, memory)
    return building, placed, routes, take_off(job, catalogue, placed, routes, memory)


def _physical(job: Job) -> tuple[Hashable, ...]:
    """All that those stages ask of a job."""
    allowances = job.allowances
    lengths = (allowances.cable_waste, allowances.leg_extra_mm, allowances.tails_mm, allowances.place)
    rows = (job.boards, job.rooms, job.groups, job.circuits, job.controls, job.trenches, job.runs, job.as_built)
    return job.ruleset, job.place, lengths, same(rows)
