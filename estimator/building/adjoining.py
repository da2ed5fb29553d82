"""How walls of two rooms meet: the building and the rule for walls back to back go in, pairs of walls come out."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.building.model import Building, RoomShape, Wall
from estimator.rounding import half_up

BACK_TO_BACK = "back-to-back-walls"
"""The rule of rules.csv: how far apart the faces of two walls may be that stand back to back."""


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
    (low, high), (other_low, other_high) = _bounds(one), _bounds(other)
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


def _bounds(shape: RoomShape) -> tuple[tuple[int, int], tuple[int, int]]:
    """The lowest and the highest x and y of a room in the building."""
    xs, ys = zip(*shape.room.corners, strict=True)
    x, y = shape.room.at
    return (x + min(xs), y + min(ys)), (x + max(xs), y + max(ys))
