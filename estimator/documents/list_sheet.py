"""The workbook of a list to be priced: an `Estimate` and a list go in, bytes come out, with room to write by hand."""

from collections.abc import Sequence
from copy import deepcopy
from datetime import datetime, time
from decimal import Decimal
from io import BytesIO
from typing import Any

from estimator.documents.list_columns import (
    ASK,
    ASK_OPEN,
    COLUMNS,
    COUNTER_TITLES,
    MARK,
    NOTE,
    ONE_LENGTH,
    PACK,
    PACKS,
    PRICE,
    QUANTITY,
    SAME_KIND,
    UNIT,
    WIDTHS,
)
from estimator.documents.list_head import ours, theirs
from estimator.documents.list_model import SHELVES, ListLine
from estimator.documents.list_pages import breaks, room
from estimator.documents.list_papers import Paper
from estimator.documents.sheets.looks import (
    APART,
    GENERAL,
    GROUP,
    QUIET,
    QUIET_GREY,
    RULED,
    TITLE,
    WRAPPED,
    Looks,
    Style,
)
from estimator.documents.sheets.measure import lines_of
from estimator.documents.sheets.page import LINE_POINTS, Page, inert
from estimator.result import Estimate

EMPTY: Style = {"border": 1, "border_color": "#7F7F7F", "locked": False, "valign": "vcenter", "text_wrap": True}
"""A cell to write in."""
MIDDLE: Style = {"valign": "vcenter"}
TO_WRITE_ON: Style = {"text_wrap": True, "valign": "bottom", "bottom": 1, "bottom_color": "#7F7F7F", "locked": False}
"""A ruled line of the head, filled or to be filled."""
LABEL: Style = {"valign": "bottom", "font_color": QUIET_GREY, "shrink": True}
RIGHT_LABEL: Style = {"valign": "bottom", "font_color": QUIET_GREY, "align": "right", "indent": 1}
"""Runs out to the left over empty cells."""

INDENTED = (2, 3, 4, UNIT, PACK, ONE_LENGTH, SAME_KIND, PRICE, PRICE + 1, PRICE + 2, NOTE)
"""Columns of text, kept off the one before."""
HEAD_TOP = 3
OUR_LABEL, OUR_WORDS = 1, (2, 4)
THEIR_LABEL, THEIR_WORDS = 10, (11, 14)
WRITING_POINTS = 27
"""A row that a pen has room in, also at the size that a page is printed."""
MOST_POINTS = 409
"""No row of a workbook is higher."""
SHELF_POINTS, HEADINGS_POINTS, ABOVE_POINTS = 20, 42, 66
"""A heading of a shelf; the row of column headings; title, what is asked and the two spaces between, with room to wrap."""
MARGINS_INCHES = (0.6, 1.2)
"""Left and right, top and bottom, as a page of a workbook has them."""


def workbook(estimate: Estimate, paper: Paper) -> bytes:
    """The list, a sheet for each kind of counter; the same estimate gives the same bytes."""
    import xlsxwriter

    from estimator.documents.workbook import OPTIONS

    stream = BytesIO()
    book = xlsxwriter.Workbook(stream, deepcopy(OPTIONS))
    book.set_properties({"title": "Shopping list", "created": datetime.combine(estimate.job.priced_on, time())})
    looks = Looks(book, estimate.job.currency)
    for counter in dict.fromkeys(line.counter for line in paper.lines):
        name = COUNTER_TITLES.get(counter, "Other")
        page = Page(book.add_worksheet(_unused(book, name)), looks, WIDTHS)
        _sheet(page, estimate, paper, name, [line for line in paper.lines if line.counter == counter])
    book.close()
    return stream.getvalue()


def _unused(book: Any, name: str) -> str:
    there = {sheet.get_name() for sheet in book.worksheets()}
    return next(of for of in (name, *(f"{name} {again}" for again in range(2, 100))) if of not in there)


