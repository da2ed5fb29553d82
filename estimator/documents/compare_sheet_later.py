"""The sheet Later: what each scenario would cost once all is closed, line by line, sums and chances by formula."""

from decimal import Decimal

from estimator.compare.later import EXACT_TO, Later
from estimator.compare.model import Comparison
from estimator.costing.model import Range
from estimator.documents.compare_later import unit_words, what_words
from estimator.documents.compare_says import decision
from estimator.documents.compare_words import LATER_BASIS
from estimator.documents.sheets.cells import block, cell
from estimator.documents.sheets.looks import APART, GENERAL, GROUP, HOURS, PERCENT, PLAIN, RULED, SUM, WRAPPED, Style
from estimator.documents.sheets.page import FIRST_ROW, Page

WIDTHS = (58.0, 11.0, 18.0, 14.0, 14.0, 14.0)
HEADS = ("What", "How often", "Of", "Low", "Likely", "High")
WHAT, COUNT, UNIT, LOW, LIKELY, HIGH = range(6)
FIGURE: Style = {"num_format": "#,##0.##"}


def write_later(page: Page, comparison: Comparison) -> None:
    """Write the sheet."""
    page.heading("What later costs are made of", LATER_BASIS, HEADS, (COUNT, LOW, LIKELY, HIGH), (UNIT,))
    row = FIRST_ROW
    for column in comparison.columns:
        if column.later is not None:
            page.rule(row, HIGH, GROUP)
            page.text(row, WHAT, column.variant.name, {**GROUP, "text_wrap": True})
            page.across(row + 1, decision(column, comparison.base.job.currency), WRAPPED)
            row = _block(page, column.later, row + 2) + 1
    page.finish(row - 2, HIGH)


def _block(page: Page, found: Later, row: int) -> int:
    first = row
    for line in found.lines:
        page.rule(row, HIGH, RULED)
        page.text(row, WHAT, what_words(line), RULED, WRAPPED)
        page.number(row, COUNT, line.count, RULED, PLAIN, FIGURE)
        page.text(row, UNIT, unit_words(line), RULED, PLAIN, APART)
        _range(page, row, line.cost, RULED, PLAIN, page.looks.money)
        row += 1
    whole = row
    page.rule(whole, HIGH, SUM)
    page.text(whole, WHAT, "Later, all of it, inc VAT where it bears any", SUM)
    for col, value in _ends(found.cost):
        total = f"ROUND(SUM({block(first, whole - 1, col)}),2)" if whole > first else "0"
        page.formula(whole, col, total, value, SUM, page.looks.money)
    now = whole + 1
    _plain(page, now, "Now, inc VAT")
    page.number(now, LIKELY, found.now, RULED, PLAIN, page.looks.money)
    row = _chance(page, now + 1, found, whole, now)
    if not found.hours.high:
        return row
    _plain(page, row, "Your own work later, hours without a price")
    _range(page, row, found.hours, RULED, PLAIN, HOURS)
    return row + 1


def _chance(page: Page, row: int, found: Later, whole: int, now: int) -> int:
    """From which chance on fitting it now is worth the money, exactly and as it is said; the row after."""
    if found.one_in is None or found.chance is None:
        _plain(page, row, "On the money alone there is no hurry" if found.now > 0 else "Now it costs nothing more")
        return row + 1
    ends = (cell(now, LIKELY), cell(whole, LIKELY))
    _plain(page, row, "On the money alone, worth it now from this chance on: now as a share of likely later")
    page.formula(row, LIKELY, f"{ends[0]}/{ends[1]}", found.chance, RULED, PLAIN, PERCENT)
    times = f"INT(ROUND({ends[1]}/{ends[0]},9))"
    unit = f"10^(LEN({times})-1)"
    said = f"IF({times}<={EXACT_TO},{times},INT({times}/{unit})*{unit})"
    _plain(page, row + 1, f"The same as one chance in so many, above {EXACT_TO} rounded down to one figure")
    page.formula(row + 1, LIKELY, said, found.one_in, RULED, PLAIN, GENERAL)
    return row + 2


def _plain(page: Page, row: int, words: str) -> None:
    page.rule(row, HIGH, RULED)
    page.text(row, WHAT, words, RULED, WRAPPED)


def _range(page: Page, row: int, span: Range, *styles: Style) -> None:
    for col, value in _ends(span):
        page.number(row, col, value, *styles)


def _ends(span: Range) -> tuple[tuple[int, Decimal], ...]:
    return ((LOW, span.low), (LIKELY, span.likely), (HIGH, span.high))
