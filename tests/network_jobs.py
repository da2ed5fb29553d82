"""Set-outs for tests of the network: points and boards in places given by hand, on buildings of `tests.jobs`."""

from collections.abc import Iterable, Sequence

from estimator.building.build import build
from estimator.building.walls import point_on
from estimator.job.model import Room, Surface
from estimator.rounding import half_up
from estimator.routing.network import Network, build_network
from estimator.setout.model import PlacedBoard, Point, SetOut
from tests import jobs

Place = tuple[str, str, int, int]
"""Room, wall, along, height."""


def wall_point(room: Room, name: str, wall: str, along: int, height: int, surface: Surface = "wall") -> Point:
    """A point on (or outside) a wall; `name` is its id."""
    index = room.wall_names.index(wall)
    start, end = room.corners[index], room.corners[(index + 1) % len(room.corners)]
    x, y = point_on(start, end, along)
    out = half_up(room.frames[index].thickness_mm) if surface == "outside" else 0
    far = point_on(start, end, along, out)
    xyz = (far[0] + room.at[0], far[1] + room.at[1], height + room.floor_level_mm)
    return _point(room, name, surface, wall, (along, height, None), (x, y, height), xyz)


def soffit_point(room: Room, name: str, wall: str, along: int, out: int) -> Point:
    """A point under a soffit."""
    index = room.wall_names.index(wall)
    start, end = room.corners[index], room.corners[(index + 1) % len(room.corners)]
    x, y = point_on(start, end, along)
    far = point_on(start, end, along, room.frames[index].thickness_mm + out)
    xyz = (far[0] + room.at[0], far[1] + room.at[1], room.height_mm + room.floor_level_mm)
    return _point(room, name, "soffit", wall, (along, None, out), (x, y, room.height_mm), xyz)


def flat_point(room: Room, name: str, x: int, y: int, surface: Surface = "ceiling") -> Point:
    """A point on the ceiling or floor."""
    z = room.height_mm if surface == "ceiling" else 0
    xyz = (x + room.at[0], y + room.at[1], z + room.floor_level_mm)
    return _point(room, name, surface, None, (None, None, None), (x, y, z), xyz)


def _point(
    room: Room,
    name: str,
    surface: Surface,
    wall: str | None,
    given: tuple[int | None, int | None, int | None],
    at: tuple[int, int, int],
    xyz: tuple[int, int, int],
) -> Point:
    group = name.rstrip("0123456789")
    return Point(
        name, group, int(name[len(group) :]), "double-socket", None, room.name, surface, wall, *given, at, xyz, 0
    )


def placed_board(room: Room, name: str, wall: str, along: int, height: int) -> PlacedBoard:
    """A board on a wall."""
    at = wall_point(room, "B1", wall, along, height)
    return PlacedBoard(name, "consumer-unit-8", room.name, wall, along, height, at.at, at.xyz_mm)


def network(rooms: Sequence[Room], points: Iterable[Point], boards: Iterable[PlacedBoard] = ()) -> Network:
    """The network of these rooms and places."""
    job = jobs.job(rooms=rooms)
    catalogue = jobs.catalogue(rules=(jobs.rule("back-to-back-walls", 400),))
    setout = SetOut(tuple(points), tuple(boards), (), ())
    return build_network(job, catalogue, build(job), setout)


def walls_of(room: Room, **places: tuple[str, int, int]) -> list[Point]:
    """Points on walls by their ids: `S1=("back", 1000, 450)`."""
    return [wall_point(room, name, *place) for name, place in places.items()]
