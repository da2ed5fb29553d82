"""Whether two rooms take up the same floor: corners in plan go in, exact; no rounding, whatever way the walls run."""

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import pairwise

from estimator.job.corners import Corner

Box = tuple[Corner, Corner]
"""The lowest and the highest corner."""


def box(corners: Sequence[Corner]) -> Box:
    """The rectangle round some corners."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    return (min(xs), min(ys)), (max(xs), max(ys))


def common(one: Sequence[Corner], other: Sequence[Corner]) -> Box | None:
    """The rectangle common to the rectangles round two rooms that overlap in plan; None where they do not.

    Rooms that only touch do not overlap. Corners go round each room once, either way.
    """
    (low, high), (other_low, other_high) = box(one), box(other)
    least = max(low[0], other_low[0]), max(low[1], other_low[1])
    most = min(high[0], other_high[0]), min(high[1], other_high[1])
    if least[0] >= most[0] or least[1] >= most[1]:
        return None
    return (least, most) if _overlap(one, other) else None


def _overlap(one: Sequence[Corner], other: Sequence[Corner]) -> bool:
    """Whether some upright line between two places where anything changes has a stretch within both."""
    changes = sorted({Fraction(x) for x, _ in (*one, *other)} | set(_crossings(one, other)))
    return any(_shared(_within(one, (a + b) / 2), _within(other, (a + b) / 2)) for a, b in pairwise(changes))


def _sides(corners: Sequence[Corner]) -> Iterator[tuple[Corner, Corner]]:
    return zip(corners, [*corners[1:], corners[0]], strict=True)


def _crossings(one: Sequence[Corner], other: Sequence[Corner]) -> Iterator[Fraction]:
    """The x of every place where the lines of two sides cross within both."""
    for (ax, ay), (bx, by) in _sides(one):
        for (cx, cy), (dx, dy) in _sides(other):
            turn = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
            if turn:
                share = Fraction((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx), turn)
                across = Fraction((cx - ax) * (by - ay) - (cy - ay) * (bx - ax), turn)
                if 0 <= share <= 1 and 0 <= across <= 1:
                    yield ax + share * (bx - ax)


def _within(corners: Sequence[Corner], x: Fraction) -> list[tuple[Fraction, Fraction]]:
    """The stretches of an upright line that lie in a room; the line meets no corner."""
    met = sorted(
        ay + (x - ax) * Fraction(by - ay, bx - ax) for (ax, ay), (bx, by) in _sides(corners) if (ax < x) != (bx < x)
    )
    return list(zip(met[::2], met[1::2], strict=True))


def _shared(one: Sequence[tuple[Fraction, Fraction]], other: Sequence[tuple[Fraction, Fraction]]) -> bool:
    return any(max(low, lower) < min(high, higher) for low, high in one for lower, higher in other)
