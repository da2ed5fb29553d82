"""The sheet Bill: measured quantities by section, at the rate that the whole packs come to."""

from decimal import Decimal
from pathlib import PurePath

from estimator.costing.model import BillLine
from estimator.documents.sheets.cells import added, block, cell
from estimator.documents.sheets.columns import Bill, Order, Prices
from estimator.documents.sheets.looks import (
    APART,
    GROUP,
    METRES,
    PERCENT,
    PLAIN,
    QUIET,
    RIGHT,
    RULED,
    SUM,
    WRAPPED,
    quantity,
)
from estimator.documents.sheets.page import Page
from estimator.documents.sheets.plan import ORDER, PRICES, BillSection, Plan
from estimator.documents.words import SECTION_NUMBERS, number, stage
from estimator.result import Estimate

HEADS = (
    "Item",
    "Part",
    "Description",
    "Stage",
    "Quantity as fixed",
    "Waste",
    "With waste",
    "Unit",
    "Rate ex VAT",
    "Amount ex VAT",
    "Made of",
    "In the job file",
)
WIDTHS = (6, 15, 33, 10, 10, 8, 10, 6, 11, 12, 25, 12)
RIGHT_HEADS = (Bill.QUANTITY, Bill.WASTE, Bill.WITH_WASTE, Bill.RATE, Bill.AMOUNT)
NOTE = (
    "Quantities are as fixed; waste stands beside them and is counted once. A rate is what the whole packs of a part cost "
    f"ex VAT, divided by what is in them. All amounts are ex VAT. {SECTION_NUMBERS}"
)
MOST_PLACES = 4
MOST_MADE = 12


def write_bill(page: Page, estimate: Estimate, plan: Plan) -> None:
    """Write the sheet."""
    page.heading("Bill of quantities", NOTE, HEADS, RIGHT_HEADS, (Bill.UNIT, Bill.MADE_OF))
    for section in plan.bill:
        _section(page, estimate, plan, section)
    _end(page, estimate, plan)
    page.finish(plan.bill_end, Bill.SOURCE)


def _section(page: Page, estimate: Estimate, plan: Plan, section: BillSection) -> None:
    page.rule(section.head, Bill.SOURCE, GROUP)
    page.text(section.head, Bill.ITEM, str(section.number), GROUP)
    page.text(section.head, Bill.PART, section.name, GROUP)
    for row, line in section.lines:
        _line(page, estimate, plan, row, line)
    money = page.looks.money
    page.thin(section.total - 1)
    page.rule(section.total, Bill.SOURCE, SUM)
    page.text(section.total, Bill.DESCRIPTION, f"Section {section.number}, measured", SUM)
    first, last = cell(section.head, Bill.AMOUNT), cell(section.total - 1, Bill.AMOUNT)
    page.formula(section.total, Bill.AMOUNT, f"ROUND(SUM({first}:{last}),2)", measured(section), SUM, money)
    page.text(section.left, Bill.DESCRIPTION, "Left over in whole packs", QUIET)
    page.formula(section.left, Bill.AMOUNT, _left_over(plan, section), left_over(estimate, section), PLAIN, money)


def measured(section: BillSection) -> Decimal:
    """What the lines of a section come to."""
    return sum((line.amount for _, line in section.lines), Decimal(0))


def left_over(estimate: Estimate, section: BillSection) -> Decimal:
    """What stays in the packs of a section."""
    return dict(estimate.budget.left_over).get(section.name, Decimal(0))


def _left_over(plan: Plan, section: BillSection) -> str:
    """Net of the section's packs less what the bill takes of them, never below zero."""
    nets = block(plan.order_first, plan.order_end, Order.NET, ORDER)
    numbers = block(plan.order_first, plan.order_end, Order.SECTION, ORDER)
    taken = cell(section.total, Bill.AMOUNT)
    return f"MAX(0,ROUND(SUMIFS({nets},{numbers},{section.number})-{taken},2))"


