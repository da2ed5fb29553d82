"""The sheet Order: the whole packs, basket by basket as they are paid at the tills, and what is taken from what is there."""

from collections.abc import Iterable
from decimal import Decimal

from estimator.buying.model import Bought, OrderLine
from estimator.documents.order_words import beside_the_order
from estimator.documents.sheets.cells import added, cell
from estimator.documents.sheets.columns import Bill, Order, Prices
from estimator.documents.sheets.looks import (
    APART,
    GENERAL,
    GROUP,
    INPUT,
    PLAIN,
    QUIET,
    RULED,
    SUM,
    WRAPPED,
    quantity,
)
from estimator.documents.sheets.page import HEAD_ROW, Page
from estimator.documents.sheets.plan import BILL, PRICES, OrderBasket, Plan, vat_name
from estimator.documents.words import BASIS_TITLES, PROVEN, percent, stage, till_words
from estimator.result import Estimate
from estimator.rounding import whole_up

HEADS = (
    "Part",
    "Description",
    "Sec.",
    "Stage",
    "Needed, with waste",
    "Unit",
    "Pack",
    "Packs",
    "Units in packs",
    "Price of a pack",
    "At that price",
    "Net ex VAT",
    "VAT",
    "Paid inc VAT",
)
WORKINGS = ("Sum so far", "Net so far", "Spare units")
WIDTHS = (15, 33, 6, 10, 10, 6, 8, 8, 9, 10, 11, 11, 10, 11, 2, 12, 12, 10)
RIGHT_HEADS = (4, 6, 7, 8, 9, 10, 11, 12, 13)


def write_order(page: Page, estimate: Estimate, plan: Plan) -> None:
    """Write the sheet."""
    word = "proven the cheapest, delivery included" if estimate.order.proven else "the cheapest that were found"
    note = f"Whole packs, {word}. {PROVEN} VAT is worked once for each basket."
    page.heading("Order", note, HEADS, RIGHT_HEADS, (Order.UNIT,), last=Order.PAID)
    for col, head in enumerate(WORKINGS, Order.SUM_SO_FAR):
        page.text(HEAD_ROW, col, head, QUIET)
    for basket in plan.baskets:
        _basket(page, estimate, plan, basket)
    _in_hand(page, estimate, plan)
    _end(page, plan)
    last = plan.order_end
    for row, told in enumerate(beside_the_order(estimate), plan.order_end + 2):
        page.across(row, told, PLAIN, last=Order.PAID)
        last = row
    page.finish(last, Order.PAID)


def _basket(page: Page, estimate: Estimate, plan: Plan, placed: OrderBasket) -> None:
    basket = placed.basket
    page.rule(placed.head, Order.PAID, GROUP)
    seller = till_words(estimate.job, basket)
    words = f"{seller}: prices {BASIS_TITLES[basket.basis]}, VAT {percent(basket.vat_rate)}"
    page.text(placed.head, Order.PART, words, {**GROUP})
    vat = vat_name(estimate, basket.vat_rate)
    sums, nets = _so_far(placed)
    for index, (row, line) in enumerate(placed.lines):
        _line(page, estimate, plan, row, line)
        _workings(page, row, line, vat, sums[index], nets[index], first=index == 0)
    last = placed.total - 1
    money, row = page.looks.money, placed.total
    page.rule(row, Order.PAID, SUM)
    page.text(row, Order.DESCRIPTION, f"{seller}, {BASIS_TITLES[basket.basis]}", SUM)
    page.formula(row, Order.LINE, f"ROUND({cell(last, Order.SUM_SO_FAR)},2)", basket.sum, SUM, money)
    page.formula(row, Order.NET, f"ROUND({cell(last, Order.NET_SO_FAR)},2)", basket.net, SUM, money)
    taxed = (
        f"ROUND(ROUND({cell(last, Order.SUM_SO_FAR)}*{vat},9),2)"
        if basket.basis == "ex"
        else f"ROUND({cell(row, Order.LINE)}-{cell(row, Order.NET)},2)"
    )
    page.formula(row, Order.VAT, taxed, basket.vat, SUM, money)
    paid = f"ROUND({cell(row, Order.NET)}+{cell(row, Order.VAT)},2)"
    page.formula(row, Order.PAID, paid, basket.net + basket.vat, SUM, money)


def _so_far(placed: OrderBasket) -> tuple[list[Decimal], list[Decimal]]:
    """Running sums at the merchant's basis, and of the nets."""
    sums, nets = [Decimal(0)], [Decimal(0)]
    for _, line in placed.lines:
        sums.append(sums[-1] + line.price * line.packs)
        nets.append(nets[-1] + line.net)
    return sums[1:], nets[1:]


def _line(page: Page, estimate: Estimate, plan: Plan, row: int, line: OrderLine) -> None:
    money = page.looks.money
    page.rule(row, Order.PAID, RULED)
    price = cell(plan.price_row(line), Prices.PRICE, PRICES)
    page.formula(row, Order.PRICE, price, line.price, RULED, PLAIN, page.looks.price)
    at_price = f"ROUND({cell(row, Order.PACKS)}*{cell(row, Order.PRICE)},2)"
    page.formula(row, Order.LINE, at_price, line.amount, RULED, PLAIN, money)
    page.text(row, Order.STAGE, stage(line.stage), RULED, WRAPPED)
    if not line.part:
        page.text(row, Order.DESCRIPTION, "Delivery", RULED, WRAPPED)
        page.number(row, Order.PACKS, line.packs, RULED, PLAIN)
        return
    part = estimate.catalogue.parts[line.part]
    page.text(row, Order.PART, line.part, RULED, WRAPPED)
    page.text(row, Order.DESCRIPTION, part.description, RULED, WRAPPED)
    _needed(page, estimate, plan, row, line.part)
    page.number(row, Order.PACK, line.pack, RULED, PLAIN, GENERAL)
    _packs(page, estimate, plan, row, line)
    units = f"{cell(row, Order.PACK)}*{cell(row, Order.PACKS)}"
    page.formula(row, Order.UNITS, units, line.pack * line.packs, RULED, PLAIN, GENERAL)


