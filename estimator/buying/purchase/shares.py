"""A bound for a purchase of which values are asked at tills: shares of the values in, the bound and what leads to it out.

What is bought at a till counts less by a share of its value, and that share of the value asked is added: no purchase
that reaches the values costs less than the cheapest bundles then come to.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import lcm

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Task, Want
from estimator.buying.purchase.value import Picks, values_of

MOST_ROUNDS = 12
"""Of looking for the best share at one till."""


@dataclass(frozen=True, slots=True)
class Weighed:
    """What shares lead to. Money counts `by` x, less `off` for each unit of value at each till asked.

    `sum` is the exact bound in that money, `bound` in whole money; `line` what the bundles come to in true money with
    the shares, exact.
    """

    shares: dict[int, Fraction]
    by: int
    off: dict[int, int]
    picks: Picks
    values: list[int]
    sum: int
    line: Fraction

    @property
    def bound(self) -> int:
        """No purchase that reaches the values costs less."""
        return -(-self.sum // self.by)


@dataclass(frozen=True, slots=True)
class Question:
    """Wants, the tills they may be bought at, the values asked of some, and the charges of those in use."""

    wants: Sequence[Want]
    may: int
    values: Mapping[int, int]
    charges: int


def weigh(task: Task, cheapest: Cheapest, of: Question, shares: Mapping[int, Fraction]) -> Weighed:
    """The bound with these shares, none of which takes a price below nought."""
    by = lcm(*(share.denominator for share in shares.values()))
    off = {at: int(share * by) for at, share in shares.items()}
    picks, total = [], by * of.charges
    for want in of.wants:
        first = want.trip * len(task.merchants)
        discount = tuple((at - first, off[at]) for at in sorted(off) if task.tills[at].trip == want.trip)
        bundle = cheapest.lowered(want, task.sellers(of.may, want.trip), by, discount)
        picks.append((want, bundle))
        total += bundle.bound
    values, _ = values_of(task, tuple(picks))
    total += sum(off[at] * asked for at, asked in of.values.items())
    line = sum((shares[at] * (asked - values[at]) for at, asked in of.values.items()), Fraction(of.charges))
    line += sum(bundle.cost for _, bundle in picks)
    return Weighed(dict(shares), by, off, tuple(picks), values, total, line)


def best_shares(
    task: Task, cheapest: Cheapest, of: Question, most: Mapping[int, Fraction], see: Callable[[Weighed], bool]
) -> Weighed:
    """The best bound found by bettering one till's share after another; `see` gets all, and says whether to go on."""
    best = weigh(task, cheapest, of, {at: Fraction(0) for at in most})
    if not see(best):
        return best
    for _ in range(1 if len(most) == 1 else 2):
        for at in most:
            for weighed in _crossings(task, cheapest, of, best.shares, at, most[at]):
                if weighed.sum * best.by > best.sum * weighed.by:
                    best = weighed
                if not see(weighed):
                    return best
    return best


def _crossings(
    task: Task, cheapest: Cheapest, of: Question, shares: Mapping[int, Fraction], at: int, most: Fraction
) -> list[Weighed]:
    """Shares of one till, the others kept: both ends, then where the lines of two purchases cross, until none is lower."""

    def tried(share: Fraction) -> tuple[Weighed, Fraction]:
        weighed = weigh(task, cheapest, of, {**shares, at: share})
        return weighed, Fraction(of.values[at] - weighed.values[at])

    (low, rise), (high, fall) = tried(Fraction(0)), tried(most)
    found = [low, high]
    for _ in range(MOST_ROUNDS):
        if rise <= 0 or fall >= 0:
            break
        flat, other = low.line - rise * low.shares[at], high.line - fall * high.shares[at]
        share = (other - flat) / (rise - fall)
        if not low.shares[at] < share < high.shares[at]:
            break
        middle, slope = tried(share)
        found.append(middle)
        if middle.line >= flat + rise * share:
            break
        if slope > 0:
            low, rise = middle, slope
        else:
            high, fall = middle, slope
    return found
