"""A bound for a purchase of which values are asked at tills: shares of the values in, the bound and what leads to it out.

What is bought at a till counts less by a share of its value, and that share of the value asked is added: no purchase
that reaches the values costs less than the cheapest bundles then come to. Shares are sought among the bundles that are
known, and tried on all; that may find new bundles.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Task, Want
from estimator.buying.purchase.value import Picks, values_of

BY = 10_000
"""Shares are whole numbers of 1 / BY."""
MOST_ROUNDS = 6
MOST_SWEEPS = 3


@dataclass(frozen=True, slots=True)
class Weighed:
    """What shares lead to. Money counts BY x, less `off` for each unit of value at each till asked; so does `sum`."""

    off: dict[int, int]
    picks: Picks
    values: list[int]
    sum: int

    @property
    def bound(self) -> int:
        """No purchase that reaches the values costs less."""
        return -(-self.sum // BY)


@dataclass(frozen=True, slots=True)
class Question:
    """Wants, the tills they may be bought at, the values asked of some, and the charges of those in use."""

    wants: Sequence[Want]
    may: int
    values: Mapping[int, int]
    charges: int


def weigh(task: Task, cheapest: Cheapest, of: Question, off: Mapping[int, int]) -> Weighed:
    """The bound with these shares, none of which takes a price below nought."""
    picks, total = [], BY * of.charges + sum(off[at] * asked for at, asked in of.values.items())
    for want in of.wants:
        first = want.trip * len(task.merchants)
        discount = tuple((at - first, off[at]) for at in sorted(off) if task.tills[at].trip == want.trip)
        bundle = cheapest.lowered(want, task.sellers(of.may, want.trip), BY, discount)
        picks.append((want, bundle))
        total += bundle.bound
    values, _ = values_of(task, tuple(picks))
    return Weighed(dict(off), tuple(picks), values, total)


def best_shares(
    task: Task, cheapest: Cheapest, of: Question, most: Mapping[int, int], see: Callable[[Weighed], bool]
) -> Weighed:
    """The best bound found; `most` are the largest shares, and `see` gets all that is tried and says whether to go on."""
    best = weigh(task, cheapest, of, dict.fromkeys(most, 0))
    if not see(best):
        return best
    tried = [best.off]
    for _ in range(MOST_ROUNDS):
        off, hoped = _among_known(task, cheapest, of, most, best.off)
        if off in tried:
            break
        tried.append(off)
        weighed = weigh(task, cheapest, of, off)
        best = max(best, weighed, key=lambda one: one.sum)
        if not see(weighed) or weighed.sum >= hoped:
            break
    return best


Column = tuple[int, tuple[int, ...]]
"""A bundle's money (BY x) and its values at the tills asked."""


def _among_known(
    task: Task, cheapest: Cheapest, of: Question, most: Mapping[int, int], start: Mapping[int, int]
) -> tuple[dict[int, int], int]:
    """The best shares where only known bundles count, one till after another, and the bound that they promise."""
    places = sorted(most)
    lists = [_columns(task, cheapest, of, want, places) for want in of.wants]
    asked = [of.values[at] for at in places]
    off = [start[at] for at in places]

    for _ in range(MOST_SWEEPS if len(places) > 1 else 1):
        before = list(off)
        for place, at in enumerate(places):
            off[place] = _best_share(lists, off, place, asked[place], most[at])
        if off == before:
            break
    hoped = BY * of.charges + sum(a * b for a, b in zip(off, asked, strict=True))
    hoped += sum(min(_lowered(column, off) for column in columns) for columns in lists)
    return dict(zip(places, off, strict=True)), hoped


def _lowered(column: Column, off: Sequence[int]) -> int:
    return column[0] - sum(a * b for a, b in zip(off, column[1], strict=True))


def _best_share(lists: Sequence[Sequence[Column]], off: Sequence[int], place: int, asked: int, most: int) -> int:
    """The largest share of one till, the others kept, below which the cheapest bundles do not reach the value asked."""
    others = [0 if at == place else share for at, share in enumerate(off)]
    lines = [[(_lowered(column, others), column[1][place]) for column in columns] for columns in lists]
    fixed = sum(line[0][1] for line in lines if len(line) == 1)
    moving = [line for line in lines if len(line) > 1]
    low, high = 0, most + 1
    while high - low > 1:
        share = (low + high) // 2
        reached = fixed + sum(min((money - share * value, value) for money, value in line)[1] for line in moving)
        if reached < asked:
            low = share
        else:
            high = share
    return low


def _columns(task: Task, cheapest: Cheapest, of: Question, want: Want, places: Sequence[int]) -> list[Column]:
    """What is known of a want, as far as it comes from tills that may be used; of equal values the cheapest alone."""
    merchants = task.sellers(of.may, want.trip)
    found: dict[tuple[int, ...], int] = {}
    for bundle in cheapest.known(want):
        if not bundle.used & ~merchants:
            at_till = dict.fromkeys(places, 0)
            for way, count in bundle.packs:
                at = task.till(want, way.seller)
                if at in at_till:
                    at_till[at] += way.value * count
            values = tuple(at_till[at] for at in places)
            found[values] = min(BY * bundle.cost, found.get(values, BY * bundle.cost))
    return [(money, values) for values, money in sorted(found.items())]
