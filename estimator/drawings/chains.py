"""Cable routes of one storey, seen from above: routes go in; chains of straight bits on rails come out.

A rail is a line of the building that cables run along: a wall (lanes, and the edge of a void along it), a line of a void
inside a room, or a way through a wall. Several cables on one rail are drawn side by side; `tracks` finds how.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from estimator.drawings.letters import Owner
from estimator.drawings.sides import Side
from estimator.drawings.svg import XY
from estimator.result import Estimate
from estimator.routing.model import Path, Piece
from estimator.setout.model import PlacedBoard, Point

EDGE_MM = 100
"""Lines of a void this near to a wall, and parallel to it, are drawn with the cables of the wall."""


@dataclass(frozen=True, slots=True, order=True)
class Rail:
    """`wall`: room and name of a wall. `x` or `y`: a line of a void with that coordinate. `way`: two places, as text."""

    sort: Literal["wall", "x", "y", "way"]
    room: str = ""
    wall: str = ""
    place: int = 0
    key: str = ""


@dataclass(frozen=True, slots=True)
class Bit:
    """A straight bit of a chain; `rises` where the cable goes up or down before it."""

    rail: Rail
    start: XY
    end: XY
    rises: bool


@dataclass(frozen=True, slots=True)
class End:
    """Where a chain ends at something fixed: on a wall (its rail and the distance along it), or at a place of the plan."""

    place: XY
    rail: Rail | None
    along: float


@dataclass(frozen=True, slots=True)
class Chain:
    """One cable within one storey. An end is None where the cable goes on in another storey."""

    owner: Owner
    start: End | None
    bits: tuple[Bit, ...]
    end: End | None


def chains(estimate: Estimate, rooms: Sequence[str], walls: Mapping[tuple[str, str], Side]) -> tuple[Chain, ...]:
    """The chains of all circuits, controls and routed runs in those rooms, in the order of the routes."""
    fixed = _ends(estimate, walls)
    found: list[Chain] = []
    for owner, path, start, end in _paths(estimate):
        parts = _split(path.pieces, rooms)
        for index, (first, pieces) in enumerate(parts):
            last = index == len(parts) - 1 and first + len(pieces) == len(path.pieces)
            found.append(
                Chain(
                    owner,
                    fixed.get(start) if first == 0 else None,
                    tuple(_bits(pieces, walls)),
                    fixed.get(end) if last else None,
                )
            )
        if not path.pieces and start in fixed and end in fixed:
            found.append(Chain(owner, fixed[start], (), fixed[end]))
    return tuple(found)


def _paths(estimate: Estimate) -> Iterable[tuple[Owner, Path, str, str]]:
    for circuit in estimate.routes.circuits:
        for leg in circuit.legs:
            yield Owner("circuit", circuit.name), leg.path, leg.start, leg.end
    for control in estimate.routes.controls:
        for leg in control.legs:
            yield Owner("control", control.name), leg.path, leg.start, leg.end
    for run in estimate.routes.runs:
        if run.path is not None:
            yield Owner("run", run.name), run.path, run.start, run.end


def _ends(estimate: Estimate, walls: Mapping[tuple[str, str], Side]) -> dict[str, End]:
    """What stands in rooms that have these walls, by its id or name."""
    rooms = {room for room, _ in walls}
    found = {point.id: end_of(point, walls) for point in estimate.setout.points if point.room in rooms}
    return found | {board.name: end_of(board, walls) for board in estimate.setout.boards if board.room in rooms}


def end_of(thing: Point | PlacedBoard, walls: Mapping[tuple[str, str], Side]) -> End:
    """Where a cable ends at a point or a board."""
    place = (float(thing.xyz_mm[0]), float(thing.xyz_mm[1]))
    on_wall = isinstance(thing, PlacedBoard) or thing.surface == "wall"
    if not on_wall or thing.wall is None or thing.along_mm is None:
        return End(place, None, 0)
    side = walls[thing.room, thing.wall]
    return End(side.at(thing.along_mm), Rail("wall", thing.room, thing.wall), float(thing.along_mm))


def _split(pieces: Sequence[Piece], rooms: Sequence[str]) -> list[tuple[int, list[Piece]]]:
    """The stretches of a route that lie in these rooms, each with the number of its first piece."""
    found: list[tuple[int, list[Piece]]] = []
    inside = False
    for index, piece in enumerate(pieces):
        if piece.room not in rooms:
            inside = False
        elif inside:
            found[-1][1].append(piece)
        else:
            found.append((index, [piece]))
            inside = True
    return found


def _bits(pieces: Iterable[Piece], walls: Mapping[tuple[str, str], Side]) -> Iterable[Bit]:
    rises = False
    for piece in pieces:
        start, end = _flat(piece.start), _flat(piece.end)
        if start == end:
            rises = True
            continue
        yield Bit(_rail(piece, start, end, walls), start, end, rises)
        rises = False


def _flat(place: tuple[int, int, int]) -> XY:
    return float(place[0]), float(place[1])


def _rail(piece: Piece, start: XY, end: XY, walls: Mapping[tuple[str, str], Side]) -> Rail:
    if piece.kind == "lane":
        return Rail("wall", piece.room, piece.wall)
    beside = next((side for (room, _), side in walls.items() if room == piece.room and _beside(side, start, end)), None)
    if beside is not None:
        return Rail("wall", beside.room, beside.wall.name)
    if start[0] == end[0]:
        return Rail("x", place=round(start[0]))
    if start[1] == end[1]:
        return Rail("y", place=round(start[1]))
    return Rail("way", key=f"{piece.start} {piece.end}" if piece.start < piece.end else f"{piece.end} {piece.start}")


def _beside(side: Side, start: XY, end: XY) -> bool:
    """Whether a bit lies along a wall, inside the room and near to it."""
    (along, inward), (to_along, to_inward) = side.of(start), side.of(end)
    return (
        abs(inward - to_inward) < 1
        and -1 < inward <= EDGE_MM
        and min(along, to_along) >= -1
        and max(along, to_along) <= side.length + 1
    )
