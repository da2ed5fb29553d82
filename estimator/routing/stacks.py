"""Rooms over one another: a ceiling void and the floor void above it go in, the places that join them come out.

Both are one void (design, section 6), so a cable may change over at every place where lines of either lie in both
rooms. Only those that a shortest way can need are joined; each is a crossing of a line through a gate, or along a wall,
with a line along a wall.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise

from estimator.rounding import half_up
from estimator.routing.adjoining import Stacked
from estimator.routing.graph import HOLE_BASE, Drawn, GraphBuilder
from estimator.routing.model import Piece
from estimator.routing.places import XY
from estimator.routing.rectangles import RectangleLines
from estimator.routing.slopes import sloping
from estimator.routing.voids import Lines


def join_stacked(
    builder: GraphBuilder, pair: Stacked, below: Lines, above: Lines, gates: Mapping[int, Sequence[XY]]
) -> None:
    """Joins a ceiling void to the floor void above it: at the gates of both, or their feet on the overlap.

    `gates` are the gates of each void by its number, before any rooms were joined.
    """
    for place in dict.fromkeys(_common_places(below, above, gates)):
        below.gate(place)
        above.gate(place)
        low, high = (*place, below.void.z), (*place, above.void.z)
        piece = Piece("riser", above.void.shape.room.name, "", "floor", low, high, pair.rise_mm)
        start, end = below.void.spot(place), above.void.spot(place)
        builder.join(start, end, pair.rise_mm * HOLE_BASE, Drawn((piece,)))


def _common_places(below: Lines, above: Lines, gates: Mapping[int, Sequence[XY]]) -> Iterator[XY]:
    """Where the two are joined.

    In rooms without a nook every way is as short as its distances in x and y, so a way that changes over can do so
    right at a gate that lies in both rooms; to a gate of one that does not, where its lines come in over both, or at a
    corner of what they share. Elsewhere a way may come up and go down again to cut off a corner: every line counts.
    """
    every = (*gates[above.void.number], *gates[below.void.number])
    if isinstance(below, RectangleLines) and isinstance(above, RectangleLines):
        (low, high), (other_low, other_high) = below.bounds, above.bounds
        least = max(low[0], other_low[0]), max(low[1], other_low[1])
        most = min(high[0], other_high[0]), min(high[1], other_high[1])
        yield from ((min(max(x, least[0]), most[0]), min(max(y, least[1]), most[1])) for x, y in every)
        return
    corners = (*_corners(below), *_corners(above))
    candidates = (*every, *corners, *_met(below, above))
    yield from (place for place in candidates if below.holds(place) and above.holds(place))
    if _without_nooks(below) and _without_nooks(above):
        outside = [place for place in every if not (below.holds(place) and above.holds(place))]
        yield from (nearest for place in outside for nearest, _ in _ends_of_overlap(below, above, place))
    else:
        found = (end for place in (*every, *corners) for ends in _ends_of_overlap(below, above, place) for end in ends)
        yield from (end for end in found if below.holds(end) and above.holds(end))  # ends at slopes are rounded


def _without_nooks(lines: Lines) -> bool:
    """Whether no line parallel to x or y leaves the room and comes in again, and no wall slopes."""
    if any(sloping(wall) for wall in lines.void.shape.walls):
        return False
    for axis in (0, 1):
        levels = sorted({corner[axis] for corner in _corners(lines)})
        between = ((low + high) // 2 for low, high in pairwise(levels))
        if any(len(lines.open(axis, level)) > 1 for level in (*levels, *between)):
            return False
    return True


def _ends_of_overlap(below: Lines, above: Lines, place: XY) -> Iterator[tuple[XY, XY]]:
    """Where the lines through a place come in over both rooms and where they leave one of them, the nearer end first."""
    for axis in (0, 1):
        for low, high in _overlaps(below.open(axis, place[axis]), above.open(axis, place[axis])):
            ends = sorted((half_up(low), half_up(high)), key=lambda end: abs(end - place[1 - axis]))
            near, far = ((place[0], end) if axis == 0 else (end, place[1]) for end in ends)
            yield near, far


def _overlaps(
    one: Iterable[tuple[Fraction, Fraction]], other: Sequence[tuple[Fraction, Fraction]]
) -> Iterator[tuple[Fraction, Fraction]]:
    for low, high in one:
        for other_low, other_high in other:
            if max(low, other_low) <= min(high, other_high):
                yield max(low, other_low), min(high, other_high)


def _corners(lines: Lines) -> list[XY]:
    room = lines.void.shape.room
    return [(x + room.at[0], y + room.at[1]) for x, y in room.corners]


def _met(below: Lines, above: Lines) -> Iterator[XY]:
    """Where walls of the one room cross walls of the other in plan, whole mm."""
    for start, end in _sides(below):
        for other_start, other_end in _sides(above):
            found = _crossing(start, end, other_start, other_end)
            if found:
                yield found


def _sides(lines: Lines) -> Iterator[tuple[XY, XY]]:
    corners = _corners(lines)
    return zip(corners, corners[1:] + corners[:1], strict=True)


def _crossing(start: XY, end: XY, other_start: XY, other_end: XY) -> XY | None:
    dx, dy = end[0] - start[0], end[1] - start[1]
    other_dx, other_dy = other_end[0] - other_start[0], other_end[1] - other_start[1]
    turn = dx * other_dy - dy * other_dx
    if not turn:
        return None
    from_x, from_y = other_start[0] - start[0], other_start[1] - start[1]
    share = Fraction(from_x * other_dy - from_y * other_dx, turn)
    other_share = Fraction(from_x * dy - from_y * dx, turn)
    if not (0 <= share <= 1 and 0 <= other_share <= 1):
        return None
    return half_up(start[0] + share * dx), half_up(start[1] + share * dy)
