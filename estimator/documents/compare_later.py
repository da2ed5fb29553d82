"""What later costs are made of: a `Comparison` goes in, a table for each scenario that adds something comes out."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from estimator.compare.later import Later, LaterLine
from estimator.compare.model import Comparison
from estimator.costing.model import Range
from estimator.documents.compare_words import about, hours_words
from estimator.documents.words import money, number

UNITS = {
    "point": ("point", "points"),
    "wall": ("wall", "walls"),
    "circuit": ("circuit", "circuits"),
    "metre": ("m of cable", "m of cable"),
    "trench-metre": ("m of trench", "m of trench"),
    "visit": ("visit", "visits"),
    "item": ("", ""),
}
"""What a line is counted in, for one and for several."""


@dataclass(frozen=True, slots=True)
class LaterRow:
    """One thing to do or to buy: what, how often, and what it comes to, to the whole unit of money."""

    what: str
    count: str
    low: str
    likely: str
    high: str


@dataclass(frozen=True, slots=True)
class LaterTable:
    """One scenario: what it costs now, and later, line by line; `hours` are one's own, which have no price."""

    name: str
    now: str
    rows: tuple[LaterRow, ...]
    whole: LaterRow
    hours: str


def later_tables(comparison: Comparison) -> tuple[LaterTable, ...]:
    """The scenarios that add something, in their order."""
    return tuple(_tables(comparison))


def _tables(of: Comparison) -> Iterator[LaterTable]:
    currency = of.base.job.currency
    for column in of.columns:
        found = column.later
        if found is not None:
            rows = tuple(_row(line.what, count_words(line), line.cost, currency) for line in found.lines)
            whole = _row("Later, all of it", "", found.cost, currency)
            yield LaterTable(column.variant.name, money(found.now, currency), rows, whole, own_hours(found))


def own_hours(later: Later) -> str:
    """Hours of one's own, `4 to 12 hours`; empty for none."""
    return hours_words(later.hours.low, later.hours.high) if later.hours.high else ""


def count_words(line: LaterLine) -> str:
    """How often: `2 walls`, `22 m of trench`; empty for what is counted once."""
    words = unit_words(line)
    return f"{number(line.count, 1)} {words}" if words else ""


def unit_words(line: LaterLine) -> str:
    """What a line is counted in: `walls`, `m of trench`; empty for what is counted once."""
    one, several = UNITS.get(line.unit, (line.unit, line.unit))
    return one if line.count == Decimal(1) else several


def _row(what: str, count: str, cost: Range, currency: str) -> LaterRow:
    return LaterRow(what, count, *(about(amount, currency) for amount in (cost.low, cost.likely, cost.high)))
