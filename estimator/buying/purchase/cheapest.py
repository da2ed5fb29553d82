"""The cheapest way to buy one part from some merchants alone: a want and a set of merchants in, a bundle out.

Answers are kept: where the cheapest bundle of more merchants uses only those asked about, it is theirs too.
"""

from collections.abc import Hashable, Iterable
from decimal import Decimal
from fractions import Fraction
from math import gcd

from estimator.buying.cutting import FINEST, MOST_EXACT
from estimator.buying.lengths import buy_lengths
from estimator.buying.model import Cut
from estimator.buying.offers import CUT_UNIT, Offer, Offers
from estimator.buying.packs import PackOffer, cover
from estimator.buying.purchase.choices import OutOfWork, Packs
from estimator.buying.purchase.model import Bundle, Want, Way
from estimator.buying.stock import NotEnough, TooLong
from estimator.memory import NOTHING, Memory, Same, same

Discount = tuple[tuple[int, int], ...]
"""For each merchant in play: its number, and the money taken off for each unit of value bought there."""


class Cheapest:
    """The engines for packs and lengths, with what they have answered."""

    def __init__(self, memory: Memory = NOTHING) -> None:
        self._memory = memory
        self._answers: dict[tuple[int, int], Bundle | None] = {}
        self._solved: dict[int, list[tuple[int, Bundle | None]]] = {}
        self._lowered: dict[tuple[int, int, int, Discount], Bundle] = {}
        self._within: dict[tuple[int, Packs], Bundle | None] = {}
        self._known: dict[int, dict[tuple[tuple[str, int], ...], Bundle]] = {}

    def of(self, want: Want, merchants: int) -> Bundle | None:
        """The cheapest bundle; None where these merchants cannot supply it."""
        merchants &= want.sellers
        key = (want.number, merchants)
        if key not in self._answers:
            self._answers[key] = self._answer(want, merchants)
        return self._answers[key]

    def _answer(self, want: Want, merchants: int) -> Bundle | None:
        solved = self._solved.setdefault(want.number, [])
        for more, bundle in solved:
            if more & merchants == merchants and (bundle is None or bundle.used & merchants == bundle.used):
                return bundle
        found = self._solve(want, merchants)
        solved.append((merchants, found))
        return self._met(want, found)

    def _solve(self, want: Want, merchants: int, by: int = 1, discount: Discount = ()) -> Bundle | None:
        key = ("bundle", *_question(want), merchants, by, discount)
        return self._memory.recall(key, lambda: solve(want, merchants, by, discount))

    def _met(self, want: Want, bundle: Bundle | None) -> Bundle | None:
        if bundle is not None:
            packs = tuple(sorted((way.key, count) for way, count in bundle.packs))
            self._known.setdefault(want.number, {}).setdefault(packs, bundle)
        return bundle

    def known(self, want: Want) -> tuple[Bundle, ...]:
        """Every bundle met so far, of any merchants."""
        return tuple(self._known.get(want.number, {}).values())

    def lowered(self, want: Want, merchants: int, by: int, discount: Discount) -> Bundle:
        """The cheapest bundle where a pack counts as `by` x its money less the discount on its value.

        `cost` is the bundle's true money, `bound` the least that any bundle comes to in the lowered money. Discounts
        take nothing below zero, and the want can be had from these merchants.
        """
        merchants &= want.sellers
        here = tuple((seller, off) for seller, off in discount if merchants >> seller & 1)
        if not any(off for _, off in here):
            plain = self.of(want, merchants)
            assert plain is not None
            return Bundle(plain.packs, plain.cuts, plain.in_hand, plain.cost, plain.bound * by, plain.used)
        key = (want.number, merchants, by, here)
        if key not in self._lowered:
            found = self._met(want, self._solve(want, merchants, by, here))
            assert found is not None
            self._lowered[key] = found
        return self._lowered[key]

    def within(self, want: Want, packs: Packs) -> Bundle | None:
        """The want from no more than these packs; None where they do not do.

        Raises: OutOfWork where that is not known.
        """
        key = (want.number, packs)
        if key not in self._within:
            recalled = ("within", *_question(want), tuple((Same(way), count) for way, count in packs))
            self._within[key] = self._memory.recall(recalled, lambda: within(want, packs))
        return self._within[key]

    def allowed(self, want: Want, packs: Packs) -> bool:
        """Whether it is known by now that these packs do."""
        return self._within.get((want.number, packs)) is not None

    def refused(self, want: Want, packs: Packs) -> bool:
        """Whether it is known by now that these packs do not do."""
        return self._within.get((want.number, packs), packs) is None


