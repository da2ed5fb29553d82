"""The sheet Price list: what may be changed, and from which all the other sheets are worked out."""

from decimal import Decimal
from fractions import Fraction
from typing import Any

from estimator.buying.model import OrderLine
from estimator.catalogue.model import Part, Price
from estimator.documents.sheets.cells import cell, fixed
from estimator.documents.sheets.columns import Order, Prices
from estimator.documents.sheets.looks import (
    APART,
    DATE,
    GENERAL,
    GROUP,
    INPUT,
    PERCENT,
    PLAIN,
    QUIET,
    RIGHT,
    RULED,
    TITLE,
    WRAPPED,
    quantity,
)
from estimator.documents.sheets.page import FIRST_ROW, NOTE_ROW, TITLE_ROW, Page
from estimator.documents.sheets.plan import ORDER, PRICES, Plan, vat_name
from estimator.documents.words import BASIS_TITLES, percent
from estimator.result import Estimate
from estimator.rounding import money as to_the_penny
from estimator.takeoff.model import Task

HEADS = (
    "Part",
    "Description",
    "Merchant",
    "Pack",
    "Unit",
    "Price of a pack",
    "Price is",
    "VAT",
    "Waste",
    "Priced on",
    "Packs in the order",
    "Where from",
)
WIDTHS = (15, 36, 13, 8, 6, 11, 9, 8, 9, 12, 9, 22)
RIGHT_HEADS = (3, 5, 7, 8, 10)
LEFT_HEADS = (4, 6, 9, 11)
LABOUR_HEADS = ("", "Work that is priced", "Who", "Minutes", "", "Rate an hour", "", "VAT", "", "", "", "Amount ex VAT")
NOTE = (
    "Grey cells with a frame may be changed, here and the fixed numbers of packs in Order; everything else is worked out from "
    "them. The sheets are protected against slips only: there is no password."
)
ASIDE = "does not count: a merchant has named a price"
"""Said of a price that no merchant has given, where the part is bought of one that has."""
FOLLOWS = (
    "What follows a change: quantities with waste, packs of parts that are bought in one size, what is paid at each merchant, "
    "rates, the bill, what is left over, contingency, VAT and the total.",
    "What does not: which packs and merchants are cheapest, packs of parts bought in several sizes or cut from lengths (grey in "
    "Order), the cutting list, free delivery, and what is taken from what is there. Run studbay again for those.",
    "Prices without a frame are not in the order; they are there to compare. Where it says that one does not count, changing it in the "
    "price list changes nothing: a price of nobody never beats one that a merchant has named.",
)


def write_prices(page: Page, estimate: Estimate, plan: Plan, book: Any) -> None:
    """Write the sheet, and name the cells that hold rates."""
    page.across(TITLE_ROW, "Price list and rates", TITLE)
    page.across(NOTE_ROW, NOTE, QUIET)
    _settings(page, estimate, plan, book)
    head = first_row(plan) - 2
    page.head_row(head, HEADS, RIGHT_HEADS, LEFT_HEADS)
    page.repeat(head, gap=True)
    seen: set[str] = set()
    for row, part, price in plan.prices:
        _price(page, estimate, plan, row, part, price, first=part.part not in seen)
        seen.add(part.part)
    for row, line in plan.deliveries:
        _delivery(page, estimate, row, line)
    row = _labour(page, estimate, plan.prices_end + 1)
    for text in FOLLOWS:
        page.across(row, text, QUIET)
        row += 1
    page.finish(row - 1, Prices.SOURCE)


def first_row(plan: Plan) -> int:
    """The first row with a price."""
    return plan.settings + len(plan.vat_rates) + 6


def _settings(page: Page, estimate: Estimate, plan: Plan, book: Any) -> None:
    allowed = estimate.job.allowances
    page.rule(FIRST_ROW - 1, Prices.SOURCE, GROUP)
    page.text(FIRST_ROW - 1, Prices.PART, "Rates", GROUP)
    row = plan.settings
    for rate in plan.vat_rates:
        own = rate == allowed.vat
        words = "VAT on most things, on sums and on contingency" if own else f"VAT on what bears {percent(rate)}"
        _setting(page, book, row, words, vat_name(estimate, rate), rate, PERCENT)
        row += 1
    words = "Contingency, of materials, delivery, labour and sums"
    _setting(page, book, row, words, "CONTINGENCY", allowed.contingency, PERCENT)
    _setting(page, book, row + 1, "Saw cut between pieces of timber, in m", "KERF", allowed.kerf_mm.scaleb(-3), GENERAL)


def _setting(page: Page, book: Any, row: int, words: str, name: str, value: Decimal, shown: dict[str, Any]) -> None:
    page.text(row, Prices.PART, words, {**PLAIN})
    page.text(row, Prices.MERCHANT, name, {**QUIET, "text_wrap": False})
    page.number(row, Prices.PRICE, value, INPUT, shown)
    book.define_name(name, f"={fixed(row, Prices.PRICE, PRICES)}")