def _needed(page: Page, estimate: Estimate, plan: Plan, row: int, name: str) -> None:
    """Section, all that the bill takes of the part, its unit."""
    number, unit = plan.section_of(name), estimate.catalogue.parts[name].unit
    if number is not None:
        page.number(row, Order.SECTION, number, RULED, PLAIN, {"align": "left"})
    needed = added(cell(at, Bill.WITH_WASTE, BILL) for at, _ in plan.bill_rows(name))
    page.formula(row, Order.NEEDED, needed, need(plan, name), RULED, PLAIN, quantity(unit))
    page.text(row, Order.UNIT, unit, RULED, PLAIN, APART)


def need(plan: Plan, name: str) -> Decimal:
    """All that the bill takes of a part."""
    return sum((line.with_waste for _, line in plan.bill_rows(name)), Decimal(0))


def _packs(page: Page, estimate: Estimate, plan: Plan, row: int, line: OrderLine) -> None:
    """A formula where the part comes in packs of one size; else a number that may be changed."""
    hand = plan.hand_row(line.part)
    taken = next((of.in_hand for _, of in plan.in_hand if of.part == line.part), Decimal(0))
    alone = len(plan.order_rows(line.part)) == 1 and estimate.catalogue.parts[line.part].sold_as == "piece"
    if alone and whole_up((need(plan, line.part) - taken) / line.pack) == line.packs:
        less = "" if hand is None else f"-{cell(hand, Order.UNITS)}"
        wanted = f"({cell(row, Order.NEEDED)}{less})/{cell(row, Order.PACK)}"
        page.formula(row, Order.PACKS, f"MAX(0,ROUNDUP(ROUND({wanted},9),0))", line.packs, RULED, PLAIN)
    else:
        page.number(row, Order.PACKS, line.packs, INPUT)


def _workings(
    page: Page, row: int, line: OrderLine, vat: str, so_far: Decimal, net_so_far: Decimal, first: bool
) -> None:
    money, rate = page.looks.money, page.looks.rate
    before = "" if first else f"{cell(row - 1, Order.SUM_SO_FAR)}+"
    adding = f"ROUND({before}{cell(row, Order.PACKS)}*{cell(row, Order.PRICE)},8)"
    page.formula(row, Order.SUM_SO_FAR, adding, so_far, QUIET, rate)
    at = cell(row, Order.SUM_SO_FAR)
    net = f"ROUND({at},2)" if line.basis == "ex" else f"ROUND(ROUND({at},2)-ROUND(ROUND({at}*{vat}/(1+{vat}),9),2),2)"
    page.formula(row, Order.NET_SO_FAR, net, net_so_far, QUIET, money)
    own = cell(row, Order.NET_SO_FAR) if first else f"{cell(row, Order.NET_SO_FAR)}-{cell(row - 1, Order.NET_SO_FAR)}"
    page.formula(row, Order.NET, f"ROUND({own},2)", line.net, RULED, PLAIN, money)


def _in_hand(page: Page, estimate: Estimate, plan: Plan) -> None:
    if plan.in_hand:
        head = plan.in_hand[0][0] - 1
        page.rule(head, Order.PAID, GROUP)
        page.text(head, Order.PART, "Taken from what is there, and not paid for", GROUP)
    for row, bought in plan.in_hand:
        page.rule(row, Order.PAID, RULED)
        page.text(row, Order.PART, bought.part, RULED, WRAPPED)
        page.text(row, Order.DESCRIPTION, estimate.catalogue.parts[bought.part].description, RULED, WRAPPED)
        _needed(page, estimate, plan, row, bought.part)
        page.number(row, Order.UNITS, bought.in_hand, INPUT, GENERAL)
    for bought in estimate.order.bought:
        _spare(page, plan, bought)


def _spare(page: Page, plan: Plan, bought: Bought) -> None:
    """Units bought and in hand beyond what the bill takes, beside the part's first line."""
    rows = [row for row, _ in plan.order_rows(bought.part)]
    hand = plan.hand_row(bought.part)
    every = rows if hand is None else [*rows, hand]
    if not every:
        return
    units = added(cell(row, Order.UNITS) for row in every)
    spare = bought.units + bought.in_hand - need(plan, bought.part)
    page.formula(every[0], Order.SPARE, f"ROUND({units}-{cell(every[0], Order.NEEDED)},6)", spare, QUIET, GENERAL)


def _end(page: Page, plan: Plan) -> None:
    row, money = plan.order_end, page.looks.money
    page.rule(row, Order.PAID, SUM)
    page.text(row, Order.DESCRIPTION, "All baskets, delivery in", SUM)
    baskets = [placed.basket for placed in plan.baskets]
    for col, values in (
        (Order.NET, [of.net for of in baskets]),
        (Order.VAT, [of.vat for of in baskets]),
        (Order.PAID, [of.net + of.vat for of in baskets]),
    ):
        page.formula(row, col, f"ROUND({_cells(plan.baskets, col)},2)", sum(values, Decimal(0)), SUM, money)


def _cells(baskets: Iterable[OrderBasket], col: Order) -> str:
    return added(cell(placed.total, col) for placed in baskets)
