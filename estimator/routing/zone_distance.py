"""How far out of all zones a cable is: the zones and openings of a wall and the places of a cable in, whole mm out.

For every place of it that no zone covers: the straight distance in the plane of the wall to the nearest place of a zone,
as a tape would show it; of all its places, the farthest. Zones are measured to the edge of an opening, since nothing lies
in a window or a doorway: round one the nearest place can be askew.
"""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from itertools import combinations
from typing import Literal

from estimator.job.model import Opening
from estimator.rounding import half_up
from estimator.routing.model import Zone

Span = tuple[Decimal, Decimal]
Kind = Literal["lane", "riser"]
Rectangle = tuple[Decimal, Decimal, Decimal, Decimal]
"""From and to along a wall, from and to up it."""
Beside = tuple[Decimal, Decimal, Decimal]
"""A rectangle as a line sees it: from and to along the line, and the square of how far it lies to the side."""
AWAY = Decimal(10) ** 9
"""Farther than any wall is long."""
FINE = Decimal("0.000001")
"""Coarser than what a square root can be out by."""


def farthest_mm(
    zones: Sequence[Zone], openings: Sequence[Opening], kind: Kind, at_mm: int, spans: Sequence[Span]
) -> int:
    """How far the farthest place of a lane or riser is from the zone nearest to that place, whole mm, half up, at least 1.

    `spans` are what of it no zone covers. Where openings leave nothing of the zones, they are taken whole.
    """
    seen = []
    for low, high, foot, head in _on_the_wall(zones, openings):
        (start, end), (near, far) = ((low, high), (foot, head)) if kind == "lane" else ((foot, head), (low, high))
        seen.append((start, end, max(near - at_mm, at_mm - far, Decimal(0)) ** 2))
    squared = max(_farthest(_nearest_ones(seen, span), span) for span in spans)
    return max(half_up(squared.sqrt().quantize(FINE)), 1)


def _on_the_wall(zones: Sequence[Zone], openings: Sequence[Opening]) -> Sequence[Rectangle]:
    """What openings leave of zones; the zones themselves where nothing is left."""
    whole = [(zone.low_along_mm, zone.high_along_mm, zone.low_mm, zone.high_mm) for zone in zones]
    left = whole
    for gap in openings:
        left = [piece for rectangle in left for piece in _beside_opening(rectangle, gap)]
    return left or whole


def _beside_opening(rectangle: Rectangle, gap: Opening) -> Iterator[Rectangle]:
    """What an opening leaves of a rectangle: left and right of it, below and above it."""
    low, high, foot, head = rectangle
    left, right = Decimal(gap.along_mm), Decimal(gap.along_mm + gap.width_mm)
    if high <= left or right <= low or head <= gap.sill_mm or gap.head_mm <= foot:
        yield rectangle
        return
    if low < left:
        yield low, left, foot, head
    if right < high:
        yield right, high, foot, head
    if foot < gap.sill_mm:
        yield max(low, left), min(high, right), foot, Decimal(gap.sill_mm)
    if gap.head_mm < head:
        yield max(low, left), min(high, right), Decimal(gap.head_mm), head


def _nearest_ones(seen: Sequence[Beside], span: Span) -> Sequence[Beside]:
    """Without those that another is at least as near as all along the span; what ends before it or begins after reaches on."""
    low, high = span
    kept: list[Beside] = []
    reaching = (
        (-AWAY if min(start, end) <= low else start, AWAY if max(start, end) >= high else end, aside)
        for start, end, aside in seen
    )
    for start, end, aside in sorted(reaching, key=lambda one: (one[2], one[0], -one[1])):
        if not any(first <= start and end <= last for first, last, _ in kept):
            kept.append((start, end, aside))
    return kept


def _farthest(seen: Sequence[Beside], span: Span) -> Decimal:
    """The greatest square of a distance to the nearest: at an end of the span, or where two are equally near."""
    turns = [*span]
    for one, other in combinations(seen, 2):
        turns += _equally_near(one, other)
    low, high = span
    return max(min(_squared(one, place) for one in seen) for place in turns if low <= place <= high)


def _equally_near(one: Beside, other: Beside) -> Iterator[Decimal]:
    """Every place on the line that may be as far from one as from the other, where they are not so all along."""
    for mine in one[:2]:
        for its in other[:2]:
            if mine != its:
                yield (its * its + other[2] - mine * mine - one[2]) / (2 * (its - mine))
    near, far = sorted((one, other), key=lambda of: of[2])
    root = (far[2] - near[2]).sqrt()
    yield from (near[0] - root, near[1] + root)


def _squared(of: Beside, place: Decimal) -> Decimal:
    start, end, aside = of
    along = max(start - place, place - end, Decimal(0))
    return along * along + aside
