"""Where everything stands in the workbook: an `Estimate` goes in, rows come out, so that formulas can point across sheets."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.buying.model import Basket, Bought, OrderLine
from estimator.catalogue.model import Part, Price
from estimator.costing.model import BillLine
from estimator.documents.data_money import lines_by_basket
from estimator.documents.sheets.page import FIRST_ROW
from estimator.documents.words import ANY
from estimator.result import Estimate

BILL, ORDER, PRICES, SUMMARY = "Bill", "Order", "Price list", "Summary"


@dataclass(frozen=True, slots=True)
class BillSection:
    """One section of the bill: `head` row, its lines with their rows, rows of its sum and of what is left over."""

    number: int
    name: str
    head: int
    lines: tuple[tuple[int, BillLine], ...]
    total: int
    left: int


@dataclass(frozen=True, slots=True)
class OrderBasket:
    """One basket of the order: `head` row, its lines with their rows, the row of its sum."""

    basket: Basket
    head: int
    lines: tuple[tuple[int, OrderLine], ...]
    total: int


@dataclass(frozen=True, slots=True)
class Plan:
    """Rows (from 0) of bill, order and price list.

    `in_hand` are rows of the order for what is taken from what is there. `prices` are rows of the price list: those of
    a part together; None stands for a part without any price. `deliveries` are rows below them, one for each merchant.
    """

    bill: tuple[BillSection, ...]
    bill_end: int
    baskets: tuple[OrderBasket, ...]
    in_hand: tuple[tuple[int, Bought], ...]
    order_end: int
    vat_rates: tuple[Decimal, ...]
    settings: int
    prices: tuple[tuple[int, Part, Price | None], ...]
    deliveries: tuple[tuple[int, OrderLine], ...]
    prices_end: int

    @property
    def order_first(self) -> int:
        """The first row of the order, a heading."""
        return FIRST_ROW

    def bill_rows(self, part: str) -> list[tuple[int, BillLine]]:
        """Lines of a part, in the order in which they take its money."""
        return [(row, line) for section in self.bill for row, line in section.lines if line.part == part]

    def order_rows(self, part: str) -> list[tuple[int, OrderLine]]:
        """Lines of the order with packs of a part."""
        return [(row, line) for basket in self.baskets for row, line in basket.lines if line.part == part]

    def hand_row(self, part: str) -> int | None:
        """The row that tells what is taken from what is there; None where nothing is."""
        return next((row for row, bought in self.in_hand if bought.part == part), None)

    def price_row(self, line: OrderLine) -> int:
        """The row of the price list that an order line is bought at."""
        if not line.part:
            return next(row for row, carried in self.deliveries if carried.merchant == line.merchant)
        wanted = (line.part, line.merchant, line.pack)
        return next(row for row, _, of in self.prices if of and (of.part, of.merchant, of.pack) == wanted)

    def waste_row(self, part: str) -> int:
        """The row of the price list that holds a part's waste: its first."""
        return next(row for row, of, _ in self.prices if of.part == part)

    def section_of(self, part: str) -> int | None:
        """The number of the section that a part is billed in."""
        return next((section.number for section in self.bill for _, line in section.lines if line.part == part), None)


def plan(estimate: Estimate) -> Plan:
    """Lay out the sheets that point at one another."""
    bill, bill_end = _bill(estimate.budget.bill)
    baskets, row = _baskets(estimate)
    in_hand, order_end = _in_hand(estimate, row)
    rates = _vat_rates(estimate)
    settings = FIRST_ROW
    first_price = settings + len(rates) + 6
    prices, deliveries, prices_end = _prices(estimate, first_price)
    return Plan(bill, bill_end, baskets, in_hand, order_end, rates, settings, prices, deliveries, prices_end)


def _bill(lines: Iterable[BillLine]) -> tuple[tuple[BillSection, ...], int]:
    grouped: dict[str, list[BillLine]] = {}
    for line in lines:
        grouped.setdefault(line.section, []).append(line)
    sections, row = [], FIRST_ROW
    for name, members in grouped.items():
        placed = tuple(enumerate(members, row + 1))
        # One empty row stands above the sum and counts in it, so that a row put in at the end is not missed.
        total = row + len(members) + 2
        sections.append(BillSection(int(members[0].item.split(".")[0]), name, row, placed, total, total + 1))
        row = total + 3
    return tuple(sections), row


def _baskets(estimate: Estimate) -> tuple[tuple[OrderBasket, ...], int]:
    lines = lines_by_basket(estimate.order)
    placed, row = [], FIRST_ROW
    for basket in estimate.order.baskets:
        members = [line for line in lines if line.basket == basket.key]
        total = row + len(members) + 1
        placed.append(OrderBasket(basket, row, tuple(enumerate(members, row + 1)), total))
        row = total + 2
    return tuple(placed), row


def _in_hand(estimate: Estimate, row: int) -> tuple[tuple[tuple[int, Bought], ...], int]:
    taken = [bought for bought in estimate.order.bought if bought.in_hand]
    if not taken:
        return (), row
    return tuple(enumerate(taken, row + 1)), row + len(taken) + 2


def _vat_rates(estimate: Estimate) -> tuple[Decimal, ...]:
    """The job's own rate, then every other rate in play, rising."""
    own = estimate.job.allowances.vat
    others = {basket.vat_rate for basket in estimate.order.baskets}
    others |= {task.vat_at(own) for task in estimate.takeoff.labour if task.rate is not None}
    others |= {estimate.catalogue.parts[line.part].vat_rate for line in estimate.budget.bill}
    return (own, *sorted(others - {own}))


def _prices(
    estimate: Estimate, row: int
) -> tuple[tuple[tuple[int, Part, Price | None], ...], tuple[tuple[int, OrderLine], ...], int]:
    named = estimate.job.buying.merchants
    rows: list[tuple[int, Part, Price | None]] = []
    for name in sorted({line.part for line in estimate.budget.bill}):
        offers: list[Price | None] = [
            of for of in estimate.catalogue.prices if of.part == name and (ANY in named or of.merchant in named)
        ]
        for price in offers or [None]:
            rows.append((row, estimate.catalogue.parts[name], price))
            row += 1
    # A merchant that charges in both trips has one price for it.
    charged = {line.merchant: line for line in reversed(estimate.order.delivery)}
    carried = tuple(enumerate((charged[name] for name in sorted(charged)), row))
    return tuple(rows), carried, row + len(carried)


def vat_name(estimate: Estimate, rate: Decimal) -> str:
    """The defined name of the cell that holds a VAT rate."""
    if rate == estimate.job.allowances.vat:
        return "VAT_RATE"
    return "VAT_RATE_" + f"{(rate * 100).normalize():f}".replace(".", "_")
