"""A filled workbook as sheets of cells: bytes go in; formulas are never run, links never followed, nothing is re-saved."""

import re
import struct
import warnings
import zipfile
import zlib
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from decimal import Decimal
from io import BytesIO
from types import MappingProxyType
from typing import Any
from xml.etree.ElementTree import ParseError

from estimator.problems import Place, Problem
from estimator.returned.cells import Cell, Odd, Row, Sheet, value_of
from estimator.returned.figures import SIGNS
from estimator.returned.guard import NO_WORKBOOK, refusal
from estimator.returned.model import Told

ROWS, COLUMNS, SHEETS = 20_000, 100, 50
"""What lies beyond is not looked at: a list has some hundred rows, and a hostile one may claim millions."""
CELLS = 200_000
"""Filled cells that are read; a list has some thousand."""
DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    struct.error,
    ParseError,
    LookupError,
    ValueError,
    TypeError,
    AttributeError,
    ArithmeticError,
    OSError,
    EOFError,
    RuntimeError,
)
"""What the reader of workbooks raises on damaged ones; a refusal of XML by defusedxml is a ValueError."""
Found = tuple[tuple[Sheet, ...], tuple[Told, ...], tuple[Problem, ...]]


def read_workbook(name: str, data: bytes) -> Found:
    """Its sheets, what is worth telling (links, macros, hidden sheets), and why it cannot be read."""
    wrong = refusal(data)
    if wrong is not None:
        return (), (), (Problem(Place(name), "", *wrong),)
    try:
        typed = _sheets(name, data, None)
        if sum(len(row.cells) for sheet in typed for row in sheet.rows) > CELLS:
            found = f"the workbook has more than {CELLS:,} filled cells, and a list has some thousand"
            return (), (), (Problem(Place(name), "", found, "copy the lines into a new workbook, and give that"),)
        stored = None
        if any(cell.formula for sheet in typed for row in sheet.rows for cell in row.cells.values()):
            stored = {cell.place: cell for sheet in _sheets(name, data, {}) for cell in _cells(sheet)}
        told = _told(name, data)
    except DAMAGED:
        return (), (), (Problem(Place(name), "", "this is no workbook, or it is damaged", NO_WORKBOOK),)
    return typed if stored is None else tuple(_with_stored(sheet, stored) for sheet in typed), told, ()


def place_of(name: str, sheet: str, address: str) -> Place:
    """A cell as a reader finds it: `list.xlsx:Electrical!K12`."""
    return Place(f"{name}:{sheet}!{address}")


def _cells(sheet: Sheet) -> Iterator[Cell]:
    for row in sheet.rows:
        yield from row.cells.values()


def _with_stored(sheet: Sheet, stored: Mapping[Place, Cell]) -> Sheet:
    """Formulas with the value that the program that saved the workbook kept beside them."""
    rows = []
    for row in sheet.rows:
        cells = {at: _stored(cell, stored) if cell.formula else cell for at, cell in row.cells.items()}
        rows.append(Row(row.place, row.number, MappingProxyType(cells)))
    return Sheet(sheet.name, sheet.place, tuple(rows))


def _stored(cell: Cell, stored: Mapping[Place, Cell]) -> Cell:
    kept = stored.get(cell.place)
    value = Odd("a formula without a stored value", cell.formula) if kept is None else kept.value
    return Cell(cell.place, cell.column, value, cell.formula, kept.sign if kept is not None else "")


@contextmanager
def _opened(data: bytes, values: bool) -> Iterator[Any]:
    import openpyxl

    if not openpyxl.DEFUSEDXML:
        raise ImportError("defusedxml is missing: workbooks from elsewhere are not read without it")
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # of validations, styles and the like, which nobody needs here
        book = openpyxl.load_workbook(BytesIO(data), read_only=True, data_only=values, keep_links=False)
        try:
            yield book
        finally:
            book.close()


def _sheets(name: str, data: bytes, values: Mapping[Place, Cell] | None) -> tuple[Sheet, ...]:
    with _opened(data, values is not None) as book:
        sheets: list[Sheet] = []
        room = CELLS
        for sheet in book.worksheets[:SHEETS]:
            sheets.append(_sheet(name, sheet, room))
            room -= sum(len(row.cells) for row in sheets[-1].rows)
        return tuple(sheets)


def _sheet(name: str, sheet: Any, room: int) -> Sheet:
    """One sheet; reading ends soon after more than `room` cells, since all of it is refused then."""
    title = str(sheet.title)
    rows = []
    for cells in sheet.iter_rows(max_row=ROWS, max_col=COLUMNS):  # what a file claims of its size is not believed
        found = [cell for raw in cells if raw.value is not None and (cell := _cell(name, title, raw)) is not None]
        if found:
            number = next(raw.row for raw in cells if raw.value is not None)
            by_column = MappingProxyType({cell.column: cell for cell in found})
            rows.append(Row(place_of(name, title, f"A{number}"), number, by_column))
            room -= len(found)
        if room < 0:
            break
    return Sheet(title, Place(f"{name}:{title}"), tuple(rows))


def _cell(name: str, title: str, raw: Any) -> Cell | None:
    place = place_of(name, title, raw.coordinate)
    if raw.data_type == "f":
        formula = str(getattr(raw.value, "text", raw.value))
        return Cell(place, raw.column, Odd("a formula without a stored value", formula), formula)
    value = Odd("a spreadsheet's error", str(raw.value)) if raw.data_type == "e" else value_of(raw.value)
    sign = _sign(str(raw.number_format or "")) if isinstance(value, Decimal) else ""
    return None if value is None else Cell(place, raw.column, value, "", sign)


def _sign(shown_as: str) -> str:
    """The sign of money in the format of a number; a mark of language alone, as in [$-809], is none."""
    named = re.search(r"\[\$([^\]-]+)", shown_as)
    text = named[1] if named else re.sub(r"\[[^\]]*\]", "", shown_as)
    return next((sign for sign in SIGNS if sign in text.casefold()), "")


def _told(name: str, data: bytes) -> tuple[Told, ...]:
    with zipfile.ZipFile(BytesIO(data)) as packed:
        names = packed.namelist()
    told = []
    if any(of.startswith("xl/externalLinks/") for of in names):
        told.append("it holds links to other workbooks; none was followed")
    if any(of.endswith("vbaProject.bin") for of in names):
        told.append("it holds macros; none was run")
    return tuple(Told(Place(name), text) for text in told)
