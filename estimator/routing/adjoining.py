"""How rooms meet: the building and the rule for walls back to back go in, shared walls and rooms above come out."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.model import Building, RoomShape, Wall
from estimator.rounding import half_up
from estimator.routing.places import bounds


@dataclass(frozen=True, slots=True)
class SharedWall:
    """Two walls back to back: `one` of room number `first`, `other` of room number `second`, `first` < `second`.

    They overlap from `low_mm` to `high_mm` along `one`, `gap_mm` apart; `offset_mm` less an along of `one` is
    the along of the same place on `other`.
    """

    first: int
    one: Wall
    second: int
    other: Wall
    low_mm: int
    high_mm: int
    gap_mm: int
    offset_mm: int

    def across(self, along_mm: int) -> int:
        """The along on either wall of the place opposite an along of the other."""
        return self.offset_mm - along_mm


def shared_walls(building: Building, limit_mm: Decimal) -> tuple[SharedWall, ...]:
    """All pairs of walls of two rooms that lie back to back within `limit_mm`, in the order of rooms and walls."""
    rooms = list(enumerate(building.rooms))
    return tuple(
        found
        for first, one_room in rooms
        for second, other_room in rooms[first + 1 :]
        if _near(one_room, other_room, limit_mm)
        for one in one_room.walls
        for other in other_room.walls
        if (found := _shared((first, one_room, one), (second, other_room, other), limit_mm))
    )


def _near(one: RoomShape, other: RoomShape, limit_mm: Decimal) -> bool:
    (low, high), (other_low, other_high) = bounds(one), bounds(other)
    return all(low[axis] <= other_high[axis] + limit_mm and other_low[axis] <= high[axis] + limit_mm for axis in (0, 1))


def _shared(
    one: tuple[int, RoomShape, Wall], other: tuple[int, RoomShape, Wall], limit_mm: Decimal
) -> SharedWall | None:
    (first, one_room, a), (second, other_room, b) = one, other
    dx, dy = a.end[0] - a.start[0], a.end[1] - a.start[1]
    other_dx, other_dy = b.end[0] - b.start[0], b.end[1] - b.start[1]
    if dx * other_dy != dy * other_dx or dx * other_dx + dy * other_dy >= 0:
        return None
    from_x = b.start[0] + other_room.room.at[0] - a.start[0] - one_room.room.at[0]
    from_y = b.start[1] + other_room.room.at[1] - a.start[1] - one_room.room.at[1]
    root = Decimal(dx * dx + dy * dy).sqrt()
    gap = (dx * from_y - dy * from_x) / root  # outwards of a wall is to the left of its direction
    offset = half_up((dx * from_x + dy * from_y) / root)
    low, high = max(0, offset - b.length_mm), min(a.length_mm, offset)
    if not 0 <= gap <= limit_mm or low >= high:
        return None
    return SharedWall(first, a, second, b, low, high, half_up(gap), offset)


@dataclass(frozen=True, slots=True)
class Stacked:
    """Room number `upper` has a floor void over the ceiling void of room number `lower`, `rise_mm` higher."""

    lower: int
    upper: int
    rise_mm: int


def stacked(building: Building) -> tuple[Stacked, ...]:
    """All pairs of a room with a ceiling void and a room next above part of it that has a floor void."""
    rooms = list(enumerate(building.rooms))
    return tuple(
        Stacked(lower, upper, above.room.floor_level_mm - ceiling_z(below))
        for lower, below in rooms
        if below.room.ceiling.void
        for upper, above in rooms
        if above.room.floor.void and _next_above(building, below, above)
    )


def ceiling_z(shape: RoomShape) -> int:
    """The building's z of a room's ceiling."""
    return shape.room.floor_level_mm + shape.room.height_mm


def _next_above(building: Building, below: RoomShape, above: RoomShape) -> bool:
    low, high = ceiling_z(below), above.room.floor_level_mm
    return low <= high and _overlap(below, above) and not any(_between(building, below, above))


def _between(building: Building, below: RoomShape, above: RoomShape) -> Iterator[bool]:
    """Whether each room stands between the two, over the one and under the other."""
    for shape in building.rooms:
        level = shape.room.floor_level_mm >= ceiling_z(below) and ceiling_z(shape) <= above.room.floor_level_mm
        yield level and _overlap(below, shape) and _overlap(shape, above)


def _overlap(one: RoomShape, other: RoomShape) -> bool:
    """Whether the rectangles round two rooms overlap in plan."""
    (low, high), (other_low, other_high) = bounds(one), bounds(other)
    return all(low[axis] < other_high[axis] and other_low[axis] < high[axis] for axis in (0, 1))
