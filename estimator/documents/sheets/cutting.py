"""The sheet Cutting list: every drum and timber, what is cut from it in which order, and what stays."""

from decimal import Decimal

from estimator.buying.model import Cut
from estimator.documents.sheets.cells import cell
from estimator.documents.sheets.looks import APART, GENERAL, LINE_GREY, METRES, PLAIN, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import merchant_words
from estimator.result import Estimate

HEADS = ("Nr", "Part", "Description", "From", "Length m", "Piece", "Cut for", "Cut m", "Left m")
WIDTHS = (6, 15, 38, 16, 10, 8, 42, 10, 10)
NUMBER, PART, DESCRIPTION, FROM, STOCK, PIECE, FOR, CUT, LEFT = range(9)
RIGHT_HEADS = (STOCK, CUT, LEFT)
NOTE = (
    "Cut the pieces of each drum or length in this order. Left is what stays after the cut; between pieces of timber a saw cut is "
    "taken off (the cell KERF). Measure before you cut: these are lengths of the plan."
)
TIMBER = "timber"


def write_cuts(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Cutting list", NOTE, HEADS, RIGHT_HEADS, (PIECE,))
    row = FIRST_ROW
    for number, cut in enumerate(estimate.order.cuts, 1):
        row = _cut(page, estimate, row, number, cut)
    if not estimate.order.cuts:
        page.text(row, DESCRIPTION, "Nothing in this job is cut from lengths.")
        row += 1
    page.finish(row - 1, LEFT)


def _cut(page: Page, estimate: Estimate, row: int, number: int, cut: Cut) -> int:
    part = estimate.catalogue.parts[cut.part]
    sawn = part.counter == TIMBER
    page.text(row, NUMBER, str(number))
    page.text(row, PART, cut.part, WRAPPED)
    page.text(row, DESCRIPTION, part.description, WRAPPED)
    page.text(row, FROM, merchant_words(cut.merchant) if cut.merchant else "what is there", WRAPPED)
    page.number(row, STOCK, cut.stock_mm.scaleb(-3), PLAIN, METRES)
    left = cut.stock_mm
    for index, (of, length_mm) in enumerate(cut.pieces):
        at = row + index
        left -= length_mm + (estimate.job.allowances.kerf_mm if sawn and index else Decimal(0))
        page.number(at, PIECE, index + 1, PLAIN, APART)
        page.text(at, FOR, of, WRAPPED)
        page.number(at, CUT, length_mm.scaleb(-3), PLAIN, METRES)
        before = cell(at, STOCK) if index == 0 else cell(at - 1, LEFT)
        kerf = "-KERF" if sawn and index else ""
        page.formula(at, LEFT, f"ROUND({before}-{cell(at, CUT)}{kerf},6)", left.scaleb(-3), PLAIN, METRES)
    if not cut.pieces:
        page.text(row, FOR, "nothing: bought beyond the need", WRAPPED)
        page.number(row, LEFT, left.scaleb(-3), PLAIN, METRES)
    end = row + max(1, len(cut.pieces))
    page.rule(end, LEFT, {"top": 1, "top_color": LINE_GREY}, GENERAL)
    return end + 1
