"""What choosing among options works with: the options, when one outdoes another, and how much work may be done."""

from dataclasses import dataclass

from estimator.buying.purchase.model import Way

Packs = tuple[tuple[Way, int], ...]


@dataclass(frozen=True, slots=True)
class Option:
    """One way to buy a want: its money, what it is worth at each till asked, its packs."""

    money: int
    values: tuple[int, ...]
    packs: tuple[tuple[Way, int], ...]


@dataclass(frozen=True, slots=True)
class Freely:
    """More value can be bought at each till at a rate: `rates` money for `per` of value. None of it: no rates."""

    per: int = 1
    rates: tuple[int, ...] = ()

    def outdoes(self, money: int, values: tuple[int, ...], other: int, others: tuple[int, ...]) -> bool:
        """Whether money that brings values, and what makes them up to the others, is no more than the other money."""
        spare = (other - money) * self.per
        if not self.rates:
            return spare >= 0 and all(a >= b for a, b in zip(values, others, strict=True))
        for a, b, rate in zip(values, others, self.rates, strict=True):
            if b > a:
                spare -= (b - a) * rate
        return spare >= 0


NOTHING = Freely()
"""Values are made up by packs alone."""


class OutOfWork(Exception):
    """The work allowed does not suffice."""


@dataclass
class Work:
    """What may still be done, counted in options joined to labels."""

    left: int

    def spend(self, amount: int) -> None:
        """Raises OutOfWork where there is not so much left."""
        self.left -= amount
        if self.left < 0:
            raise OutOfWork
