"""The `Estimate`: everything the stages worked out for one job; every document comes from it."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from estimator.building.model import Building
from estimator.buying.drums import PartDrums, drums
from estimator.buying.margins import Margin, margins
from estimator.buying.model import Order
from estimator.buying.offers import does_not_count
from estimator.buying.spare_points import SparePoint, spare_points
from estimator.catalogue.model import Catalogue, Price
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

    def drums(self) -> tuple[PartDrums, ...]:
        """Every drum and length that is cut, by name, with its pieces in the order to pull them."""
        return drums(self.job, self.catalogue, self.order)

    def margins(self, parts: Iterable[str] | None = None) -> tuple[Margin, ...]:
        """What stays of every part, or of these, and what less of it would save, by part.

        Worked out each time it is asked for, so ask for what is needed.
        """
        return margins(self.job, self.catalogue, self.takeoff, self._bought_of(parts))

    def spare_points(self) -> tuple[SparePoint, ...]:
        """How many more points of each kind fit what is bought, by kind; worked out each time it is asked for."""
        kits = {self.catalogue.points[group.kind].kit for group in self.job.groups}
        parts = {row.part for kit in kits for row in self.catalogue.kits.get(kit, ())}
        return spare_points(self.job, self.catalogue, self.takeoff, self._bought_of(parts))

    def does_not_count(self, price: Price) -> bool:
        """Whether a price that no merchant has given stands aside for those that merchants have named."""
        return does_not_count(price, {line.merchant for line in self.order.lines if line.part == price.part})

    def most_left(self, number: int) -> tuple[Margin, ...]:
        """The margins of so many parts that have money left in their packs: most money first, of equal ones by part."""
        left = {of.part: of.net for of in self.order.bought}
        for line in self.budget.bill:
            if line.part in left:
                left[line.part] -= line.amount
        most = sorted((part for part in left if left[part]), key=lambda part: (-left[part], part))[:number]
        return tuple(sorted(self.margins(most), key=lambda margin: most.index(margin.part)))

    def _bought_of(self, parts: Iterable[str] | None) -> Order:
        """The order with only these parts in what is bought, at its merchants as they are."""
        if parts is None:
            return self.order
        wanted = frozenset(parts)
        return replace(self.order, bought=tuple(of for of in self.order.bought if of.part in wanted))
