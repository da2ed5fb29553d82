"""The workbook of a list to be priced: an `Estimate` and a list go in, bytes come out, with room to write by hand."""

from collections.abc import Sequence
from copy import deepcopy
from datetime import datetime, time
from decimal import Decimal
from io import BytesIO
from itertools import zip_longest
from typing import Any

from estimator.documents.list_asked import CUT
from estimator.documents.list_columns import (
    ASK,
    ASK_OPEN,
    CODE,
    COLUMNS,
    COUNTER_TITLES,
    LINE_PRICE,
    MARK,
    NOTE,
    ONE_LENGTH,
    ONE_LENGTH_EACH,
    PACK,
    PACKS,
    PRICE,
    QUANTITY,
    SAME_KIND,
    STOCK,
    UNIT,
    WHAT,
    WIDTHS,
)
from estimator.documents.list_head import Labelled, handing_over, ours, theirs
from estimator.documents.list_model import SHELVES, ListLine
from estimator.documents.list_pages import SPARE, breaks, room
from estimator.documents.list_papers import Paper
from estimator.documents.list_words import in_one
from estimator.documents.sheets.looks import (
    APART,
    GENERAL,
    GROUP,
    QUIET_GREY,
    TITLE,
    WRAPPED,
    Looks,
    Style,
)
from estimator.documents.sheets.measure import lines_of
from estimator.documents.sheets.page import Page
from estimator.documents.shelves import IN_ONE
from estimator.result import Estimate

RULED: Style = {"bottom": 1, "bottom_color": "#7F7F7F"}
"""A rule under every line that a copier does not lose."""
EMPTY: Style = {"border": 1, "border_color": "#7F7F7F", "locked": False, "valign": "vcenter", "text_wrap": True}
"""A cell to write in."""
MIDDLE: Style = {"valign": "vcenter"}
TO_WRITE_ON: Style = {"text_wrap": True, "valign": "bottom", "bottom": 1, "bottom_color": "#7F7F7F", "locked": False}
"""A ruled line of the head, filled or to be filled."""
LABEL: Style = {"valign": "bottom", "font_color": QUIET_GREY, "font_size": 9, "align": "right", "indent": 1}
"""Runs out to the left over empty cells."""
HEAVY: Style = {"bold": True}

INDENTED = (CODE, WHAT, UNIT, PACK, ONE_LENGTH, SAME_KIND, PRICE, LINE_PRICE, STOCK, NOTE)
"""Columns of text, kept off the one before."""
HEAD_TOP = 3
BLOCKS = ((CODE, (WHAT, WHAT)), (UNIT, (PACK, ONE_LENGTH)), (PRICE, (LINE_PRICE, NOTE)))
"""Where the three parts of the head stand side by side: the column of labels, and those that the words beside it run over."""
HEAD_POINTS = 17
WRITING_POINTS = 23
"""A row that a pen has room in, also at the size that a page is printed: 7 mm."""
LINE_POINTS = 12
MOST_POINTS = 409
"""No row of a workbook is higher."""
SHELF_POINTS, HEADINGS_POINTS, ABOVE_POINTS = 17, 29, 46
"""A heading of a shelf; the row of column headings; title, what is asked and both spaces."""
LOWER = 1.05
"""A program that heeds breaks sets columns wider and so rows lower; measured with one: by 1.06."""
SIDE_INCHES, TOP_INCHES, FOOT_INCHES = 0.3, 0.35, 0.5
MARGINS_INCHES = (2 * SIDE_INCHES, TOP_INCHES + FOOT_INCHES)


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
    blocks = (ours(estimate, paper), handing_over(estimate, lines), theirs(paper))
    head_heights = _head(page, blocks)
    above = sum(head_heights.values()) + ABOVE_POINTS
    head_row = HEAD_TOP + max(map(len, blocks)) + 1
    page.thin(head_row - 1)
    page.head_row(head_row, COLUMNS, (QUANTITY, PACKS), INDENTED)
    page.sheet.set_margins(left=SIDE_INCHES, right=SIDE_INCHES, top=TOP_INCHES, bottom=FOOT_INCHES)
    page.sheet.set_footer(f"&L&8For budgeting and buying only&C&8Page &P of &N&R&8{MARK} {paper.mark}. &A")
    page.sheet.repeat_rows(head_row)
    page.sheet.freeze_panes(head_row + 1, 1)
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
    for at, points in (*head_heights.items(), *((at, points) for at, (points, _) in heights.items())):
        page.sheet.set_row(at, points)
    _set_breaks(page, [(at, points, heads) for at, (points, heads) in sorted(heights.items())], above)


