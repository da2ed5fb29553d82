"""Closing a case: all options that may matter between its quick bound and the best purchase, searched for the best.

First those that lose little; where nothing is found among them that is a bound, and more are looked at.
"""

from collections.abc import Sequence

from estimator.buying.purchase.case import NEVER, Case, joined
from estimator.buying.purchase.choices import Core, Option, OutOfWork, Packs
from estimator.buying.purchase.model import Bundle, Extra, Want
from estimator.buying.purchase.options import best_options, options_of
from estimator.buying.purchase.proof import Proof, Refused
from estimator.buying.purchase.shares import BY, Weighed
from estimator.buying.purchase.table import Table

MOST_QUICK = 60_000_000
"""Cells of a table that is asked before anything else."""
MOST_LEVELS = 16
GROWTH = 4
"""So many times more may be lost from level to level."""
FIRST = 64
"""At the first level, this part of the gap that is known."""
FIRST_OF_ALL = 4_096
"""Where none is known, this part of the bound."""


def close(case: Case, ceiling: int) -> None:
    """Raise the bound of a case towards a ceiling, and look for better purchases on the way."""
    case.ceiling = ceiling if case.best is None else min(ceiling, case.best.cost)
    if case.weighed is not None and case.bound < case.ceiling < case.given_up:
        Closing(case, case.weighed).run()
        if case.bound < case.ceiling:
            case.given_up = case.ceiling


class Closing:
    """The work on one case; what is found is kept there."""

    def __init__(self, case: Case, best: Weighed) -> None:
        self.case = case
        self.best = best

    def run(self) -> None:
        """Go from level to level until the bound meets the ceiling, or it is too much work."""
        case = self.case
        table = Table(case)
        if table.fits and table.work <= MOST_QUICK:
            self.settle(table)
            return
        self.deepen()
        if case.bound < case.ceiling and table.fits and table.work <= case.work.cells:
            self.settle(table)

    def settle(self, table: Table) -> None:
        """Take what the table says for the bound, and where that is below the ceiling what it buys."""
        case = self.case
        case.work.cells -= table.work
        case.bound = max(case.bound, table.least() + case.asked.charges)
        if table.reached and case.bound < case.ceiling:
            moving, extras = table.bought()
            packs = {want.number: bought for want, bought in moving}
            for want in case.wants:
                if want.number not in packs:
                    bundle = case.cheapest.of(want, case.task.sellers(case.asked.may, want.trip))
                    assert bundle is not None
                    packs[want.number] = bundle.packs
            self.take([packs[want.number] for want in case.wants], extras)

    def deepen(self) -> None:
        """Go from level to level."""
        case = self.case
        known = case.ceiling < NEVER
        step = max(case.grain, (self.level - case.bound) // FIRST if known else case.bound // FIRST_OF_ALL)
        for _ in range(MOST_LEVELS):
            level = min(self.level, case.bound + step)
            try:
                reached = self.searched(level)
            except OutOfWork:
                return
            case.bound = max(case.bound, case.whole(reached))
            if reached < min(level, self.level) or case.bound >= case.ceiling:
                return
            step *= GROWTH

    @property
    def level(self) -> int:
        """What is more by one than the most that a cost below the ceiling can be."""
        return self.case.whole(self.case.ceiling) - self.case.grain + 1

    def searched(self, level: int) -> int:
        """The bound when all options that may end below a level are searched: no more than the level.

        Raises: OutOfWork where they cannot be listed.
        """
        case, gap = self.case, level * BY - self.best.sum
        lists = [self.options(want, bundle, gap) for want, bundle in self.best.picks]
        if not all(lists):
            return level
        charges = case.asked.charges
        core = Core(lists, [case.asked.values[at] for at in case.places], [case.coins[at] for at in case.places])

        def offer(numbers: Sequence[int], counts: Sequence[Sequence[int]]) -> tuple[int, Refused]:
            extras = [
                Extra(*coin, count)
                for coins, many in zip(core.coins, counts, strict=True)
                for coin, count in zip(coins, many, strict=True)
                if count
            ]
            refused = self.take([own[at].packs for own, at in zip(lists, numbers, strict=True)], extras)
            return min(level, self.level) - charges, [(place, numbers[place]) for place in refused]

        search = Proof(core, level - charges, offer)
        return charges + search.run(case.work)

    def options(self, want: Want, bundle: Bundle, gap: int) -> list[Option]:
        """The options of one want that lose less than a gap."""
        case = self.case
        first = want.trip * len(case.task.merchants)
        places = {at - first: place for place, at in enumerate(case.places)}
        ways = case.ways_of(want, case.asked.may)
        off = {at - first: self.best.off[at] for at in case.places}
        lowered = {way.key: BY * way.money - off.get(way.seller, 0) * way.value for way in ways}
        found = options_of(want, ways, lowered, places, len(case.places), bundle, gap)
        possible = [option for option in found if not case.cheapest.refused(want, option.packs)]
        return best_options(possible, lambda option: not want.by_length or case.cheapest.allowed(want, option.packs))

    def take(self, packs: Sequence[Packs], extras: Sequence[Extra]) -> list[int]:
        """The places of wants that cannot be had from their packs; where all can be, or may be, what it comes to is kept."""
        picks, refused, more, unknown = [], [], list(extras), False
        for place, (want, own) in enumerate(zip(self.case.wants, packs, strict=True)):
            try:
                bundle = self.case.cheapest.within(want, own)
            except OutOfWork:
                unknown = True
                continue
            if bundle is None:
                refused.append(place)
                continue
            picks.append((want, bundle))
            spent = dict(bundle.packs)
            more += [Extra(want, way, count - spent.get(way, 0)) for way, count in own if count > spent.get(way, 0)]
        if not refused and not unknown:
            self.case.keep(tuple(picks), joined(more))
        return refused
