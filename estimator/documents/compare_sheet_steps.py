"""The sheet Next one: every value of a range with its total, the price of the step to it by formula, and what it takes."""

from estimator.compare.model import Comparison, Swept
from estimator.documents.compare_facts import counted, sweep_title
from estimator.documents.compare_says import first_words
from estimator.documents.compare_steps import StepRow, notes_of, step_rows, sweep_words
from estimator.documents.sheets.cells import cell
from estimator.documents.sheets.looks import APART, PLAIN, RULED, WRAPPED, Style
from estimator.documents.sheets.page import FIRST_ROW, Page

WIDTHS = (13.0, 14.0, 14.0, 90.0)
VALUE, TOTAL, PRICE, TAKES = range(4)
LEFT: Style = {**PLAIN, "align": "left"}
BOLD: Style = {"bold": True}


def write_steps(page: Page, comparison: Comparison, swept: Swept) -> None:
    """Write the sheet."""
    rows = step_rows(comparison, swept)
    says = sweep_words(rows, comparison.base.job.currency) or ("No value of the range can be worked out.",)
    note = " ".join((*first_words(comparison), *says))
    heads = (counted(swept.sweep.address), "Total inc VAT", "Price of the next one", "What it takes")
    page.heading(f"The price of the next one: {sweep_title(comparison, swept)}", note, heads, (TOTAL, PRICE), (TAKES,))
    last: int | None = None
    for at, row in enumerate(rows, FIRST_ROW):
        _step(page, at, row, last)
        last = last if row.total is None else at
    page.finish(FIRST_ROW + len(rows) - 1, TAKES)


def _step(page: Page, at: int, row: StepRow, last: int | None) -> None:
    weight = BOLD if row.here else {}
    page.rule(at, TAKES, RULED)
    if row.first == row.last:
        page.number(at, VALUE, row.first, RULED, LEFT, weight)
    else:
        page.text(at, VALUE, row.values, RULED, LEFT)
    if row.total is not None:
        page.number(at, TOTAL, row.total, RULED, PLAIN, page.looks.money, weight)
    if row.price is not None and last is not None:
        formula = f"ROUND({cell(at, TOTAL)}-{cell(last, TOTAL)},2)"
        page.formula(at, PRICE, formula, row.price, RULED, PLAIN, page.looks.money)
    why = (f"cannot be worked out: {'; '.join(row.why)}",) if row.why else ()
    page.text(at, TAKES, "\n".join((*notes_of(row), *why, *row.takes)), RULED, WRAPPED, APART)