def _sheet(page: Page, estimate: Estimate, paper: Paper, counter: str, lines: list[ListLine]) -> None:
    trip = f". {paper.trip_words}" if paper.trip else ""
    page.across(0, f"To be priced: {counter.lower()}{trip}", TITLE)
    page.across(1, ASK_OPEN if any(not line.packs for line in lines) else ASK, {**WRAPPED, "bold": True})
    page.thin(2)
    words = ours(estimate, paper, lines)
    above = _head(page, words, theirs(paper)) + ABOVE_POINTS
    head_row = HEAD_TOP + len(words) + 1
    page.head_row(head_row, COLUMNS, (QUANTITY, PACKS), INDENTED)
    page.sheet.set_footer(f"&L&8For budgeting and buying only&C&8Page &P of &N&R&8{MARK} {paper.mark}. &A")
    page.sheet.repeat_rows(head_row)
    page.sheet.freeze_panes(head_row + 1, 0)
    row = head_row + 1
    heights: dict[int, tuple[float, bool]] = {}
    for shelf in SHELVES:
        mine = [line for line in lines if line.shelf == shelf]
        if mine:
            page.rule(row, NOTE, GROUP)
            page.text(row, 0, shelf, {**GROUP, "text_wrap": False})
            heights[row] = (SHELF_POINTS, True)
            for at, line in enumerate(mine, row + 1):
                heights[at] = (_line(page, at, line), False)
            row += len(mine) + 1
    page.finish(row - 1, NOTE, protect=False)
    page.sheet.set_row(head_row, HEADINGS_POINTS)
    for at, (points, _) in heights.items():
        page.sheet.set_row(at, points)
    _set_breaks(page, [(at, points, heads) for at, (points, heads) in sorted(heights.items())], above)


def _set_breaks(page: Page, rows: Sequence[tuple[int, float, bool]], above: float) -> None:
    """Start pages where no heading of a shelf is left alone at the foot of one."""
    a_page = room(page.widths, *MARGINS_INCHES)
    page.sheet.set_h_pagebreaks(breaks(rows, a_page - above - HEADINGS_POINTS, a_page - HEADINGS_POINTS))


def _head(page: Page, left: Sequence[tuple[str, str]], right: Sequence[tuple[str, str]]) -> float:
    """Our words on the left, on the right the mark and what the merchant fills in; how high they stand in all."""
    high = 0.0
    for row, (label, words) in enumerate(left, HEAD_TOP):
        page.text(row, OUR_LABEL, label, LABEL)
        points = _words(page, row, OUR_WORDS, words)
        if row - HEAD_TOP < len(right):
            label, words = right[row - HEAD_TOP]
            page.text(row, THEIR_LABEL, label, RIGHT_LABEL)
            _words(page, row, THEIR_WORDS, words)
        page.height(row, points)
        high += points
    return high


def _words(page: Page, row: int, span: tuple[int, int], words: str) -> float:
    """Words on a ruled line over several columns, or the bare line; how high the row has to be for them."""
    look = page.looks.format(TO_WRITE_ON)
    page.sheet.merge_range(row, span[0], row, span[1], "", look)
    if words:
        page.sheet.write_string(row, span[0], inert(words), look)
    return _points(lines_of(words, sum(page.widths[span[0] : span[1] + 1])), 20)


def _line(page: Page, row: int, line: ListLine) -> float:
    """One line to be priced; how high its row has to be."""
    page.rule(row, NOTE, RULED)
    page.number(row, 0, line.number, RULED, MIDDLE, {"align": "left"})
    wrapped = {1: line.words, 2: line.trade_name, 3: line.size_finish, 4: line.code, PACK: line.pack}
    for col, words in wrapped.items():
        page.text(row, col, words, RULED, WRAPPED, MIDDLE, *((APART,) if col in INDENTED else ()))
    page.text(row, ONE_LENGTH, line.one_length, RULED, WRAPPED, MIDDLE, APART)
    page.number(row, QUANTITY, line.quantity, RULED, MIDDLE, GENERAL)
    page.text(row, UNIT, line.unit, RULED, MIDDLE, APART)
    if line.packs:
        page.number(row, PACKS, Decimal(line.packs), RULED, MIDDLE)
    else:
        page.rule(row, PACKS, EMPTY, first=PACKS)
    page.text(row, SAME_KIND, "Y" if line.same_kind else "N", RULED, MIDDLE, APART)
    page.rule(row, PRICE + 2, EMPTY, first=PRICE)
    page.text(row, NOTE, line.note, RULED, QUIET, MIDDLE, APART)
    wrapped |= {ONE_LENGTH: line.one_length, NOTE: line.note}
    return _points(
        max(lines_of(words, page.widths[col] - (col in INDENTED)) for col, words in wrapped.items()), WRITING_POINTS
    )


def _points(lines: int, least: float) -> float:
    return min(MOST_POINTS, max(least, lines * LINE_POINTS + 3))
