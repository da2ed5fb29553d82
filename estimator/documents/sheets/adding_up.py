"""The head of the sheet Summary: the sums in their fixed order, from measured quantities down to the total."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.documents.basis import invented_prices, total_heading
from estimator.documents.sheets.cells import added, block, cell, fixed
from estimator.documents.sheets.columns import Bill, Order, Prices
from estimator.documents.sheets.looks import APART, GROUP, PERCENT, PLAIN, RULED, SUM, TOTAL, WRAPPED, Style
from estimator.documents.sheets.page import Page
from estimator.documents.sheets.plan import BILL, ORDER, PRICES, SUMMARY, Plan, vat_name
from estimator.documents.sheets.prices import task_rows
from estimator.result import Estimate

LABEL, AMOUNT, ASIDE, LAST = 0, 1, 2, 5
BESIDE: Style = {"font_size": 10, "font_color": "#000000", "text_wrap": True}
"""What stands beside the total: black, so that the figure alone has the accent."""
BEFORE_VAT = 8
"""Rows from the heading down to the total ex VAT, less one."""


@dataclass(frozen=True, slots=True)
class SumCells:
    """Cells of the table of sums: nets by how they bear VAT, and the VAT held in those inc VAT."""

    ex: tuple[str, ...]
    inc: tuple[str, ...]
    none: tuple[str, ...]
    held: tuple[str, ...]


def height(plan: Plan) -> int:
    """Rows that `write_adding_up` takes: the heading, eight sums, one for each VAT rate, the total."""
    return BEFORE_VAT + 1 + len(plan.vat_rates) + 1


def write_adding_up(page: Page, estimate: Estimate, plan: Plan, book: Any, row: int, sums: SumCells) -> None:
    """Write the sums from `row` down, and name the cells that others look up."""
    budget, money = estimate.budget, page.looks.money
    page.rule(row, LAST, GROUP)
    page.text(row, LABEL, "What it comes to", GROUP)
    page.text(row, AMOUNT, f"Amount, {estimate.job.currency}", {**GROUP, "align": "right"})
    at = {
        name: cell(row + index, AMOUNT)
        for index, name in enumerate(
            ("measured", "left", "materials", "delivery", "labour", "sums", "contingency", "ex"), 1
        )
    }
    before = f"{at['materials']}+{at['delivery']}+{at['labour']}+{at['sums']}"
    lines: list[tuple[str, str, Decimal, Style]] = [
        (
            "Measured: parts as fixed, with waste",
            cell(plan.bill_end, Bill.AMOUNT, BILL),
            budget.materials - budget.left_over_total,
            RULED,
        ),
        ("Left over in whole packs", f"ROUND({_left_cells(plan)},2)", budget.left_over_total, RULED),
        ("Materials", f"ROUND({at['measured']}+{at['left']},2)", budget.materials, SUM),
        ("Delivery", f"ROUND({_delivery_cells(plan)},2)", budget.delivery, RULED),
        (_labour_words(estimate), f"ROUND({_labour_cells(estimate, plan)},2)", budget.labour, RULED),
        (
            "Sums: quotes, fees, hire, provisional",
            f"ROUND({added((*sums.ex, *sums.inc, *sums.none))},2)",
            budget.sums_total,
            RULED,
        ),
        ("Contingency", f"ROUND(ROUND(CONTINGENCY*({before}),9),2)", budget.contingency, RULED),
        ("Total ex VAT", f"ROUND({before}+{at['contingency']},2)", budget.ex_vat, SUM),
    ]
    for index, (words, formula, value, look) in enumerate(lines, row + 1):
        page.rule(index, LAST, look)
        page.text(index, LABEL, words, look, WRAPPED)
        page.formula(index, AMOUNT, formula, value, look, PLAIN, money)
    page.formula(row + 7, ASIDE, "CONTINGENCY", estimate.job.allowances.contingency, RULED, PLAIN, PERCENT)
    _vat(page, estimate, plan, row + BEFORE_VAT + 1, sums, at["contingency"])
    _total(page, estimate, plan, row + BEFORE_VAT + 1 + len(plan.vat_rates), at["ex"])
    for name, index in (("MATERIALS", 3), ("DELIVERY", 4), ("LABOUR", 5), ("SUMS", 6), ("EX_VAT", 8)):
        book.define_name(name, f"={fixed(row + index, AMOUNT, SUMMARY)}")
    book.define_name("TOTAL", f"={fixed(row + height(plan) - 1, AMOUNT, SUMMARY)}")


def _left_cells(plan: Plan) -> str:
    return added(cell(section.left, Bill.AMOUNT, BILL) for section in plan.bill)


def _delivery_cells(plan: Plan) -> str:
    return added(cell(row, Order.NET, ORDER) for placed in plan.baskets for row, line in placed.lines if not line.part)


def _labour_words(estimate: Estimate) -> str:
    return "Labour, likely hours" if estimate.budget.labour_priced else "Labour: no rate given, not priced"


def _labour_cells(estimate: Estimate, plan: Plan, rate: Decimal | None = None) -> str:
    return added(
        cell(row, Prices.SOURCE, PRICES)
        for row, task in task_rows(estimate, plan)
        if rate is None or task.vat_at(estimate.job.allowances.vat) == rate
    )


def _vat(page: Page, estimate: Estimate, plan: Plan, row: int, sums: SumCells, contingency: str) -> None:
    """One row for each rate: VAT of its baskets, and rounded once each on labour, on sums ex VAT and on contingency."""
    told = {line.rate: line.amount for line in estimate.budget.vat}
    for index, rate in enumerate(sorted(plan.vat_rates), row):
        name = vat_name(estimate, rate)
        terms = [cell(placed.total, Order.VAT, ORDER) for placed in plan.baskets if placed.basket.vat_rate == rate]
        labour = _labour_cells(estimate, plan, rate)
        taxed = [labour] if labour != "0" else []
        if rate == estimate.job.allowances.vat:
            taxed += [added(sums.ex)] if sums.ex else []
            taxed.append(contingency)
            terms += sums.held
        terms += [f"ROUND(ROUND({name}*({of}),9),2)" for of in taxed]
        page.rule(index, LAST, RULED)
        page.text(index, LABEL, "VAT at", RULED, WRAPPED)
        page.formula(index, ASIDE, name, rate, RULED, PLAIN, PERCENT)
        page.formula(
            index, AMOUNT, f"ROUND({added(terms)},2)", told.get(rate, Decimal(0)), RULED, PLAIN, page.looks.money
        )


def _total(page: Page, estimate: Estimate, plan: Plan, row: int, ex_vat: str) -> None:
    vat = block(row - len(plan.vat_rates), row - 1, AMOUNT).replace("$", "")
    page.rule(row, LAST, TOTAL)
    page.text(row, LABEL, total_heading(estimate), TOTAL, {**BESIDE, "font_size": 11})
    page.formula(row, AMOUNT, f"ROUND({ex_vat}+SUM({vat}),2)", estimate.budget.total, TOTAL, page.looks.money)
    invented = invented_prices(estimate)
    if invented:
        page.merged(row, ASIDE, LAST, TOTAL, BESIDE, APART)
        page.text(row, ASIDE, invented, TOTAL, BESIDE, APART, to=LAST)
    page.height(row, 33.75)


def checks(plan: Plan) -> Sequence[tuple[str, str]]:
    """Formulas that say in words whether the sheets still agree, with what they say now."""
    spare = block(plan.order_first, plan.order_end, Order.SPARE, ORDER)
    paid = cell(plan.order_end, Order.NET, ORDER)
    covered = "The packs hold all that the bill needs."
    agrees = "Materials and delivery agree with what is paid at the merchants, ex VAT."
    return (
        (
            f'IF(MIN({spare})<-0.0005,"Some packs hold less than the bill needs: see Spare units beside the order.","{covered}")',
            covered,
        ),
        (
            f'IF(ABS(MATERIALS+DELIVERY-{paid})<0.005,"{agrees}","Materials and delivery differ from what is paid at the '
            'merchants: choose the packs anew.")',
            agrees,
        ),
    )
