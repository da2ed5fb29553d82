"""One choice of makes in one trip, where values are asked at its tills: a quick bound and purchases that reach them out.

`shares` bounds a case; what that leads to, made up to the values with a little more of what is sold there, is a purchase.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import gcd

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.choices import coins_of
from estimator.buying.purchase.model import Extra, Task, Want, Way
from estimator.buying.purchase.proof import Work
from estimator.buying.purchase.shares import BY, Question, Weighed, best_shares
from estimator.buying.purchase.value import Picks, charges_of, goods_money, left_over, values_of

NEVER = 1 << 200


@dataclass(frozen=True, slots=True)
class Asked:
    """`values` of goods asked at tills; `charges` of the tills in use."""

    may: int
    values: Mapping[int, int]
    charges: int


@dataclass(frozen=True, slots=True)
class Kept:
    """What is bought in one trip: it comes to `cost`, its charges included."""

    cost: int
    tills: int
    left_over: Fraction
    picks: Picks
    extras: tuple[Extra, ...]

    @property
    def rank(self) -> tuple[int, int, Fraction]:
        """What orders them."""
        return self.cost, self.tills, self.left_over


class Case:
    """One choice of makes in one trip.

    `bound` is below all that it can cost. All costs differ by a multiple of `grain`, so that bounds are rounded up to that.
    """

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, wants: Sequence[Want], work: Work) -> None:
        self.task = task
        self.cheapest = cheapest
        self.wants = wants
        self.work = work
        self.ways = [self.ways_of(want, asked.may) for want in wants]
        self.grain = gcd(*(way.money for ways in self.ways for way in ways)) or 1
        self.places = sorted(asked.values)
        self.asked = replace(asked, values={at: self.rounded(at, asked.values[at]) for at in self.places})
        self.coins = {at: coins_of(task, wants, at) for at in self.places}
        self.rates = {
            at: min((Fraction(way.money, way.value) for _, way in coins), default=Fraction(0))
            for at, coins in self.coins.items()
        }
        self.best: Kept | None = None
        self.weighed: Weighed | None = None
        self.ceiling = NEVER
        self.given_up = NEVER + 1
        self.bound = NEVER

    def ways_of(self, want: Want, may: int) -> list[Way]:
        """The ways of a want at tills that may be used."""
        merchants = self.task.sellers(may, want.trip)
        return [way for way in want.ways if merchants >> way.seller & 1]

    def rounded(self, at: int, value: int) -> int:
        """A value asked, rounded up to the next that goods there can come to."""
        unit = gcd(
            *(
                way.value
                for want, ways in zip(self.wants, self.ways, strict=True)
                for way in ways
                if self.task.till(want, way.seller) == at
            )
        )
        return -(-value // unit) * unit if unit else value

    def whole(self, bound: int) -> int:
        """A bound rounded up to the next cost that there can be."""
        return bound + (self.asked.charges - bound) % self.grain

    def start(self) -> None:
        """Look for shares; the bound that they give."""
        if all(self.coins.values()):
            question = Question(self.wants, self.asked.may, self.asked.values, self.asked.charges)
            most = {at: BY * rate.numerator // rate.denominator for at, rate in self.rates.items()}
            self.weighed = best_shares(self.task, self.cheapest, question, most, self.see)
            self.bound = self.whole(self.weighed.bound)

    def see(self, weighed: Weighed) -> bool:
        """Make bundles up to the values asked, keep what that comes to; whether there is something left to look for."""
        extras = []
        for at in self.places:
            short = self.asked.values[at] - weighed.values[at]
            if short > 0:
                extras += self.made_up(at, short)
        self.keep(weighed.picks, joined(extras))
        return self.best is None or self.whole(weighed.bound) < self.best.cost

    def keep(self, picks: Picks, extras: Sequence[Extra]) -> None:
        """Keep what is bought where it is better, and lower the ceiling to it."""
        values, used = values_of(self.task, picks, extras)
        charges = charges_of(self.task, values, used)
        if charges is None:
            return
        cost = goods_money(picks, extras) + sum(charges)
        if self.best is None or cost <= self.best.cost:
            found = Kept(cost, used.bit_count(), left_over(picks, extras), picks, tuple(extras))
            if self.best is None or found.rank < self.best.rank:
                self.best = found
                self.ceiling = min(self.ceiling, cost)

    def made_up(self, at: int, short: int) -> list[Extra]:
        """Packs to buy beyond the need, near the cheapest: of the best rate as many as fit, then the cheapest that will do."""
        by_rate = sorted(self.coins[at], key=lambda coin: (Fraction(coin[1].money, coin[1].value), -coin[1].value))
        want, way = by_rate[0]
        extras = [Extra(want, way, short // way.value)] if short >= way.value else []
        rest = short % way.value
        if rest:
            found = [Extra(*coin, -(-rest // coin[1].value)) for coin in by_rate]
            extras.append(min(found, key=lambda extra: extra.way.money * extra.packs))
        return extras


def joined(extras: Sequence[Extra]) -> list[Extra]:
    """Extras of one way as one."""
    counts: dict[tuple[int, str], Extra] = {}
    for extra in extras:
        key = (extra.want.number, extra.way.key)
        known = counts.get(key)
        counts[key] = extra if known is None else replace(known, packs=known.packs + extra.packs)
    return [counts[key] for key in sorted(counts)]
