"""Hours of work: the rows of labour.csv against what was counted."""

from collections.abc import Iterable
from decimal import Decimal

from estimator.catalogue.model import Catalogue, Labour
from estimator.takeoff.counts import Count
from estimator.takeoff.model import Task

ANY = "any"


def tasks(catalogue: Catalogue, counted: Iterable[Count]) -> tuple[Task, ...]:
    """Every task that comes up, with its range for all of them; rows whose `kit` is `any` count it in every kit.

    A hole through a wall is counted for the point it reaches, for the cable, and for what is made off at its end;
    `any` counts it once, for the cable.
    """
    cable_kits = {cable.kit for cable in catalogue.cables.values()}
    totals: dict[tuple[str, str], Decimal] = {}
    for count in counted:
        again = count.per == "wall-hole" and count.kit not in cable_kits
        for kit in (count.kit,) if again else (count.kit, ANY):
            totals[kit, count.per] = totals.get((kit, count.per), Decimal(0)) + count.count
    return tuple(
        _task(row, totals[row.kit, row.per]) for row in catalogue.labour if totals.get((row.kit, row.per), Decimal(0))
    )


def _task(row: Labour, count: Decimal) -> Task:
    return Task(
        f"{row.task}: {row.kit}" if row.kit != ANY else row.task,
        row.who,
        row.stage,
        count,
        row.low * count,
        row.likely * count,
        row.high * count,
        row.rate,
        row.vat_rate,
        row.kit if row.kit != ANY else "",
    )
