"""Buying a little more: packs for sale at one till and a shortfall in, the least money that closes it out."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import reduce
from math import gcd

from estimator.buying.purchase.model import Task, Want, Way

MOST_CELLS = 20_000
"""Of the table over all shortfalls; beyond it only the best rate is told."""

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
    """For each shortfall in steps of `unit`: the least money of packs that together are worth that or more."""

    unit: int
    cost: tuple[int, ...]
    last: tuple[int, ...]
    coins: tuple[Coin, ...]

    def reaches(self, short: int) -> bool:
        """Whether the table goes so far."""
        return -(-short // self.unit) < len(self.cost)

    def money(self, short: int) -> int:
        """The least money for a shortfall."""
        return self.cost[-(-short // self.unit)]

    def packs(self, short: int) -> dict[int, int]:
        """How many of which coins that money buys, by place."""
        found: dict[int, int] = {}
        left = -(-short // self.unit)
        while left > 0:
            place = self.last[left]
            found[place] = found.get(place, 0) + 1
            left -= self.coins[place][1].value // self.unit
        return found


def surplus(coins: tuple[Coin, ...], short: int) -> Surplus | None:
    """The table up to a shortfall; None where nothing is for sale or the table would be too long."""
    unit = reduce(gcd, (way.value for _, way in coins), 0)
    if not unit or -(-short // unit) > MOST_CELLS:
        return None
    size = -(-short // unit) + 1
    never = 1 + sum(way.money for _, way in coins) * size
    cost, last = [0] + [never] * (size - 1), [-1] * size
    for place, (_, way) in enumerate(coins):
        step = way.value // unit
        if step < size and cost[step] <= way.money:
            continue  # smaller packs come to the same for no more
        for cell in range(1, size):
            money = cost[cell - step if cell > step else 0] + way.money
            if money < cost[cell]:
                cost[cell], last[cell] = money, place
    return Surplus(unit, tuple(cost), tuple(last), coins)
