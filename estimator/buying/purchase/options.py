"""All ways to buy one part that may matter where values are asked at tills: a want and lowered money in, options out.

An option costs `money` and brings `values` to the tills asked; packs without which it would still do are left out of
it, since they can be bought beside it. Options of what is sold by length hold enough, and may yet turn out impossible
to cut.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import gcd, lcm

from estimator.buying.bounds import by_size, combos
from estimator.buying.lengths import stock_task
from estimator.buying.offers import CUT_UNIT, Offer, Offers
from estimator.buying.purchase.choices import Freely, Option, OutOfWork, Packs
from estimator.buying.purchase.model import Bundle, Want, Way
from estimator.buying.purchase.shares import BY

MOST_STEPS = 60_000
"""Of listing the options of one want."""
MOST_COMPARED = 100
MOST_CELLS = 20_000
"""Of the tables over all amounts of a want: amounts by ways."""


def options_of(
    want: Want,
    ways: Sequence[Way],
    lowered: Mapping[str, int],
    places: Mapping[int, int],
    tills: int,
    bundle: Bundle,
    gap: int,
    *,
    all_packs: bool,
) -> list[Option]:
    """Options whose lowered money is below the bundle's bound + `gap`.

    Without `all_packs` what one seller supplies is bought there as cheaply as can be: to spend more there is then a
    matter of buying beyond the need. `places` has a seller's place among the `tills` asked; sellers without one bring no value.

    Raises: OutOfWork where that takes too much work.
    """
    proven = bundle.bound == BY * bundle.cost
    if proven and not any(way.seller in places for way in ways):
        return [option_of(bundle.packs, places, tills)]
    found = _cut_lengths if want.by_length else _pieces if all_packs else _by_seller
    listed = [option_of(packs, places, tills) for packs in found(want, ways, lowered, bundle.bound + gap)]
    if want.by_length:
        own = option_of(tuple(sorted(bundle.packs, key=lambda pack: pack[0].key)), places, tills)
        listed = [own, *(option for option in listed if option.packs != own.packs)]
    return listed


def option_of(packs: Sequence[tuple[Way, int]], places: Mapping[int, int], tills: int) -> Option:
    """The option that some packs are."""
    values = [0] * tills
    for way, count in packs:
        if way.seller in places:
            values[places[way.seller]] += way.value * count
    return Option(sum(way.money * count for way, count in packs), tuple(values), tuple(packs))


def best_options(options: Sequence[Option], freely: Freely) -> list[Option]:
    """The options of one want without those that one of the cheapest outdoes."""
    kept: list[Option] = []
    for option in sorted(options, key=lambda of: (of.money, [-value for value in of.values])):
        if not any(
            freely.outdoes(other.money, other.values, option.money, option.values) for other in kept[:MOST_COMPARED]
        ):
            kept.append(option)
    return kept


def _pieces(want: Want, ways: Sequence[Way], lowered: Mapping[str, int], ceiling: int) -> Iterator[Packs]:
    """Covers of a need from which no pack can be left out, of lowered money below a ceiling."""
    units, need = _whole(want, ways)
    order = sorted(range(len(ways)), key=lambda at: (Fraction(lowered[ways[at].key], units[at]), ways[at].key))
    rates = [Fraction(lowered[ways[at].key], units[at]) for at in order]
    counts = [0] * len(ways)
    steps = 0

    def listed(place: int, left: int, money: int) -> Iterator[Packs]:
        nonlocal steps
        steps += 1
        if steps > MOST_STEPS:
            raise OutOfWork
        if left <= 0:
            if all(units[at] > -left for at in order if counts[at]):
                yield tuple((ways[at], counts[at]) for at in range(len(ways)) if counts[at])
            return
        if place == len(order) or money + rates[place] * left >= ceiling:
            return
        at = order[place]
        price = lowered[ways[at].key]
        for count in range(-(-left // units[at]) + 1):
            if money + count * price >= ceiling:
                break
            counts[at] = count
            yield from listed(place + 1, left - count * units[at], money + count * price)
        counts[at] = 0

    yield from listed(0, need, 0)


def _by_seller(want: Want, ways: Sequence[Way], lowered: Mapping[str, int], ceiling: int) -> Iterator[Packs]:
    """Covers of a need in which each seller's share is as cheap as it can be, of lowered money below a ceiling."""
    units, need = _whole(want, ways)
    sellers = sorted({way.seller for way in ways})
    if need * len(ways) > MOST_CELLS:
        raise OutOfWork
    shares = [
        _Share([(way, size) for way, size in zip(ways, units, strict=True) if way.seller == of], need, lowered)
        for of in sellers
    ]
    rates = [min(share.rate for share in shares[place:]) for place in range(len(shares))]
    steps = 0

    def listed(place: int, left: int, money: int, packs: Packs) -> Iterator[Packs]:
        nonlocal steps
        steps += 1
        if steps > MOST_STEPS:
            raise OutOfWork
        if left <= 0:
            yield packs
            return
        if place == len(shares) or money + rates[place] * left >= ceiling:
            return
        share = shares[place]
        for units_of in share.corners:
            if money + share.money[min(units_of, left)] >= ceiling:
                break
            amount = min(units_of, left)
            yield from listed(place + 1, left - amount, money + share.money[amount], (*packs, *share.packs(amount)))
            if units_of >= left:
                break

    yield from listed(0, need, 0, ())


