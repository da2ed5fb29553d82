"""How storeys meet: the building goes in, rooms with those next above them come out."""

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.building.model import Building, RoomShape
from estimator.routing.places import bounds


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


def next_above(building: Building) -> Iterator[tuple[RoomShape, RoomShape]]:
    """All pairs of a room and one next above part of it, whether cables may pass between them or not."""
    for below in building.rooms:
        for above in building.rooms:
            if _next_above(building, below, above):
                yield below, above


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
