"""Reaching a merchant's limits: tills that may be used and values asked of some in, ways to reach them and a bound out.

Each make of each match group is a case of its own. `shares` bounds a case; what that leads to, made up to the values
with a little more of what is sold there, is a purchase. Where the two do not meet, `options` and `labels` settle it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import product
from math import lcm

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.choices import NOTHING, Freely, Option, OutOfWork, Work
from estimator.buying.purchase.labels import Label, Lowered, chosen, labels
from estimator.buying.purchase.model import Bundle, Extra, Purchase, Task, Want
from estimator.buying.purchase.options import best_options, option_of, options_of
from estimator.buying.purchase.shares import BY, Question, Weighed, best_shares
from estimator.buying.purchase.surplus import Surplus, coins_of, surplus
from estimator.buying.purchase.value import Picks, purchase_of

MOST_CASES = 64
FEW = 600
"""Partial choices that are kept where a good purchase is looked for, and no proof."""
LEVELS = (1024, 256, 64, 16, 4, 1)
"""Parts of the gap between bound and ceiling, in which choices are looked for one after another."""
MOST_ENDS = 40
MOST_TRIED = 12
"""Complete choices looked at beside the best."""
MOST_REFUSED = 40
"""Choices given up because a length cannot be cut, before a case is left open."""
NEVER = 1 << 200


@dataclass(frozen=True, slots=True)
class Asked:
    """`values` of goods asked at tills; `charges` of the tills in use."""

    may: int
    values: Mapping[int, int]
    charges: int
    minimums: bool


class Reaching:
    """The question of what it takes to reach values at tills: started with a quick bound, finished with a better one.

    `found` are purchases met on the way. Bounds are told as `ceiling` where nothing below that is left.
    """

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, work: Work) -> None:
        self.found: list[Purchase] = []
        self.open: list[_Case] = []
        self.all_cases = True
        for number, wants in enumerate(cases(task)):
            if number >= MOST_CASES:
                self.all_cases = False
                break
            if all(cheapest.of(want, task.sellers(asked.may, want.trip)) is not None for want in wants):
                self.open.append(_Case(task, cheapest, asked, wants, work))

    def start(self, ceiling: int) -> int:
        """The quick bound."""
        for case in self.open:
            case.start(ceiling)
            ceiling = case.ceiling
            self.found += case.found
        self.open.sort(key=lambda case: case.bound)
        return self.bound(ceiling)

    def finish(self, ceiling: int) -> int:
        """The better bound, case by case with the least quick bound first."""
        self.found = []
        for case in self.open:
            if case.bound < ceiling:
                case.finish(ceiling)
                ceiling = min(ceiling, case.ceiling)
                self.found += case.found
        return self.bound(ceiling)

    def bound(self, ceiling: int) -> int:
        """The least bound of all cases."""
        return min((case.bound for case in self.open), default=ceiling) if self.all_cases else 0


def cases(task: Task) -> Iterator[tuple[Want, ...]]:
    """Every choice of makes, as the wants it comes to."""
    for makes in product(*(block.makes for block in task.blocks)):
        yield tuple(want for wants in makes for want in wants)


class _Case:
    """One choice of makes."""

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, wants: Sequence[Want], work: Work) -> None:
        self.task = task
        self.cheapest = cheapest
        self.asked = asked
        self.wants = wants
        self.work = work
        self.places = sorted(asked.values)
        self.coins = {at: coins_of(task, wants, at) for at in self.places}
        self.rates = {
            at: min((Fraction(way.money, way.value) for _, way in coins), default=Fraction(0))
            for at, coins in self.coins.items()
        }
        per = lcm(*(rate.denominator for rate in self.rates.values()))
        self.freely = Freely(per, tuple(int(self.rates[at] * per) for at in self.places))
        self.tables: dict[int, Surplus | None] = {}
        self.found: list[Purchase] = []
        self.best: Weighed | None = None
        self.ceiling = NEVER
        self.bound = NEVER

    def start(self, ceiling: int) -> None:
        """Look for shares; the bound that they give."""
        self.ceiling = ceiling
        if all(self.coins.values()):
            question = Question(self.wants, self.asked.may, self.asked.values, self.asked.charges)
            most = {at: BY * rate.numerator // rate.denominator for at, rate in self.rates.items()}
            self.best = best_shares(self.task, self.cheapest, question, most, self.see)
            self.bound = self.best.bound

    def finish(self, ceiling: int) -> None:
        """Look at all options that may lead below the ceiling."""
        self.ceiling, self.found = ceiling, []
        if self.best is not None and self.bound < ceiling:
            self.bound = max(self.bound, self.settled(self.best))

    def see(self, weighed: Weighed) -> bool:
        """Make bundles up to the values asked, keep that as a purchase; whether there is something left to look for."""
        shorts = [self.asked.values[at] - weighed.values[at] for at in self.places]
        cost = self.asked.charges + sum(bundle.cost for _, bundle in weighed.picks)
        least = cost + sum(self.rates[at] * max(0, short) for at, short in zip(self.places, shorts, strict=True))
        if least < self.ceiling:
            self.keep(weighed.picks, self.made_up(shorts))
        return weighed.bound < self.ceiling

    def keep(self, picks: Picks, extras: Sequence[Extra]) -> None:
        purchase = purchase_of(self.task, picks, extras, minimums=self.asked.minimums)
        if purchase is not None:
            self.found.append(purchase)
            self.ceiling = min(self.ceiling, purchase.cost)

    def made_up(self, shorts: Sequence[int]) -> list[Extra]:
        """Packs to buy beyond the need: the cheapest, or where the tables do not go so far, near the cheapest."""
        extras: list[Extra] = []
        for at, short in zip(self.places, shorts, strict=True):
            if short > 0:
                table = self.table(at, short)
                if table is None:
                    extras += self.in_large_packs(at, short)
                else:
                    extras += [Extra(*table.coins[place], count) for place, count in sorted(table.packs(short).items())]
        return _joined(extras)

    def in_large_packs(self, at: int, short: int) -> list[Extra]:
        """Packs of the best rate, the largest first, until a table tells the rest of a shortfall."""
        best = [coin for coin in self.coins[at] if Fraction(coin[1].money, coin[1].value) == self.rates[at]]
        extras = []
        for want, way in sorted(best, key=lambda coin: -coin[1].value):
            count = short // way.value - 1
            if count > 0:
                extras.append(Extra(want, way, count))
                short -= count * way.value
                table = self.table(at, short)
                if table is not None:
                    rest = sorted(table.packs(short).items())
                    return [*extras, *(Extra(*table.coins[place], packs) for place, packs in rest)]
        want, way = min(best, key=lambda coin: coin[1].value)
        return [*extras, Extra(want, way, -(-short // way.value))]

    def table(self, at: int, short: int) -> Surplus | None:
        """The table of a till up to a shortfall."""
        known = self.tables.get(at)
        if known is None or not known.reaches(short):
            known = self.tables[at] = surplus(self.coins[at], short)
        return known

    def settled(self, best: Weighed) -> int:
        """The bound when every option that may matter is looked at; nought where that is too much work."""
        if self.ceiling == NEVER:
            return 0
        self.among_known(best)
        if best.bound >= self.ceiling:
            return self.ceiling
        bound = best.bound
        for freely in (self.freely, NOTHING):
            if bound < self.ceiling:
                bound = max(bound, self.deepened(best, freely, bound))
        return min(bound, self.ceiling)

    def deepened(self, best: Weighed, freely: Freely, bound: int) -> int:
        """The bound when options are looked at, with values made up freely or by packs: first those that lose little.

        Where no choice is found below a level, that is a bound, and the next level lies higher.
        """
        for part in LEVELS:
            level = min(self.ceiling, max(bound + 1, best.bound + (self.ceiling - best.bound) // part))
            reached = self.stage(best, freely, level)
            if reached is None:
                return bound
            bound = max(bound, reached)
            if bound < level or bound >= self.ceiling:
                return bound
        return bound

    def stage(self, best: Weighed, freely: Freely, level: int) -> int | None:
        """The bound when all options are looked at that may end below a level: at most the level; None for too much work."""
        options: list[list[Option]] = []
        try:
            for want, bundle in best.picks:
                options.append(self.options(want, bundle, best, level * BY - best.sum, freely))
            listed = [best_options(own, freely) for own in options]
            for _ in range(MOST_REFUSED):
                ends = self.ends(listed, best, freely, level)
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
            if len(options) == len(best.picks):
                self.try_few(options, best, freely, level)
        return None

    def try_few(self, options: list[list[Option]], best: Weighed, freely: Freely, level: int) -> None:
        """Look for purchases among these options, with no claim to have looked at all."""
        try:
            listed = [best_options(own, freely) for own in options]
            self.try_others(self.ends(listed, best, freely, level, FEW))
        except OutOfWork:
            return

    def try_others(self, ends: Sequence[tuple[int, list[Option]]]) -> None:
        """Keep what further choices come to, the most promising alone."""
        for total, picked in ends[:MOST_TRIED]:
            if total >= self.ceiling:
                return
            try:
                self.refused(picked)
            except OutOfWork:
                continue

    def among_known(self, best: Weighed) -> None:
        """Look for a purchase among the bundles that are known, most of which are cheap for what they bring."""
        options = []
        for want, _ in best.picks:
            merchants, places = self.task.sellers(self.asked.may, want.trip), self.seller_places(want)
            known = (bundle for bundle in self.cheapest.known(want) if not bundle.used & ~merchants)
            options.append([option_of(bundle.packs, places, len(self.places)) for bundle in known])
        self.try_few(options, best, NOTHING, self.ceiling)

    def expected(self, want: Want, bundle: Bundle) -> tuple[int, ...]:
        """The values that a bundle brings to the tills asked."""
        return option_of(bundle.packs, self.seller_places(want), len(self.places)).values

    def seller_places(self, want: Want) -> dict[int, int]:
        """For each seller of a want whose till is asked for something: the place of that till."""
        first = want.trip * len(self.task.merchants)
        return {at - first: place for place, at in enumerate(self.places) if self.task.tills[at].trip == want.trip}

    def options(self, want: Want, bundle: Bundle, best: Weighed, gap: int, freely: Freely) -> list[Option]:
        """The options of one want."""
        first = want.trip * len(self.task.merchants)
        places = self.seller_places(want)
        merchants = self.task.sellers(self.asked.may, want.trip)
        ways = [way for way in want.ways if merchants >> way.seller & 1]
        off = {at - first: best.off[at] for at in self.places if self.task.tills[at].trip == want.trip}
        lowered = {way.key: BY * way.money - off.get(way.seller, 0) * way.value for way in ways}
        found = options_of(want, ways, lowered, places, len(self.places), bundle, gap, all_packs=not freely.rates)
        return [option for option in found if not self.cheapest.refused(want, option.packs)]

    def ends(
        self, listed: list[list[Option]], best: Weighed, freely: Freely, level: int, few: int | None = None
    ) -> list[tuple[int, list[Option]]]:
        """Choices of options with what they cost when made up, below a level, the cheapest first."""
        order = sorted(range(len(listed)), key=lambda place: (len(listed[place]), place))
        off = tuple(best.off[at] for at in self.places)
        lowered = Lowered(
            BY,
            off,
            tuple(best.picks[place][1].bound for place in order),
            tuple(self.expected(*best.picks[place]) for place in order),
            tuple(int(BY * self.rates[at]) - best.off[at] for at in self.places),
        )
        asked = tuple(self.asked.values[at] for at in self.places)
        gap = level * BY - best.sum
        found = labels([listed[at] for at in order], asked, lowered, gap, self.work, few, freely)
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
        total = label.money + self.asked.charges
        for at, value in zip(self.places, label.values, strict=True):
            short = self.asked.values[at] - value
            if short > 0:
                # No pack beats the best rate, which often says enough.
                least = -(-short * self.rates[at].numerator // self.rates[at].denominator)
                if freely.rates or total + least >= self.ceiling:
                    total += least
                    continue
                table = self.table(at, short)
                if table is None:
                    raise OutOfWork
                total += table.money(short)
        return total

    def refused(self, picked: Sequence[Option]) -> list[tuple[int, Option]]:
        """Options of a choice that cannot be cut, by want; where all can be, the purchase is kept.

        Raises: OutOfWork where that is not known of one.
        """
        picks, extras, refused = [], [], []
        for place, (want, option) in enumerate(zip(self.wants, picked, strict=True)):
            bundle = self.cheapest.within(want, option.packs)
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
            self.asked.values[at] - sum(option.values[place] for option in picked)
            for place, at in enumerate(self.places)
        ]
        self.keep(tuple(picks), _joined([*extras, *self.made_up(shorts)]))
        return []


def _joined(extras: Sequence[Extra]) -> list[Extra]:
    """Extras of one way as one."""
    counts: dict[tuple[int, str], Extra] = {}
    for extra in extras:
        key = (extra.want.number, extra.way.key)
        known = counts.get(key)
        counts[key] = extra if known is None else replace(known, packs=known.packs + extra.packs)
    return [counts[key] for key in sorted(counts)]
