"""Puts the network together: the building and what is set out go in, the graph and its terminals come out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.adjoining import SharedWall, shared_walls
from estimator.building.model import Building, RoomShape
from estimator.routing.adjoining import Stacked, stacked
from estimator.routing.crossings import Faces, join_voids_through, opposite_places, through
from estimator.routing.ends import Parts, Terminal, board_end, point_end
from estimator.routing.graph import HOLE_BASE, Graph, GraphBuilder, Spot
from estimator.routing.lanes import Face, face_of, join_corner, join_lanes, join_risers
from estimator.routing.outlines import OutlineLines
from estimator.routing.places import is_rectangle, place_on
from estimator.routing.rectangles import RectangleLines
from estimator.routing.stacks import join_stacked
from estimator.routing.voids import Level, Lines, void_of
from estimator.setout.model import PlacedBoard, Point, SetOut

More = dict[tuple[int, int], dict[int, list[int]]]
"""Further places on faces by room and wall number: on lanes by height, on risers by along."""


@dataclass(frozen=True, slots=True)
class Assembled:
    """The graph, its terminals in building order, and the parts it was made of."""

    graph: Graph
    terminals: tuple[Terminal, ...]
    parts: Parts
    shared: tuple[SharedWall, ...]
    pairs: tuple[Stacked, ...]


def assemble(building: Building, setout: SetOut, back_to_back_mm: Decimal) -> Assembled:
    """The whole network of a building."""
    shared, pairs = shared_walls(building, back_to_back_mm), stacked(building)
    builder = GraphBuilder()
    parts = _parts(building, setout, pairs)
    _join_pairs(builder, parts, pairs)
    for wall in shared:
        join_voids_through(builder, wall, parts.faces, parts.ceilings)
    on_lanes, on_risers = _join_opposite(builder, setout, shared, parts.faces)
    ends = [point_end(builder, parts, point) for point in setout.points]
    ends += [board_end(builder, parts, board) for board in setout.boards]
    for number, faces in enumerate(parts.faces):
        _join_room(builder, parts, number, faces, on_lanes, on_risers)
    for lines in (*parts.ceilings.values(), *parts.floors.values()):
        lines.join(builder)
    terminals = tuple(sorted(ends, key=lambda end: end.order))
    return Assembled(builder.build(), terminals, parts, shared, pairs)


def _parts(building: Building, setout: SetOut, pairs: Iterable[Stacked]) -> Parts:
    rooms = {shape.room.name: number for number, shape in enumerate(building.rooms)}
    places = places_by_wall(setout)
    faces = tuple(
        tuple(face_of(shape, number, wall, places.get(shape.room.name, {})) for wall in shape.walls)
        for number, shape in enumerate(building.rooms)
    )
    above = {pair.lower: building.rooms[pair.upper] for pair in reversed(tuple(pairs))}
    ceilings, floors = {}, {}
    for number, shape in enumerate(building.rooms):
        if shape.room.ceiling.void:
            ceilings[number] = _lines(number, shape, "ceiling", above.get(number))
        if shape.room.floor.void:
            floors[number] = _lines(number, shape, "floor", None)
    parts = Parts(rooms, faces, ceilings, floors)
    _open_gates(parts, setout)
    return parts


def places_by_wall(setout: SetOut) -> dict[str, dict[str, list[tuple[int, int]]]]:
    """Along and height of every point and board on (or outside) a wall, by room and wall."""
    found: dict[str, dict[str, list[tuple[int, int]]]] = {}
    on_walls = [point for point in setout.points if point.surface in ("wall", "outside")]
    items: tuple[Point | PlacedBoard, ...] = (*on_walls, *setout.boards)
    for item in items:
        if item.wall is not None and item.along_mm is not None and item.height_mm is not None:
            walls = found.setdefault(item.room, {})
            walls.setdefault(item.wall, []).append((item.along_mm, item.height_mm))
    return found


def _lines(room: int, shape: RoomShape, level: Level, above: RoomShape | None) -> Lines:
    """The lines of a void; a ceiling whose joists were not given has those of the floor above."""
    joists = shape.ceiling if level == "ceiling" else shape.floor
    at = shape.room.at
    if joists is None and above is not None:
        joists, at = above.floor, above.room.at
    void = void_of(2 * room + (level == "ceiling"), shape, level, joists, at)
    return RectangleLines(void) if is_rectangle(shape) else OutlineLines(void)


def _open_gates(parts: Parts, setout: SetOut) -> None:
    """Gives every void the lines of its room's risers and of the points in it."""
    for number, faces in enumerate(parts.faces):
        for lines in _voids(parts, number):
            for face in faces:
                for along in face.risers:
                    lines.gate(place_on(face.shape, face.wall, along))
    for point in setout.points:
        if point.surface in ("ceiling", "floor"):
            voids = parts.ceilings if point.surface == "ceiling" else parts.floors
            found = voids.get(parts.rooms[point.room])
            if found:
                found.gate((point.xyz_mm[0], point.xyz_mm[1]))


