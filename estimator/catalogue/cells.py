"""One cell of a CSV table to one value: exact numbers, ratios, dates, words; a hint where it cannot be read."""

import re
from collections.abc import Callable, Iterable
from datetime import date
from decimal import Decimal
from typing import Any

from estimator.job.model import Stated
from estimator.problems import choose, unseen

NUMBER = re.compile(r"-?\d+(\.\d+)?")
PERCENT = re.compile(r"(\d+(?:\.\d+)?) ?%")
FIGURES = 12
"""More figures than any price or size has; beyond them sums would lose their pennies."""
LOAD = re.compile(r"(\d+(?:\.\d+)?) ?(A|W|kW)")

Parser = Callable[[str], Any]


class Unfit(ValueError):
    """The text of a cell is not what its column holds; the message says what to write."""


def text(cell: str) -> str:
    """Any text that can be seen; a cell may hold several lines."""
    if found := unseen(re.sub(r"[\r\n\t]", " ", cell)):
        raise Unfit(f"write it without {', '.join(found)}, which cannot be seen and could turn text round")
    return cell


def code(cell: str) -> str:
    """A code: starts with a letter, no blanks, and nothing a spreadsheet would read as a number."""
    if not re.fullmatch(r"[A-Za-z][\w./+-]*", cell):
        raise Unfit("write a code that starts with a letter and holds no blanks, as in te-2.5")
    if re.search(r"\d[eE]\d", cell):
        raise Unfit("write a code without a lone e between digits; spreadsheets turn 2e5 into a number")
    return cell


def number(cell: str) -> Decimal:
    """A plain number with a decimal point."""
    if NUMBER.fullmatch(cell):
        if sum(letter.isdigit() for letter in cell) > FIGURES:
            raise Unfit(f"write a number of at most {FIGURES} figures")
        return Decimal(cell)
    if re.fullmatch(r"-?\d+,\d+", cell):
        raise Unfit(
            f"write a decimal point: {cell.replace(',', '.')} (or {cell.replace(',', '')}, if the comma marks thousands)"
        )
    bare = re.sub(r"^[^\d.,-]+|[^\d.,]+$", "", cell)
    if NUMBER.fullmatch(bare):
        raise Unfit(f"write the number alone: {bare}")
    raise Unfit("write a number, as in 12.50")


def positive(cell: str) -> Decimal:
    """A number above nothing."""
    value = number(cell)
    if value <= 0:
        raise Unfit("write a number above 0")
    return value


def not_negative(cell: str) -> Decimal:
    """A number of 0 or more."""
    value = number(cell)
    if value < 0:
        raise Unfit("write 0 or more")
    return value


def whole(cell: str) -> int:
    """A whole number of 0 or more."""
    if not re.fullmatch(r"\d+", cell):
        raise Unfit("write a whole number, as in 2")
    return int(cell)


def percent(cell: str) -> Decimal:
    """A percentage, as a ratio."""
    found = PERCENT.fullmatch(cell)
    if not found:
        raise Unfit('write a percentage, as in "20 %"')
    return Decimal(found[1]).scaleb(-2)


def vat_of_labour(cell: str) -> Decimal:
    """The VAT that a rate of labour bears: a percentage, or `none`."""
    if cell.casefold() == "none":
        return Decimal(0)
    try:
        return percent(cell)
    except Unfit:
        raise Unfit('write a percentage, as in "20 %", or none, or leave it empty for the VAT of the job') from None


def day(cell: str) -> date:
    """A date, year first."""
    try:
        return date.fromisoformat(cell)
    except ValueError:
        raise Unfit("write the date year first, as in 2026-10-01") from None


def load(cell: str) -> Stated:
    """A load, in amperes, watts or kilowatts."""
    found = LOAD.fullmatch(cell)
    if not found:
        raise Unfit('write a load with its unit, as in "13 A", "5 W" or "2 kW"')
    return Stated(Decimal(found[1]), found[2], "")


def yes(cell: str) -> bool:
    """`yes`, `no` or nothing."""
    if cell not in ("", "yes", "no"):
        raise Unfit("write yes or no")
    return cell == "yes"


def word(*known: str) -> Parser:
    """One of the words given."""

    def parse(cell: str) -> str:
        if cell not in known:
            raise Unfit(choose(cell, known))
        return cell

    return parse


def or_none(parser: Parser) -> Parser:
    """What `parser` reads, or None from an empty cell."""
    return lambda cell: parser(cell) if cell else None


def words(known: Iterable[str]) -> str:
    """Known words, as a list to read."""
    return ", ".join(sorted(known))
