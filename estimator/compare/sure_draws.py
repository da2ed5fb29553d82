"""Seeded draws of a sum of triangles: the triangles, a count and a seed go in, the sums drawn come out, sorted.

The same seed gives the same sums on every machine and with every release of the library: bits are taken from the
generator itself, whose stream its makers keep, and turned into amounts here by additions, products and square roots,
which IEEE 754 rounds alike everywhere. Floats are used here and nowhere else in money.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import ceil, floor, sqrt
from typing import TYPE_CHECKING

from estimator.compare.spread_of import Triangle

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

FEWEST = 1000
"""With fewer draws than this, intervals by ranks run off the end."""
SIGMAS_95 = 1.96
"""Half the width of the middle 95 % of a normal distribution, in standard deviations."""


@dataclass(frozen=True, slots=True, eq=False)
class Drawn:
    """Sums drawn, in rising order."""

    sums: "NDArray[np.float64]"

    @property
    def draws(self) -> int:
        """How many there are."""
        return len(self.sums)

    def quantile(self, chance: Fraction) -> Decimal:
        """The least sum that at least that share of all sums does not exceed."""
        return self._at(ceil(self.draws * chance))

    def error(self, chance: Fraction) -> Decimal:
        """How far the quantile may be off, 19 times in 20: to the farther of the two sums that enclose it so often.

        How many of n draws stay below the true quantile is binomial, which gives the ranks of the two, whatever the
        shape (David and Nagaraja, Order Statistics, chapter 7); normal approximation.
        """
        count = self.draws
        share = float(chance)
        reach = SIGMAS_95 * sqrt(count * share * (1 - share))
        middle = self.quantile(chance)
        low, high = self._at(floor(count * share - reach)), self._at(ceil(count * share + reach) + 1)
        return max(middle - low, high - middle)

    def chance_within(self, amount: Decimal) -> Decimal:
        """The share of sums that are `amount` or less."""
        return Decimal(int(self.sums.searchsorted(float(amount), side="right"))) / self.draws

    def _at(self, rank: int) -> Decimal:
        """The sum of that rank, from 1; ranks beyond an end are that end."""
        return Decimal(float(self.sums[min(max(rank, 1), self.draws) - 1]))


def drawn(triangles: Sequence[Triangle], fixed: Fraction, draws: int, seed: int) -> Drawn:
    """So many sums of one draw of each triangle (each with a width) and `fixed`.

    Raises:
        ValueError: fewer than 1,000 draws, or a seed below 0.
    """
    import numpy as np

    if draws < FEWEST:
        raise ValueError(f"{draws} draws are too few: {FEWEST} at the least")
    bits = np.random.PCG64(seed)
    sums = np.full(draws, float(fixed))
    for triangle in triangles:
        even = (bits.random_raw(draws) >> np.uint64(11)).astype(np.float64) * 2.0**-53
        sums += _amounts(triangle, even)
    sums.sort()
    return Drawn(sums)


def _amounts(triangle: Triangle, even: "NDArray[np.float64]") -> "NDArray[np.float64]":
    """The quantiles of the triangle at chances spread evenly over 0 to 1."""
    import numpy as np

    low, high, width = float(triangle.low), float(triangle.high), float(triangle.width)
    rising, falling = float(triangle.likely - triangle.low), float(triangle.high - triangle.likely)
    below = even * width <= rising
    steps = np.sqrt(np.where(below, even * (width * rising), (1.0 - even) * (width * falling)))
    return np.where(below, low + steps, high - steps)
