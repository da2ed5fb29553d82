"""Sums that are no parts, as they count: likely amounts net of VAT, and the VAT in those that hold it."""

from decimal import Decimal
from fractions import Fraction

from estimator.costing.model import SumLine
from estimator.job.model import Job
from estimator.rounding import money


def sum_lines(job: Job) -> tuple[SumLine, ...]:
    """Every `[[sum]]` at its likely amount; inc sums share out their VAT by running total, like an inc basket."""
    rate = Fraction(job.allowances.vat)
    lines = []
    running, net_before = Decimal(0), Decimal(0)
    for one in job.sums:
        likely = money(one.likely)
        if one.vat != "inc":
            lines.append(SumLine(one, likely, Decimal(0)))
            continue
        running += likely
        net = running - money(Fraction(running) * rate / (1 + rate))
        lines.append(SumLine(one, net - net_before, likely - (net - net_before)))
        net_before = net
    return tuple(lines)
