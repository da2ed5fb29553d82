"""Lines in plan: corners and a line parallel to x or y go in; the stretches of it that lie within come out, exact."""

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from estimator.routing.places import XY

Stretch = tuple[Fraction, Fraction]


def level_at(start: XY, end: XY, axis: int, fixed: int) -> Fraction:
    """Where a side that slopes to an axis meets the line square to that axis at `fixed`."""
    share = Fraction(fixed - start[axis], end[axis] - start[axis])
    return start[1 - axis] + share * (end[1 - axis] - start[1 - axis])


def off(stretch: Stretch, at: int) -> Fraction:
    """How far a place on a line lies from a stretch of it."""
    return max(stretch[0] - at, at - stretch[1], Fraction(0))


def inside(corners: Sequence[XY], axis: int, fixed: int) -> list[Stretch]:
    """Stretches of a line that lie inside an outline just before or just after it, or along its sides, as one."""
    before, after = [], []
    for start, end in zip(corners, [*corners[1:], corners[0]], strict=True):
        low, high = sorted((start[axis], end[axis]))
        if low < fixed <= high:
            before.append(level_at(start, end, axis, fixed))
        if low <= fixed < high:
            after.append(level_at(start, end, axis, fixed))
    return _united((*_paired(before), *_paired(after)))


def _paired(levels: list[Fraction]) -> Iterator[Stretch]:
    ascending = sorted(levels)
    return zip(ascending[::2], ascending[1::2], strict=True)


def _united(stretches: Iterable[Stretch]) -> list[Stretch]:
    result: list[Stretch] = []
    for low, high in sorted(stretches):
        if result and low <= result[-1][1]:
            result[-1] = result[-1][0], max(high, result[-1][1])
        else:
            result.append((low, high))
    return result
