"""The sheet Scenarios: all totals first, then each scenario line by line, differences by formula."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.compare.differences import Differences
from estimator.compare.model import Column, Comparison
from estimator.documents.basis import invented_prices, total_heading
from estimator.documents.compare_facts import FigureRow, figure_rows, finding_words, reasons
from estimator.documents.compare_packs import pack_name, part_words
from estimator.documents.compare_says import changes_words, decision, how_sure_in_short, option_words, put_words
from estimator.documents.sheets.cells import block, cell
from estimator.documents.sheets.looks import GENERAL, GROUP, PLAIN, QUIET, RULED, SUM, WRAPPED, Style
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import WHAT_IT_IS, merchant_words

WIDTHS = (58.0, 22.0, 15.0, 15.0, 15.0)
HEADS = ("What", "In", "As it stands", "With it", "Difference")
NAME, UNIT, BEFORE, AFTER, MORE = range(5)
BOLD: Style = {**WRAPPED, "bold": True}
FIGURE: Style = {"num_format": "#,##0.##"}
CANNOT = "cannot be worked out"
MONEY_NAMES = {"materials": "Materials", "delivery": "Delivery", "labour": "Labour", "sums": "Sums that are no parts",
               "contingency": "Contingency"}  # fmt: skip


def write_scenarios(page: Page, comparison: Comparison) -> None:
    """Write the sheet; totals at the head point at the blocks below."""
    base = comparison.base
    short = how_sure_in_short(comparison.sure, base.job.currency)
    note = " ".join(part for part in (WHAT_IT_IS, short, invented_prices(base)) if part)
    page.heading(f"{base.job.title}: scenarios", note, HEADS, (BEFORE, AFTER, MORE))
    row = FIRST_ROW + len(comparison.columns) + 1
    for number, column in enumerate(comparison.columns):
        total, row = _block(page, comparison, column, row)
        _head(page, comparison, column, FIRST_ROW + number, total)
    page.finish(row - 1, MORE)


def _head(page: Page, of: Comparison, column: Column, row: int, total: int | None) -> None:
    """The totals of one scenario, at the head of the sheet."""
    page.rule(row, MORE, RULED)
    page.text(row, NAME, column.variant.name, RULED, BOLD)
    page.text(row, UNIT, total_heading(of.base), RULED, WRAPPED)
    page.number(row, BEFORE, of.base.budget.total, RULED, PLAIN, page.looks.money)
    estimate, found = column.variant.estimate, column.differences
    if estimate is None or found is None or total is None:
        page.text(row, AFTER, CANNOT, RULED, WRAPPED)
        return
    page.formula(row, AFTER, cell(total, AFTER), estimate.budget.total, RULED, PLAIN, page.looks.money)
    _more(page, row, found.total, RULED, PLAIN, page.looks.money)


def _block(page: Page, of: Comparison, column: Column, row: int) -> tuple[int | None, int]:
    """One scenario; the row of its total (None where there is none), and the row after a free one."""
    page.rule(row, MORE, GROUP)
    page.text(row, NAME, column.variant.name, {**GROUP, "text_wrap": True})
    row += 1
    for words in option_words(column):
        page.across(row, words, WRAPPED)
        row += 1
    for words in changes_words(column.variant.changes):
        page.across(row, words, QUIET)
        row += 1
    found = column.differences
    if found is None:
        return None, _lines(page, row, CANNOT.capitalize(), reasons(column.variant.problems)) + 1
    page.across(row, decision(column, of.base.job.currency), WRAPPED)
    row, total = _money(page, found, row + 1)
    for figures in figure_rows(of, (column,)):
        _figures(page, row, figures)
        row += 1
    row = _lines(page, row, "Placed", [put_words(of.base.catalogue, put) for put in column.puts])
    row = _packs(page, column, found, row)
    for head, words_of in (
        ("Findings that appear", [finding_words(one) for one in found.appear]),
        ("Findings that go", [finding_words(one) for one in found.gone]),
        ("Findings with other figures", [finding_words(after) for _, after in found.reworded]),
    ):
        row = _lines(page, row, head, words_of)
    return total, row + 1


def _money(page: Page, found: Differences, row: int) -> tuple[int, int]:
    """What adds up to the total, and the total; the row after it, and its own."""
    first, look = row, page.looks.money
    *lines, whole = found.money
    for line in lines:
        page.rule(row, MORE, RULED)
        page.text(row, NAME, MONEY_NAMES.get(line.name, line.name), RULED, WRAPPED)
        page.text(row, UNIT, "ex VAT" if line.name in MONEY_NAMES else "", RULED, PLAIN)
        page.number(row, BEFORE, line.before, RULED, PLAIN, look)
        page.number(row, AFTER, line.after, RULED, PLAIN, look)
        _more(page, row, line.more, RULED, PLAIN, look)
        row += 1
    page.rule(row, MORE, SUM)
    page.text(row, NAME, "Total", SUM)
    page.text(row, UNIT, "inc VAT", SUM)
    for col, value in ((BEFORE, whole.before), (AFTER, whole.after)):
        page.formula(row, col, f"ROUND(SUM({block(first, row - 1, col)}),2)", value, SUM, look)
    _more(page, row, whole.more, SUM, look)
    return row + 1, row


def _figures(page: Page, row: int, figures: FigureRow) -> None:
    page.rule(row, MORE, RULED)
    page.text(row, NAME, f"{figures.group}: {figures.name}", RULED, WRAPPED)
    page.text(row, UNIT, figures.unit, RULED, PLAIN)
    page.number(row, BEFORE, figures.before, RULED, PLAIN, _look(figures.unit))
    page.number(row, AFTER, figures.after[0] or 0, RULED, PLAIN, _look(figures.unit))
    _more(page, row, figures.more[0] or 0, RULED, PLAIN, _look(figures.unit), places=9)


def _packs(page: Page, column: Column, found: Differences, row: int) -> int:
    """Packs of each part at each merchant."""
    if column.variant.estimate is None:
        return row
    catalogue = column.variant.estimate.catalogue
    for pack in found.packs:
        part = catalogue.parts[pack.part]
        cut = part.sold_as == "length" and pack.pack == 1
        page.rule(row, MORE, RULED)
        page.text(row, NAME, f"{part_words(part)}, {merchant_words(pack.merchant)}", RULED, WRAPPED)
        page.text(row, UNIT, "m cut to length" if cut else pack_name(catalogue, part, pack.pack, 2), RULED, WRAPPED)
        page.number(row, BEFORE, pack.before, RULED, PLAIN, GENERAL)
        page.number(row, AFTER, pack.after, RULED, PLAIN, GENERAL)
        _more(page, row, pack.after - pack.before, RULED, PLAIN, GENERAL)
        row += 1
    return row


def _more(page: Page, row: int, value: Decimal | int, *styles: Style, places: int = 2) -> None:
    page.formula(row, MORE, f"ROUND({cell(row, AFTER)}-{cell(row, BEFORE)},{places})", value, *styles)


def _look(unit: str) -> Style:
    return GENERAL if unit == "nr" else FIGURE


def _lines(page: Page, row: int, head: str, words_of: Sequence[str]) -> int:
    for words in words_of:
        page.across(row, f"{head}: {words}", WRAPPED)
        row += 1
    return row
