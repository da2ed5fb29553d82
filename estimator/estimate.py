"""The order of the stages, written down once: a job and a catalogue in, an `Estimate` out."""

from estimator.building.build import build
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue
from estimator.checks.run import findings
from estimator.costing.budget import budget
from estimator.job.model import Job
from estimator.memory import NOTHING, Memory
from estimator.result import Estimate
from estimator.routing.route import route
from estimator.setout.place import set_out
from estimator.takeoff.measure import take_off


def estimate(job: Job, catalogue: Catalogue, memory: Memory = NOTHING) -> Estimate:
    """Work the whole job out; a pure function of job and catalogue.

    A `memory` shared with other estimates spares work that was done for them; it changes nothing in what comes out.

    Raises:
        Refused: the job cannot be worked out as written, with every reason the failing stage found.
    """
    building = build(job)
    placed = set_out(job, catalogue, building)
    routes = route(job, catalogue, building, placed, memory)
    measured = take_off(job, catalogue, placed, routes, memory)
    bought = order(job, catalogue, measured, memory)
    money = budget(job, catalogue, measured, bought)
    told = findings(job, catalogue, building, placed, routes, measured, bought, money)
    return Estimate(job, catalogue, building, placed, routes, measured, bought, money, told)
