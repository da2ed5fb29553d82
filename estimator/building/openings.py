"""Openings of walls that two rooms share: the building and the rule for walls back to back go in, the openings that one
room names and the other does not come out, as they lie in the other's face; and the building that has them.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.building.adjoining import SharedWall, shared_walls
from estimator.building.model import Building, RoomShape, Wall
from estimator.building.walls import with_openings
from estimator.job.model import Opening


@dataclass(frozen=True, slots=True)
class Through:
    """`named` of the wall `wall`, and `seen`: the same opening in the face `far` of the wall back to back with it.

    `own` is what the room of `far` names there itself, overlapping it; None where it names nothing.
    """

    wall: Wall
    named: Opening
    far: Wall
    seen: Opening
    own: Opening | None


def with_openings_of_both_faces(building: Building, limit_mm: Decimal) -> Building:
    """The building, each opening that one room names in a shared wall an opening of the other room's face too."""
    extra: dict[tuple[str, str], list[Opening]] = {}
    for of in openings_through(building, limit_mm):
        known = extra.setdefault((of.far.room, of.far.name), [])
        if of.own is None and not any(_overlap(of.seen, other) for other in known):
            known.append(of.seen)
    return Building(tuple(_with(shape, extra) for shape in building.rooms)) if any(extra.values()) else building


def openings_through(building: Building, limit_mm: Decimal) -> tuple[Through, ...]:
    """What openings are in the face behind their wall, in the order of rooms, walls and openings.

    Only those the rooms name themselves count, whole or as far as the other wall reaches along and up.
    """
    found: list[Through] = []
    for shared in shared_walls(building, limit_mm):
        one, other = building.rooms[shared.first], building.rooms[shared.second]
        found += _through(shared, one, shared.one, other, shared.other)
        found += _through(shared, other, shared.other, one, shared.one)
    return tuple(found)


def _through(shared: SharedWall, shape: RoomShape, wall: Wall, beyond: RoomShape, far: Wall) -> Iterator[Through]:
    mine = [opening for opening in wall.openings if not opening.named_in]
    theirs = [opening for opening in far.openings if not opening.named_in]
    for opening in mine:
        seen = _seen(shared, opening, shape, beyond, far)
        if seen is not None:
            yield Through(wall, opening, far, seen, next((of for of in theirs if _overlap(seen, of)), None))


def _seen(shared: SharedWall, opening: Opening, shape: RoomShape, beyond: RoomShape, far: Wall) -> Opening | None:
    """The opening as the other face has it; None where that face does not reach so far."""
    rise = shape.room.floor_level_mm - beyond.room.floor_level_mm
    left = max(0, shared.across(opening.along_mm + opening.width_mm))
    right = min(far.length_mm, shared.across(opening.along_mm))
    sill, head = max(0, opening.sill_mm + rise), min(beyond.room.height_mm, opening.head_mm + rise)
    if left >= right or sill >= head:
        return None
    wide, name = right - left, shape.room.name
    return Opening(opening.kind, far.name, left, wide, sill, head, named_in=name, place=opening.place)


def _overlap(one: Opening, other: Opening) -> bool:
    along = max(one.along_mm, other.along_mm) < min(one.along_mm + one.width_mm, other.along_mm + other.width_mm)
    return along and max(one.sill_mm, other.sill_mm) < min(one.head_mm, other.head_mm)


def _with(shape: RoomShape, extra: dict[tuple[str, str], list[Opening]]) -> RoomShape:
    walls = tuple(
        with_openings(wall, (*wall.openings, *more)) if (more := extra.get((wall.room, wall.name))) else wall
        for wall in shape.walls
    )
    return replace(shape, walls=walls)
