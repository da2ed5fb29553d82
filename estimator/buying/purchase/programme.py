"""The choice of options as a linear programme: which columns may be taken in, a bound in whole numbers and a hint where to look out.

The programme speaks in floats and proves nothing. What it says each unit of value is worth is rounded to whole numbers, and
the bound worked out anew from that: a column costs less by what it brings is worth, and what is asked is worth is added.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import gcd
from typing import TYPE_CHECKING

from estimator.buying.purchase.choices import Core

if TYPE_CHECKING:
    from highspy import Highs
    from numpy import float64, int64
    from numpy.typing import NDArray

FINEST = 20
"""Worths are whole numbers of 1 / 2 ** FINEST at the finest, and of 1 / 2 ** COARSEST at the coarsest."""
COARSEST = 8
LARGEST = 1 << 58
TOO_DEAR = 16
"""What lacks of a value costs so many times what the dearest pack for it does."""
SHIFTS = (8, 24, 0, 48)
"""So many bits more is worth what cannot be reached, one after another."""
TINY = 1e-7


@dataclass(frozen=True, slots=True)
class Told:
    """`bound` below all choices, and `exact` the same in 1 / `fine`; in that, too, what each column costs `above` the cheapest
    of its want. `taken` of each column, in floats; None where that lacks some of what is asked.
    """

    bound: int
    above: "NDArray[int64]"
    exact: int
    taken: "NDArray[float64] | None"


class Programme:
    """The columns of a core: the options of each want, then packs to be bought beyond the need."""

    def __init__(self, core: Core) -> None:
        import numpy as np

        self.first = [0]
        for own in core.options:
            self.first.append(self.first[-1] + len(own))
        options = [option for own in core.options for option in own]
        rows = len(core.asked)
        money = [option.money for option in options] + [pack.money for pack in core.packs]
        values = [(*option.values, *(0,) * (rows - len(option.values))) for option in options]
        values += [pack.values for pack in core.packs]
        by = [gcd(*(row[at] for row in values)) or 1 for at in range(len(core.asked))]
        total = 1 + sum(max(option.money for option in own) for own in core.options)
        total += sum(
            asked
            * (1 + max((-(-of // value[at]) for of, value in zip(money, values, strict=True) if value[at]), default=0))
            for at, asked in enumerate(core.asked)
        )
        total *= TOO_DEAR
        self.fine = 1 << min(FINEST, max(0, (LARGEST // total).bit_length() - 1))
        self.fits = self.fine >= 1 << COARSEST
        if not self.fits:
            return
        self.money = np.array(money, dtype=np.int64)
        self.values = np.array(values, dtype=np.int64).reshape(len(money), len(by)) // np.array(by, dtype=np.int64)
        self.asked = np.array([-(-asked // each) for asked, each in zip(core.asked, by, strict=True)], dtype=np.int64)
        tops = [1] * len(options)
        for pack in core.packs:
            tops.append(
                max((-(-asked // of) for asked, of in zip(core.asked, pack.values, strict=True) if of), default=0)
            )
        self.tops = np.array(tops, dtype=np.int64)
        self.want_of = np.repeat(np.arange(len(core.options)), [len(own) for own in core.options])
        self.unit = gcd(*money) or 1
        self.highs = self._model()

    def _model(self) -> "Highs":
        import numpy as np

        from estimator.solvers import must, quiet_highs

        highs = quiet_highs(solver="simplex")
        many, wants = len(self.money), len(self.first) - 1
        must(highs.addVars(many, np.zeros(many), self.tops.astype(float)), "columns")
        must(highs.changeColsCost(many, np.arange(many, dtype=np.int32), self.money / self.unit), "costs")
        for start, end in pairwise(self.first):
            columns = np.arange(start, end, dtype=np.int32)
            must(highs.addRow(1.0, 1.0, end - start, columns, np.ones(end - start)), "one option")
        dear = []
        for at, asked in enumerate(self.asked):
            columns = np.nonzero(self.values[:, at])[0].astype(np.int32)
            values = self.values[columns, at].astype(float)
            must(highs.addRow(float(asked), highs.inf, len(columns), columns, values), "value")
            dear.append(float(max(self.money[columns] / self.unit / values, default=1.0)) * TOO_DEAR + 1.0)
            must(highs.addCol(dear[-1], 0.0, highs.inf, 1, [wants + at], [1.0]), "what lacks")
        self.costs = np.concatenate([self.money / self.unit, dear])
        return highs

    def solve(self, low: "NDArray[int64]", high: "NDArray[int64]", ceiling: int) -> Told:
        """What the columns come to between their least and their most numbers; a bound above the ceiling need be no higher."""
        import numpy as np
        from highspy import HighsModelStatus

        from estimator.solvers import must

        many, wants = len(self.money), len(self.first) - 1
        columns = np.arange(many, dtype=np.int32)
        must(self.highs.changeColsBounds(many, columns, low.astype(float), high.astype(float)), "bounds")
        must(self.highs.run(), "run")
        solution = self.highs.getSolution()
        if self.highs.getModelStatus() != HighsModelStatus.kOptimal:
            return self.told(low, high, np.zeros(len(self.asked), dtype=np.int64), None)
        duals = np.array(solution.row_dual[wants:])
        worth = np.maximum(0, np.rint(duals * (self.unit * self.fine))).astype(np.int64)
        taken = np.array(solution.col_value)
        if len(self.asked) and taken[many:].max() > TINY:
            return self.lacking(low, high, self.told(low, high, worth, None), worth, ceiling)
        return self.told(low, high, worth, taken[:many])

    def told(
        self, low: "NDArray[int64]", high: "NDArray[int64]", worth: "NDArray[int64]", taken: "NDArray[float64] | None"
    ) -> Told:
        """The bound that some worths give."""
        import numpy as np

        options = self.first[-1]
        lowered = self.money * self.fine - self.values @ worth
        own = np.where(high[:options] > 0, lowered[:options], LARGEST * 4)
        least = np.minimum.reduceat(own, self.first[:-1]) if options else own
        coins = lowered[options:]
        sum_ = int(least.sum()) + int(self.asked @ worth)
        sum_ += int(np.where(coins >= 0, coins * low[options:], coins * high[options:]).sum())
        above = np.concatenate([own - least[self.want_of], coins])
        return Told(-(-sum_ // self.fine), above, sum_, taken)

    def lacking(
        self, low: "NDArray[int64]", high: "NDArray[int64]", told: Told, worth: "NDArray[int64]", ceiling: int
    ) -> Told:
        """The bound where something asked cannot be reached: what is lacking least then tells what is to be worth more."""
        import numpy as np

        from estimator.solvers import must

        many, wants, rows = len(self.money), len(self.first) - 1, len(self.asked)
        columns = np.arange(many + rows, dtype=np.int32)
        must(self.highs.changeColsCost(many + rows, columns, np.array([0.0] * many + [1.0] * rows)), "costs")
        must(self.highs.run(), "run")
        ray = [max(0, round(of * self.fine)) for of in self.highs.getSolution().row_dual[wants:]]
        must(self.highs.changeColsCost(many + rows, columns, self.costs), "costs")
        start = [int(of) for of in worth]
        bound = told.bound
        for shift in SHIFTS:
            if bound < ceiling:
                more = [of + (up << shift) for of, up in zip(start, ray, strict=True)]
                bound = max(bound, self.bound_with(low, high, more))
        return Told(bound, told.above, told.exact, None)

    def bound_with(self, low: "NDArray[int64]", high: "NDArray[int64]", worth: Sequence[int]) -> int:
        """The bound that worths of any size give."""
        values = self.values.tolist()
        lowered = [
            money * self.fine - sum(a * b for a, b in zip(row, worth, strict=True))
            for money, row in zip(self.money.tolist(), values, strict=True)
        ]
        total = sum(a * b for a, b in zip(self.asked.tolist(), worth, strict=True))
        for first, end in pairwise(self.first):
            total += min(lowered[at] for at in range(first, end) if high[at])
        for at in range(self.first[-1], len(lowered)):
            total += lowered[at] * int(low[at] if lowered[at] >= 0 else high[at])
        return -int(-total // self.fine)
