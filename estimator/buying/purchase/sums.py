"""All choices of options at once, where there are not too many: a core and a ceiling in, the cheapest choices out.

What a choice lacks of the values asked is made up at each till by itself, from a table of what the packs there come to.
"""

from collections.abc import Iterator, Sequence
from math import gcd, prod
from typing import TYPE_CHECKING

from estimator.buying.purchase.choices import Core, OutOfWork, Pack

if TYPE_CHECKING:
    from numpy import int64
    from numpy.typing import NDArray

MOST_CHOICES = 2_000_000
MOST_CELLS = 60_000_000
"""Of the table of one till: sums by packs."""
MOST_TOLD = 60
IMPOSSIBLE = 1 << 60


def choices(core: Core, ceiling: int) -> Iterator[tuple[int, list[int], list[int]]]:
    """The cheapest choices below a ceiling: money, the option of each want, how many of each pack; cheapest first.

    Where there are more than MOST_TOLD, the last is told without its options and packs. Every want has options.

    Raises: OutOfWork.
    """
    import numpy as np

    if prod(len(own) for own in core.options) > MOST_CHOICES:
        raise OutOfWork
    money, values = _all(core)
    tables = [_Made([pack for pack in core.packs if pack.values[at]], at) for at in range(len(core.asked))]
    shorts = [np.maximum(0, asked - values[at]) for at, asked in enumerate(core.asked)]
    for table, short in zip(tables, shorts, strict=True):
        money = money + table.money(short)
    order = np.argsort(money, kind="stable")
    for told, place in enumerate(order):
        total = int(money[place])
        if total >= ceiling:
            return
        if told >= MOST_TOLD:
            yield total, [], []
            return
        packs = [0] * len(core.packs)
        for table, short in zip(tables, shorts, strict=True):
            for pack in table.packs(int(short[place])):
                packs[core.packs.index(pack)] += 1
        yield total, _numbers(core, int(place)), packs


def _all(core: Core) -> "tuple[NDArray[int64], list[NDArray[int64]]]":
    """Money and values of every choice; the last want's options follow each other."""
    import numpy as np

    money = np.zeros(1, dtype=np.int64)
    values = [np.zeros(1, dtype=np.int64) for _ in core.asked]
    for own in core.options:
        money = np.add.outer(money, np.array([option.money for option in own], dtype=np.int64)).ravel()
        for at in range(len(values)):
            more = np.array([option.values[at] for option in own], dtype=np.int64)
            values[at] = np.add.outer(values[at], more).ravel()
    return money, values


def _numbers(core: Core, place: int) -> list[int]:
    """The options that a choice is made of."""
    found = []
    for own in reversed(core.options):
        place, number = divmod(place, len(own))
        found.append(number)
    return found[::-1]


class _Made:
    """The least money that makes up each shortfall at one till."""

    def __init__(self, packs: Sequence[Pack], at: int) -> None:
        self.own = packs
        self.values = [pack.values[at] for pack in packs]
        self.unit = gcd(*self.values) or 1

    def money(self, short: "NDArray[int64]") -> "NDArray[int64]":
        """The least money for each shortfall."""
        import numpy as np

        need = -(-short // self.unit)
        top = int(need.max())
        if (top + 1) * len(self.own) * max(1, top.bit_length()) > MOST_CELLS:
            raise OutOfWork
        self.exact = np.full(top + 1, IMPOSSIBLE, dtype=np.int64)
        self.exact[0] = 0
        for pack, value in zip(self.own, self.values, strict=True):
            count = 1
            while top and (count - 1) * value // self.unit < top:
                self._add(min(top, count * value // self.unit), count * pack.money)
                count *= 2
        self.least = np.minimum.accumulate(self.exact[::-1])[::-1]
        return self.least[need]

    def _add(self, by: int, money: int) -> None:
        """Let so much money buy so many units; sums above the top count as the top."""
        import numpy as np

        top = len(self.exact) - 1
        moved = np.full(top + 1, IMPOSSIBLE, dtype=np.int64)
        moved[by:] = self.exact[: top + 1 - by] + money
        moved[top] = min(int(moved[top]), int(self.exact[top - by :].min()) + money)
        self.exact = np.minimum(self.exact, moved)

    def packs(self, short: int) -> list[Pack]:
        """Packs that come to that money."""
        need = -(-short // self.unit)
        place = next(at for at in range(need, len(self.exact)) if self.exact[at] == self.least[need])
        found = []
        while place:
            place, pack = self._before(place)
            found.append(pack)
        return found

    def _before(self, place: int) -> tuple[int, Pack]:
        """The sum before the last pack, and that pack."""
        top = len(self.exact) - 1
        for pack, value in zip(self.own, self.values, strict=True):
            by = min(top, value // self.unit)
            first, last = max(0, place - by), place - by if place < top else top
            for before in range(first, last + 1):
                if self.exact[before] + pack.money == self.exact[place]:
                    return before, pack
        raise AssertionError("a sum that no pack leads to")
