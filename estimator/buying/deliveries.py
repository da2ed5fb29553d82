"""Delivery: what each merchant that sells us something charges to bring it, as the last line of its basket."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import OrderLine
from estimator.catalogue.model import Catalogue, Merchant
from estimator.checks.model import Finding
from estimator.job.model import Stage

STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")


def deliveries(catalogue: Catalogue, lines: Sequence[OrderLine]) -> tuple[tuple[OrderLine, ...], tuple[Finding, ...]]:
    """One line for each merchant whose goods do not reach its free limit, and findings on smallest orders."""
    carried, told = [], []
    for name in sorted({line.merchant for line in lines}):
        merchant = catalogue.merchants[name]
        goods = [line for line in lines if line.merchant == name]
        value = sum((_in_basis(line, merchant) for line in goods), Fraction(0))
        if merchant.delivery and (merchant.free_over is None or value < Fraction(merchant.free_over)):
            first = min((line.stage for line in goods), key=STAGES.index)
            carried.append(
                OrderLine(
                    "",
                    name,
                    Decimal(1),
                    1,
                    merchant.delivery,
                    merchant.vat,
                    merchant.vat_rate,
                    merchant.delivery,
                    Decimal(0),
                    first,
                    merchant.place,
                )
            )
        if merchant.minimum is not None and value < Fraction(merchant.minimum):
            told.append(
                Finding(
                    "smallest-order",
                    "ask",
                    name,
                    f"The order at {name} comes to less than its smallest order: buy it "
                    "elsewhere, or more of it there.",
                    Decimal(value.numerator) / value.denominator,
                    merchant.minimum,
                    "money",
                    str(merchant.place),
                )
            )
    return tuple(carried), tuple(told)


def _in_basis(line: OrderLine, merchant: Merchant) -> Fraction:
    value, rate = Fraction(line.price * line.packs), Fraction(line.vat_rate)
    if line.basis == merchant.vat:
        return value
    return value * (1 + rate) if merchant.vat == "inc" else value / (1 + rate)
