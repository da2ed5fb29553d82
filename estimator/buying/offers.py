"""Ways to buy a part as whole-number money inc VAT: prices in, offers on one scale out, ready for the solvers."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm

from estimator.catalogue.model import Catalogue, Price
from estimator.job.model import Job

ANY = "any"
CUT_UNIT = Decimal(1)
"""A pack of 1 m of something sold by length is a length cut to order."""


@dataclass(frozen=True, slots=True)
class Offer:
    """One price row and its exact money inc VAT, in 1/`scale` of the currency."""

    key: str
    price: Price
    money: int


@dataclass(frozen=True, slots=True)
class Offers:
    """All ways to buy one part, on one scale of money; in the order of merchant, then pack."""

    part: str
    scale: int
    rows: tuple[Offer, ...]

    def row(self, key: str) -> Offer:
        """The offer with that key."""
        return next(row for row in self.rows if row.key == key)

    def exact(self, money: int) -> Fraction:
        """Whole-number money as money of the currency."""
        return Fraction(money, self.scale)


def allowed(job: Job, catalogue: Catalogue) -> tuple[str, ...]:
    """The merchants that may be bought from."""
    return tuple(catalogue.merchants) if ANY in job.buying.merchants else tuple(sorted(job.buying.merchants))


def inc_vat(price: Price, vat_rate: Decimal) -> Fraction:
    """What one pack costs at the till, exact."""
    return Fraction(price.price) * (1 + Fraction(vat_rate) if price.vat == "ex" else 1)


def offers_for(part: str, catalogue: Catalogue, merchants: Iterable[str], match: str | None = None) -> Offers:
    """Every price of a part at those merchants (of one `match` letter where given)."""
    allowed_names = frozenset(merchants)
    rows = [
        row
        for row in catalogue.prices
        if row.part == part and row.merchant in allowed_names and (match is None or row.match == match)
    ]
    money = [inc_vat(row, catalogue.parts[part].vat_rate) for row in rows]
    scale = lcm(*(amount.denominator for amount in money)) if money else 1
    keyed = tuple(
        Offer(f"{row.merchant}|{row.pack.normalize():f}", row, int(amount * scale))
        for row, amount in zip(rows, money, strict=True)
    )
    return Offers(part, scale, keyed)
