"""The frozen values of one purchase in whole numbers: wants, ways to buy, tills and their terms; bundles and baskets found.

Money and goods' values are whole numbers on one scale for the whole purchase. Sets of merchants or tills are the bits
of a number: till `trip x merchants + merchant`.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import Cut
from estimator.catalogue.model import Price
from estimator.job.model import InHand
from estimator.takeoff.model import CutPiece


@dataclass(frozen=True, slots=True)
class Way:
    """One price row: a pack of `units` at merchant number `seller`, its money inc VAT and its value in the seller's basis.

    `key` tells the ways of one want apart, by seller and pack; like all that a search sorts by, it holds no name.
    """

    key: str
    seller: int
    units: Decimal
    money: int
    value: int
    price: Price


@dataclass(frozen=True, slots=True)
class Want:
    """One part as it may be bought, of one make where its group asks for one.

    `need` is still to be bought beyond the units `in_hand`; what is sold by length has `pieces` and `held` instead.
    """

    number: int
    part: str
    trip: int
    by_length: bool
    with_waste: Decimal
    need: Decimal
    in_hand: Decimal
    ways: tuple[Way, ...]
    sellers: int
    pieces: tuple[CutPiece, ...]
    held: tuple[InHand, ...]
    kerf_mm: Decimal
    vat_rate: Decimal


@dataclass(frozen=True, slots=True)
class Block:
    """Parts that hang together: alone, or a whole match group with its wants once for every make."""

    makes: tuple[tuple[Want, ...], ...]


@dataclass(frozen=True, slots=True)
class Till:
    """Terms at one merchant in one trip: the charge, and from which value of goods it is free (None: never); the least order."""

    merchant: int
    trip: int
    fee: int
    free_over: int | None
    minimum: int

    def charge(self, value: int) -> int:
        """What bringing goods of that value costs."""
        return self.fee if self.free_over is None or value < self.free_over else 0

    @property
    def tiers(self) -> tuple[tuple[int, int], ...]:
        """The charge and the value that it asks for, dearest charge first."""
        if not self.fee:
            return ((0, self.minimum),)
        if self.free_over is None:
            return ((self.fee, self.minimum),)
        free = (0, max(self.free_over, self.minimum))
        return (free,) if self.minimum >= self.free_over else ((self.fee, self.minimum), free)


@dataclass(frozen=True, slots=True)
class Task:
    """The whole purchase: `most` merchants may be used; `tills` trip by trip. Merchants, blocks and makes are in an order without names."""

    merchants: tuple[str, ...]
    trips: int
    most: int
    tills: tuple[Till, ...]
    blocks: tuple[Block, ...]
    scale: int

    def till(self, want: Want, seller: int) -> int:
        """The till at which a want is bought from a seller."""
        return want.trip * len(self.merchants) + seller

    def sellers(self, tills: int, trip: int) -> int:
        """The merchants whose tills of a trip are in a set."""
        return (tills >> (trip * len(self.merchants))) & self.everyone

    @property
    def everyone(self) -> int:
        """All merchants."""
        return (1 << len(self.merchants)) - 1

    def merchants_of(self, tills: int) -> int:
        """The merchants that own tills of a set, in either trip."""
        found = 0
        for trip in range(self.trips):
            found |= self.sellers(tills, trip)
        return found

    def names_of(self, tills: int) -> tuple[str, ...]:
        """The names of these merchants, in order."""
        return tuple(sorted(self.merchants[number] for number in bits(self.merchants_of(tills))))


@dataclass(frozen=True, slots=True)
class Bundle:
    """How one want is bought: packs, cuts, units taken from what is in hand, money and the least money there could be."""

    packs: tuple[tuple[Way, int], ...]
    cuts: tuple[Cut, ...]
    in_hand: Decimal
    cost: int
    bound: int
    used: int


@dataclass(frozen=True, slots=True)
class Extra:
    """Packs beyond what the job needs, bought to reach a limit."""

    want: Want
    way: Way
    packs: int


@dataclass(frozen=True, slots=True)
class Purchase:
    """One way to buy everything. `cost` includes delivery; `values` and `charges` are by till, `used` the tills used."""

    picks: tuple[tuple[Want, Bundle], ...]
    extras: tuple[Extra, ...]
    values: tuple[int, ...]
    charges: tuple[int, ...]
    used: int
    cost: int
    left_over: Fraction = field(compare=False)


def bits(number: int) -> Iterator[int]:
    """The places of the bits that are set, rising."""
    place = 0
    while number:
        if number & 1:
            yield place
        number >>= 1
        place += 1
