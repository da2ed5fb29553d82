"""One sheet and its set-up for print: widths, header row repeated, page numbers; text stays text whatever it looks like.

Cells are written when the sheet is finished: a row of few lines stands in the middle, clear of the rules above and below.
"""

from collections.abc import Sequence
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

from estimator.documents.key import in_a_line, key_of
from estimator.documents.sheets.breaks import FOOT_INCHES, SIDE_INCHES, TOP_INCHES, group_breaks, room
from estimator.documents.sheets.cells import figure
from estimator.documents.sheets.looks import (
    APART,
    GROUP,
    HEAD,
    HEAD_RIGHT,
    MIDDLE,
    PLAIN,
    QUIET,
    TITLE,
    WRAPPED,
    Looks,
    Style,
)
from estimator.documents.sheets.measure import lines_of

A4 = 9
LONGEST_TEXT = 32000
"""A cell holds 32,767 characters."""
TEXT_SIZE = 10
LINE_POINTS = 13
LEADING_POINTS = 3
"""What a row is higher than its lines, so that they stand clear of the rules above and below."""
ROW_POINTS, MIDDLE_LINES = 15, 3
"""A row of one line; and up to how many lines all of a row stands in the middle."""
THIN_POINTS, BETWEEN_POINTS = 5, 9
GAP_POINTS = 3
"""Below a header row, so that its rule does not touch the line under it."""
TITLE_ROW, NOTE_ROW, HEAD_ROW, FIRST_ROW = 0, 1, 3, 5


