"""Prices: whether the total rests on figures that nobody quoted."""

from decimal import Decimal

from estimator.checks.model import Finding
from estimator.costing.model import Budget


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
