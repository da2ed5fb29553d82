"""All ways to buy one part that may matter where values are asked at tills: a want and lowered money in, options out.

An option costs `money` and brings `values` to the tills asked; packs without which it would still do are left out of
it, since they can be bought beside it. Options of what is sold by length hold enough, and may yet turn out impossible
to cut.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import gcd, lcm

from estimator.buying.bounds import by_size, combos
from estimator.buying.lengths import stock_task
from estimator.buying.offers import Offer, Offers
from estimator.buying.purchase.model import Bundle, Want, Way

MOST_STEPS = 6_000
"""Of listing the options of one want."""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to buy a want: its money, what it is worth at each till asked, its packs."""

    money: int
    values: tuple[int, ...]
    packs: tuple[tuple[Way, int], ...]


Packs = tuple[tuple[Way, int], ...]


class TooMany(Exception):
    """The options are more than can be listed."""


def options_of(
    want: Want,
    ways: Sequence[Way],
    lowered: Mapping[str, int],
    places: Mapping[int, int],
    tills: int,
    bundle: Bundle,
    gap: int,
) -> list[Option]:
    """Options whose lowered money is below the bundle's bound + `gap`.

    `places` has a seller's place among the `tills` asked; sellers without one bring no value.

    Raises: TooMany where that takes too much work.
    """
    if not any(way.seller in places for way in ways):
        return [option_of(bundle.packs, places, tills)]
    found = _cut_lengths if want.by_length else _pieces
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


def best_options(options: Sequence[Option]) -> list[Option]:
    """The options of one want without those that another outdoes: no dearer, and of no less value at any till."""
    kept: list[Option] = []
    for option in sorted(options, key=lambda of: (of.money, [-value for value in of.values])):
        if not any(all(a >= b for a, b in zip(other.values, option.values, strict=True)) for other in kept):
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
            raise TooMany
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
    task = stock_task(Offers(want.part, 1, rows), want.pieces, want.held, want.kerf_mm)
    seen = set()
    for combo in combos(task, by_size(task), ceiling * task.money, MOST_STEPS):
        if combo.bins is None:
            raise TooMany
        counts = [(kind.stock.key, count) for kind, count in zip(task.kinds, combo.bins, strict=True)]
        counts += [(sale.key, count) for sale, count in zip(task.sales, combo.units, strict=True)]
        packs = tuple(sorted((key, count) for key, count in counts if count and key in by_key))
        if packs not in seen:
            seen.add(packs)
            if len(seen) > MOST_STEPS // 2:
                raise TooMany
            yield tuple((by_key[key], count) for key, count in packs)
