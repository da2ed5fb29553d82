"""Reaching a merchant's limits: tills that may be used and values asked of some in, ways to reach them and a bound out.

Each make of each match group is a case of its own. A case is bounded by taking off the price of what is bought at a
till a share of its value, and adding that share of the value that is asked: no purchase that reaches the values costs
less. What such prices lead to, made up to the values with a little more of what is sold there, is a purchase.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from math import lcm

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Extra, Purchase, Task, Want
from estimator.buying.purchase.surplus import Surplus, coins_of, surplus
from estimator.buying.purchase.value import Picks, purchase_of, values_of

MOST_CASES = 64
MOST_ROUNDS = 12
"""Of looking for the best share at one till."""


@dataclass(frozen=True, slots=True)
class Asked:
    """`values` of goods asked at tills; `charges` of the tills in use; purchases at or above `ceiling` are of no use."""

    may: int
    values: Mapping[int, int]
    charges: int
    ceiling: int | None
    minimums: bool


@dataclass(frozen=True, slots=True)
class Settled:
    """Purchases found, and a bound below every purchase that reaches the values."""

    purchases: tuple[Purchase, ...]
    bound: int


def settle(task: Task, cheapest: Cheapest, asked: Asked) -> Settled:
    """Purchases that reach the values asked, the best bound that was found; the ceiling where there is none below it."""
    purchases: list[Purchase] = []
    ceiling = asked.ceiling
    bounds = []
    for number, wants in enumerate(cases(task)):
        if any(cheapest.of(want, task.sellers(asked.may, want.trip)) is None for want in wants):
            continue
        if number >= MOST_CASES:
            bounds.append(0)
            break
        case = _Case(task, cheapest, asked, wants)
        bounds.append(case.run(ceiling))
        purchases += case.found
        for purchase in case.found:
            ceiling = purchase.cost if ceiling is None else min(ceiling, purchase.cost)
    never = 1 + max((purchase.cost for purchase in purchases), default=0)
    return Settled(tuple(purchases), min(bounds, default=never if ceiling is None else ceiling))


def cases(task: Task) -> Iterator[tuple[Want, ...]]:
    """Every choice of makes, as the wants it comes to."""
    for makes in product(*(block.makes for block in task.blocks)):
        yield tuple(want for wants in makes for want in wants)


class _Case:
    """One choice of makes."""

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, wants: Sequence[Want]) -> None:
        self.task = task
        self.cheapest = cheapest
        self.asked = asked
        self.wants = wants
        self.places = sorted(asked.values)
        self.coins = {at: coins_of(task, wants, at) for at in self.places}
        self.shares = dict.fromkeys(self.places, Fraction(0))
        self.found: list[Purchase] = []
        self.tables: dict[int, Surplus | None] = {}

    def run(self, ceiling: int | None) -> int:
        """Look for purchases; the best bound."""
        if any(not self.coins[at] for at in self.places):
            return ceiling if ceiling is not None else 1 << 200
        bound = self.weigh(self.shares)[0]
        for _ in range(1 if len(self.places) == 1 else 2):
            for at in self.places:
                if ceiling is None or bound < ceiling:
                    bound = max(bound, self.improve(at))
        return bound if ceiling is None else min(bound, ceiling)

    def improve(self, at: int) -> int:
        """Better the share of one till, the others kept: where the lines of two purchases cross, until none is lower."""
        most = min(Fraction(way.money, way.value) for _, way in self.coins[at])
        low, high = Fraction(0), most
        ends = {share: self.line(at, share) for share in (low, high)}
        best = max((bound, share) for share, (bound, _, _) in ends.items())
        for _ in range(MOST_ROUNDS):
            (_, flat, rise), (_, other, fall) = ends[low], ends[high]
            if rise <= 0 or fall >= 0:
                break
            share = (other - flat) / (rise - fall)
            if not low < share < high:
                break
            line = self.line(at, share)
            best = max(best, (line[0], share))
            if line[0] >= flat + rise * share:
                break
            if line[2] > 0:
                low = share
            else:
                high = share
            ends[share] = line
        self.shares[at] = best[1]
        return best[0]

    def line(self, at: int, share: Fraction) -> tuple[int, Fraction, Fraction]:
        """The bound with this share at a till, and the purchase's cost as a line over shares: at nought, and its rise."""
        shares = {**self.shares, at: share}
        bound, exact, values = self.weigh(shares)
        rise = Fraction(self.asked.values[at] - values[at])
        return bound, exact - rise * share, rise

    def weigh(self, shares: Mapping[int, Fraction]) -> tuple[int, Fraction, list[int]]:
        """The bound with these shares; what the cheapest bundles come to, exact; their values by till."""
        by = lcm(*(share.denominator for share in shares.values()))
        off = {at: int(share * by) for at, share in shares.items()}
        picks, bound = [], 0
        for want in self.wants:
            first = want.trip * len(self.task.merchants)
            discount = tuple((at - first, off[at]) for at in self.places if self.task.tills[at].trip == want.trip)
            merchants = self.task.sellers(self.asked.may, want.trip)
            bundle = self.cheapest.lowered(want, merchants, by, discount)
            picks.append((want, bundle))
            bound += bundle.bound
        bought = tuple(picks)
        values, _ = values_of(self.task, bought)
        self.make_up(bought, values)
        bound += sum(off[at] * asked for at, asked in self.asked.values.items()) + by * self.asked.charges
        exact = sum(bundle.cost for _, bundle in picks) + sum(
            shares[at] * (asked - values[at]) for at, asked in self.asked.values.items()
        )
        return -(-bound // by), Fraction(exact + self.asked.charges), values

    def make_up(self, picks: Picks, values: Sequence[int]) -> None:
        """Buy a little more where these bundles fall short, and keep the purchase."""
        extras: list[Extra] = []
        for at, asked in self.asked.values.items():
            short = asked - values[at]
            if short > 0:
                table = self.table(at, short)
                if table is None:
                    return
                coins = table.coins
                extras += [Extra(*coins[place], count) for place, count in sorted(table.packs(short).items())]
        purchase = purchase_of(self.task, picks, extras, minimums=self.asked.minimums)
        if purchase is not None:
            self.found.append(purchase)

    def table(self, at: int, short: int) -> Surplus | None:
        """The table of a till up to a shortfall."""
        known = self.tables.get(at)
        if known is None or not known.reaches(short):
            known = self.tables[at] = surplus(self.coins[at], short)
        return known
