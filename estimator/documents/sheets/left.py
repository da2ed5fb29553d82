"""The sheet What is left: what stays of every part, what less of it would save, and which points fit once more."""

from decimal import Decimal

from estimator.buying.margins import Margin
from estimator.documents.margins import margin_words
from estimator.documents.sheets.cells import added, cell
from estimator.documents.sheets.columns import Bill, Order
from estimator.documents.sheets.looks import (
    APART,
    METRES,
    PLAIN,
    QUIET,
    RULED,
    SUM,
    WRAPPED,
    Style,
    quantity,
)
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.sheets.plan import BILL, ORDER, Plan
from estimator.result import Estimate

HEADS = (
    "Part",
    "Description",
    "Unit",
    "Left",
    "Longest\npiece m",
    "More\nthat fit",
    "Cheaper\nwith less by",
    "Which saves\ninc VAT",
    "Money left\nex VAT",
    "In words",
)
PART, DESCRIPTION, UNIT, SPARE, LONGEST, FITS, LESS, SAVES, MONEY, WORDS = range(10)
WIDTHS = (16, 32, 6, 9, 9, 8.5, 11.5, 12, 11, 46)
RIGHT_HEADS = (SPARE, LONGEST, FITS, LESS, SAVES, MONEY)
NOTE = (
    "What stays when the job is done, waste taken as used, and what was in hand counted. More that fit: of things counted in pieces "
    "one more of them with its waste, of lengths one more of the usual piece. Cheaper with less: by how much the need would have to fall for "
    "fewer or smaller packs to do, each part for itself and without delivery. Money left follows prices and waste that you change here; the "
    "other figures are of the plan: run studbay again for those."
)
POINT_NOTE = (
    "So many more points of a kind could be fitted from what is bought, cable and timber apart; each kind for itself, as if all that is "
    "left were for it."
)
POINT_HEADS = ("One more point", "", "", "", "", "More that fit", "", "", "", "First to run out")


def write_left(page: Page, estimate: Estimate, plan: Plan) -> None:
    """Write the sheet."""
    page.heading("What is left", NOTE, HEADS, RIGHT_HEADS, (UNIT, WORDS))
    margins = estimate.margins()
    row = FIRST_ROW
    for margin in margins:
        _margin(page, estimate, plan, row, margin)
        row += 1
    if not margins:
        page.text(row, DESCRIPTION, "Nothing is bought.")
        row += 1
    page.rule(row, WORDS, SUM)
    page.text(row, DESCRIPTION, "All parts: left over in whole packs", SUM)
    total = sum((margin.money_left for margin in margins), Decimal(0))
    amounts = f"{cell(FIRST_ROW, MONEY)}:{cell(row - 1, MONEY)}"
    page.formula(row, MONEY, f"ROUND(SUM({amounts}),2)", total, SUM, page.looks.money)
    agrees = "The same as on the Summary."
    bought = added(cell(section.left, Bill.AMOUNT, BILL) for section in plan.bill)
    differs = "Differs from the Summary: in some section the packs hold less than the bill needs."
    words = f'IF(ABS({cell(row, MONEY)}-({bought}))<0.005,"{agrees}","{differs}")'
    page.formula(row, WORDS, words, agrees, SUM, {**QUIET, "bold": False}, APART)
    row = _points(page, estimate, row + 2)
    page.finish(row - 1, WORDS)


def _margin(page: Page, estimate: Estimate, plan: Plan, row: int, margin: Margin) -> None:
    part = estimate.catalogue.parts[margin.part]
    shown, money = quantity(margin.unit), page.looks.money
    page.rule(row, WORDS, RULED)
    page.text(row, PART, margin.part, RULED, WRAPPED)
    page.text(row, DESCRIPTION, part.trade_name or part.description, RULED, WRAPPED)
    page.text(row, UNIT, margin.unit, RULED, PLAIN, APART)
    longest = None if margin.longest_spare_mm is None else margin.longest_spare_mm.scaleb(-3)
    figures: tuple[tuple[int, Decimal | int | None, Style], ...] = (
        (SPARE, margin.spare, shown),
        (LONGEST, longest, METRES),
        (FITS, margin.fits, {}),
        (LESS, margin.less, shown),
        (SAVES, margin.saves, money),
    )
    for col, value, style in figures:
        if value is not None:
            page.number(row, col, value, RULED, PLAIN, style)
    page.formula(row, MONEY, _money_left(plan, margin.part), margin.money_left, RULED, PLAIN, money)
    page.text(row, WORDS, margin_words(margin, estimate.job.currency), RULED, WRAPPED, APART)


def _money_left(plan: Plan, part: str) -> str:
    """Net of all packs of the part less what the lines of the bill take of it."""
    nets = added(cell(row, Order.NET, ORDER) for row, _ in plan.order_rows(part))
    taken = "".join(f"-{cell(row, Bill.AMOUNT, BILL)}" for row, _ in plan.bill_rows(part))
    return f"ROUND({nets}{taken},2)"


def _points(page: Page, estimate: Estimate, row: int) -> int:
    points, catalogue = estimate.spare_points(), estimate.catalogue
    if not points:
        return row - 1
    page.across(row, POINT_NOTE, QUIET)
    page.head_row(row + 1, POINT_HEADS, (FITS,), (WORDS,))
    row += 2
    for point in points:
        part = catalogue.parts[point.first_out]
        page.rule(row, WORDS, RULED)
        page.text(row, PART, catalogue.points[point.kind].label, RULED, {**PLAIN, "text_wrap": False})
        page.number(row, FITS, point.fits, RULED, PLAIN)
        page.text(row, WORDS, part.trade_name or part.description, RULED, WRAPPED, APART)
        row += 1
    return row
