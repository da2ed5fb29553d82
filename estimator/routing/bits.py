"""Bits: sizes of cables and what a member permits go in; which cables share a hole, and the bit for each, come out.

How cables lie in a hole is our own reckoning (common practice, no published rule): one cable needs its width, since
flat cable has rounded edges; several lie flat on one another, and the diagonal of that stack (widest width by sum of
heights) is what they need. To either, the rule `hole-air` is added once: half of it is air on each side.
"""

from collections.abc import Callable, Iterator, Sequence
from decimal import Decimal
from math import prod

Size = tuple[Decimal, Decimal]
Bundle = tuple[int, ...]
Fits = Callable[[Sequence[Size]], bool]

# More mixes than this are shared out first fit; below it the fewest holes are found for certain.
MOST_MIXES = 20_000


def passes(bit_mm: Decimal, air_mm: Decimal, sizes: Sequence[Size]) -> bool:
    """Whether cables of these sizes (width, height) go through one hole of that bit with `air_mm` to spare."""
    room_mm = bit_mm - air_mm
    width_mm = max(max(size) for size in sizes)
    if len(sizes) == 1:
        return width_mm <= room_mm
    height_mm = sum((min(size) for size in sizes), Decimal(0))
    return room_mm > 0 and width_mm**2 + height_mm**2 <= room_mm**2


def smallest_bit(bits_mm: Sequence[Decimal], air_mm: Decimal, sizes: Sequence[Size]) -> Decimal | None:
    """The smallest of `bits_mm` that passes the cables; None where none does."""
    return next((bit for bit in sorted(bits_mm) if passes(bit, air_mm, sizes)), None)


def share_out(sizes: Sequence[Size], fits: Fits) -> tuple[Bundle, ...]:
    """Cables (numbers into `sizes`) bundled so that each bundle fits and there are as few as can be.

    Every single cable must fit. Of equally few, the first bundle holds the earliest cables in order that it can, then
    the second, and so on; sizes alone decide how many there are. Above `MOST_MIXES` mixes of sizes each cable goes into
    the first bundle that takes it, which may be more than the fewest.
    """
    if not sizes or fits(sizes):
        return (tuple(range(len(sizes))),) if sizes else ()
    kinds = sorted(dict.fromkeys(sizes))
    queues = [[i for i, size in enumerate(sizes) if size == kind] for kind in kinds]
    counts = tuple(len(queue) for queue in queues)
    if prod(count + 1 for count in counts) > MOST_MIXES:
        return _first_fit(sizes, fits)
    return _fewest(queues, counts, tuple(_mixes(kinds, counts, fits)))


def _first_fit(sizes: Sequence[Size], fits: Fits) -> tuple[Bundle, ...]:
    bundles: list[list[int]] = []
    for i in range(len(sizes)):
        home = next((b for b in bundles if fits([sizes[j] for j in (*b, i)])), None)
        if home is None:
            bundles.append([i])
        else:
            home.append(i)
    return tuple(tuple(bundle) for bundle in bundles)


def _mixes(kinds: Sequence[Size], counts: Bundle, fits: Fits, start: int = 0) -> Iterator[Bundle]:
    """Every mix of sizes that fits one hole, as a count by kind; a mix that does not fit is not added to."""

    def grow(mix: Bundle, start: int) -> Iterator[Bundle]:
        for k in range(start, len(kinds)):
            more = (*mix[:k], mix[k] + 1, *mix[k + 1 :])
            if more[k] <= counts[k] and fits([kind for kind, n in zip(kinds, more, strict=True) for _ in range(n)]):
                yield more
                yield from grow(more, k)

    return grow((0,) * len(kinds), start)


def _fewest(queues: list[list[int]], counts: Bundle, mixes: tuple[Bundle, ...]) -> tuple[Bundle, ...]:
    known: dict[Bundle, int] = {(0,) * len(counts): 0}

    def least(left: Bundle) -> int:
        if left not in known:
            first = next(k for k, n in enumerate(left) if n)
            known[left] = 1 + min(least(_less(left, mix)) for mix in mixes if mix[first] and _holds(left, mix))
        return known[left]

    bundles, left = [], counts
    while any(left):
        taken = [total - n for total, n in zip(counts, left, strict=True)]
        ahead = [queue[n:] for queue, n in zip(queues, taken, strict=True)]
        good = [m for m in mixes if _holds(left, m) and least(_less(left, m)) == least(left) - 1]
        best = min(good, key=lambda mix: (*_picked(ahead, mix), len(queues) * sum(counts)))
        bundles.append(_picked(ahead, best))
        left = _less(left, best)
    return tuple(bundles)


def _holds(left: Bundle, mix: Bundle) -> bool:
    return all(n <= m for n, m in zip(mix, left, strict=True))


def _less(left: Bundle, mix: Bundle) -> Bundle:
    return tuple(m - n for n, m in zip(mix, left, strict=True))


def _picked(ahead: list[list[int]], mix: Bundle) -> Bundle:
    return tuple(sorted(i for queue, n in zip(ahead, mix, strict=True) for i in queue[:n]))
