"""Scenarios side by side: a `Comparison` goes in, tables of at most three scenarios beside the job as it stands come out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimator.compare.model import Column, Comparison
from estimator.documents.compare_facts import FigureRow, figure_rows, finding_words, reasons, reworded
from estimator.documents.compare_packs import pack_words
from estimator.documents.compare_words import signed, signed_number
from estimator.documents.words import money, number

MOST_COLUMNS = 3
"""So many scenarios fit beside each other on A4."""


@dataclass(frozen=True, slots=True)
class Cell:
    """What stands in a cell: a figure with its difference (empty where it stays as it is), or lines of text."""

    figure: str = ""
    more: str = ""
    lines: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SideRow:
    """A row: what it tells, of the job as it stands, and of each scenario; None stands under a reason."""

    group: str
    name: str
    before: Cell
    cells: tuple[Cell | None, ...]
    matters: bool = False


@dataclass(frozen=True, slots=True)
class SideTable:
    """Names of the scenarios, why one of them cannot be worked out (else empty), and the rows."""

    names: tuple[str, ...]
    reasons: tuple[tuple[str, ...], ...]
    rows: tuple[SideRow, ...]


def side_tables(comparison: Comparison) -> tuple[SideTable, ...]:
    """The scenarios in their order, in as few tables as hold them, about as many in each."""
    columns = comparison.columns
    tables = -(-len(columns) // MOST_COLUMNS)
    each, more = divmod(len(columns), tables) if tables else (0, 0)
    ends = [(at + 1) * each + min(at + 1, more) for at in range(tables)]
    parts = [columns[start:end] for start, end in zip((0, *ends), ends, strict=False)]
    return tuple(_table(comparison, part) for part in parts)


def _table(of: Comparison, columns: Sequence[Column]) -> SideTable:
    why = tuple(reasons(one.variant.problems) if one.differences is None else () for one in columns)
    return SideTable(tuple(one.variant.name for one in columns), why, tuple(_rows(of, columns)))


def _rows(of: Comparison, columns: Sequence[Column]) -> Iterator[SideRow]:
    currency = of.base.job.currency
    yield SideRow(
        "",
        "Total inc VAT",
        Cell(money(of.base.budget.total, currency)),
        tuple(_total(one, currency) for one in columns),
    )
    yield SideRow("", "Difference", Cell(), tuple(_difference(one, currency) for one in columns), True)
    for row in figure_rows(of, columns):
        yield SideRow(row.group, row.name, Cell(_figure(row)), tuple(_cells(row)))
    for name, made in LISTS:
        cells = tuple(None if one.differences is None else Cell(lines=tuple(made(one))) for one in columns)
        if any(cell is not None and cell.lines for cell in cells):
            yield SideRow("", name, Cell(), cells)


def _total(column: Column, currency: str) -> Cell | None:
    return None if column.variant.estimate is None else Cell(money(column.variant.estimate.budget.total, currency))


def _difference(column: Column, currency: str) -> Cell | None:
    return None if column.differences is None else Cell(signed(column.differences.total, currency))


def _figure(row: FigureRow) -> str:
    return number(row.before, 1)


def _cells(row: FigureRow) -> Iterator[Cell | None]:
    for after, more in zip(row.after, row.more, strict=True):
        yield None if after is None or more is None else Cell(number(after, 1), signed_number(more) if more else "")


def _packs(column: Column) -> Iterator[str]:
    if column.differences is not None and column.variant.estimate is not None:
        yield from pack_words(column.variant.estimate.catalogue, column.differences.packs)


def _appear(column: Column) -> Iterator[str]:
    if column.differences is not None:
        yield from (finding_words(one) for one in column.differences.appear)


def _gone(column: Column) -> Iterator[str]:
    if column.differences is not None:
        yield from (finding_words(one) for one in column.differences.gone)


def _reworded(column: Column) -> Iterator[str]:
    if column.differences is not None:
        yield from (finding_words(after) for _, after in reworded(column.differences))


LISTS = (
    ("Packs, drums and lengths that change", _packs),
    ("Findings that appear", _appear),
    ("Findings that go", _gone),
    ("Findings with other figures", _reworded),
)
