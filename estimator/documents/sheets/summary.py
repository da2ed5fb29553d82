"""The sheet Summary: what it comes to in the order of adding up, then by section, at the tills, and what it rests on."""

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from estimator.checks.model import Level
from estimator.costing.model import SumLine
from estimator.documents.basis import basis, exclusions
from estimator.documents.key import ABBREVIATIONS, WORKBOOK, key_of, told_alone
from estimator.documents.settle import first_open, to_ask, to_settle
from estimator.documents.sheets.adding_up import SumCells, checks, height, write_adding_up
from estimator.documents.sheets.bill import left_over, measured
from estimator.documents.sheets.cells import cell
from estimator.documents.sheets.columns import Bill, Order
from estimator.documents.sheets.looks import (
    APART,
    HOURS,
    INPUT,
    PERCENT,
    PLAIN,
    QUIET,
    RIGHT,
    RULED,
    SUM,
    TITLE,
    WRAPPED,
    Style,
)
from estimator.documents.sheets.page import Page
from estimator.documents.sheets.plan import BILL, ORDER, Plan, vat_name
from estimator.documents.words import BASIS_TITLES, CAUTIONS, LEVEL_TITLES, SECTION_NUMBERS, money, stage, till_words
from estimator.result import Estimate

WIDTHS = (44, 15, 13, 13, 13, 13)
LABEL, LAST = 0, 5
BIG: Style = {**TITLE, "font_size": 16}
BOLD: Style = {**WRAPPED, "bold": True}
OWN = (("Your own", "hours_self"), ("The electrician's", "hours_electrician"))
BEARS = {"ex": "ex VAT", "inc": "inc VAT", "none": "no VAT"}


def write_summary(page: Page, estimate: Estimate, plan: Plan, book: Any) -> None:
    """Write the sheet from top to bottom; the sums are filled in when the places they point at are known."""
    job = estimate.job
    page.across(0, job.title, BIG)
    page.across(1, f"Bill of quantities and budget. Priced on {job.priced_on.isoformat()}, in {job.currency}.", WRAPPED)
    page.across(2, CAUTIONS[0], BOLD)
    page.repeat(0)
    top = 4
    row = _open(page, estimate, top + height(plan))
    row = _checks(page, plan, row)
    row = _sections(page, estimate, plan, row + 1)
    row = _tills(page, estimate, plan, row + 1)
    row, sums = _sums(page, estimate, row + 1)
    write_adding_up(page, estimate, plan, book, top, sums)
    row = _hours(page, estimate, row + 1)
    for title, lines in (
        ("Mind", CAUTIONS[1:]),
        ("What the figures rest on", basis(estimate)),
        ("Not in the total", exclusions(estimate)),
        ("Words", told_alone(key_of(WORKBOOK))),
    ):
        row = _lines(page, row + 1, title, lines)
    row = _abbreviations(page, row + 1)
    page.tighten(row - 1)
    page.finish(row - 1, LAST)


def _open(page: Page, estimate: Estimate, row: int) -> int:
    """What is to be settled and asked, below a narrow space under the total; the row after it."""
    page.thin(row)
    row += 1
    told: tuple[tuple[str, Level, Style], ...] = (
        (to_settle(estimate.findings), "stop", BOLD),
        (to_ask(estimate.findings), first_open(estimate.findings), WRAPPED),
    )
    for words, level, style in told:
        if words:
            page.across(row, f"{words} (sheet Findings, under {LEVEL_TITLES[level]})", style)
            row += 1
    return row


def _checks(page: Page, plan: Plan, row: int) -> int:
    for formula, now in checks(plan):
        page.formula(row, LABEL, formula, now, {**QUIET, "text_wrap": False})
        row += 1
    return row


def _sections(page: Page, estimate: Estimate, plan: Plan, row: int) -> int:
    page.head_row(row, ("By section, ex VAT", "Measured", "Left over", "Bought", "", ""), (1, 2, 3))
    shown = page.looks.money
    for at, section in enumerate(plan.bill, row + 1):
        taken, over = measured(section), left_over(estimate, section)
        page.rule(at, LAST, RULED)
        page.text(at, LABEL, f"{section.number}  {section.name}", RULED, WRAPPED)
        page.formula(at, 1, cell(section.total, Bill.AMOUNT, BILL), taken, RULED, PLAIN, shown)
        page.formula(at, 2, cell(section.left, Bill.AMOUNT, BILL), over, RULED, PLAIN, shown)
        page.formula(at, 3, f"ROUND({cell(at, 1)}+{cell(at, 2)},2)", taken + over, RULED, PLAIN, shown)
    page.across(row + len(plan.bill) + 1, SECTION_NUMBERS, QUIET)
    return row + len(plan.bill) + 2


