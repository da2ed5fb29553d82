"""What later costs are made of: a `Comparison` goes in, a table for each scenario that adds something comes out."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from estimator.compare.later import Later, LaterLine
from estimator.compare.model import Comparison
from estimator.costing.model import Range
from estimator.documents.compare_words import about, hours_words, out_words
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
    """One scenario: what it costs now, and later, line by line; `hours` are one's own, which have no price; `saved` says
    what taking other things out comes to.
    """

    name: str
    now: str
    rows: tuple[LaterRow, ...]
    whole: LaterRow
    hours: str
    saved: str


def later_tables(comparison: Comparison) -> tuple[LaterTable, ...]:
    """The scenarios that add something, in their order."""
    return tuple(_tables(comparison))


def _tables(of: Comparison) -> Iterator[LaterTable]:
    currency = of.base.job.currency
    for column in of.columns:
        found = column.later
        if found is not None:
            rows = tuple(_row(what_words(line), count_words(line), line.cost, currency) for line in found.lines)
            whole = _row("Later, all of it", "", found.cost, currency)
            now, out = money(found.now, currency), out_words(found, currency).strip()
            yield LaterTable(column.variant.name, now, rows, whole, own_hours(found), out)


def own_hours(later: Later) -> str:
    """Hours of one's own, `4 to 12 hours`; empty for none."""
    return hours_words(later.hours.low, later.hours.high) if later.hours.high else ""


def what_words(line: LaterLine) -> str:
    """What a line is; one that holds others tells them with how often: `Least charge ..., or what is done: ... (1 point)`."""
    if not line.of:
        return line.what
    held = "; ".join(f"{one.what} ({count_words(one)})" for one in line.of)
    return f"{line.what}, or what is done if that is more: {held}"


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
