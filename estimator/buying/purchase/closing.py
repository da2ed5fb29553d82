"""Closing a case: all options that may matter between its quick bound and the best purchase, searched for the best.

First those that lose little; where nothing is found among them that is a bound, and more are looked at.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from math import prod

from estimator.buying.purchase.case import NEVER, Case, joined
from estimator.buying.purchase.choices import Core, Option, OutOfWork, Pack, Packs
from estimator.buying.purchase.model import Bundle, Extra, Want, Way
from estimator.buying.purchase.options import best_options, options_of
from estimator.buying.purchase.proof import Proof, Refused
from estimator.buying.purchase.shares import BY, Weighed
from estimator.buying.purchase.steps import cut_apart, free_masks, unit_by_unit
from estimator.buying.purchase.sums import choices
from estimator.buying.purchase.table import Table

MOST_QUICK = 60_000_000
"""Cells of a table that is asked before anything else."""
MOST_OPTIONS = 100
"""Of one want, above which its packs are looked at one by one."""
MOST_PIECES = 5
"""Of a want whose lengths are looked at one by one."""
FEW_CHOICES = 100_000
"""Choices of options that are looked at one and all before anything else."""
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
        if table.fits and table.work <= min(MOST_QUICK, case.work.cells):
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
            self.take({want.number: bought for want, bought in moving}, extras)

    def deepen(self) -> None:
        """Go from level to level."""
        case = self.case
        known = case.ceiling < NEVER
        step = max(case.grain, (self.level - case.bound) // FIRST if known else case.bound // FIRST_OF_ALL)
        for _ in range(MOST_LEVELS):
            level = min(self.level, case.bound + step)
            try:
                reached = self.searched(level)
                if reached < min(level, self.level) and level < self.level:
                    # Not proven here, yet something better may lie above.
                    reached = max(reached, self.searched(self.level))
                    level = self.level
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
        """The bound when all that may end below a level is searched: no more than the level.

        Raises: OutOfWork where it cannot be listed.
        """
        every, packed = self.listed(level * BY - self.best.sum)
        if not all(every.values()):
            return level
        if len(every) == len(self.best.picks) and prod(map(len, every.values())) <= FEW_CHOICES:
            with suppress(OutOfWork):
                return self.summed(every, level)
        reached = self.proven({number: own for number, own in every.items() if number not in packed}, packed, level)
        if reached < min(level, self.level) and len(every) == len(self.best.picks):
            with suppress(OutOfWork):
                reached = max(reached, self.summed(every, level))
        return reached

    def proven(self, lists: dict[int, list[Option]], packed: Mapping[int, Want], level: int) -> int:
        """The bound that a search by linear programmes gives."""
        core, charges = self.core(lists, list(packed.values())), self.case.asked.charges

        def offer(numbers: Sequence[int], counts: Sequence[int]) -> tuple[int, Refused]:
            refused = self.offered(core, lists, numbers, counts)
            return min(level, self.level) - charges, refused

        return charges + Proof(core, level - charges, offer).run(self.case.work)

    def summed(self, lists: dict[int, list[Option]], level: int) -> int:
        """The bound when all choices are looked at, the cheapest first.

        Raises: OutOfWork where there are too many.
        """
        core, charges = self.core(lists, []), self.case.asked.charges
        for money, numbers, counts in choices(core, min(level, self.level) - charges):
            if not numbers or not self.offered(core, lists, numbers, counts):
                return charges + money
        return min(level, self.level)

    def offered(
        self, core: Core, lists: Mapping[int, list[Option]], numbers: Sequence[int], counts: Sequence[int]
    ) -> Refused:
        """Keep what a choice comes to; the options of it that cannot be had, by the place of their want."""
        packs = {number: Counter(dict(own[at].packs)) for (number, own), at in zip(lists.items(), numbers, strict=True)}
        extras = []
        for pack, count in zip(core.packs, counts, strict=True):
            if count and any(pack.values[len(self.case.places) :]):
                packs.setdefault(pack.want.number, Counter())[pack.way] += count * pack.count
            elif count:
                extras.append(Extra(pack.want, pack.way, count))
        refused = set(self.take({number: ordered(own) for number, own in packs.items()}, extras))
        refused -= {pack.want.number for pack in core.packs if any(pack.values[len(self.case.places) :])}
        places = enumerate(zip(lists, numbers, strict=True))
        return [(at, of) for at, (number, of) in places if number in refused]

    def listed(self, gap: int) -> tuple[dict[int, list[Option]], dict[int, Want]]:
        """Options of each want, by its number, that lose less than a gap; and the wants whose packs are looked at one by one,
        since they have many, or so many that they are not listed.

        Raises: OutOfWork where one of these is of many pieces.
        """
        lists: dict[int, list[Option]] = {}
        packed: dict[int, Want] = {}
        for want, bundle in self.best.picks:
            apart = len(want.pieces) <= MOST_PIECES if want.by_length else True
            try:
                lists[want.number] = self.options(want, bundle, gap)
            except OutOfWork:
                if not apart:
                    raise
            if apart and len(lists.get(want.number, range(MOST_OPTIONS + 1))) > MOST_OPTIONS:
                packed[want.number] = want
        return lists, packed

    def core(self, lists: dict[int, list[Option]], packed: Sequence[Want]) -> Core:
        """The choice among options, of packs for the wants without, and of packs beyond the need.

        Wants whose packs are looked at one by one have a choice, too, if some is in hand: the pieces that are cut from that.
        """
        case = self.case
        packs = [Pack(*coin, self.values_at(*coin)) for at in case.places for coin in case.coins[at]]
        needs: list[int] = []
        for want in packed:
            ways = case.ways_of(want, case.asked.may)
            found, own = cut_apart(want, ways) if want.by_length else unit_by_unit(want, ways)
            for way, count, brought in found:
                values = tuple(of * count for of in self.values_at(want, way))
                packs.append(Pack(want, way, (*values, *(0,) * len(needs), *brought), count))
            if want.by_length and want.held:
                none = (0,) * (len(case.places) + len(needs))
                lists[want.number] = [Option(0, (*none, *bits_of(mask, own)), ()) for mask in free_masks(want)]
            needs += own
        asked = [*(case.asked.values[at] for at in case.places), *needs]
        padded = [replace(of, values=(*of.values, *(0,) * (len(asked) - len(of.values)))) for of in packs]
        return Core(list(lists.values()), asked, padded)

    def values_at(self, want: Want, way: Way) -> tuple[int, ...]:
        """What a pack is worth at each till asked."""
        till = self.case.task.till(want, way.seller)
        return tuple(way.value if till == at else 0 for at in self.case.places)

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

    def take(self, packs: Mapping[int, Packs], extras: Sequence[Extra]) -> list[int]:
        """The numbers of wants that cannot be had from their packs; where all can be, or may be, what it comes to is kept.

        A want without packs is bought as cheaply as can be.
        """
        picks, refused, more, unknown = [], [], list(extras), False
        for want in self.case.wants:
            try:
                bundle = self.bundle(want, packs.get(want.number))
            except OutOfWork:
                unknown = True
                continue
            if bundle is None:
                refused.append(want.number)
                continue
            picks.append((want, bundle))
            spent = dict(bundle.packs)
            own = packs.get(want.number, ())
            more += [Extra(want, way, count - spent.get(way, 0)) for way, count in own if count > spent.get(way, 0)]
        if not refused and not unknown:
            self.case.keep(tuple(picks), joined(more))
        return refused

    def bundle(self, want: Want, packs: Packs | None) -> Bundle | None:
        """A want from some packs, or from any."""
        if packs is None:
            return self.case.cheapest.of(want, self.case.task.sellers(self.case.asked.may, want.trip))
        return self.case.cheapest.within(want, packs)


def bits_of(mask: int, own: Sequence[int]) -> tuple[int, ...]:
    """A set of pieces as what it brings to the need of each."""
    return tuple(mask >> at & 1 for at in range(len(own)))


def ordered(counts: Mapping[Way, int]) -> Packs:
    """Packs by their key."""
    return tuple(sorted(counts.items(), key=lambda item: item[0].key))
