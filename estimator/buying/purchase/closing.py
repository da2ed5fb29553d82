"""Closing a case: all options that may matter between its quick bound and the best purchase, and what they come to.

First values are made up freely, at the best rate of each till, which leaves few options of note; then by whole packs.
"""

from collections.abc import Sequence

from estimator.buying.purchase.case import NEVER, Case, joined
from estimator.buying.purchase.choices import NOTHING, Freely, Option, OutOfWork
from estimator.buying.purchase.labels import Label, Lowered, chosen, labels
from estimator.buying.purchase.model import Bundle, Extra, Want
from estimator.buying.purchase.options import best_options, option_of, options_of
from estimator.buying.purchase.shares import BY, Weighed

FEW = 600
"""Partial choices that are kept where a good purchase is looked for, and no proof."""
LEVELS = (1024, 256, 64, 16, 4, 1)
"""Parts of the gap between bound and ceiling, in which choices are looked for one after another."""
MOST_ENDS = 40
MOST_TRIED = 12
"""Complete choices looked at beside the best."""
MOST_REFUSED = 40
"""Choices given up because a length cannot be cut, before a case is left open."""


class Closing:
    """The work on one case; purchases found are kept there."""

    def __init__(self, case: Case, best: Weighed) -> None:
        self.case = case
        self.best = best

    def bound(self) -> int:
        """The bound when every option that may matter is looked at; nought where that is too much work."""
        if self.case.ceiling == NEVER:
            return 0
        self.among_known()
        if self.best.bound >= self.case.ceiling:
            return self.case.ceiling
        bound = self.best.bound
        for freely in (self.case.freely, NOTHING):
            if bound < self.case.ceiling:
                bound = max(bound, self.deepened(freely, bound))
        return min(bound, self.case.ceiling)

    def deepened(self, freely: Freely, bound: int) -> int:
        """The bound when options are looked at, with values made up freely or by packs: first those that lose little.

        Where no choice is found below a level, that is a bound, and the next level lies higher.
        """
        for part in LEVELS:
            level = min(
                self.case.ceiling, max(bound + 1, self.best.bound + (self.case.ceiling - self.best.bound) // part)
            )
            reached = self.stage(freely, level)
            if reached is None:
                return bound
            bound = max(bound, reached)
            if bound < level or bound >= self.case.ceiling:
                return bound
        return bound

    def stage(self, freely: Freely, level: int) -> int | None:
        """The bound when all options are looked at that may end below a level: at most the level; None for too much work."""
        options: list[list[Option]] = []
        try:
            for want, bundle in self.best.picks:
                options.append(self.options(want, bundle, level * BY - self.best.sum, freely))
            listed = [best_options(own, freely) for own in options]
            for _ in range(MOST_REFUSED):
                ends = self.ends(listed, freely, level)
                if not ends:
                    return level
                refused = self.refused(ends[0][1])
                for place, option in refused:
                    options[place].remove(option)
                    listed[place] = best_options(options[place], freely)
                if not refused:
                    self.try_others(ends[1:])
                    return ends[0][0]
        except OutOfWork:
            if len(options) == len(self.best.picks):
                self.try_few(options, freely, level)
        return None

    def try_few(self, options: list[list[Option]], freely: Freely, level: int) -> None:
        """Look for purchases among these options, with no claim to have looked at all."""
        try:
            listed = [best_options(own, freely) for own in options]
            self.try_others(self.ends(listed, freely, level, FEW))
        except OutOfWork:
            return

    def try_others(self, ends: Sequence[tuple[int, list[Option]]]) -> None:
        """Keep what further choices come to, the most promising alone."""
        for total, picked in ends[:MOST_TRIED]:
            if total >= self.case.ceiling:
                return
            try:
                self.refused(picked)
            except OutOfWork:
                continue

    def among_known(self) -> None:
        """Look for a purchase among the bundles that are known, most of which are cheap for what they bring."""
        options = []
        for want, _ in self.best.picks:
            merchants, places = self.case.task.sellers(self.case.asked.may, want.trip), self.seller_places(want)
            known = (bundle for bundle in self.case.cheapest.known(want) if not bundle.used & ~merchants)
            options.append([option_of(bundle.packs, places, len(self.case.places)) for bundle in known])
        self.try_few(options, NOTHING, self.case.ceiling)

    def expected(self, want: Want, bundle: Bundle) -> tuple[int, ...]:
        """The values that a bundle brings to the tills asked."""
        return option_of(bundle.packs, self.seller_places(want), len(self.case.places)).values

    def seller_places(self, want: Want) -> dict[int, int]:
        """For each seller of a want whose till is asked for something: the place of that till."""
        first = want.trip * len(self.case.task.merchants)
        return {
            at - first: place for place, at in enumerate(self.case.places) if self.case.task.tills[at].trip == want.trip
        }

    def options(self, want: Want, bundle: Bundle, gap: int, freely: Freely) -> list[Option]:
        """The options of one want."""
        first = want.trip * len(self.case.task.merchants)
        places = self.seller_places(want)
        merchants = self.case.task.sellers(self.case.asked.may, want.trip)
        ways = [way for way in want.ways if merchants >> way.seller & 1]
        off = {at - first: self.best.off[at] for at in self.case.places if self.case.task.tills[at].trip == want.trip}
        lowered = {way.key: BY * way.money - off.get(way.seller, 0) * way.value for way in ways}
        found = options_of(want, ways, lowered, places, len(self.case.places), bundle, gap, all_packs=not freely.rates)
        return [option for option in found if not self.case.cheapest.refused(want, option.packs)]

    def ends(
        self, listed: list[list[Option]], freely: Freely, level: int, few: int | None = None
    ) -> list[tuple[int, list[Option]]]:
        """Choices of options with what they cost when made up, below a level, the cheapest first."""
        order = sorted(range(len(listed)), key=lambda place: (len(listed[place]), place))
        off = tuple(self.best.off[at] for at in self.case.places)
        lowered = Lowered(
            BY,
            off,
            tuple(self.best.picks[place][1].bound for place in order),
            tuple(self.expected(*self.best.picks[place]) for place in order),
            tuple(int(BY * self.case.rates[at]) - self.best.off[at] for at in self.case.places),
        )
        asked = tuple(self.case.asked.values[at] for at in self.case.places)
        gap = level * BY - self.best.sum
        found = labels([listed[at] for at in order], asked, lowered, gap, self.case.work, few, freely)
        totals = [(self.total(label, freely), number) for number, label in enumerate(found)]
        ends = []
        for total, number in sorted(totals)[:MOST_ENDS]:
            if total < level:
                numbers = dict(zip(order, chosen(found[number]), strict=True))
                ends.append((total, [listed[place][numbers[place]] for place in range(len(listed))]))
        return ends

    def total(self, label: Label, freely: Freely) -> int:
        """What a complete choice costs with what makes it up.

        Raises: OutOfWork where the tables do not go so far.
        """
        total = label.money + self.case.asked.charges
        for at, value in zip(self.case.places, label.values, strict=True):
            short = self.case.asked.values[at] - value
            if short > 0:
                # No pack beats the best rate, which often says enough.
                least = -(-short * self.case.rates[at].numerator // self.case.rates[at].denominator)
                if freely.rates or total + least >= self.case.ceiling:
                    total += least
                    continue
                table = self.case.table(at, short)
                if table is None:
                    raise OutOfWork
                total += table.money(short)
        return total

    def refused(self, picked: Sequence[Option]) -> list[tuple[int, Option]]:
        """Options of a choice that cannot be cut, by want; where all can be, the purchase is kept.

        Raises: OutOfWork where that is not known of one.
        """
        picks, extras, refused = [], [], []
        for place, (want, option) in enumerate(zip(self.case.wants, picked, strict=True)):
            bundle = self.case.cheapest.within(want, option.packs)
            if bundle is None:
                refused.append((place, option))
                continue
            picks.append((want, bundle))
            spent = dict(bundle.packs)
            extras += [
                Extra(want, way, count - spent.get(way, 0)) for way, count in option.packs if count > spent.get(way, 0)
            ]
        if refused:
            return refused
        shorts = [
            self.case.asked.values[at] - sum(option.values[place] for option in picked)
            for place, at in enumerate(self.case.places)
        ]
        self.case.keep(tuple(picks), joined([*extras, *self.case.made_up(shorts)]))
        return []