def _tills(page: Page, estimate: Estimate, plan: Plan, row: int) -> int:
    page.head_row(
        row,
        ("Paid at the merchants, delivery in", "Prices", "VAT rate", "Net ex VAT", "VAT", "Paid inc VAT"),
        (2, 3, 4, 5),
    )
    shown = page.looks.money
    for at, placed in enumerate(plan.baskets, row + 1):
        basket = placed.basket
        page.text(at, LABEL, till_words(estimate.job, basket), RULED, WRAPPED)
        page.text(at, 1, BASIS_TITLES[basket.basis], RULED, PLAIN)
        page.formula(at, 2, vat_name(estimate, basket.vat_rate), basket.vat_rate, RULED, PLAIN, PERCENT)
        for col, of, value in (
            (3, Order.NET, basket.net),
            (4, Order.VAT, basket.vat),
            (5, Order.PAID, basket.net + basket.vat),
        ):
            page.formula(at, col, cell(placed.total, of, ORDER), value, RULED, PLAIN, shown)
    last = row + len(plan.baskets) + 1
    page.rule(last, LAST, SUM)
    page.text(last, LABEL, "All merchants", SUM)
    paid = sum((placed.basket.net + placed.basket.vat for placed in plan.baskets), Decimal(0))
    page.formula(last, LAST, cell(plan.order_end, Order.PAID, ORDER), paid, SUM, shown)
    return last + 1


def _sums(page: Page, estimate: Estimate, row: int) -> tuple[int, SumCells]:
    lines = estimate.budget.sums
    if not lines:
        return row - 1, SumCells((), (), (), ())
    page.head_row(row, ("Sums that are no parts", "Kind", "Likely", "As given", "Net", "VAT in it"), (2, 4, 5), (3,))
    vat = vat_name(estimate, estimate.job.allowances.vat)
    cells: dict[str, list[str]] = {"ex": [], "inc": [], "none": [], "held": []}
    before: list[int] = []
    for at, line in enumerate(lines, row + 1):
        _sum(page, estimate, at, line)
        basis_of = line.sum.vat
        if basis_of == "inc":
            before.append(at)
            page.formula(at, 4, _inc_net(before, vat), line.net, RULED, PLAIN, page.looks.money)
            page.formula(at, 5, f"ROUND({cell(at, 2)}-{cell(at, 4)},2)", line.vat, RULED, PLAIN, page.looks.money)
            cells["held"].append(cell(at, 5))
        else:
            page.formula(at, 4, f"ROUND({cell(at, 2)},2)", line.net, RULED, PLAIN, page.looks.money)
        cells[basis_of].append(cell(at, 4))
    return row + len(lines) + 1, SumCells(*(tuple(cells[name]) for name in ("ex", "inc", "none", "held")))


def _sum(page: Page, estimate: Estimate, row: int, line: SumLine) -> None:
    of, currency = line.sum, estimate.job.currency
    page.rule(row, LAST, RULED)
    words = of.name if of.low == of.high else f"{of.name} ({money(of.low, currency)} to {money(of.high, currency)})"
    page.text(row, LABEL, words, RULED, WRAPPED)
    page.text(row, 1, f"{of.kind}, {stage(of.stage).lower()}" if of.stage else of.kind, RULED, WRAPPED)
    page.number(row, 2, of.likely, INPUT, page.looks.money)
    page.text(row, 3, BEARS[of.vat], RULED, PLAIN, APART)


def _inc_net(rows: Sequence[int], vat: str) -> str:
    """Net of the last of these sums inc VAT: by running total, so that the nets and the VAT add up."""
    total = "+".join(cell(row, 2) for row in rows)
    so_far = f"ROUND({total},2)-ROUND(ROUND(({total})*{vat}/(1+{vat}),9),2)"
    earlier = "".join(f"-{cell(row, 4)}" for row in rows[:-1])
    return f"ROUND({so_far}{earlier},2)"


def _hours(page: Page, estimate: Estimate, row: int) -> int:
    page.head_row(row, ("Hours of work (by task: sheet Hours)", "Low", "Likely", "High", "", ""), (1, 2, 3))
    for at, (words, name) in enumerate(OWN, row + 1):
        hours = getattr(estimate.budget, name)
        page.rule(at, LAST, RULED)
        page.text(at, LABEL, words, RULED, WRAPPED)
        for col, value in enumerate((hours.low, hours.likely, hours.high), 1):
            page.number(at, col, value, RULED, PLAIN, HOURS, RIGHT)
    return row + len(OWN) + 1


def _abbreviations(page: Page, row: int) -> int:
    """Two a row, for they are short."""
    page.head_row(row, ("Abbreviations", "", "", "", "", ""))
    told = told_alone(ABBREVIATIONS)
    rows = (len(told) + 1) // 2
    for at, words in enumerate(told[:rows], row + 1):
        page.rule(at, LAST, RULED)
        page.text(at, LABEL, words, RULED, WRAPPED)
    for at, words in enumerate(told[rows:], row + 1):
        page.merged(at, 1, LAST, RULED, WRAPPED)
        page.text(at, 1, words, RULED, WRAPPED, to=LAST)
    return row + rows + 1


def _lines(page: Page, row: int, title: str, lines: Sequence[str]) -> int:
    page.head_row(row, (title, "", "", "", "", ""))
    for at, words in enumerate(lines, row + 1):
        page.across(at, words, WRAPPED)
    return row + len(lines) + 1