def _set_breaks(page: Page, rows: Sequence[tuple[int, float, bool]], above: float) -> None:
    """Start pages where no heading of a shelf is left alone at the foot of one."""
    a_page = room(page.widths, *MARGINS_INCHES) / SPARE * LOWER
    page.sheet.set_h_pagebreaks(breaks(rows, a_page - above - HEADINGS_POINTS, a_page - HEADINGS_POINTS))


def _head(page: Page, blocks: Sequence[Sequence[Labelled]]) -> dict[int, float]:
    """Whom and what it is for, how it is handed over, the mark and what the merchant fills in; how high each row is."""
    heights: dict[int, float] = {}
    for row, across in enumerate(zip_longest(*blocks), HEAD_TOP):
        points: float = HEAD_POINTS
        for (at, span), labelled in zip(BLOCKS, across, strict=True):
            if labelled is not None:
                label, words = labelled
                page.text(row, at, label, LABEL)
                points = max(points, _words(page, row, span, words, HEAVY if label == MARK else {}))
        heights[row] = points
    return heights


def _words(page: Page, row: int, span: tuple[int, int], words: str, more: Style) -> float:
    """Words on a ruled line over one column or several, or the bare line; how high the row has to be for them."""
    page.rule(row, span[1], TO_WRITE_ON, more, first=span[0])
    if span[0] < span[1]:
        page.merged(row, *span, TO_WRITE_ON, more)
    if words:
        page.text(row, span[0], words, TO_WRITE_ON, more)
    return _points(lines_of(words, sum(page.widths[span[0] : span[1] + 1]), bool(more)), HEAD_POINTS)


def _line(page: Page, row: int, line: ListLine) -> float:
    """One line to be priced; how high its row has to be."""
    page.rule(row, NOTE, RULED)
    page.number(row, 0, line.number, RULED, MIDDLE, {"align": "left"})
    what = in_one(line.words, line.trade_name, line.size_finish)
    wrapped = {CODE: line.code, WHAT: what, PACK: line.pack, ONE_LENGTH: _one_length(line), NOTE: line.note}
    for col, words in wrapped.items():
        page.text(row, col, words, RULED, WRAPPED, MIDDLE, APART)
    page.number(row, QUANTITY, line.quantity, RULED, MIDDLE, GENERAL)
    page.text(row, UNIT, line.unit, RULED, MIDDLE, APART)
    if line.packs:
        page.number(row, PACKS, Decimal(line.packs), RULED, MIDDLE)
    else:
        page.rule(row, PACKS, EMPTY, first=PACKS)
    page.text(row, SAME_KIND, "Y" if line.same_kind else "N", RULED, MIDDLE, APART)
    page.rule(row, STOCK, EMPTY, first=PRICE)
    return _points(max(lines_of(words, page.widths[col] - 1) for col, words in wrapped.items()), WRITING_POINTS)


def _one_length(line: ListLine) -> str:
    """Whether it has to come in one length, shortly; each of several has to where there are several."""
    if line.one_length != ONE_LENGTH_EACH:
        return "N" if line.one_length else ""
    alone = line.note.startswith(IN_ONE) or (line.packs == 1 and line.pack.startswith(CUT))
    return "Y" if alone else "Y, each"


def _points(lines: int, least: float) -> float:
    return min(MOST_POINTS, max(least, lines * LINE_POINTS + 4))
