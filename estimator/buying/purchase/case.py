"""One choice of makes where values are asked at tills: a quick bound and purchases that reach the values out.

`shares` bounds a case; what that leads to, made up to the values with a little more of what is sold there, is a purchase.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import lcm

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.choices import Freely, Work
from estimator.buying.purchase.model import Extra, Purchase, Task, Want
from estimator.buying.purchase.shares import BY, Question, Weighed, best_shares
from estimator.buying.purchase.surplus import Surplus, coins_of, surplus
from estimator.buying.purchase.value import Picks, purchase_of

NEVER = 1 << 200


@dataclass(frozen=True, slots=True)
class Asked:
    """`values` of goods asked at tills; `charges` of the tills in use."""

    may: int
    values: Mapping[int, int]
    charges: int


class Case:
    """One choice of makes."""

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, wants: Sequence[Want], work: Work) -> None:
        self.task = task
        self.cheapest = cheapest
        self.asked = asked
        self.wants = wants
        self.work = work
        self.places = sorted(asked.values)
        self.coins = {at: coins_of(task, wants, at) for at in self.places}
        self.rates = {
            at: min((Fraction(way.money, way.value) for _, way in coins), default=Fraction(0))
            for at, coins in self.coins.items()
        }
        per = lcm(*(rate.denominator for rate in self.rates.values()))
        self.freely = Freely(per, tuple(int(self.rates[at] * per) for at in self.places))
        self.tables: dict[int, Surplus | None] = {}
        self.found: list[Purchase] = []
        self.best: Weighed | None = None
        self.ceiling = NEVER
        self.bound = NEVER

    def start(self, ceiling: int) -> None:
        """Look for shares; the bound that they give."""
        self.ceiling = ceiling
        if all(self.coins.values()):
            question = Question(self.wants, self.asked.may, self.asked.values, self.asked.charges)
            most = {at: BY * rate.numerator // rate.denominator for at, rate in self.rates.items()}
            self.best = best_shares(self.task, self.cheapest, question, most, self.see)
            self.bound = self.best.bound

    def see(self, weighed: Weighed) -> bool:
        """Make bundles up to the values asked, keep that as a purchase; whether there is something left to look for."""
        shorts = [self.asked.values[at] - weighed.values[at] for at in self.places]
        cost = self.asked.charges + sum(bundle.cost for _, bundle in weighed.picks)
        least = cost + sum(self.rates[at] * max(0, short) for at, short in zip(self.places, shorts, strict=True))
        if least < self.ceiling:
            self.keep(weighed.picks, self.made_up(shorts))
        return weighed.bound < self.ceiling

    def keep(self, picks: Picks, extras: Sequence[Extra]) -> None:
        """Keep a purchase, and lower the ceiling to it."""
        purchase = purchase_of(self.task, picks, extras)
        if purchase is not None:
            self.found.append(purchase)
            self.ceiling = min(self.ceiling, purchase.cost)

    def made_up(self, shorts: Sequence[int]) -> list[Extra]:
        """Packs to buy beyond the need: the cheapest, or where the tables do not go so far, near the cheapest."""
        extras: list[Extra] = []
        for at, short in zip(self.places, shorts, strict=True):
            if short > 0:
                table = self.table(at, short)
                if table is None:
                    extras += self.in_large_packs(at, short)
                else:
                    extras += [Extra(*table.coins[place], count) for place, count in sorted(table.packs(short).items())]
        return joined(extras)

    def in_large_packs(self, at: int, short: int) -> list[Extra]:
        """Packs of the best rate, the largest first, until a table tells the rest of a shortfall."""
        best = [coin for coin in self.coins[at] if Fraction(coin[1].money, coin[1].value) == self.rates[at]]
        extras = []
        for want, way in sorted(best, key=lambda coin: -coin[1].value):
            count = short // way.value - 1
            if count > 0:
                extras.append(Extra(want, way, count))
                short -= count * way.value
                table = self.table(at, short)
                if table is not None:
                    rest = sorted(table.packs(short).items())
                    return [*extras, *(Extra(*table.coins[place], packs) for place, packs in rest)]
        want, way = min(best, key=lambda coin: coin[1].value)
        return [*extras, Extra(want, way, -(-short // way.value))]

    def table(self, at: int, short: int) -> Surplus | None:
        """The table of a till up to a shortfall."""
        known = self.tables.get(at)
        if known is None or not known.reaches(short):
            known = self.tables[at] = surplus(self.coins[at], short)
        return known


def joined(extras: Sequence[Extra]) -> list[Extra]:
    """Extras of one way as one."""
    counts: dict[tuple[int, str], Extra] = {}
    for extra in extras:
        key = (extra.want.number, extra.way.key)
        known = counts.get(key)
        counts[key] = extra if known is None else replace(known, packs=known.packs + extra.packs)
    return [counts[key] for key in sorted(counts)]
