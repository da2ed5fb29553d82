"""Which row of a sheet holds the headings, and what each column is: rows go in, columns by what they hold come out.

Our own words count first, then words that a merchant puts in their place (heading_words.py).
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from estimator.catalogue.model import Basis
from estimator.problems import Problem
from estimator.returned.cells import Cell, Row, Sheet, plain, shown
from estimator.returned.heading_words import IDLE, basis_said, held_by, is_net, per_said
from estimator.returned.pers import Per

LOOKED_AT = 80
"""Rows that may stand above the headings, less one."""
NEEDED = (("line",), ("price", "total"), ("what", "trade"))
"""A row of headings has one of each."""
LACKING = (
    ("no column has the numbers of the lines", 'keep the column "Line" of our list'),
    ("no column of prices was found", 'call it "Price of one pack"'),
    ("no column says what each line is", 'keep the column "What" or "Trade name" of our list'),
)
OUR_ANSWERS = ("one length each", "may be in pieces", "y", "y each", "n", "yes")
"""What we write under the two headings that hold neither words nor figures; a merchant that agrees may write yes."""


@dataclass(frozen=True, slots=True)
class Heading:
    """One column: its number, what it holds, its heading as found, and what a price under it is for, if the heading says.

    `basis` is ex or inc, where the heading says it; `net`: the price is after any discount.
    """

    column: int
    holds: str
    text: str
    per: Per | None = None
    basis: Basis | None = None
    net: bool = False


@dataclass(frozen=True, slots=True)
class Headed:
    """A sheet with its headings: rows above them, rows below, and columns that may hold the price besides the one taken."""

    sheet: Sheet
    above: tuple[Row, ...]
    row: Row
    below: tuple[Row, ...]
    headings: tuple[Heading, ...]

    def of(self, holds: str) -> tuple[Heading, ...]:
        """The columns that hold that."""
        return tuple(heading for heading in self.headings if heading.holds == holds)

    def cell(self, row: Row, holds: str) -> Cell | None:
        """The cell of a row in the first such column that is filled there."""
        return next((row.cells[of.column] for of in self.of(holds) if of.column in row.cells), None)

    def scribbled(self, row: Row) -> list[str]:
        """Words beside the table, in columns that have no heading; figures there are told elsewhere."""
        columns = (at for at in sorted(row.cells) if at not in self.row.cells)
        return [row.cells[at].text for at in columns if not is_figure(row.cells[at])]

    def unread(self, row: Row) -> list[Cell]:
        """Filled cells whose column is not understood, and figures in a column without a heading."""
        known = {of.column for of in self.headings}
        idle = {at for at, cell in self.row.cells.items() if plain(cell.text) in IDLE}
        cells = (row.cells[at] for at in sorted(row.cells) if at not in known and at not in idle)
        return [cell for cell in cells if cell.column in self.row.cells or is_figure(cell)]

    def overwritten(self, row: Row) -> str:
        """What stands under our headings for lengths in one piece and for the same kind, where it is not ours."""
        cells = [row.cells[of.column] for of in self.of("ours") if of.column in row.cells]
        return "; ".join(cell.text for cell in cells if plain(cell.text) not in OUR_ANSWERS)

    def heading_of(self, cell: Cell) -> str:
        """The heading that a cell stands under."""
        return next((of.text for of in self.headings if of.column == cell.column), "")

    def named(self, heading: Heading) -> str:
        """A heading with its address, as a message has it."""
        return f"{shown(heading.text)} ({self.row.cells[heading.column].address})"


def headed(sheet: Sheet) -> Headed | None:
    """The sheet with the row of headings that says most; None where no row has the headings needed."""
    best: tuple[int, int, tuple[Heading, ...]] | None = None
    for index, row in enumerate(sheet.rows[:LOOKED_AT]):
        found = _settled(_headings(row.cells.values()))
        kinds = {heading.holds for heading in found}
        if all(kinds & set(of) for of in NEEDED) and (best is None or len(kinds) > best[0]):
            best = (len(kinds), index, found)
    if best is None:
        return None
    _, at, headings = best
    return Headed(sheet, sheet.rows[:at], sheet.rows[at], sheet.rows[at + 1 :], headings)


def address_of(row: Row, cell: Cell) -> str:
    """Where in a row of headings the heading of a cell stands: in K12 of a workbook, else in its column of that row."""
    letters = re.match(r"[A-Z]+(?=\d+$)", cell.address)
    return f"in {letters[0]}{row.number}" if letters else f"as column {cell.column} of row {row.number}"


def is_figure(cell: Cell) -> bool:
    """Whether a cell holds a figure, a price in text too, or something else that is no words."""
    return not isinstance(cell.value, str) or re.fullmatch(r"[£€$]? ?\d*[.,]?\d+", cell.text) is not None


def _bare_figures(sheet: Sheet, row: Row) -> Cell | None:
    """The first cell with a figure, below a row of headings, in a column that has none."""
    below = (one for one in sheet.rows if one.number > row.number)
    cells = (one.cells[at] for one in below for at in sorted(one.cells) if at not in row.cells)
    return next((cell for cell in cells if is_figure(cell)), None)


def lacking(sheet: Sheet) -> Problem | None:
    """Of a sheet without all headings: which one the row lacks that has most of them, and those that are not understood."""
    best: tuple[int, Problem] | None = None
    for row in sheet.rows[:LOOKED_AT]:
        found = _settled(_headings(row.cells.values()))
        kinds = {heading.holds for heading in found}
        missing = [words for of, words in zip(NEEDED, LACKING, strict=True) if not kinds & set(of)]
        if len(kinds) < 2 or len(missing) > 1 or (best is not None and len(kinds) <= best[0]):
            continue
        known = {of.column for of in found}
        odd = [cell for at, cell in sorted(row.cells.items()) if at not in known and plain(cell.text) not in IDLE]
        said = ", ".join(f"{shown(cell.text)} ({cell.address})" for cell in odd if isinstance(cell.value, str))
        if missing:
            found_words, write = missing[0]
            bare = _bare_figures(sheet, row) if missing[0] == LACKING[1] else None
            if bare is not None:
                found_words = (
                    f"{found_words}; figures stand in a column without a heading ({bare.text} in {bare.address})"
                )
                write = f'if they are the prices, write "Price of one pack" above them, {address_of(row, bare)}'
            best = (
                len(kinds),
                Problem(row.place, "", f"{found_words}{f'; not understood: {said}' if said else ''}", write),
            )
    return best[1] if best is not None else None


def _headings(cells: Iterable[Cell]) -> tuple[Heading, ...]:
    return tuple(heading for cell in cells if isinstance(cell.value, str) and (heading := heading_of(cell)) is not None)


def heading_of(cell: Cell) -> Heading | None:
    """What a heading says its column holds; None for a heading that is not known."""
    holds = held_by(cell.text)
    if holds is None:
        return None
    money = holds in ("price", "total", "list")
    return Heading(
        cell.column,
        holds,
        cell.text,
        per_said(cell.text) if holds in ("price", "list") else None,
        basis_said(cell.text) if money else None,
        money and is_net(cell.text),
    )


def _settled(found: tuple[Heading, ...]) -> tuple[Heading, ...]:
    """Headings with one column for the price, where words tell which: a net price counts before one of the list, and
    where one price stands ex and inc VAT, the one ex.
    """
    kinds = {of.holds for of in found}
    if "list" in kinds and "price" not in kinds:
        found = tuple(replace(of, holds="price") if of.holds == "list" else of for of in found)
    for holds in ("price", "total"):
        columns = [of for of in found if of.holds == holds]
        bases = {of.basis for of in columns}
        if len(columns) == 2 and bases == {"ex", "inc"}:
            found = tuple(replace(of, holds="inc") if of in columns and of.basis == "inc" else of for of in found)
    return found