def _price(page: Page, estimate: Estimate, plan: Plan, row: int, part: Part, price: Price | None, first: bool) -> None:
    page.rule(row, Prices.SOURCE, RULED)
    page.text(row, Prices.PART, part.part, RULED, WRAPPED)
    page.text(row, Prices.DESCRIPTION, part.description if first else "as above", RULED, WRAPPED if first else QUIET)
    page.text(row, Prices.UNIT, part.unit, RULED, PLAIN, APART)
    page.formula(row, Prices.VAT, vat_name(estimate, part.vat_rate), part.vat_rate, RULED, PLAIN, PERCENT)
    _waste(page, plan, row, part, first)
    if price is None:
        page.text(row, Prices.SOURCE, "no price: taken from what is there", RULED, QUIET)
        return
    page.text(row, Prices.MERCHANT, price.merchant, RULED, WRAPPED)
    page.number(row, Prices.PACK, price.pack, RULED, PLAIN, GENERAL)
    page.text(row, Prices.BASIS, BASIS_TITLES[price.vat], RULED, PLAIN, APART)
    page.day(row, Prices.PRICED_ON, price.priced_on, RULED, PLAIN, DATE, APART)
    aside = estimate.does_not_count(price)
    page.text(row, Prices.SOURCE, f"{ASIDE}; {price.source}" if aside else price.source, RULED, QUIET, APART)
    bought = [
        (at, line)
        for at, line in plan.order_rows(part.part)
        if (line.merchant, line.pack) == (price.merchant, price.pack)
    ]
    page.number(row, Prices.PRICE, price.price, *((INPUT,) if bought else (RULED, QUIET)), page.looks.price)
    if bought:
        packs = cell(bought[0][0], Order.PACKS, ORDER)
        page.formula(row, Prices.PACKS, packs, bought[0][1].packs, RULED, PLAIN)


def _waste(page: Page, plan: Plan, row: int, part: Part, first: bool) -> None:
    if part.sold_as == "length":
        page.text(row, Prices.WASTE, "as cut", RULED, QUIET, RIGHT)
    elif first:
        page.number(row, Prices.WASTE, part.waste, INPUT, PERCENT)
    else:
        own = cell(plan.waste_row(part.part), Prices.WASTE)
        page.formula(row, Prices.WASTE, own, part.waste, RULED, QUIET, PERCENT)


def _delivery(page: Page, estimate: Estimate, row: int, line: OrderLine) -> None:
    page.rule(row, Prices.SOURCE, RULED)
    page.text(row, Prices.DESCRIPTION, "Delivery", RULED, WRAPPED)
    page.text(row, Prices.MERCHANT, line.merchant, RULED, WRAPPED)
    page.number(row, Prices.PRICE, line.price, INPUT, page.looks.price)
    page.text(row, Prices.BASIS, BASIS_TITLES[line.basis], RULED, PLAIN, APART)
    page.formula(row, Prices.VAT, vat_name(estimate, line.vat_rate), line.vat_rate, RULED, PLAIN, PERCENT)


def _labour(page: Page, estimate: Estimate, row: int) -> int:
    """Work that has a rate, from `row` on; the first row after it."""
    tasks = priced_tasks(estimate)
    if not tasks:
        return row
    page.head_row(row, LABOUR_HEADS, (*RIGHT_HEADS, Prices.SOURCE))
    for at, task in enumerate(tasks, row + 1):
        _task(page, estimate, at, task)
    return row + len(tasks) + 2


def priced_tasks(estimate: Estimate) -> list[Task]:
    """Tasks that have a rate, as they stand in the sheet."""
    return [task for task in estimate.takeoff.labour if task.rate is not None]


def task_rows(estimate: Estimate, plan: Plan) -> list[tuple[int, Task]]:
    """The rows of the tasks that have a rate."""
    return list(enumerate(priced_tasks(estimate), plan.prices_end + 2))


def task_amount(task: Task) -> Decimal:
    """What a task with a rate comes to, at its likely time."""
    return to_the_penny(Fraction(task.likely_minutes) * Fraction(task.rate or 0) / 60)


def _task(page: Page, estimate: Estimate, row: int, task: Task) -> None:
    page.rule(row, Prices.SOURCE, RULED)
    page.text(row, Prices.DESCRIPTION, task.task, RULED, WRAPPED)
    page.text(row, Prices.MERCHANT, "yourself" if task.who == "self" else task.who, RULED, WRAPPED)
    page.number(row, Prices.PACK, task.likely_minutes, RULED, PLAIN, quantity("nr"))
    page.number(row, Prices.PRICE, task.rate or Decimal(0), INPUT, page.looks.money)
    vat = task.vat_at(estimate.job.allowances.vat)
    page.formula(row, Prices.VAT, vat_name(estimate, vat), vat, RULED, PLAIN, PERCENT)
    worked = f"ROUND(ROUND({cell(row, Prices.PACK)}*{cell(row, Prices.PRICE)}/60,9),2)"
    page.formula(row, Prices.SOURCE, worked, task_amount(task), RULED, PLAIN, page.looks.money, RIGHT)
