"""Takes a place on a wall, ceiling, floor or soffit; gives the `Point` or board there, in room and building."""

from estimator.building.model import Wall
from estimator.job.model import Board, Group, Room
from estimator.problems import NOWHERE, Place
from estimator.rounding import half_up
from estimator.setout.clear import Mark
from estimator.setout.model import PlacedBoard, Point
from estimator.setout.site import Site, body_of

XYZ = tuple[int, int, int]


def on_wall(
    group: Group,
    number: int,
    room: Room,
    wall: Wall,
    along_mm: int,
    height_mm: int,
    moved_mm: int = 0,
    place: Place = NOWHERE,
) -> Point:
    """A point on a wall; one outside lies on the cladding, the wall's thickness out from the inside face."""
    out = half_up(wall.frame.thickness_mm) if group.surface == "outside" else 0
    at = (*wall.point_at(along_mm), height_mm)
    itself = (*wall.point_at(along_mm, out), height_mm)
    return _point(group, number, wall.name, along_mm, height_mm, None, at, _in_building(room, itself), moved_mm, place)


def on_flat(
    group: Group, number: int, room: Room, x_mm: int, y_mm: int, moved_mm: int = 0, place: Place = NOWHERE
) -> Point:
    """A point on a ceiling or floor."""
    at = (x_mm, y_mm, room.height_mm if group.surface == "ceiling" else 0)
    return _point(group, number, None, None, None, None, at, _in_building(room, at), moved_mm, place)


def on_soffit(
    group: Group, number: int, room: Room, wall: Wall, along_mm: int, out_mm: int, place: Place = NOWHERE
) -> Point:
    """A point under an overhang, `out_mm` from the outer face of the wall, at the height of the ceiling."""
    at = (*wall.point_at(along_mm), room.height_mm)
    itself = (*wall.point_at(along_mm, half_up(wall.frame.thickness_mm) + out_mm), room.height_mm)
    return _point(group, number, wall.name, along_mm, None, out_mm, at, _in_building(room, itself), 0, place)


def board_on(board: Board, kind: str, room: Room, wall: Wall, along_mm: int, height_mm: int) -> PlacedBoard:
    """A board on a wall."""
    at = (*wall.point_at(along_mm), height_mm)
    xyz = _in_building(room, at)
    return PlacedBoard(board.name, kind, room.name, wall.name, along_mm, height_mm, at, xyz, board.place)


def mark_of(site: Site, point: Point) -> Mark:
    """The plate of a point in its place; under a soffit, its place along the wall and out from it."""
    body = body_of(site.kind(point.kind), point.surface)
    face = (point.room, point.surface, point.wall or "")
    across, up = point.at[0], point.at[1]
    if point.along_mm is not None and point.height_mm is not None:
        across, up = point.along_mm, point.height_mm
    elif point.along_mm is not None and point.out_mm is not None:
        across, up = point.along_mm, point.out_mm
    return Mark(face, point.group, point.number, across, up, body.plate_width_mm, body.plate_height_mm)


def board_mark(site: Site, board: PlacedBoard) -> Mark:
    """The outline of a board in its place."""
    body = site.board_body(board.kind)
    face = (board.room, "wall", board.wall)
    return Mark(face, board.name, 0, board.along_mm, board.height_mm, body.plate_width_mm, body.plate_height_mm)


def _point(
    group: Group,
    number: int,
    wall: str | None,
    along_mm: int | None,
    height_mm: int | None,
    out_mm: int | None,
    at: XYZ,
    xyz: XYZ,
    moved_mm: int,
    place: Place,
) -> Point:
    return Point(
        id=f"{group.name}{number}",
        group=group.name,
        number=number,
        kind=group.kind,
        circuit=group.circuit,
        room=group.room,
        surface=group.surface,
        wall=wall,
        along_mm=along_mm,
        height_mm=height_mm,
        out_mm=out_mm,
        at=at,
        xyz_mm=xyz,
        moved_mm=moved_mm,
        place=group.place if place == NOWHERE else place,
    )


def _in_building(room: Room, at: XYZ) -> XYZ:
    return (at[0] + room.at[0], at[1] + room.at[1], at[2] + room.floor_level_mm)