class Page:
    """A sheet of columns with given widths (in characters); rows and columns count from 0."""

    def __init__(self, sheet: Any, looks: Looks, widths: Sequence[float], landscape: bool = True) -> None:
        self.sheet = sheet
        self.looks = looks
        self.widths = tuple(widths)
        self.landscape = landscape
        self._cells: list[tuple[int, int, str, Any, tuple[Style, ...]]] = []
        self._heads: set[int] = set()
        self._points: dict[int, float] = {}
        self._repeated = range(0)
        self._lines: dict[int, int] = {}
        self._filled: set[tuple[int, int]] = set()
        self._ruled: list[tuple[int, range, Any]] = []
        if landscape:
            sheet.set_landscape()
        else:
            sheet.set_portrait()
        sheet.set_paper(A4)
        sheet.set_margins(left=SIDE_INCHES, right=SIDE_INCHES, top=TOP_INCHES, bottom=FOOT_INCHES)
        sheet.fit_to_pages(1, 0)
        sheet.set_footer("&L&8For budgeting and buying only&C&8Page &P of &N&R&8&A")
        sheet.hide_gridlines(2)
        for index, width in enumerate(self.widths):
            sheet.set_column(index, index, width)

    def heading(
        self,
        title: str,
        note: str,
        heads: Sequence[str],
        right: Sequence[int] = (),
        apart: Sequence[int] = (),
        last: int | None = None,
    ) -> None:
        """Title, a note under it, and the header row, which is repeated in print and stays in sight.

        `last` is the last column that is printed, where not all are.
        """
        self.across(TITLE_ROW, title, TITLE, last=last)
        self.across(NOTE_ROW, note, QUIET, last=last)
        self.head_row(HEAD_ROW, heads, right, apart)
        self.repeat(HEAD_ROW, gap=True)
        self.sheet.freeze_panes(FIRST_ROW, 0)

    def repeat(self, row: int, gap: bool = False) -> None:
        """Print this row at the head of every page, with the empty one below it where there is a gap."""
        last = row + 1 if gap else row
        if gap:
            self.height(last, GAP_POINTS)
        self.sheet.repeat_rows(row, last)
        self._repeated = range(row, last + 1)

    def head_row(self, row: int, heads: Sequence[str], right: Sequence[int] = (), apart: Sequence[int] = ()) -> None:
        """A header row; `right` are columns of figures, `apart` columns of text right of one."""
        self._heads.add(row)
        for col, head in enumerate(heads):
            look = HEAD_RIGHT if col in right else HEAD
            self.text(row, col, head, look, *((APART,) if col in apart else ()))

    def text(self, row: int, col: int, value: str, *styles: Style, to: int | None = None) -> None:
        """Text, never a formula, a number or a link; `to` is the last of the columns that were made one for it."""
        styles = styles or (WRAPPED,)
        self._put(row, col, "string", inert(value), styles)
        if last_of(styles, "text_wrap", False):
            wide = sum(self.widths[col : (col if to is None else to) + 1]) - last_of(styles, "indent", 0)
            lines = lines_of(value, wide, last_of(styles, "bold", False))
            self._lines[row] = max(self._lines.get(row, 1), lines)

    def number(self, row: int, col: int, value: Decimal | Fraction | int, *styles: Style) -> None:
        """A figure."""
        self._put(row, col, "number", figure(value), styles or (PLAIN,))

    def formula(self, row: int, col: int, formula: str, value: Decimal | Fraction | int | str, *styles: Style) -> None:
        """A formula (without `=`) and what it gives, for programs that do not calculate."""
        shown = value if isinstance(value, str) else figure(value)
        self._put(row, col, "formula", (f"={formula}", shown), styles or (PLAIN,))

    def day(self, row: int, col: int, value: date, *styles: Style) -> None:
        """A date."""
        self._put(row, col, "datetime", datetime.combine(value, time()), styles)

    def _put(self, row: int, col: int, kind: str, value: Any, styles: tuple[Style, ...]) -> None:
        self._filled.add((row, col))
        self._cells.append((row, col, kind, value, styles))

    def rule(self, row: int, last: int, *styles: Style, first: int = 0) -> None:
        """A look for those cells of a row that stay empty, to carry a line across; the later of two looks counts."""
        if GROUP in styles:
            self._heads.add(row)
        self._ruled.append((row, range(first, last + 1), self.looks.format(*styles)))

    def merged(self, row: int, first: int, last: int, *styles: Style) -> None:
        """Cells of a row made one, still empty."""
        self._filled |= {(row, col) for col in range(first, last + 1)}
        self.sheet.merge_range(row, first, row, last, "", self.looks.format(*styles))

    def across(self, row: int, value: str, *styles: Style, last: int | None = None) -> None:
        """Text over the whole width, in a row high enough for it."""
        last = len(self.widths) - 1 if last is None else last
        styles = (*styles, MIDDLE)
        self.merged(row, 0, last, *styles)
        self.sheet.write_string(row, 0, inert(value), self.looks.format(*styles))
        size = last_of(styles, "font_size", TEXT_SIZE)
        wide = sum(self.widths[: last + 1]) * TEXT_SIZE / size
        lines = lines_of(value, wide, last_of(styles, "bold", False))
        self.height(row, lines * LINE_POINTS * size / TEXT_SIZE + LEADING_POINTS)

    def words(self, row: int, names: Sequence[str]) -> int:
        """What words of the sheet mean, in a row of its own below an empty one; the row after it."""
        self.across(row + 1, f"Words. {in_a_line(key_of(names))}", QUIET)
        return row + 2

    def height(self, row: int, points: float) -> None:
        """Make a row so high."""
        self.sheet.set_row(row, points)
        self._points[row] = points

    def thin(self, row: int) -> None:
        """Make an empty row low."""
        self.height(row, THIN_POINTS)

    def tighten(self, last_row: int) -> None:
        """Make the empty rows between blocks lower, so that more of them are on a page."""
        filled = {row for row, _ in self._filled}
        for row in range(last_row):
            if row not in filled and row not in self._points:
                self.height(row, BETWEEN_POINTS)

    def finish(self, last_row: int, last_col: int, protect: bool = True) -> None:
        """Fill what stays empty, set row heights and what is printed.

        Where asked, lock all that is not for changing, without a password.
        """
        self._write()
        for row, cols, look in self._ruled:
            for col in cols:
                if (row, col) not in self._filled:
                    self.sheet.write_blank(row, col, None, look)
        # Not every program finds the height of a row with wrapped text by itself.
        for row in sorted({row for row, _ in self._filled}):
            lines = self._lines.get(row, 1)
            if lines > 1:
                self.height(row, max(lines * LINE_POINTS + LEADING_POINTS, self._points.get(row, 0)))
            elif row not in self._points:
                self.height(row, ROW_POINTS)
        self._break(last_row, last_col)
        self.sheet.print_area(0, 0, last_row, last_col)
        if protect:
            self.sheet.protect("", {"format_columns": True, "format_rows": True, "select_locked_cells": True})

    def _write(self) -> None:
        write = {
            "string": self.sheet.write_string,
            "number": self.sheet.write_number,
            "datetime": self.sheet.write_datetime,
        }
        for row, col, kind, value, styles in self._cells:
            alone = self._lines.get(row, 1) <= MIDDLE_LINES and last_of(styles, "valign", "") == "top"
            look = self.looks.format(*styles, *((MIDDLE,) if alone else ()))
            if kind == "formula":
                self.sheet.write_formula(row, col, value[0], look, value[1])
            else:
                write[kind](row, col, value, look)

    def _break(self, last_row: int, last_col: int) -> None:
        """Start pages so that no heading is left alone at the foot of one, nor a short group cut in two.

        A program that fits the width by itself may take other breaks than these; one that heeds them sets columns wider and so
        rows lower, so that nothing need be spared.
        """
        page = room(self.widths[: last_col + 1], self.landscape)
        rows = [(row, self._points.get(row, ROW_POINTS), row in self._heads) for row in range(last_row + 1)]
        again = sum(self._points.get(row, 0) for row in self._repeated)
        self.sheet.set_h_pagebreaks(group_breaks(rows, page, again))


def last_of(styles: Sequence[Style], name: str, otherwise: Any) -> Any:
    """A property as the last of the styles that has it says."""
    for style in reversed(styles):  # no generator: it is asked four times for every cell
        if name in style:
            return style[name]
    return otherwise


def inert(text: str) -> str:
    """Text that the writer of the file takes as nothing but text, short enough for a cell."""
    # The library passes on a text that looks like its own markup of rich text; a blank before it makes it plain.
    plain = f" {text}" if text.startswith("<r>") else text
    return plain if len(plain) <= LONGEST_TEXT else f"{plain[:LONGEST_TEXT]} ..."
