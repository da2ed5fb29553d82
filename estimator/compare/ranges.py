"""What of a job's cost is uncertain: an `Estimate` goes in, lines with a low, a likely and a high end come out.

The likely end is what the job counts. All money inc VAT, exact. A sum varies as the user gave it; hours that have a
rate by the minutes of labour.csv; what is in `ranges_prices` and `ranges_measured` by rows of rules.csv. Delivery and timber
do not vary, and neither does what is set aside for contingency.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from estimator.compare.spread_of import Triangle
from estimator.job.model import Job, Sum
from estimator.result import Estimate
from estimator.takeoff.model import Task

Kind = Literal["sum", "hours", "prices", "cable", "pieces"]
WHOSE = MappingProxyType({"self": "your own hours", "electrician": "electrician's hours", "other": "another trade"})


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that varies by itself: what it comes to inc VAT, why it may come to so little or so much, who says so."""

    kind: Kind
    name: str
    low: Fraction
    likely: Fraction
    high: Fraction
    why: str
    source: str

    @property
    def change(self) -> Triangle:
        """What it moves the total by, from what is counted."""
        return Triangle(self.low - self.likely, Fraction(0), self.high - self.likely)


def sums(job: Job) -> Iterator[Line]:
    """Every `[[sum]]` that was given as a range, inc VAT where it bears any."""
    for one in job.sums:
        times = _vat_on(one, job)
        yield Line(
            "sum",
            one.name,
            Fraction(one.low) * times,
            Fraction(one.likely) * times,
            Fraction(one.high) * times,
            f"{one.kind}, given as a range",
            "the job",
        )


def _vat_on(one: Sum, job: Job) -> Fraction:
    return 1 + Fraction(job.allowances.vat) if one.vat == "ex" else Fraction(1)


def hours(estimate: Estimate) -> Iterator[Line]:
    """Every task that has a rate."""
    for task in estimate.takeoff.labour:
        if task.rate is not None:
            yield _task(task, task.rate, task.vat_at(estimate.job.allowances.vat))


def _task(task: Task, rate: Decimal, vat: Decimal) -> Line:
    inc = Fraction(rate) / 60 * (1 + Fraction(vat))
    low, likely, high = (Fraction(minutes) for minutes in (task.low_minutes, task.likely_minutes, task.high_minutes))
    return Line(
        "hours",
        f"{task.task} ({WHOSE.get(task.who, task.who)})",
        low * inc,
        likely * inc,
        high * inc,
        f"{figure(low / 60)} to {figure(high / 60)} hours, likely {figure(likely / 60)}",
        "labour.csv",
    )


def figure(value: Fraction) -> str:
    """A number to one decimal, half up, without an idle nought."""
    tenths = (abs(value) * 20 + 1).__floor__() // 2
    sign = "-" if value < 0 and tenths else ""
    return f"{sign}{tenths // 10}" + (f".{tenths % 10}" if tenths % 10 else "")


def percent(share: Fraction) -> str:
    """A share of something as a percentage."""
    return f"{figure(abs(share) * 100)} %"
