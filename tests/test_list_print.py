"""Lists on paper: pages, headings, type and what stands on every page."""

import re
import shutil
import subprocess
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest

from estimator.catalogue.read import read_catalogue
from estimator.documents.list_columns import WIDTHS
from estimator.documents.list_pages import breaks, room
from estimator.documents.shopping import (
    list_files,
    render_lists,
)
from estimator.estimate import estimate
from estimator.job.read import read_job
from tests import estimates, recalc, shed
from tests.test_shopping_list import HEAD, D, sheets, with_head


def test_no_shelf_s_heading_is_left_at_the_foot_of_a_page() -> None:
    rows = [(1, 20.0, True), (2, 30.0, False), (3, 30.0, False), (4, 20.0, True), (5, 30.0, False), (6, 30.0, False)]

    # hand: 20 + 30 + 30 = 80 on the first; the heading fits a page of 110 with nothing under it, so it goes over.
    assert [4] == breaks(rows, 110, 110)
    assert [] == breaks(rows, 200, 110)
    # hand: 50; 30, and 50 more do not fit; 50; 30.
    assert [3, 4, 6] == breaks(rows, 60, 60)


def test_a_list_prints_at_nine_points_or_a_little_under() -> None:
    # hand: 158.5 characters in 13 columns are (158.5 x 7 + 65) x 0.75 = 880.9 points, fitted to 798.7: 0.907 of 10 points.
    # measured: a program that sets columns wider prints 10 points at 8.5, so 6 % less.
    wide = sum(width * 7 + 5 for width in WIDTHS) * 0.75
    assert 9.0 <= 10 * 798.7 / wide <= 9.2


def test_the_studio_s_blank_list_prints_on_four_pages_with_a_dozen_lines_on_the_first() -> None:
    catalogue = read_catalogue(shed.STUDIO)
    job, _ = read_job(shed.STUDIO, catalogue)
    of = estimate(job, catalogue)
    sheet = sheets(list_files(of, blank=True)["to-be-priced-electrical.xlsx"])["Electrical"]
    ends = [0, *(mark.id for mark in sheet.row_breaks.brk), sheet.max_row]
    numbered = [
        sum(isinstance(sheet.cell(row, 1).value, int) for row in range(start + 1, end + 1))
        for start, end in pairwise(ends)
    ]

    assert 65 == sum(numbered)
    assert len(numbered) <= 4
    assert numbered[0] >= 12


def test_a_page_has_room_by_its_width() -> None:
    # hand: 20 columns of 10 characters are 20 x 75 pixels = 1,125 points wide, fitted to 841.9 - 43.2 = 798.7: 0.71.
    # The height of 595.3 - 86.4 = 508.9 then holds 716.8, and of that 0.98.
    assert 702.5 == pytest.approx(room([10] * 20, 0.6, 1.2), abs=0.1)


@pytest.mark.office
@pytest.mark.slow
def test_printed_lists_are_landscape_with_their_headings_and_page_numbers_on_every_page(tmp_path: Path) -> None:
    if shutil.which("pdftotext") is None:
        pytest.skip("poppler is not installed")
    of = with_head(estimates.rich(), HEAD)
    many = tuple(replace(of.order.lines[0], part=estimates.SOCKET, pack=D(pack)) for pack in range(1, 61))
    source = tmp_path / "list.xlsx"
    source.write_bytes(render_lists(replace(of, order=replace(of.order, lines=many, cuts=())))["shopping-list-A.xlsx"])
    printed = recalc.convert([source], tmp_path, "pdf")[0]

    def told(*command: str) -> str:
        return subprocess.run([*command], check=True, capture_output=True, text=True, timeout=60).stdout

    pages = told("pdftotext", "-layout", str(printed), "-").split("\f")[:-1]
    assert len(pages) > 2
    assert re.search(r"Page size: +841\.\d+ x 595\.\d+ pts \(A4\)", told("pdfinfo", str(printed)))
    for number, page in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in page
        assert "Price of" in page
        assert "Pack wanted" in page
