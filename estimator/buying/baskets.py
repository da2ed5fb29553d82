"""Baskets at the tills: order lines of one merchant, trip, price basis and VAT rate, summed and taxed once."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import Basket, BasketKey, OrderLine
from estimator.rounding import money


def fill_baskets(lines: Sequence[OrderLine]) -> tuple[tuple[OrderLine, ...], tuple[Basket, ...]]:
    """The lines with their `net` set, and the baskets; delivery lines (no part) come last in theirs.

    Basis ex: VAT = R(S x r). Basis inc: VAT = R(S x r / (1 + r)), and a line's net is its share by running total, so
    that the nets add up to the basket's. R rounds half up to the penny; S is the sum of packs x price.
    """
    groups: dict[BasketKey, list[OrderLine]] = {}
    for line in sorted(lines, key=lambda line: (line.merchant, line.part == "", line.part, line.pack)):
        groups.setdefault(line.basket, []).append(line)
    filled: list[OrderLine] = []
    baskets = []
    for _, group in sorted(groups.items()):
        sums = _running(line.price * line.packs for line in group)
        nets = [_net(total, group[0]) for total in sums]
        for line, net, before in zip(group, nets, [Decimal(0), *nets[:-1]], strict=True):
            filled.append(replace(line, net=net - before))
        total, net = money(sums[-1]), nets[-1]
        vat = total - net if group[0].basis == "inc" else money(Fraction(sums[-1]) * Fraction(group[0].vat_rate))
        first = group[0]
        baskets.append(Basket(first.merchant, first.basis, first.vat_rate, total, net, vat, first.trip))
    return tuple(filled), tuple(baskets)


def _running(amounts: Iterable[Decimal]) -> list[Decimal]:
    sums = [Decimal(0)]
    for amount in amounts:
        sums.append(sums[-1] + amount)
    return sums[1:]


def _net(total: Decimal, line: OrderLine) -> Decimal:
    if line.basis == "ex":
        return money(total)
    rate = Fraction(line.vat_rate)
    return money(total) - money(Fraction(total) * rate / (1 + rate))
