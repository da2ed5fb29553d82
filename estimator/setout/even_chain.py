"""Takes even places in order, the stretches where a place may be and the least gap; gives the closest legal places.

From the last place back to the first, the cost of the rest of the row is kept as a function of where that rest may
begin. It never falls, and is made of pieces of parabolas (a place put exactly there, perhaps pushing others along at
`gap`) and of levels between them (the place goes on to a cheaper spot). Whole numbers throughout, so that equal costs
are found equal.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from math import isqrt
from typing import NamedTuple


class Stretch(NamedTuple):
    """Legal places `low` to `high` in mm, both counted, on the face that ends just before `face_end`."""

    low: int
    high: int
    face_end: int


class Part(NamedTuple):
    """The cost `(a * x + b) * x + c` in mm2 for x from `low` to `high` mm; `a` is 0 on a level and nowhere else."""

    low: int
    high: int
    a: int
    b: int
    c: int


def stretches_of(legal: Sequence[tuple[int, int]], faces: Sequence[tuple[int, int]]) -> tuple[Stretch, ...]:
    """Legal intervals (mm, inclusive, ascending) cut where faces meet; a shared end is on the face it starts."""
    cut: list[Stretch] = []
    face = 0
    for low, high in legal:
        while low <= high:
            while faces[face][1] <= low:
                face += 1
            end = faces[face][1]
            cut.append(Stretch(low, min(high, end - 1), end))
            low = end
    return tuple(cut)


def fits(stretches: Sequence[Stretch], gap: int) -> int:
    """The most places that go into the stretches with `gap` mm between two on one face: lowest first is best."""
    count, free, face_end = 0, 0, -1
    for low, high, end in stretches:
        free = max(low, free) if end == face_end else low
        face_end = end
        if free <= high:
            more = (high - free) // gap + 1
            count += more
            free += more * gap
    return count


def nearest(even: int, stretches: Sequence[Stretch]) -> int:
    """Distance in mm from `even` to the nearest legal place, not going across the line's start."""
    i = bisect_left(stretches, even, key=_high)
    right = max(stretches[i].low - even, 0) if i < len(stretches) else None
    left = even - stretches[i - 1].high if i else None
    return min(way for way in (left, right) if way is not None)


def closest(
    evens: Sequence[int], stretches: Sequence[Stretch], gap: int, most: int | None = None
) -> tuple[int, ...] | None:
    """Legal places in the order of `evens` (mm, ascending) with the least sum of squared moves.

    Of equal sums, the places that come first by number. With `most` (mm2), None when every sum is above it.

    Raises:
        ValueError: fewer places fit than `evens` asks for (only found out without `most`).
    """
    moves = [nearest(even, stretches) ** 2 for even in evens]
    least = sum(moves)
    limit = least if most is None else most
    while limit >= least:
        reach = [isqrt(limit - least + move) for move in moves]
        places = _within(evens, reach, stretches, gap)
        total = limit + 1 if places is None else squares(places, evens)
        if total <= limit:
            return places
        if most is not None:
            break
        if places is None and _covers(evens, reach, stretches):
            raise ValueError(f"{len(evens)} places asked for, {fits(stretches, gap)} fit")
        # A row that was found but is dearer than the limit proves how far it is worth looking.
        limit = 4 * limit + gap * gap if places is None else total
    return None


def squares(places: Sequence[int], evens: Sequence[int]) -> int:
    """Sum of squared moves in mm2 between two lists of the same length."""
    return sum((place - even) ** 2 for place, even in zip(places, evens, strict=True))


def _high(stretch: Stretch) -> int:
    return stretch.high


def _low(stretch: Stretch) -> int:
    return stretch.low


def _covers(evens: Sequence[int], reach: Sequence[int], stretches: Sequence[Stretch]) -> bool:
    first, last = stretches[0].low, stretches[-1].high
    return all(even - far <= first and last <= even + far for even, far in zip(evens, reach, strict=True))


def _within(
    evens: Sequence[int], reach: Sequence[int], stretches: Sequence[Stretch], gap: int
) -> tuple[int, ...] | None:
    """The best row whose every place is within its `reach` (mm) of its even place, or None."""
    rest = [Part(0, stretches[-1].face_end, 0, 0, 0)]
    rows: list[list[Part]] = []
    for even, far in zip(reversed(evens), reversed(reach), strict=True):
        rest = _lowest(even, _sums(_window(stretches, even - far, even + far), rest, gap))
        if not rest:
            return None
        rows.append(rest)
    return _read(rows, stretches, gap)


def _window(stretches: Sequence[Stretch], low: int, high: int) -> Iterator[Stretch]:
    """Stretches within `low` to `high`, the last first."""
    first = bisect_left(stretches, low, key=_high)
    for i in range(bisect_right(stretches, high, key=_low) - 1, first - 1, -1):
        stretch = stretches[i]
        yield Stretch(max(stretch.low, low), min(stretch.high, high), stretch.face_end)


def _sums(window: Iterator[Stretch], rest: Sequence[Part], gap: int) -> Iterator[Part]:
    """The cost of the rest of the row as a function of this place, the last part first."""
    at = 0
    for low, high, end in window:
        alone = max(low, end - gap + 1)  # from here on the next place is on another face
        if alone <= high:
            while at < len(rest) and rest[at].low > end:
                at += 1
            if at < len(rest) and rest[at].high >= end:
                _, _, a, b, c = rest[at]
                yield Part(alone, high, 0, 0, (a * end + b) * end + c)
            high = alone - 1
        while at < len(rest) and low <= high:
            start, stop, a, b, c = rest[at]
            top, bottom = min(stop - gap, high), max(start - gap, low)
            if bottom <= top:
                yield Part(bottom, top, a, b + 2 * a * gap, (a * gap + b) * gap + c)
            if start - gap <= low:
                break
            at += 1


def _lowest(even: int, sums: Iterator[Part]) -> list[Part]:
    """Add the squared move of this place and keep the least cost at x or above, for every x; the last part first."""
    kept: list[Part] = []
    least, spot = 0, 0
    for low, high, a, b, c in sums:
        a, b, c = a + 1, b - 2 * even, c + even * even
        turn = min(max(-((a + b) // (2 * a)), low), high)
        cost = (a * turn + b) * turn + c
        if kept:
            if cost > least:
                continue
            if (a * high + b) * high + c > least:
                high = (isqrt(b * b - 4 * a * (c - least)) - b) // (2 * a)
            if high + 1 < spot:
                kept.append(Part(high + 1, spot - 1, 0, 0, least))
        kept.append(Part(turn, high, a, b, c))
        least, spot = cost, turn
    if spot > 0:
        kept.append(Part(0, spot - 1, 0, 0, least))
    return kept


def _read(rows: Sequence[Sequence[Part]], stretches: Sequence[Stretch], gap: int) -> tuple[int, ...]:
    """Follow the costs from the first place on, always to the lowest place that keeps the least sum."""
    places: list[int] = []
    free = 0
    for parts in reversed(rows):
        part = parts[bisect_left(parts, -free, key=lambda part: -part.low)]
        place = free if part.a else part.high + 1
        places.append(place)
        free = min(place + gap, stretches[bisect_left(stretches, place, key=_high)].face_end)
    return tuple(places)
