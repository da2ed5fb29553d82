"""Bill, order, cutting list and sums as estimate.json has them."""

from pathlib import PurePath
from typing import Any

from estimator.buying.model import Basket, Cut, Order, OrderLine
from estimator.costing.model import BillLine, Budget, Range
from estimator.documents.data_numbers import metres, money, number, price, rate
from estimator.problems import Place


def bill_data(line: BillLine) -> dict[str, Any]:
    """One line of the bill."""
    return {
        "item": line.item,
        "part": line.part,
        "description": line.description,
        "section": line.section,
        "stage": line.stage,
        "unit": line.unit,
        "quantity": number(line.quantity),
        "with_waste": number(line.with_waste),
        "rate": rate(line.rate),
        "amount": money(line.amount),
        "made_of": [
            {"of": made.of, "room": made.room or None, "quantity": number(made.quantity)} for made in line.made_of
        ],
        "source": [_source(place) for place in line.source],
    }


def _source(place: Place) -> dict[str, Any]:
    return {"file": PurePath(place.file).name, "line": place.line}


def left_over_data(budget: Budget) -> list[dict[str, Any]]:
    """What stays in the packs, by section in the order of the bill."""
    return [{"section": section, "amount": money(amount)} for section, amount in budget.left_over]


def lines_by_basket(order: Order) -> list[OrderLine]:
    """All lines as they stand in their baskets: by merchant, trip, basis and VAT rate, parts by name, delivery last."""
    return sorted(
        (*order.lines, *order.delivery),
        key=lambda line: (*line.basket, line.part == "", line.part, line.pack),
    )


def order_data(order: Order) -> list[dict[str, Any]]:
    """Whole packs by basket; delivery is a line with `part` null, last of its basket."""
    return [
        {
            "part": line.part or None,
            "merchant": line.merchant,
            "pack": number(line.pack),
            "packs": line.packs,
            "price": price(line.price),
            "basis": line.basis,
            "vat_rate": rate(line.vat_rate),
            "amount": money(line.amount),
            "net": money(line.net),
            "stage": line.stage,
            "trip": line.trip,
        }
        for line in lines_by_basket(order)
    ]


def basket_data(basket: Basket) -> dict[str, Any]:
    """One basket: `sum` in its own basis; net and vat are what is paid."""
    return {
        "merchant": basket.merchant,
        "basis": basket.basis,
        "vat_rate": rate(basket.vat_rate),
        "sum": money(basket.sum),
        "net": money(basket.net),
        "vat": money(basket.vat),
        "trip": basket.trip,
    }


def purchase_data(order: Order) -> dict[str, Any]:
    """What the whole order costs inc VAT, delivery included, the least that any could cost, and what is told beside it.

    `counter` is the same from as few merchants as can supply it, in one trip: null where the order is that. `near_free`
    are the merchants that charge for delivery, with how much more, in their basis, would make it free.
    """
    return {
        "cost": money(order.cost),
        "bound": money(order.bound),
        "proven": order.proven,
        "counter": None
        if order.counter is None
        else {
            "merchants": list(order.counter.merchants),
            "cost": money(order.counter.cost),
            "dearer_by": money(order.counter.dearer_by),
            "proven": order.counter.proven,
        },
        "near_free": [
            {
                "merchant": of.merchant,
                "trip": of.trip,
                "short": money(of.short),
                "basis": of.basis,
                "saves": money(of.saves),
            }
            for of in order.near
        ],
    }


def cut_data(cut: Cut) -> dict[str, Any]:
    """One drum or length, `merchant` null for one in hand; pieces in cutting order."""
    return {
        "part": cut.part,
        "merchant": cut.merchant or None,
        "stock_m": metres(cut.stock_mm),
        "pieces": [{"for": of, "length_m": metres(length_mm)} for of, length_mm in cut.pieces],
        "left_over_m": metres(cut.left_over_mm),
    }


def budget_data(budget: Budget) -> dict[str, Any]:
    """The sums, in the order of adding up."""
    return {
        "materials": money(budget.materials),
        "left_over": money(budget.left_over_total),
        "delivery": money(budget.delivery),
        "labour": money(budget.labour),
        "sums": money(budget.sums_total),
        "contingency": money(budget.contingency),
        "ex_vat": money(budget.ex_vat),
        "vat": [{"rate": rate(line.rate), "amount": money(line.amount)} for line in budget.vat],
        "total": money(budget.total),
        "labour_priced": budget.labour_priced,
        "hours": {"self": _hours(budget.hours_self), "electrician": _hours(budget.hours_electrician)},
        "hours_by_task": [
            {"task": of.work, "who": of.who, "stage": of.stage, **_hours(of.hours)} for of in budget.tasks
        ],
    }


def _hours(hours: Range) -> dict[str, Any]:
    return {"low": number(hours.low), "likely": number(hours.likely), "high": number(hours.high)}
