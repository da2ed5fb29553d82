"""The budget: what was measured and what is bought in; bill, left over, labour, sums, contingency and VAT out."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.buying.model import Order
from estimator.catalogue.model import Catalogue, Price
from estimator.costing.bill import bill_lines, left_over
from estimator.costing.hours import hours_by_task, hours_of
from estimator.costing.model import Budget, SumLine, VatLine
from estimator.costing.sums import sum_lines
from estimator.job.model import Job
from estimator.rounding import money
from estimator.takeoff.model import TakeOff, Task

ZERO = Decimal(0)
INVENTED = "invented"
"""The word by which a price's source owns up."""


def budget(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> Budget:
    """Add everything up in the fixed order; each rounding is at a place that has a name.

    materials = bill + left over = net of the order, delivery apart; ex VAT = materials + delivery + labour + sums +
    contingency; contingency and the VAT of each rate are rounded half up to the penny.
    """
    lines = bill_lines(job, catalogue, takeoff, order)
    over = left_over(catalogue, order, lines)
    sums = sum_lines(job)
    labour = tuple(_labour(takeoff.labour, job.allowances.vat))
    before = _Before(
        materials=_total(of.net for of in order.bought),
        delivery=_total(line.net for line in order.delivery),
        labour=_total(amount for _, amount in labour),
        sums=_total(line.net for line in sums),
    )
    contingency = money(job.allowances.contingency * before.total)
    vat = _vat(job, order, labour, sums, contingency)
    ex_vat = before.total + contingency
    return Budget(
        bill=lines,
        left_over=over,
        materials=before.materials,
        left_over_total=_total(amount for _, amount in over),
        delivery=before.delivery,
        labour=before.labour,
        sums=sums,
        sums_total=before.sums,
        contingency=contingency,
        ex_vat=ex_vat,
        vat=vat,
        total=ex_vat + _total(line.amount for line in vat),
        labour_priced=bool(labour),
        materials_only=not labour and not sums,
        hours_self=hours_of(task for task in takeoff.labour if task.who == "self"),
        hours_electrician=hours_of(task for task in takeoff.labour if task.who == "electrician"),
        oldest_price=_oldest(catalogue, order),
        invented=_invented(catalogue, order),
        tasks=hours_by_task(takeoff.labour),
        labour_vat=tuple(sorted({rate for rate, _ in labour})),
    )


@dataclass(frozen=True, slots=True)
class _Before:
    """The four amounts ex VAT that contingency is a share of."""

    materials: Decimal
    delivery: Decimal
    labour: Decimal
    sums: Decimal

    @property
    def total(self) -> Decimal:
        return self.materials + self.delivery + self.labour + self.sums


def _total(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, ZERO)


def _labour(tasks: Iterable[Task], own: Decimal) -> Iterable[tuple[Decimal, Decimal]]:
    """(VAT rate, amount to the penny) of every task that has a rate, at its likely hours."""
    for task in tasks:
        if task.rate is not None:
            yield task.vat_at(own), money(task.likely_minutes * task.rate / 60)


def _vat(
    job: Job, order: Order, labour: tuple[tuple[Decimal, Decimal], ...], sums: tuple[SumLine, ...], contingency: Decimal
) -> tuple[VatLine, ...]:
    amounts: dict[Decimal, Decimal] = {}

    def add(rate: Decimal, amount: Decimal) -> None:
        amounts[rate] = amounts.get(rate, ZERO) + amount

    for basket in order.baskets:
        add(basket.vat_rate, basket.vat)
    for rate in sorted({rate for rate, _ in labour}):
        add(rate, money(rate * _total(amount for of, amount in labour if of == rate)))
    own = job.allowances.vat
    add(own, money(own * _total(line.net for line in sums if line.sum.vat == "ex")))
    add(own, _total(line.vat for line in sums if line.sum.vat == "inc"))
    add(own, money(own * contingency))
    return tuple(VatLine(rate, amount) for rate, amount in sorted(amounts.items()) if amount)


def _prices_used(catalogue: Catalogue, order: Order) -> list[Price]:
    used = {(line.part, line.merchant, line.pack) for line in order.lines}
    return [row for row in catalogue.prices if (row.part, row.merchant, row.pack) in used]


def _oldest(catalogue: Catalogue, order: Order) -> tuple[str, str] | None:
    """Date and part of the oldest price that the order rests on; None for an empty order."""
    return min(((row.priced_on.isoformat(), row.part) for row in _prices_used(catalogue, order)), default=None)


def _invented(catalogue: Catalogue, order: Order) -> tuple[int, int]:
    """Lines of the order whose price says that it is invented, and all lines."""
    used = _prices_used(catalogue, order)
    return sum(INVENTED in row.source for row in used), len(used)
