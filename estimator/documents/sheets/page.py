"""One sheet and its set-up for print: widths, header row repeated, page numbers; text stays text whatever it looks like."""

from collections.abc import Sequence
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from textwrap import wrap
from typing import Any

from estimator.documents.key import in_a_line, key_of
from estimator.documents.sheets.cells import figure
from estimator.documents.sheets.looks import APART, HEAD, HEAD_RIGHT, PLAIN, QUIET, TITLE, WRAPPED, Looks, Style

A4 = 9
LONGEST_TEXT = 32000
"""A cell holds 32,767 characters."""
TEXT_SIZE = 10
LINE_POINTS = 13
THIN_POINTS = 5
TITLE_ROW, NOTE_ROW, HEAD_ROW, FIRST_ROW = 0, 1, 3, 4


class Page:
    """A sheet of columns with given widths (in characters); rows and columns count from 0."""

    def __init__(self, sheet: Any, looks: Looks, widths: Sequence[float], landscape: bool = True) -> None:
        self.sheet = sheet
        self.looks = looks
        self.widths = tuple(widths)
        self._lines: dict[int, int] = {}
        self._filled: set[tuple[int, int]] = set()
        self._ruled: list[tuple[int, range, Any]] = []
        if landscape:
            sheet.set_landscape()
        else:
            sheet.set_portrait()
        sheet.set_paper(A4)
        sheet.set_margins(left=0.3, right=0.3, top=0.5, bottom=0.7)
        sheet.fit_to_pages(1, 0)
        sheet.set_footer("&L&8For budgeting and buying only&C&8Page &P of &N&R&8&A")
        sheet.hide_gridlines(2)
        for index, width in enumerate(self.widths):
            sheet.set_column(index, index, width)

    def heading(
        self, title: str, note: str, heads: Sequence[str], right: Sequence[int] = (), apart: Sequence[int] = ()
    ) -> None:
        """Title, a note under it, and the header row, which is repeated in print and stays in sight."""
        self.across(TITLE_ROW, title, TITLE)
        self.across(NOTE_ROW, note, QUIET)
        self.head_row(HEAD_ROW, heads, right, apart)
        self.sheet.repeat_rows(HEAD_ROW)
        self.sheet.freeze_panes(HEAD_ROW + 1, 0)

    def head_row(self, row: int, heads: Sequence[str], right: Sequence[int] = (), apart: Sequence[int] = ()) -> None:
        """A header row; `right` are columns of figures, `apart` columns of text right of one."""
        for col, head in enumerate(heads):
            look = HEAD_RIGHT if col in right else HEAD
            self.text(row, col, head, look, *((APART,) if col in apart else ()))

    def text(self, row: int, col: int, value: str, *styles: Style) -> None:
        """Text, never a formula, a number or a link."""
        styles = styles or (WRAPPED,)
        self._filled.add((row, col))
        self.sheet.write_string(row, col, inert(value), self.looks.format(*styles))
        if last_of(styles, "text_wrap", False):
            self._lines[row] = max(self._lines.get(row, 1), lines_of(value, self.widths[col]))

    def number(self, row: int, col: int, value: Decimal | Fraction | int, *styles: Style) -> None:
        """A figure."""
        self._filled.add((row, col))
        self.sheet.write_number(row, col, figure(value), self.looks.format(*(styles or (PLAIN,))))

    def formula(self, row: int, col: int, formula: str, value: Decimal | Fraction | int | str, *styles: Style) -> None:
        """A formula (without `=`) and what it gives, for programs that do not calculate."""
        shown = value if isinstance(value, str) else figure(value)
        self._filled.add((row, col))
        self.sheet.write_formula(row, col, f"={formula}", self.looks.format(*(styles or (PLAIN,))), shown)

    def day(self, row: int, col: int, value: date, *styles: Style) -> None:
        """A date."""
        self._filled.add((row, col))
        self.sheet.write_datetime(row, col, datetime.combine(value, time()), self.looks.format(*styles))

    def rule(self, row: int, last: int, *styles: Style, first: int = 0) -> None:
        """A look for those cells of a row that stay empty, to carry a line across; the later of two looks counts."""
        self._ruled.append((row, range(first, last + 1), self.looks.format(*styles)))

    def merged(self, row: int, first: int, last: int, *styles: Style) -> None:
        """Cells of a row made one, still empty."""
        self._filled |= {(row, col) for col in range(first, last + 1)}
        self.sheet.merge_range(row, first, row, last, "", self.looks.format(*styles))

    def across(self, row: int, value: str, *styles: Style, last: int | None = None) -> None:
        """Text over the whole width, in a row high enough for it."""
        last = len(self.widths) - 1 if last is None else last
        self.merged(row, 0, last, *styles)
        self.sheet.write_string(row, 0, inert(value), self.looks.format(*styles))
        size = last_of(styles, "font_size", TEXT_SIZE)
        room = sum(self.widths[: last + 1]) * TEXT_SIZE / size
        self.sheet.set_row(row, lines_of(value, room) * LINE_POINTS * size / TEXT_SIZE + 2)

    def words(self, row: int, names: Sequence[str]) -> int:
        """What words of the sheet mean, in a row of its own below an empty one; the row after it."""
        self.across(row + 1, f"Words. {in_a_line(key_of(names))}", QUIET)
        return row + 2

    def thin(self, row: int) -> None:
        """Make an empty row low."""
        self.sheet.set_row(row, THIN_POINTS)

    def finish(self, last_row: int, last_col: int, protect: bool = True) -> None:
        """Fill what stays empty, set row heights and what is printed.

        Where asked, lock all that is not for changing, without a password.
        """
        for row, cols, look in self._ruled:
            for col in cols:
                if (row, col) not in self._filled:
                    self.sheet.write_blank(row, col, None, look)
        # Not every program finds the height of a row with wrapped text by itself.
        for row, lines in sorted(self._lines.items()):
            if lines > 1:
                self.sheet.set_row(row, lines * LINE_POINTS + 2)
        self.sheet.print_area(0, 0, last_row, last_col)
        if protect:
            self.sheet.protect("", {"format_columns": True, "format_rows": True, "select_locked_cells": True})


@lru_cache(maxsize=4096)
def lines_of(text: str, room: float) -> int:
    """How many lines a text takes in a column so many figures wide; letters are narrower than figures, by and large."""
    width = max(1, int(room * 1.2))
    # Most texts fit on one line, which needs no wrapping to be seen.
    return sum(1 if len(part) <= width else max(1, len(wrap(part, width))) for part in text[:LONGEST_TEXT].split("\n"))


def last_of(styles: Sequence[Style], name: str, otherwise: Any) -> Any:
    """A property as the last of the styles that has it says."""
    return next((style[name] for style in reversed(styles) if name in style), otherwise)


def inert(text: str) -> str:
    """Text that the writer of the file takes as nothing but text, short enough for a cell."""
    # The library passes on a text that looks like its own markup of rich text; a blank before it makes it plain.
    plain = f" {text}" if text.startswith("<r>") else text
    return plain if len(plain) <= LONGEST_TEXT else f"{plain[:LONGEST_TEXT]} ..."