def solve(want: Want, merchants: int, by: int = 1, discount: Discount = ()) -> Bundle | None:
    """The cheapest bundle from scratch; None where these merchants cannot supply it."""
    off = dict(discount)
    ways = {way.key: way for way in want.ways if merchants >> way.seller & 1}
    money = {key: by * way.money - off.get(way.seller, 0) * way.value for key, way in ways.items()}
    try:
        if want.by_length:
            packs, cuts, taken, bound = _lengths(want, ways, money, deep=not discount or _hard(want))
            if discount and bound < sum(money[key] * count for key, count in packs):
                # The second engine works with floats, which small whole numbers suit; rounded down, they bound as well.
                grain = max(1, max(money.values()) // FINEST)
                coarse = {key: amount // grain for key, amount in money.items()}
                packs, cuts, taken, better = _lengths(want, ways, coarse, deep=True)
                bound = max(bound, better * grain)
        else:
            packs, cuts, taken, bound = _pieces(want, ways, money)
    except (TooLong, NotEnough):
        return None
    bought = tuple((ways[key], count) for key, count in packs)
    cost = sum(way.money * count for way, count in bought)
    return Bundle(bought, cuts, taken, cost, bound, _sellers(bought))


def _hard(want: Want) -> bool:
    """Whether the first engine alone is likely to leave it open: many pieces, and nothing cut to order."""
    return len(want.pieces) > MOST_EXACT and not any(way.units == CUT_UNIT for way in want.ways)


def _question(want: Want) -> tuple[Hashable, ...]:
    """All that a bundle goes by, for a memory: the ways as they were laid out, since bundles hold them."""
    pieces = tuple((piece.of, piece.length_mm) for piece in want.pieces)
    return want.part, Same(want.ways), want.need, want.in_hand, want.by_length, pieces, same(want.held), want.kerf_mm


def within(want: Want, packs: Packs) -> Bundle | None:
    """The want from no more than these packs; None where they do not do.

    Raises: OutOfWork where that is not known.
    """
    if not want.by_length:
        cost = sum(way.money * count for way, count in packs)
        return Bundle(packs, (), want.in_hand, cost, cost, _sellers(packs))
    counts = {way.key: count for way, count in packs}
    # Drums cost nothing and a metre costs one, so that as few metres as can be are cut to order.
    rows = tuple(Offer(way.key, way.price, int(way.units == CUT_UNIT)) for way, _ in packs)
    try:
        plan = buy_lengths(Offers(want.part, 1, rows), want.pieces, want.held, want.kerf_mm, counts)
    except TooLong:
        return None
    except NotEnough as error:
        if error.proven:
            return None
        raise OutOfWork from error
    if any(count > counts[key] for key, count in plan.packs):
        least = sum(count for way, count in packs if way.units == CUT_UNIT)
        if plan.bound > least:
            return None
        raise OutOfWork
    ways = {way.key: way for way, _ in packs}
    bought = tuple((ways[key], count) for key, count in plan.packs)
    cost = sum(way.money * count for way, count in bought)
    return Bundle(bought, plan.cuts, plan.in_hand, cost, cost, _sellers(bought))


def _sellers(packs: Iterable[tuple[Way, int]]) -> int:
    used = 0
    for way, _ in packs:
        used |= 1 << way.seller
    return used


Found = tuple[tuple[tuple[str, int], ...], tuple[Cut, ...], Decimal, int]


def _pieces(want: Want, ways: dict[str, Way], money: dict[str, int]) -> Found:
    plan = cover(want.need, [PackOffer(key, way.units, money[key]) for key, way in ways.items()])
    return plan.counts, (), want.in_hand, plan.bound


def _lengths(want: Want, ways: dict[str, Way], money: dict[str, int], *, deep: bool) -> Found:
    unit = gcd(*money.values()) or 1
    rows = tuple(Offer(key, way.price, money[key] // unit) for key, way in ways.items())
    plan = buy_lengths(Offers(want.part, 1, rows), want.pieces, want.held, want.kerf_mm, deep=deep)
    return plan.packs, plan.cuts, plan.in_hand, _whole(plan.bound) * unit


def _whole(bound: Fraction) -> int:
    return -(-bound.numerator // bound.denominator)
