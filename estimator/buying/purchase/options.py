"""All ways to buy one part that may matter where values are asked at tills: a want and lowered money in, options out.

An option costs `money` and brings `values` to the tills asked; packs without which it would still do are left out of
it, since they can be bought beside it. Options of what is sold by length hold enough, and may yet turn out impossible
to cut.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import islice
from math import gcd, lcm

from estimator.buying.bounds import Combo, by_size, combos
from estimator.buying.cutting import by_worth
from estimator.buying.lengths import stock_task
from estimator.buying.offers import CUT_UNIT, Offer, Offers
from estimator.buying.purchase.choices import Option, OutOfWork, Packs
from estimator.buying.purchase.model import Bundle, Want, Way
from estimator.buying.purchase.shares import BY
from estimator.buying.task import Task

MOST_STEPS = 60_000
"""Of listing the options of one want."""
MOST_COMPARED = 100
FEW_COMBOS = 40
"""Of drums, above which it is worth while to ask for a better measure."""


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

    Raises: OutOfWork where that takes too much work.
    """
    proven = bundle.bound == BY * bundle.cost
    if proven and not any(way.seller in places for way in ways):
        return [option_of(bundle.packs, places, tills)]
    found = _cut_lengths if want.by_length else covers
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


def best_options(options: Sequence[Option], sure: Callable[[Option], bool]) -> list[Option]:
    """The options of one want, by money, without those that another outdoes which can be had for sure: it costs no more and
    brings as much at every till. Not all are compared; one too many does no harm.
    """
    kept: list[Option] = []
    others: list[Option] = []
    for option in sorted(options, key=lambda of: (of.money, [-value for value in of.values])):
        if not any(all(a >= b for a, b in zip(one.values, option.values, strict=True)) for one in others):
            kept.append(option)
            if len(others) < MOST_COMPARED and sure(option):
                others.append(option)
    return kept


def covers(want: Want, ways: Sequence[Way], lowered: Mapping[str, int], ceiling: int | None) -> Iterator[Packs]:
    """Covers of a need from which no pack can be left out, of lowered money below a ceiling if there is one.

    Raises: OutOfWork.
    """
    units, need = whole_units(want, ways)
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
        if place == len(order) or (ceiling is not None and money + rates[place] * left >= ceiling):
            return
        at = order[place]
        price = lowered[ways[at].key]
        for count in range(-(-left // units[at]) + 1):
            if ceiling is not None and money + count * price >= ceiling:
                break
            counts[at] = count
            yield from listed(place + 1, left - count * units[at], money + count * price)
        counts[at] = 0

    yield from listed(0, need, 0)


def whole_units(want: Want, ways: Sequence[Way]) -> tuple[list[int], int]:
    """Units of the ways and the need in whole steps, the need rounded up to them."""
    units = [Fraction(way.units) for way in ways]
    below = lcm(*(of.denominator for of in units))
    sizes = [int(of * below) for of in units]
    step = gcd(*sizes)
    need = Fraction(want.need)
    return [size // step for size in sizes], -(-need.numerator * below // (need.denominator * step))


def _cut_lengths(want: Want, ways: Sequence[Way], lowered: Mapping[str, int], ceiling: int) -> Iterator[Packs]:
    """Drums and cut metres that no measure says are too few for the pieces, of lowered money below a ceiling."""
    by_key = {way.key: way for way in ways}
    rows = tuple(Offer(way.key, way.price, lowered[way.key]) for way in ways)
    task, metre = stock_task(Offers(want.part, 1, rows), want.pieces, want.held, want.kerf_mm)
    seen: set[tuple[tuple[str, int], ...]] = set()
    for combo in _few_combos(task, ceiling * task.money):
        counts: Counter[str] = Counter()
        for kind, count in zip(task.kinds, combo.bins or (), strict=True):
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


def _few_combos(task: Task, ceiling: int) -> Sequence[Combo]:
    """The combinations that measures by size leave; where these are many, a measure of what pieces are worth joins in.

    Raises: OutOfWork.
    """
    measures = by_size(task)
    found = list(islice(combos(task, measures, ceiling, MOST_STEPS // 10), FEW_COMBOS))
    if len(found) < FEW_COMBOS and all(combo.bins is not None for combo in found):
        return found
    found = list(combos(task, measures + by_worth(task), ceiling, MOST_STEPS // 3))
    if found and found[-1].bins is None:
        raise OutOfWork
    return found
