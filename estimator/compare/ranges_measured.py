"""How far measured quantities may be off: an `Estimate` and the ranges of rules.csv go in, lines come out.

Cable of a circuit, control or run goes by what of it is still planned: a length as built does not vary. Extra pieces
go by what is sold by the piece, all in one line, since the same hands fit them. A metre or a piece counts at the part's
rate, as on the bill: packs come whole, so that the true cost goes in steps, which this draws a straight line through.
"""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from estimator.compare.ranges import Line, figure, percent
from estimator.compare.ranges_rules import Ranges
from estimator.costing.bill import rate_of
from estimator.job.model import AsBuilt
from estimator.result import Estimate
from estimator.routing.model import Leg, RunRoute

Cable = Leg | RunRoute
PIECES = "pieces lost or spoilt"
NONE = Fraction(0)


def cables(estimate: Estimate, stated: Ranges) -> Iterator[Line]:
    """A line for each circuit, control and run that has cable still planned, in their order."""
    if stated.cable is None:
        return
    shares = stated.cable
    rates = _rates(estimate)
    parts = estimate.catalogue.cables
    for name, planned in _still_planned(estimate):
        metres = sum(one.cut_mm for one in planned)
        money = sum((Fraction(one.cut_mm, 1000) * rates[parts[one.cable].part] for one in planned), NONE)
        ends = f"from {percent(shares.low)} less to {percent(shares.high)} more"
        yield Line(
            "cable",
            name,
            money * (1 + shares.low),
            money,
            money * (1 + shares.high),
            f"{figure(Fraction(metres, 1000))} m planned and not yet measured as built: {ends}",
            shares.source,
        )


def pieces(estimate: Estimate, stated: Ranges) -> Iterator[Line]:
    """One line for all that is sold by the piece: at the least, as counted, and at the most lost or spoilt."""
    if stated.waste is None:
        return
    shares = stated.waste
    rates, parts = _rates(estimate), estimate.catalogue.parts
    low = likely = high = NONE
    for quantity in estimate.takeoff.quantities:
        if parts[quantity.part].sold_as == "piece":
            rate, fixed = rates[quantity.part], Fraction(quantity.quantity)
            extra = Fraction(quantity.with_waste) - fixed
            low += rate * min(extra, fixed * shares.low)
            likely += rate * extra
            high += rate * (extra + fixed * shares.high)
    why = (
        f"at the least {percent(shares.low)} of the pieces fixed, at the most the waste counted and "
        f"{percent(shares.high)} more"
    )
    yield Line("pieces", PIECES, low, likely, high, why, shares.source)


def _rates(estimate: Estimate) -> dict[str, Fraction]:
    """Money inc VAT for one unit of each part; nothing for what is not bought."""
    bought = {of.part: of for of in estimate.order.bought}
    parts = estimate.catalogue.parts
    return {
        of.part: rate_of(bought.get(of.part)) * (1 + Fraction(parts[of.part].vat_rate))
        for of in estimate.takeoff.quantities
    }


def _still_planned(estimate: Estimate) -> Iterator[tuple[str, Sequence[Cable]]]:
    """Circuits, controls and runs by name, each with those of its cables that nobody has measured."""
    built = _built(estimate)
    routes = estimate.routes
    owners: list[tuple[str, bool, Sequence[Cable]]] = [
        *((f"circuit {one.name}", False, one.legs) for one in routes.circuits),
        *((f"control {one.name}", False, one.legs) for one in routes.controls),
        *((f"run {one.name}", True, (one,)) for one in routes.runs),
    ]
    for name, run, every in owners:
        planned = [one for one in every if (run, one.id) not in built]
        if planned:
            yield name, planned


def _built(estimate: Estimate) -> dict[tuple[bool, str], AsBuilt]:
    """Which measured length belongs to which cable (a run or not, id); of cables alike, the first to the first."""
    built: dict[tuple[bool, str], AsBuilt] = {}
    routes = estimate.routes
    cables: list[tuple[bool, str, Cable]] = [
        *((False, leg.owner, leg) for leg in routes.legs),
        *((True, run.name, run) for run in routes.runs),
    ]
    for row in estimate.job.as_built:
        fitting = [
            (run, one.id)
            for run, owner, one in cables
            if {one.start, one.end} == {row.start, row.end} and _says(row, run, owner) and (run, one.id) not in built
        ]
        if fitting:
            built[fitting[0]] = row
    return built


def _says(row: AsBuilt, run: bool, owner: str) -> bool:
    """Whether a measured length may mean a cable of that owner."""
    if row.run is not None:
        return run and owner == row.run
    return row.circuit is None or (not run and owner == row.circuit)
