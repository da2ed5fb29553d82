"""How far prices may be off: an `Estimate` and the ranges of rules.csv go in, a line for each merchant comes out.

All prices of one merchant move together, since one list is behind them. How far goes by their age on the day of prices,
every line of the order counting by its money, and by how much of that money rests on prices that say they are invented.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from estimator.buying.model import OrderLine
from estimator.catalogue.model import Price
from estimator.compare.ranges import Line, percent
from estimator.compare.ranges_rules import Ranges, Shares
from estimator.costing.budget import INVENTED
from estimator.result import Estimate
from estimator.rounding import half_up

YEAR_DAYS = 365
NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class _Paid:
    """What one line of the order costs inc VAT, and how old its price is; one dated later than the job is not old."""

    money: Fraction
    days: int
    invented: bool


def prices(estimate: Estimate, stated: Ranges) -> Iterator[Line]:
    """A line for each merchant of the order, by name; delivery does not vary."""
    rows = {(row.part, row.merchant, row.pack): row for row in estimate.catalogue.prices}
    for merchant in sorted({line.merchant for line in estimate.order.lines}):
        paid = [
            _paid(line, rows[line.part, line.merchant, line.pack], estimate)
            for line in estimate.order.lines
            if line.merchant == merchant
        ]
        yield _line(merchant, paid, stated, estimate)


def _paid(line: OrderLine, row: Price, estimate: Estimate) -> _Paid:
    money = Fraction(line.amount) * (1 + Fraction(line.vat_rate) if line.basis == "ex" else 1)
    days = max((estimate.job.priced_on - row.priced_on).days, 0)
    return _Paid(money, days, INVENTED in row.source)


def _line(merchant: str, paid: Sequence[_Paid], stated: Ranges, estimate: Estimate) -> Line:
    value = sum((one.money for one in paid), NONE)
    years = _mean_days(paid, value) / YEAR_DAYS
    invented = sum((one.money for one in paid if one.invented), NONE) / value if value else NONE
    low, high = NONE, NONE
    sources: list[str] = []
    for by, shares in ((years, stated.drift), (invented, stated.invented)):
        if by and shares is not None:
            low, high = low + by * shares.low, high + by * shares.high
            sources.append(shares.source)
    low = max(low, Fraction(-1))
    return Line(
        "prices",
        merchant,
        value * (1 + low),
        value,
        value * (1 + high),
        _why(half_up(_mean_days(paid, value)), invented, Shares(low, high, ""), estimate),
        "; ".join(sources),
    )


def _mean_days(paid: Sequence[_Paid], value: Fraction) -> Fraction:
    return sum((one.money * one.days for one in paid), NONE) / value if value else NONE


def _why(days: int, invented: Fraction, ends: Shares, estimate: Estimate) -> str:
    day = estimate.job.priced_on.isoformat()
    old = f"on average {days} {'day' if days == 1 else 'days'} old on {day}"
    made_up = f", {percent(invented)} of the money at invented or sample prices" if invented else ""
    return f"{old}{made_up}: from {percent(ends.low)} less to {percent(ends.high)} more than printed, all together"
