"""Decimal commas: sheets go in; where every price has one and no figure a point, they come out with points, and it is told."""

import re
from collections.abc import Iterable
from dataclasses import replace
from types import MappingProxyType

from estimator.returned.cells import Cell, Row, shown
from estimator.returned.headings import Headed
from estimator.returned.model import Told

PRICES = ("price", "total", "list")
FIGURES = (*PRICES, "quantity")
"""Columns in which a program writes its decimal commas."""
LEAST = 2
"""One figure with a comma alone is asked about: it may be a slip."""
_COMMA = re.compile(r"(?<![\d.,])(\d{1,3}(?:\.\d{3})+|\d+),(\d{1,2})(?![\d.,])", re.A)
"""Two figures at most after the comma: thousands would have three."""
_POINT = re.compile(r"\d\.\d|\d,\d{3}(?!\d)|(?<!\d)\.\d", re.A)


def with_points(sheets: Iterable[Headed]) -> tuple[list[Headed], tuple[Told, ...]]:
    """The sheets with decimal points, and what was read so; as they are where a price has no comma, or any has a point."""
    given = list(sheets)
    prices = [cell for sheet in given for row in sheet.below for cell in _in(sheet, row, PRICES)]
    written = [cell for cell in prices if isinstance(cell.value, str) and re.search(r"\d", cell.value)]
    commas = [cell for cell in written if _COMMA.search(cell.text)]
    others = [_COMMA.sub("", cell.text) for cell in written]
    numbers = any(not isinstance(cell.value, str) for cell in prices)
    if len(commas) < LEAST or numbers or any(_POINT.search(text) or "," in text for text in others):
        return given, ()
    words = (
        f"every price is written with a decimal comma, and none with a point: {shown(commas[0].text)} is read as "
        f"{_pointed(commas[0].text)}, and so are all others"
    )
    return [_of_sheet(sheet) for sheet in given], (Told(commas[0].place, words),)


def _in(sheet: Headed, row: Row, kinds: Iterable[str]) -> list[Cell]:
    return [row.cells[of.column] for kind in kinds for of in sheet.of(kind) if of.column in row.cells]


def _pointed(text: str) -> str:
    return _COMMA.sub(lambda found: f"{found[1].replace('.', '')}.{found[2]}", text)


def _of_sheet(sheet: Headed) -> Headed:
    return replace(sheet, below=tuple(_of_row(sheet, row) for row in sheet.below))


def _of_row(sheet: Headed, row: Row) -> Row:
    cells = dict(row.cells)
    for cell in _in(sheet, row, FIGURES):
        if isinstance(cell.value, str):
            cells[cell.column] = replace(cell, value=_pointed(cell.text))
    return replace(row, cells=MappingProxyType(cells))
