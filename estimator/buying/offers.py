"""Ways to buy a part as whole-number money inc VAT: prices in, offers on one scale out, ready for the solvers."""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm

from estimator.catalogue.model import Catalogue, Price
from estimator.job.model import Job

ANY = "any"
"""The merchant of prices that no merchant has given, and what a job says for every merchant."""
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


def named_alone(rows: Iterable[Price]) -> tuple[Price, ...]:
    """The prices that a merchant has named."""
    return tuple(row for row in rows if row.merchant != ANY)


def named_first(rows: Iterable[Price]) -> tuple[Price, ...]:
    """The prices that count for one part: those that a merchant has named, and only where there are none, the others."""
    every = tuple(rows)
    return named_alone(every) or every


def filling(named: Sequence[Price], unnamed: Sequence[Price], by_length: bool) -> tuple[Price, ...]:
    """The prices that no merchant has given which fill a gap left by the named ones.

    Of what is sold by length, where merchants sell some: only lengths longer than theirs, or cut to order.
    """
    longest = max((row.pack for row in named), default=Decimal(0)) if by_length else Decimal(0)
    return tuple(row for row in unnamed if row.pack > longest or (by_length and row.pack == CUT_UNIT))


def does_not_count(price: Price, sellers: Collection[str]) -> bool:
    """Whether a price that no merchant has given stands aside: its part is bought, and of merchants that have named theirs alone.

    `sellers` are the merchants of the part's lines in the order.
    """
    return price.merchant == ANY and bool(sellers) and ANY not in sellers


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
