"""What buying gives: the whole packs we decide to buy, baskets at the tills, and the cutting list."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.checks.model import Finding
from estimator.job.model import Stage
from estimator.problems import Place

BasketKey = tuple[str, int, Basis, Decimal]
"""What makes a basket: merchant, trip, basis, VAT rate."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """`packs` packs of `pack` units of a part at a merchant; `amount` in the merchant's basis, `net` ex VAT to the penny.

    `stage` is the first stage that needs the part; `trip` counts from 1. `part` is empty on a merchant's delivery line
    (`pack` and `packs` 1).
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
    trip: int = 1

    @property
    def basket(self) -> BasketKey:
        """The basket that it lies in."""
        return self.merchant, self.trip, self.basis, self.vat_rate


@dataclass(frozen=True, slots=True)
class Basket:
    """Order lines of one merchant, basis, VAT rate and trip, delivery included; sum = at basis, net + vat = what is paid."""

    merchant: str
    basis: Basis
    vat_rate: Decimal
    sum: Decimal
    net: Decimal
    vat: Decimal
    trip: int = 1

    @property
    def key(self) -> "BasketKey":
        """What its lines share."""
        return self.merchant, self.trip, self.basis, self.vat_rate


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
class Comparison:
    """All from as few merchants as can supply it, in one trip: who they are, what it costs inc VAT, how much dearer it is.

    `proven` where no way to buy it so costs less; where it is not, say "about".
    """

    merchants: tuple[str, ...]
    cost: Decimal
    dearer_by: Decimal
    proven: bool = True


@dataclass(frozen=True, slots=True)
class NearFree:
    """A merchant that charges for bringing its goods: how much more of them, in its basis, makes that free.

    `saves` is the charge inc VAT.
    """

    merchant: str
    trip: int
    short: Decimal
    basis: Basis
    saves: Decimal


@dataclass(frozen=True, slots=True)
class Order:
    """The purchase. `cost` and `bound` are money inc VAT at the tills, delivery included, summed exactly and then rounded.

    `proven` where the exact sums are equal: no purchase costs less. `counter` compares it with one trip to as few
    merchants as can supply everything (None where the purchase is that).
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
    counter: Comparison | None = None
    near: tuple[NearFree, ...] = ()
