"""Takes a room's corners; gives its walls, and places on them in whole millimetres of the room.

Walls that slope to the axes have lengths and places that are no whole numbers: each is rounded half up from
its exact value, by whole-number square roots.
"""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from math import isqrt

from estimator.building.model import Wall
from estimator.building.studs import studs
from estimator.job.model import Opening, Room

Corner = tuple[int, int]


def walls(room: Room) -> tuple[Wall, ...]:
    """Build the walls of a room, clockwise from its first corner; `offset_mm` is the length of all before it.

    Openings of a wall are ordered by along, sill, width. Raises ValueError where two neighbours are one corner.
    """
    found: list[Wall] = []
    offset = 0
    for index, name in enumerate(room.wall_names):
        start, end = room.corners[index], room.corners[(index + 1) % len(room.corners)]
        length = distance_mm(start, end)
        if length == 0:
            raise ValueError(f"wall {name} from {start} to itself has no length")
        frame = room.frames[index]
        openings = [opening for opening in room.openings if opening.wall == name]
        bare = Wall(room.name, name, index, start, end, length, offset, frame, (), ())
        found.append(with_openings(bare, openings))
        offset += length
    return tuple(found)


def with_openings(wall: Wall, openings: Iterable[Opening]) -> Wall:
    """The wall with these openings, ordered by along, sill, width and head, and the studs that they call for."""
    ordered = tuple(
        sorted(openings, key=lambda opening: (opening.along_mm, opening.sill_mm, opening.width_mm, opening.head_mm))
    )
    standing = studs(wall.length_mm, wall.frame.stud.thickness_mm, wall.frame.centres_mm, ordered)
    return replace(wall, openings=ordered, studs=standing)


def distance_mm(start: Corner, end: Corner) -> int:
    """The distance of two places in mm, half up from its exact value."""
    squared = (end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2
    return (isqrt(4 * squared) + 1) // 2


def point_on(start: Corner, end: Corner, along_mm: int, out_mm: Decimal | int = 0) -> Corner:
    """Room x and y in mm of the place `along_mm` from start towards end and `out_mm` outwards (to the left).

    Each is rounded half up from its exact value. Walls go round clockwise from above, inside to the right.
    """
    dx, dy = end[0] - start[0], end[1] - start[1]
    squared = dx * dx + dy * dy
    out = Fraction(out_mm)
    return (
        start[0] + _half_up_over_root(along_mm * dx - out * dy, squared),
        start[1] + _half_up_over_root(along_mm * dy + out * dx, squared),
    )


def _half_up_over_root(value: Fraction, squared: int) -> int:
    """`value` over the square root of `squared`, to the nearest whole number, a half up."""
    doubled = 4 * value * value / squared
    root = isqrt(doubled.numerator // doubled.denominator)
    if value < 0:
        root = -root if root * root == doubled else -root - 1
    return (root + 1) // 2
