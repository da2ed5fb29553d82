"""Prices: whether the total rests on figures that nobody quoted, or that have aged."""

from decimal import Decimal

from estimator.buying.model import Order
from estimator.buying.offers import ANY
from estimator.catalogue.model import Catalogue, Price
from estimator.checks.model import Finding
from estimator.costing.model import Budget
from estimator.job.model import Job


def invented(budget: Budget) -> tuple[Finding, ...]:
    """A `note` where lines of the order rest on prices that say of themselves that they are invented."""
    count, lines = budget.invented
    if not count:
        return ()
    return (
        Finding(
            "invented-prices",
            "note",
            "prices",
            f"{count} of {lines} prices in this order are invented or samples, and so is the total: put your own into "
            "prices.csv.",
            Decimal(count),
            Decimal(0),
            "nr",
            "prices.csv",
        ),
    )


def not_chosen(order: Order) -> tuple[Finding, ...]:
    """A `note` where parts are bought at prices that no merchant has given, which count only where none has."""
    bought = {line.part for line in order.lines}
    parts = {line.part for line in order.lines if line.merchant == ANY}
    if not parts:
        return ()
    one = len(parts) == 1
    return (
        Finding(
            "merchant-not-chosen",
            "note",
            "prices",
            f"{len(parts)} of {len(bought)} parts in this order {'has' if one else 'have'} no merchant yet, and "
            f"{'a price' if one else 'prices'} that none has given: {'it stands' if one else 'they stand'} under “merchant not "
            "chosen yet”. Ask for prices with a list of everything (studbay list JOB --blank).",
            Decimal(len(parts)),
            Decimal(0),
            "nr",
            "prices.csv",
        ),
    )


def delivery_unknown(catalogue: Catalogue, order: Order) -> tuple[Finding, ...]:
    """A `note` for each merchant of the order whose delivery nobody has told: it counts as nothing."""
    names = sorted({line.merchant for line in order.lines})
    return tuple(
        Finding(
            "delivery-unknown",
            "note",
            name,
            f"What {name} charges for delivery is not known and counts as nothing: ask, and write it into merchants.csv (0.00 "
            "where it is free).",
            source="merchants.csv",
        )
        for name in names
        if name in catalogue.merchants and not catalogue.merchants[name].delivery_known
    )


def aged(job: Job, catalogue: Catalogue, order: Order) -> tuple[Finding, ...]:
    """A `note` for each merchant of the order with prices older than the job allows on its day of prices.

    `value` is how many of them, out of `limit` none. A price of just that age is not too old.
    """
    oldest = job.buying.price_age.before(job.priced_on)
    used = {(line.part, line.merchant, line.pack) for line in order.lines}
    rows = [row for row in catalogue.prices if (row.part, row.merchant, row.pack) in used]
    old = [row for row in rows if row.priced_on < oldest]
    return tuple(
        _aged(job, name, [row for row in old if row.merchant == name], sum(row.merchant == name for row in rows))
        for name in sorted({row.merchant for row in old})
    )


def _aged(job: Job, merchant: str, old: list[Price], among: int) -> Finding:
    first = min(old, key=lambda row: (row.priced_on, row.part))
    whose = "without a merchant" if merchant == ANY else f"at {merchant}"
    few = f"{len(old)} of {among} prices {whose} {'is' if len(old) == 1 else 'are'} older"
    return Finding(
        "aged-prices",
        "note",
        merchant,
        f"{few} than {job.buying.price_age} on {job.priced_on.isoformat()}; the oldest is of "
        f"{first.priced_on.isoformat()} ({first.part}). Ask for new ones before you count on the total.",
        Decimal(len(old)),
        Decimal(0),
        "nr",
        str(first.place),
    )
