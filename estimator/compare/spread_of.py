"""How a sum of uncertain amounts is spread: triangles go in, chances and the amounts that belong to them come out.

A triangle is low, likely and high: nothing below low or above high, the chances rising straight to likely and falling
straight from it. One triangle is worked exactly; a sum of several, each varying on its own, by seeded draws. Amounts are
exact fractions; floats live in the draws alone.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal, localcontext
from fractions import Fraction
from typing import Protocol

DIGITS = 50
"""Figures that roots are worked to, far beyond a penny."""


@dataclass(frozen=True, slots=True)
class Triangle:
    """Low, likely and high of one amount; likely is the mode. The three may be equal.

    Moments, quantile and chance: Kotz and van Dorp, Beyond Beta, chapter 1.

    Raises:
        ValueError: the three do not rise.
    """

    low: Fraction
    likely: Fraction
    high: Fraction

    def __post_init__(self) -> None:
        if not self.low <= self.likely <= self.high:
            raise ValueError(f"{self.low}, {self.likely}, {self.high} do not rise")

    @property
    def width(self) -> Fraction:
        """From low to high."""
        return self.high - self.low

    @property
    def mean(self) -> Fraction:
        """A third of the three."""
        return (self.low + self.likely + self.high) / 3

    @property
    def variance(self) -> Fraction:
        """The square of the standard deviation."""
        width = self.high - self.low
        return (width * width - (self.likely - self.low) * (self.high - self.likely)) / 18

    def quantile(self, chance: Fraction) -> Decimal:
        """The amount that is not exceeded with that chance (0 to 1)."""
        if not self.width:
            return in_decimals(self.low)
        rising = self.likely - self.low
        if chance * self.width <= rising:
            return in_decimals(self.low) + root(chance * self.width * rising)
        return in_decimals(self.high) - root((1 - chance) * self.width * (self.high - self.likely))

    def chance_within(self, amount: Fraction) -> Fraction:
        """The chance that it comes to `amount` or less, exact."""
        if amount >= self.high:
            return Fraction(1)
        if amount < self.low:
            return Fraction(0)
        if amount < self.likely:
            return (amount - self.low) ** 2 / (self.width * (self.likely - self.low))
        return 1 - (self.high - amount) ** 2 / (self.width * (self.high - self.likely))


class Spread(Protocol):
    """What can be asked of a sum of triangles; `draws` is 0 where it is exact."""

    @property
    def draws(self) -> int:
        """How many draws it rests on."""
        ...

    def quantile(self, chance: Fraction) -> Decimal:
        """The amount that is not exceeded with that chance."""
        ...

    def error(self, chance: Fraction) -> Decimal:
        """How far `quantile` may be off, 19 times in 20."""
        ...

    def chance_within(self, amount: Decimal) -> Decimal:
        """The chance that the sum comes to `amount` or less."""
        ...


@dataclass(frozen=True, slots=True)
class Exact:
    """The spread of one triangle."""

    triangle: Triangle
    draws: int = 0

    def quantile(self, chance: Fraction) -> Decimal:
        """As `Triangle.quantile`."""
        return self.triangle.quantile(chance)

    def error(self, chance: Fraction) -> Decimal:
        """Nothing."""
        return Decimal(0)

    def chance_within(self, amount: Decimal) -> Decimal:
        """As `Triangle.chance_within`."""
        return in_decimals(self.triangle.chance_within(Fraction(amount)))


def spread_of(triangles: Sequence[Triangle], draws: int, seed: int) -> Spread:
    """The spread of the sum: exact where one triangle or none has any width, else from so many draws of that seed."""
    from estimator.compare.sure_draws import drawn

    wide = [one for one in triangles if one.width]
    fixed = sum((one.low for one in triangles if not one.width), Fraction(0))
    if len(wide) > 1:
        return drawn(wide, fixed, draws, seed)
    one = wide[0] if wide else Triangle(Fraction(0), Fraction(0), Fraction(0))
    return Exact(Triangle(one.low + fixed, one.likely + fixed, one.high + fixed))


def mean_of(triangles: Iterable[Triangle]) -> Fraction:
    """The mean of the sum, exact."""
    return sum((one.mean for one in triangles), Fraction(0))


def deviation_of(triangles: Iterable[Triangle]) -> Decimal:
    """The standard deviation of the sum of triangles that vary each on its own: the root of the sum of variances."""
    return root(sum((one.variance for one in triangles), Fraction(0)))


def in_decimals(value: Fraction) -> Decimal:
    """A fraction as a decimal of so many figures."""
    with localcontext() as context:
        context.prec = DIGITS
        return Decimal(value.numerator) / value.denominator


def root(value: Fraction) -> Decimal:
    """The square root, to so many figures."""
    with localcontext() as context:
        context.prec = DIGITS
        return (Decimal(value.numerator) / value.denominator).sqrt()
