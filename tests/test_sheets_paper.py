"""Sheets on paper: how many lines a text takes, where pages end, and that what stands in a row is clear of its rules."""

from io import BytesIO

import openpyxl
import pytest

from estimator.documents.sheets.breaks import group_breaks
from estimator.documents.sheets.measure import lines_of, width_of
from estimator.documents.workbook import render_workbook
from tests.test_quote import studio


def test_a_text_is_as_wide_as_its_letters() -> None:
    # published: Adobe, Helvetica AFM: H 722, e 556, l 222, l 222, o 556; a space 278; figures 556 each
    assert 722 + 556 + 222 + 222 + 556 == width_of("Hello")
    assert 278 + 2 * 556 == width_of(" 12")


@pytest.mark.parametrize(
    ("lines", "text", "room"),
    [
        # hand: 10 characters are 5250, less 4 % 5040; a figure is 556, so 9 fit on a line (5004) and 10 do not
        (1, "1" * 9, 10),
        (2, "1" * 10, 10),
        (3, "1" * 20, 10),
        # hand: "1111 1111" is 8 x 556 + 278 = 4726 and fits; three of four figures do not, so two lines
        (1, "1111 1111", 10),
        (2, "1111 1111 1111", 10),
        (3, "1\n1\n1", 10),
        (1, "", 10),
    ],
)
def test_a_text_takes_the_lines_that_its_width_needs(lines: int, text: str, room: float) -> None:
    assert lines == lines_of(text, room)


def test_bold_letters_are_wider() -> None:
    # hand: 5040 / 1.08 = 4667 holds 8 figures (4448) and not 9 (5004)
    assert (1, 2) == (lines_of("1" * 8, 10, bold=True), lines_of("1" * 9, 10, bold=True))


def test_pages_end_where_they_are_full_and_no_heading_stands_alone_at_the_foot() -> None:
    plain = [(row, 10.0, False) for row in range(12)]
    # hand: five rows of 10 to a page of 50, later ones begin with 10 repeated, so four; three are left, and a fourth fits with them
    assert [5, 8] == group_breaks(plain, 50, 10)
    # hand: row 4 heads six rows of 60 in all, more than half of a page of 40, and there is room for it alone: it goes on;
    # two rows are left for the last page, and two more fit with them
    assert [4, 6] == group_breaks([(row, 10.0, row == 4) for row in range(10)], 50, 10)


def test_a_short_group_is_not_cut_in_two() -> None:
    # hand: a page of 100; row 7 heads two rows, 30 in all, and 30 are left: it stays; row 8 and two rows do not fit
    assert [] == group_breaks([(row, 10.0, row == 7) for row in range(10)], 100, 0)
    assert [8] == group_breaks([(row, 10.0, row == 8) for row in range(11)], 100, 0)


def test_the_last_page_holds_five_rows_or_more_where_those_above_can_come_along() -> None:
    # hand: 10 rows of 10 points on a page; one is left for the second, so four come along; a heading is not left behind
    assert [6] == group_breaks([(row, 10.0, False) for row in range(11)], 100, 0)
    assert [5] == group_breaks([(row, 10.0, row == 5) for row in range(11)], 100, 0)
    # hand: the last page begins with a heading: it holds a group of its own
    assert [10] == group_breaks([(row, 10.0, row == 10) for row in range(12)], 100, 0)
    assert [10, 16] == group_breaks([(row, 10.0, False) for row in range(21)], 100, 0)
    # hand: fifteen rows leave five, and that is enough
    assert [10] == group_breaks([(row, 10.0, False) for row in range(15)], 100, 0)


def test_a_row_of_few_lines_stands_in_its_middle_and_a_high_one_at_its_top() -> None:
    book = openpyxl.load_workbook(BytesIO(render_workbook(studio())))
    seen = set()
    for row in book["Bill"].iter_rows(min_row=5):
        high = book["Bill"].row_dimensions[row[0].row].height
        if row[0].value and row[1].value and row[9].value and high:
            seen.add((high > 42, row[0].alignment.vertical))  # hand: three lines are 3 x 13 + 3 = 42 points
    assert {(False, "center"), (True, "top")} == seen


@pytest.mark.parametrize("title", ["What is left", "Set-out", "Drilling", "Cable schedule"])
def test_headings_of_figures_do_not_run_together(title: str) -> None:
    # Two figures side by side, both set to the right: the words of neither fill its column.
    sheet = openpyxl.load_workbook(BytesIO(render_workbook(studio())))[title]
    for cell in sheet[4]:
        if cell.value and cell.alignment.horizontal == "right":
            room = sheet.column_dimensions[cell.column_letter].width
            assert all(lines_of(line, room, bold=True) == 1 for line in str(cell.value).split("\n")), cell.value