def _line(page: Page, estimate: Estimate, plan: Plan, row: int, line: BillLine) -> None:
    shown = quantity(line.unit)
    page.text(row, Bill.ITEM, line.item, RULED, PLAIN)
    page.text(row, Bill.PART, line.part, RULED, WRAPPED)
    page.text(row, Bill.DESCRIPTION, line.description, RULED, WRAPPED)
    page.text(row, Bill.STAGE, stage(line.stage), RULED, WRAPPED)
    page.number(row, Bill.QUANTITY, line.quantity, RULED, PLAIN, shown)
    part = estimate.catalogue.parts[line.part]
    if part.sold_as == "piece":
        waste = cell(plan.waste_row(line.part), Prices.WASTE, PRICES)
        page.formula(row, Bill.WASTE, waste, part.waste, RULED, PLAIN, PERCENT)
        grown = f"{cell(row, Bill.QUANTITY)}*(1+{cell(row, Bill.WASTE)})"
        page.formula(row, Bill.WITH_WASTE, grown, line.with_waste, RULED, PLAIN, shown)
    else:
        page.text(row, Bill.WASTE, "as cut", RULED, PLAIN, RIGHT)
        page.number(row, Bill.WITH_WASTE, line.with_waste, RULED, PLAIN, METRES)
    page.text(row, Bill.UNIT, line.unit, RULED, PLAIN, APART)
    page.formula(row, Bill.RATE, _rate(plan, line.part), line.rate, RULED, PLAIN, page.looks.price)
    page.formula(row, Bill.AMOUNT, _amount(plan, row, line), line.amount, RULED, PLAIN, page.looks.money)
    page.text(row, Bill.MADE_OF, made_of(line), RULED, WRAPPED, APART)
    page.text(row, Bill.SOURCE, sources(line), RULED, QUIET)


def _rate(plan: Plan, part: str) -> str:
    """Net of all packs of a part by the units in them and those taken from what is there."""
    rows = [row for row, _ in plan.order_rows(part)]
    if not rows:
        return "0"
    hand = plan.hand_row(part)
    nets = added(cell(row, Order.NET, ORDER) for row in rows)
    units = added(cell(row, Order.UNITS, ORDER) for row in (rows if hand is None else [*rows, hand]))
    return f"IF(({units})=0,0,({nets})/({units}))"


def _amount(plan: Plan, row: int, line: BillLine) -> str:
    """By running total: what all lines of the part up to this one come to, less what those before it took."""
    rows = [at for at, _ in plan.bill_rows(line.part)]
    upto = rows[: rows.index(row) + 1]
    taken = added(cell(at, Bill.WITH_WASTE) for at in upto)
    # The inner rounding takes away what binary figures leave of a half penny.
    running = f"ROUND(ROUND({cell(row, Bill.RATE)}*({taken}),9),2)"
    before = "".join(f"-{cell(at, Bill.AMOUNT)}" for at in upto[:-1])
    return f"ROUND({running}{before},2)" if before else running


def _end(page: Page, estimate: Estimate, plan: Plan) -> None:
    budget = estimate.budget
    page.rule(plan.bill_end, Bill.SOURCE, SUM)
    page.text(plan.bill_end, Bill.DESCRIPTION, "All sections, measured", SUM)
    totals = added(cell(section.total, Bill.AMOUNT) for section in plan.bill)
    page.formula(
        plan.bill_end,
        Bill.AMOUNT,
        f"ROUND({totals},2)",
        budget.materials - budget.left_over_total,
        SUM,
        page.looks.money,
    )


def made_of(line: BillLine) -> str:
    """What a quantity is made of: `S1 to S12 (studio): 12; CU: 1`; the first few where a row would fill a page."""
    told = [f"{made.of}{f' ({made.room})' if made.room else ''}: {number(made.quantity)}" for made in line.made_of]
    if len(told) > MOST_MADE:
        told[MOST_MADE:] = [f"and {len(told) - MOST_MADE} more, in estimate.json"]
    return "; ".join(told)


def sources(line: BillLine) -> str:
    """Where the job file says it, by line: `job.toml:34, 51`; the first few where there are many."""
    files: dict[str, list[int]] = {}
    for place in line.source:
        files.setdefault(PurePath(place.file).name, []).append(place.line)
    return "; ".join(f"{name}:{_few(lines)}" for name, lines in files.items())


def _few(lines: list[int]) -> str:
    shown = ", ".join(str(line) for line in lines[:MOST_PLACES])
    return shown if len(lines) <= MOST_PLACES else f"{shown} and {len(lines) - MOST_PLACES} more"
