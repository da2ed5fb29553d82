"""Ways between rooms side by side: shared walls go in, ways through them come out."""

from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal

from estimator.building.adjoining import SharedWall
from estimator.building.model import RoomShape
from estimator.routing.adjoining import ceiling_z
from estimator.routing.graph import HOLE_BASE, Drawn, GraphBuilder
from estimator.routing.lanes import Face, plate_passage
from estimator.routing.model import XYZ, Passage, Piece
from estimator.routing.places import place_on
from estimator.routing.voids import Lines
from estimator.routing.words import as_text, thickness_text
from estimator.setout.model import Point

Faces = Sequence[tuple[Face, ...]]
"""The faces of every room, by number of room and wall."""


def through(face: Face, along_mm: int, start: XYZ, end: XYZ, length_mm: int, thickness_mm: Decimal) -> Drawn:
    """A way through a wall, square to it: `length_mm` of cable and one hole through `thickness_mm`."""
    room, wall = face.shape.room, face.wall.name
    piece = Piece("through", room.name, wall, "", start, end, length_mm)
    key = ("wall", room.name, wall, as_text(along_mm), as_text(start[2] - room.floor_level_mm))
    at = face.xyz(along_mm, start[2] - room.floor_level_mm)
    height = start[2] - room.floor_level_mm
    passage = Passage(key, "wall", room.name, wall, at, thickness_text(thickness_mm), thickness_mm, height)
    return Drawn((passage, piece))


def join_voids_through(builder: GraphBuilder, shared: SharedWall, faces: Faces, ceilings: Mapping[int, Lines]) -> None:
    """Joins the ceiling voids on both sides of a shared wall wherever a line of either meets it in the overlap."""
    one, other = ceilings.get(shared.first), ceilings.get(shared.second)
    if one is None or other is None or not _meet(one.void.shape, other.void.shape):
        return
    met = {*one.meets(shared.one), *(shared.across(along) for along in other.meets(shared.other))}
    face, far = faces[shared.first][shared.one.index], faces[shared.second][shared.other.index]
    for along in sorted(met | {shared.low_mm, shared.high_mm}):
        if shared.low_mm <= along <= shared.high_mm:
            _join_at(builder, shared, along, (face, one), (far, other))


def _meet(one: RoomShape, other: RoomShape) -> bool:
    """Whether the lower of two ceilings meets the wall of the other room."""
    low, high = sorted((one, other), key=ceiling_z)
    return high.room.floor_level_mm < ceiling_z(low)


def _join_at(
    builder: GraphBuilder,
    shared: SharedWall,
    along: int,
    near: tuple[Face, Lines],
    far: tuple[Face, Lines],
) -> None:
    """One way through; where one ceiling is higher it goes through at the lower one and up the higher room's wall."""
    (face, one), (far_face, other) = near, far
    opposite = shared.across(along)
    start_z, end_z = one.void.z, other.void.z
    level = min(start_z, end_z)
    up = [
        _rise(at, place, level, lines.void.z)
        for at, place, lines in ((face, along, one), (far_face, opposite, other))
        if lines.void.z > level
    ]
    if None in up:
        return
    here = (*place_on(face.shape, shared.one, along), level)
    there = (*place_on(far_face.shape, shared.other, opposite), level)
    way = through(face, along, here, there, shared.gap_mm, Decimal(shared.gap_mm)).items
    risen = tuple(item for rise in up if rise for item in rise)
    items = (*way, *risen) if end_z > start_z else (*_down(risen), *way)
    cost = (shared.gap_mm + abs(end_z - start_z)) * HOLE_BASE + 1 + (1 if risen else 0)
    start, end = one.foot(shared.one, along), other.foot(shared.other, opposite)
    builder.join(one.void.spot(start), other.void.spot(end), cost, Drawn(items))


def _rise(face: Face, along: int, low_z: int, high_z: int) -> tuple[Piece | Passage, ...] | None:
    """Up a wall from the level of a lower ceiling next door into the void; None where an opening is in the way."""
    floor_level = face.shape.room.floor_level_mm
    if face.riser_cut(along, low_z - floor_level, high_z - floor_level):
        return None
    ends = face.xyz(along, low_z - floor_level), face.xyz(along, high_z - floor_level)
    piece = Piece("riser", face.shape.room.name, face.wall.name, "", *ends, high_z - low_z)
    return piece, plate_passage(face, along, high_z - floor_level)


def _down(items: tuple[Piece | Passage, ...]) -> tuple[Piece | Passage, ...]:
    return tuple(
        Piece(item.kind, item.room, item.wall, item.void, item.end, item.start, item.length_mm)
        if isinstance(item, Piece)
        else item
        for item in reversed(items)
    )


def opposite_places(shared: SharedWall, point: Point, faces: Faces) -> Iterator[tuple[Face, int, int, Face]]:
    """For a point on a shared wall: the face behind it, along and height of its place there, and its own face."""
    one, other = faces[shared.first][shared.one.index], faces[shared.second][shared.other.index]
    for own, behind in ((one, other), (other, one)):
        if (point.room, point.wall) != (own.shape.room.name, own.wall.name) or point.surface != "wall":
            continue
        if point.along_mm is None or point.height_mm is None:
            continue
        along = shared.across(point.along_mm)
        rise = own.shape.room.floor_level_mm - behind.shape.room.floor_level_mm
        height = point.height_mm + rise
        first = point.along_mm if own is one else along
        if shared.low_mm <= first <= shared.high_mm and 0 <= height <= behind.shape.room.height_mm:
            yield behind, along, height, own
