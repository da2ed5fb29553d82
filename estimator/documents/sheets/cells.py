"""Cells by name: rows and columns counted from 0 go in, references for formulas come out; figures as a cell holds them."""

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction


def column(index: int) -> str:
    """The letters of a column, `A` for 0."""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters


def cell(row: int, col: int, sheet: str = "") -> str:
    """One cell, `J7` or `Bill!J7`."""
    return f"{_sheet(sheet)}{column(col)}{row + 1}"


def fixed(row: int, col: int, sheet: str = "") -> str:
    """One cell that stays when a formula is copied, `Bill!$J$7`."""
    return f"{_sheet(sheet)}${column(col)}${row + 1}"


def block(first_row: int, last_row: int, col: int, sheet: str = "") -> str:
    """Part of a column that stays when a formula is copied, `Bill!$J$5:$J$40`."""
    return f"{_sheet(sheet)}${column(col)}${first_row + 1}:${column(col)}${last_row + 1}"


def added(references: Iterable[str]) -> str:
    """The references joined by plus signs; `0` for none."""
    return "+".join(references) or "0"


def figure(value: Decimal | Fraction | int) -> int | float:
    """A figure as a cell holds it: a whole number, or the nearest binary one, which shows the same digits."""
    if isinstance(value, int):
        return value
    whole = int(value)
    return whole if value == whole else float(value)


def _sheet(name: str) -> str:
    if not name:
        return ""
    return f"'{name}'!" if " " in name else f"{name}!"
