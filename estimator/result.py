"""The `Estimate`: everything the stages worked out for one job; every document comes from it."""

from dataclasses import dataclass

from estimator.building.model import Building
from estimator.buying.model import Order
from estimator.catalogue.model import Catalogue
from estimator.checks.boards import spare_ways
from estimator.checks.model import Finding
from estimator.costing.model import Budget
from estimator.job.model import Job
from estimator.routing.model import Routes
from estimator.setout.model import SetOut
from estimator.takeoff.model import TakeOff


@dataclass(frozen=True, slots=True)
class Estimate:
    """One job, worked out."""

    job: Job
    catalogue: Catalogue
    building: Building
    setout: SetOut
    routes: Routes
    takeoff: TakeOff
    order: Order
    budget: Budget
    findings: tuple[Finding, ...]

    def spare_ways(self, board: str) -> int | None:
        """Ways left in the board of that name; None for one outside the job."""
        return spare_ways(self.job, self.catalogue, next(one for one in self.job.boards if one.name == board))
