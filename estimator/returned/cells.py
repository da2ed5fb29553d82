"""A table as it was found: sheets of rows of cells, each with its place; every reader gives these, and nothing is judged."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from decimal import Decimal

from estimator.problems import Place

SHOWN = 60
"""So much of a text is quoted in a message."""


@dataclass(frozen=True, slots=True)
class Odd:
    """A cell that holds neither text nor a number: in words, what it is."""

    what: str
    text: str


Value = str | Decimal | date | Odd
"""Texts are as found; a number is exact; a date is a day."""


@dataclass(frozen=True, slots=True)
class Cell:
    """One filled cell. `formula` holds the formula that its value was worked out by, "" for a value that was typed.

    `sign` is the sign of money that a number is shown with, where its format has one.
    """

    place: Place
    column: int
    value: Value
    formula: str = ""
    sign: str = ""

    @property
    def address(self) -> str:
        """Where it stands, in short: K12 of a sheet, `column 3` of a text."""
        file = self.place.file
        return file.rsplit("!", 1)[-1] if "!" in file else f"column {self.column}"

    @property
    def text(self) -> str:
        """The value as one line of text."""
        return as_text(self.value)


@dataclass(frozen=True, slots=True)
class Row:
    """Filled cells of one row, by column from 1."""

    place: Place
    number: int
    cells: Mapping[int, Cell]


@dataclass(frozen=True, slots=True)
class Sheet:
    """Rows with something in them; `name` is "" for a file that has no sheets."""

    name: str
    place: Place
    rows: tuple[Row, ...]


def as_text(value: Value) -> str:
    """A value as one line: blanks of all kinds become single spaces, a number has no idle noughts."""
    if isinstance(value, Decimal):
        return f"{value.normalize():f}" if value else "0"
    if isinstance(value, date):
        return value.isoformat()
    return one_line(value.text if isinstance(value, Odd) else unguarded(value))


def one_line(text: str) -> str:
    """Text without control marks and hidden ones, blanks of all kinds as single spaces."""
    kept = (" " if mark.isspace() else mark for mark in text)
    return " ".join("".join(mark for mark in kept if unicodedata.category(mark)[0] != "C").split())


def unguarded(text: str) -> str:
    """Text without the quote that a list for spreadsheets puts before what could be taken for a formula."""
    return text.removeprefix("'")


def shown(text: str) -> str:
    """Text as a message quotes it: one line, cut where it is long."""
    line = one_line(text)
    return f'"{line if len(line) <= SHOWN else line[: SHOWN - 1] + "…"}"'


def plain(text: str) -> str:
    """Text for comparing: small letters, figures and nothing else but single spaces between."""
    return " ".join(re.sub(r"[^\w£$€#%]+", " ", unicodedata.normalize("NFKC", text).casefold()).split())


def value_of(raw: object) -> Value | None:
    """What a spreadsheet's cell holds, None for an empty one; figures are taken to 15 places, as spreadsheets keep them."""
    if raw is None or (isinstance(raw, str) and not one_line(raw)):
        return None
    if isinstance(raw, bool):
        return Odd("yes or no", str(raw).lower())
    if isinstance(raw, int):
        return Decimal(raw)
    if isinstance(raw, float):
        number = Decimal(f"{raw:.15g}")
        return number if number.is_finite() else Odd("no number", str(raw))
    if isinstance(raw, datetime):
        return raw.date()
    if isinstance(raw, date):
        return raw
    if isinstance(raw, time | timedelta):
        return Odd("a time of day", str(raw))
    return raw if isinstance(raw, str) else Odd("no text and no number", str(raw))
