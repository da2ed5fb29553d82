"""What buying gives: the whole packs we decide to buy, baskets at the tills, and the cutting list."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.checks.model import Finding
from estimator.job.model import Stage
from estimator.problems import Place


@dataclass(frozen=True, slots=True)
class OrderLine:
    """`packs` packs of `pack` units of a part at a merchant; `amount` in the merchant's basis, `net` ex VAT to the penny.

    `stage` is the first stage that needs the part. `part` is empty on a merchant's delivery line (`pack` and `packs` 1).
    """

    part: str
    merchant: str
    pack: Decimal
    packs: int
    price: Decimal
    basis: Basis
    vat_rate: Decimal
    amount: Decimal
    net: Decimal
    stage: Stage
    place: Place


@dataclass(frozen=True, slots=True)
class Basket:
    """Order lines of one merchant, basis and VAT rate, delivery included; sum = at basis, net + vat = what is paid."""

    merchant: str
    basis: Basis
    vat_rate: Decimal
    sum: Decimal
    net: Decimal
    vat: Decimal


@dataclass(frozen=True, slots=True)
class Cut:
    """One drum or timber: its length as bought (or in hand: merchant ""), the pieces in cutting order, what is left."""

    part: str
    merchant: str
    stock_mm: Decimal
    pieces: tuple[tuple[str, Decimal], ...]
    left_over_mm: Decimal


@dataclass(frozen=True, slots=True)
class Bought:
    """What one part costs and gives: `net` ex VAT of all its packs, `units` in them, `in_hand` units taken from what is there."""

    part: str
    net: Decimal
    units: Decimal
    in_hand: Decimal


@dataclass(frozen=True, slots=True)
class Order:
    """The purchase. `cost` and `bound` are money inc VAT at the tills (delivery apart), summed exactly and then rounded.

    `proven` where the exact sums are equal for every part.
    """

    lines: tuple[OrderLine, ...]
    delivery: tuple[OrderLine, ...]
    baskets: tuple[Basket, ...]
    cuts: tuple[Cut, ...]
    bought: tuple[Bought, ...]
    cost: Decimal
    bound: Decimal
    proven: bool
    findings: tuple[Finding, ...]
