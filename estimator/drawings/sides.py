"""The walls of a storey as rulers: rooms of a building go in; places along and away from each wall come out.

Everything is in real mm of the building. `along` runs as in the job, from the wall's left end as seen from inside;
`inward` is the distance into the room from the inside face of the frame, outward where negative.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from estimator.building.model import RoomShape, Wall
from estimator.drawings.svg import XY


@dataclass(frozen=True, slots=True)
class Side:
    """One wall: where it starts, the unit directions along it and into the room, its length and thickness."""

    room: str
    wall: Wall
    start: XY
    along: XY
    into: XY
    length: float
    thickness: float

    def at(self, along: float, inward: float = 0) -> XY:
        """The place of the plan at those distances."""
        return (
            self.start[0] + along * self.along[0] + inward * self.into[0],
            self.start[1] + along * self.along[1] + inward * self.into[1],
        )

    def of(self, place: XY) -> XY:
        """How far along and inward a place of the plan is."""
        x, y = place[0] - self.start[0], place[1] - self.start[1]
        return x * self.along[0] + y * self.along[1], x * self.into[0] + y * self.into[1]


def sides(shape: RoomShape) -> tuple[Side, ...]:
    """The walls of a room, clockwise."""
    return tuple(_side(shape, wall) for wall in shape.walls)


def _side(shape: RoomShape, wall: Wall) -> Side:
    dx, dy = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
    length = sqrt(dx * dx + dy * dy)
    x, y = shape.room.at
    # Clockwise seen from above, the room lies to the right of its walls.
    return Side(
        shape.room.name,
        wall,
        (float(wall.start[0] + x), float(wall.start[1] + y)),
        (dx / length, dy / length),
        (dy / length, -dx / length),
        length,
        float(wall.frame.thickness_mm),
    )


def meet(a: XY, u: XY, b: XY, v: XY) -> XY | None:
    """Where the line through `a` along `u` meets the one through `b` along `v`; None where they are (nearly) parallel."""
    cross = u[0] * v[1] - u[1] * v[0]
    if abs(cross) < 1e-6:
        return None
    t = ((b[0] - a[0]) * v[1] - (b[1] - a[1]) * v[0]) / cross
    return a[0] + t * u[0], a[1] + t * u[1]


def outer_corners(around: Sequence[Side]) -> tuple[XY, ...]:
    """The corners of the outer faces: before each wall's start, in the order of the walls."""
    found = []
    for before, side in zip((around[-1], *around[:-1]), around, strict=True):
        met = meet(before.at(0, -before.thickness), before.along, side.at(0, -side.thickness), side.along)
        found.append(met or side.at(0, -side.thickness))
    return tuple(found)


def inside(place: XY, corners: Sequence[XY]) -> bool:
    """Whether a place is within a closed line, by counting how often a ray from it crosses that."""
    crossings = False
    for a, b in zip(corners, (*corners[1:], corners[0]), strict=True):
        if (a[1] > place[1]) != (b[1] > place[1]):
            x = a[0] + (place[1] - a[1]) * (b[0] - a[0]) / (b[1] - a[1])
            crossings ^= place[0] < x
    return crossings
