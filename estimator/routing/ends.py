"""Where points and boards join the network: what is set out goes in, terminals with their nodes come out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.rounding import half_up
from estimator.routing.crossings import Faces, through
from estimator.routing.graph import END_LAYER, HOLE_BASE, GraphBuilder, Spot
from estimator.routing.lanes import Face
from estimator.routing.model import XYZ
from estimator.routing.places import XY
from estimator.routing.voids import Lines
from estimator.setout.model import PlacedBoard, Point


@dataclass(frozen=True, slots=True)
class Terminal:
    """A point or board as an end of legs; a board's number is 0."""

    name: str
    number: int
    room: str
    xyz: XYZ
    spot: Spot
    point: Point | None

    @property
    def order(self) -> tuple[int, int, int, int, str]:
        """Building z, y, x, then number; the name only parts what is alike in all of them."""
        x, y, z = self.xyz
        return z, y, x, self.number, self.name


@dataclass(frozen=True, slots=True)
class Parts:
    """What the terminals join: faces by room and wall, voids by room."""

    rooms: Mapping[str, int]
    faces: Faces
    ceilings: Mapping[int, Lines]
    floors: Mapping[int, Lines]

    def face(self, item: Point | PlacedBoard) -> Face:
        """The face of the wall a point or board is on."""
        faces: Sequence[Face] = self.faces[self.rooms[item.room]]
        return next(face for face in faces if face.wall.name == item.wall)


def board_end(builder: GraphBuilder, parts: Parts, board: PlacedBoard) -> Terminal:
    """A board: on the lane and riser of its own place."""
    spot = parts.face(board).spot(board.along_mm, board.height_mm)
    builder.add(spot)
    return Terminal(board.name, 0, board.room, board.xyz_mm, spot, None)


def point_end(builder: GraphBuilder, parts: Parts, point: Point) -> Terminal:
    """A point, joined to the network by the rule for its surface where there is something to join."""
    room = parts.rooms[point.room]
    if point.surface in ("ceiling", "floor"):
        spot = _void_spot(parts.ceilings if point.surface == "ceiling" else parts.floors, room, point)
    elif point.surface == "soffit":
        spot = _soffit(builder, parts, room, point)
    elif point.surface == "outside":
        spot = _outside(builder, parts, room, point)
    else:
        spot = parts.face(point).spot(_given(point.along_mm), _given(point.height_mm))
    builder.add(spot)
    return Terminal(point.id, point.number, point.room, point.xyz_mm, spot, point)


def _void_spot(voids: Mapping[int, Lines], room: int, point: Point) -> Spot:
    lines = voids.get(room)
    x, y, _ = point.xyz_mm
    return lines.void.spot((x, y)) if lines else _own_spot(room, -1, point)


def _soffit(builder: GraphBuilder, parts: Parts, room: int, point: Point) -> Spot:
    """From the ceiling void at the same along: the thickness of the wall and how far out it is, one wall hole."""
    face, along = parts.face(point), _given(point.along_mm)
    spot = _own_spot(room, face.wall.index, point)
    lines = parts.ceilings.get(room)
    if lines:
        place: XY = lines.foot(face.wall, along)
        thickness = face.wall.frame.thickness_mm
        length = half_up(thickness + _given(point.out_mm))
        way = through(face, along, lines.void.xyz(place), point.xyz_mm, length, thickness)
        builder.join(lines.void.spot(place), spot, length * HOLE_BASE + 1, way)
    return spot


def _outside(builder: GraphBuilder, parts: Parts, room: int, point: Point) -> Spot:
    """From the inside face at the same along and height: the thickness of the wall, one wall hole."""
    face, along, height = parts.face(point), _given(point.along_mm), _given(point.height_mm)
    spot = _own_spot(room, face.wall.index, point)
    thickness = face.wall.frame.thickness_mm
    length = half_up(thickness)
    way = through(face, along, face.xyz(along, height), point.xyz_mm, length, thickness)
    builder.join(face.spot(along, height), spot, length * HOLE_BASE + 1, way)
    return spot


def _own_spot(room: int, wall: int, point: Point) -> Spot:
    x, y, z = point.xyz_mm
    return z, y, x, END_LAYER, room, wall, point.along_mm or 0


def _given(value: int | None) -> int:
    if value is None:
        raise ValueError("a point of this surface has an along, a height or a distance out")
    return value