class _Share:
    """What one seller asks for each amount of a want, up to all of it."""

    def __init__(self, ways: Sequence[tuple[Way, int]], need: int, lowered: Mapping[str, int]) -> None:
        self.ways = ways
        true = [0] * (need + 1)
        self.last = [-1] * (need + 1)
        for amount in range(1, need + 1):
            true[amount], self.last[amount] = min(
                (true[max(0, amount - size)] + way.money, place) for place, (way, size) in enumerate(ways)
            )
        self.money = [0] * (need + 1)
        for amount in range(1, need + 1):
            way, size = ways[self.last[amount]]
            self.money[amount] = self.money[max(0, amount - size)] + lowered[way.key]
        # Of amounts that cost the same, only the largest matters.
        self.corners = [amount for amount in range(need) if true[amount] < true[amount + 1]] + [need]
        self.rate = min(Fraction(lowered[way.key], size) for way, size in ways)

    def packs(self, amount: int) -> Packs:
        """The packs of an amount."""
        counts: dict[int, int] = {}
        while amount > 0:
            place = self.last[amount]
            counts[place] = counts.get(place, 0) + 1
            amount -= self.ways[place][1]
        return tuple((self.ways[place][0], count) for place, count in sorted(counts.items()))


def _whole(want: Want, ways: Sequence[Way]) -> tuple[list[int], int]:
    """Units of the ways and the need in whole steps, the need rounded up to them."""
    units = [Fraction(way.units) for way in ways]
    below = lcm(*(of.denominator for of in units))
    sizes = [int(of * below) for of in units]
    step = gcd(*sizes)
    need = Fraction(want.need)
    return [size // step for size in sizes], -(-need.numerator * below // (need.denominator * step))


def _cut_lengths(want: Want, ways: Sequence[Way], lowered: Mapping[str, int], ceiling: int) -> Iterator[Packs]:
    """Drums and cut metres that hold the pieces by size at least, of lowered money below a ceiling."""
    by_key = {way.key: way for way in ways}
    rows = tuple(Offer(way.key, way.price, lowered[way.key]) for way in ways)
    task, metre = stock_task(Offers(want.part, 1, rows), want.pieces, want.held, want.kerf_mm)
    seen = set()
    for combo in combos(task, by_size(task), ceiling * task.money, MOST_STEPS // 3):
        if combo.bins is None:
            raise OutOfWork
        counts: Counter[str] = Counter()
        for kind, count in zip(task.kinds, combo.bins, strict=True):
            way = by_key.get(kind.stock.key)
            # Where a saw cut counts, lengths cut to order are kinds of their own: so many metres of one price.
            counts[kind.stock.key] += count * (kind.stock.length // metre if way and way.units == CUT_UNIT else 1)
        for sale, units in zip(task.sales, combo.units, strict=True):
            counts[sale.key] += units
        packs = tuple(sorted((key, count) for key, count in counts.items() if count and key in by_key))
        if packs not in seen:
            seen.add(packs)
            if len(seen) > MOST_STEPS // 20:
                raise OutOfWork
            yield tuple((by_key[key], count) for key, count in packs)
