"""Buying a little more: packs for sale at one till and a shortfall in, the least money that closes it out."""

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from estimator.buying.purchase.model import Task, Want, Way

MOST_SUMS = 40_000

Coin = tuple[Want, Way]


def coins_of(task: Task, wants: Sequence[Want], till: int) -> tuple[Coin, ...]:
    """What may be bought at a till in any number: the cheapest money for each value, by value."""
    best: dict[int, Coin] = {}
    for want in wants:
        for way in want.ways:
            if task.till(want, way.seller) == till and way.value:
                known = best.get(way.value)
                if known is None or (way.money, way.key) < (known[1].money, known[1].key):
                    best[way.value] = (want, way)
    return tuple(best[value] for value in sorted(best))


@dataclass(frozen=True, slots=True)
class Surplus:
    """Sums that packs can come to, up to `top` (which stands for all sums above it too), rising.

    `cost` is the least money of packs worth a sum or more; `at` the place of the sum that it buys; `last` the last pack
    of each sum, by place among `coins`.
    """

    top: int
    sums: tuple[int, ...]
    cost: tuple[int, ...]
    at: tuple[int, ...]
    last: dict[int, tuple[int, int]]
    coins: tuple[Coin, ...]

    def reaches(self, short: int) -> bool:
        """Whether the sums go so far."""
        return short <= self.top

    def money(self, short: int) -> int:
        """The least money for a shortfall."""
        return self.cost[bisect_left(self.sums, short)]

    def packs(self, short: int) -> dict[int, int]:
        """How many of which coins that money buys, by place."""
        found: dict[int, int] = {}
        left = self.sums[self.at[bisect_left(self.sums, short)]]
        while left > 0:
            place, left = self.last[left]
            found[place] = found.get(place, 0) + 1
        return found


def surplus(coins: tuple[Coin, ...], short: int) -> Surplus | None:
    """The sums up to a shortfall; None where nothing is for sale or there are too many of them."""
    money = {0: 0}
    last: dict[int, tuple[int, int]] = {}
    for place, (_, way) in enumerate(coins):
        own = min(way.value, short)
        if own in money and money[own] <= way.money:
            continue  # smaller packs come to the same for no more
        for start in sorted(money):
            before = start
            while before < short:
                after, paid = min(before + way.value, short), money[before] + way.money
                if after in money and money[after] <= paid:
                    break
                money[after], last[after] = paid, (place, before)
                before = after
        if len(money) > MOST_SUMS:
            return None
    if short not in money:
        return None
    sums = tuple(sorted(money))
    cost, at = [money[short]], [len(sums) - 1]
    for place in range(len(sums) - 2, -1, -1):
        better = money[sums[place]] <= cost[-1]
        cost.append(money[sums[place]] if better else cost[-1])
        at.append(place if better else at[-1])
    return Surplus(short, sums, tuple(reversed(cost)), tuple(reversed(at)), last, coins)