def _voids(parts: Parts, room: int) -> list[Lines]:
    return [voids[room] for voids in (parts.ceilings, parts.floors) if room in voids]


def _join_pairs(builder: GraphBuilder, parts: Parts, pairs: Iterable[Stacked]) -> None:
    every = (*parts.ceilings.values(), *parts.floors.values())
    gates = {lines.void.number: lines.gates for lines in every}
    for pair in pairs:
        join_stacked(builder, pair, parts.ceilings[pair.lower], parts.floors[pair.upper], gates)


def _join_opposite(
    builder: GraphBuilder, setout: SetOut, shared: Iterable[SharedWall], faces: Faces
) -> tuple[More, More]:
    """Joins points on shared walls to lanes and risers on the far side; tells where those need a place."""
    on_lanes: More = {}
    on_risers: More = {}
    on_wall: dict[tuple[str, str | None], list[Point]] = {}
    for point in setout.points:
        on_wall.setdefault((point.room, point.wall), []).append(point)
    for wall in shared:
        for point in (point for side in (wall.one, wall.other) for point in on_wall.get((side.room, side.name), ())):
            for behind, along, height, own in opposite_places(wall, point, faces):
                number = behind.room, behind.wall.index
                if height in behind.heights:
                    on_lanes.setdefault(number, {}).setdefault(height, []).append(along)
                if along in behind.risers:
                    on_risers.setdefault(number, {}).setdefault(along, []).append(height)
                if height in behind.heights or along in behind.risers:
                    _join_behind(builder, wall, (behind, along, height), own)
    return on_lanes, on_risers


def _join_behind(builder: GraphBuilder, wall: SharedWall, place: tuple[Face, int, int], own: Face) -> None:
    behind, along, height = place
    own_along = wall.across(along)
    own_height = height + behind.shape.room.floor_level_mm - own.shape.room.floor_level_mm
    ends = (behind, along, height), (own, own_along, own_height)
    (face, at, up), (far, far_at, far_up) = sorted(ends, key=lambda end: end[0].room)
    way = through(face, at, face.xyz(at, up), far.xyz(far_at, far_up), wall.gap_mm, Decimal(wall.gap_mm))
    builder.join(face.spot(at, up), far.spot(far_at, far_up), wall.gap_mm * HOLE_BASE + 1, way)


def _join_room(
    builder: GraphBuilder, parts: Parts, number: int, faces: tuple[Face, ...], lanes: More, risers: More
) -> None:
    for left, right in zip(faces, faces[1:] + faces[:1], strict=True):
        join_corner(builder, left, right)
        place = number, left.wall.index
        corners = _corner_places(faces, left)
        more = {height: [*corners.get(height, ()), *lanes.get(place, {}).get(height, ())] for height in left.heights}
        join_lanes(builder, left, more)
        foot, head = _gates(parts.floors.get(number), left), _gates(parts.ceilings.get(number), left)
        join_risers(builder, left, risers.get(place, {}), foot, head)


def _corner_places(faces: tuple[Face, ...], face: Face) -> Mapping[int, list[int]]:
    """The ends of a face's lanes that join a lane of the wall beside it."""
    before, after = faces[face.wall.index - 1], faces[(face.wall.index + 1) % len(faces)]
    return {
        height: [
            *([0] if height in before.heights else []),
            *([face.wall.length_mm] if height in after.heights else []),
        ]
        for height in face.heights
    }


def _gates(lines: Lines | None, face: Face) -> dict[int, Spot]:
    if lines is None:
        return {}
    return {along: lines.void.spot(place_on(face.shape, face.wall, along)) for along in face.risers}
