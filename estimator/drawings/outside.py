"""What stands outside walls: the rooms of a storey go in; places of dimensions and of runs that come in, and the extent, come out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.cables import ARRIVAL_MM, Arrival, arrival_width
from estimator.drawings.dimensions import ROW_MM
from estimator.drawings.letters import Owner
from estimator.drawings.sides import Side, inside, outer_corners
from estimator.drawings.svg import XY
from estimator.result import Estimate

Key = tuple[str, str]
NEAR_MM = 250
"""Another room this near beyond a wall makes it an inner one (real mm)."""


@dataclass(frozen=True, slots=True)
class Outside:
    """What stands outside one wall, mm of paper from its inside face: where dimensions and arrivals go, and how far it reaches."""

    chain: float | None
    overall: float | None
    arrivals: tuple[Arrival, ...]
    arrive: float
    reach: float


def outsides(
    estimate: Estimate, shapes: Sequence[RoomShape], walls: Mapping[Key, Side], names: Mapping[Owner, str], scale: int
) -> dict[Key, Outside]:
    """For every wall what stands outside it, at that scale."""
    arriving = _arrivals(estimate, names)
    overall = _overall(shapes, walls)
    found = {}
    for key, side in walls.items():
        base = side.thickness / scale + _hung(estimate, key, shapes, scale)
        outer = _outer(side, shapes, walls)
        # What comes in by an inner wall would be drawn across the next room.
        arrivals = tuple(arriving.get(key, ())) if outer else ()
        chain = base + 4.5 if side.wall.openings and outer else None
        whole = (chain + ROW_MM if chain is not None else base + 4.5) if key in overall else None
        last = max(of for of in (base, chain, whole) if of is not None)
        reach = last + (3.2 if last > base else 1.0)
        if arrivals:
            reach = last + 1.5 + ARRIVAL_MM + (arrival_width(arrivals) + 1.5 if abs(side.into[0]) > 0.5 else 8)
        found[key] = Outside(chain, whole, arrivals, last if last == base else last + 1.5, reach)
    return found


def _hung(estimate: Estimate, key: Key, shapes: Sequence[RoomShape], scale: int) -> float:
    """How far soffits and points on the outer face reach beyond it, mm of paper."""
    room = next(shape.room for shape in shapes if shape.room.name == key[0])
    deep = max((of.depth_mm / scale + 1 for of in room.soffits if of.wall == key[1]), default=0.0)
    has_points = any((of.room, of.wall, of.surface) == (*key, "outside") for of in estimate.setout.points)
    return max(deep, 8.0 if has_points else 0.0)


def _overall(shapes: Sequence[RoomShape], walls: Mapping[Key, Side]) -> set[Key]:
    """Walls that carry the whole length: of those that are parallel and equally long one a room, with openings before without."""
    found: set[Key] = set()
    for shape in shapes:
        told: set[tuple[int, int, int]] = set()
        mine = [(key, side) for key, side in walls.items() if key[0] == shape.room.name and _outer(side, shapes, walls)]
        for key, side in sorted(mine, key=lambda of: (not of[1].wall.openings, list(walls).index(of[0]))):
            way = abs(round(side.along[0] * 1000)), abs(round(side.along[1] * 1000)), round(side.length)
            if way not in told:
                told.add(way)
                found.add(key)
    return found


def _outer(side: Side, shapes: Sequence[RoomShape], walls: Mapping[Key, Side]) -> bool:
    """Whether no other room lies just beyond any part of a wall."""
    beyond = [side.at(side.length * at / 8, -side.thickness - NEAR_MM) for at in (1, 2, 3, 4, 5, 6, 7)]
    for shape in shapes:
        if shape.room.name != side.room:
            corners = outer_corners([of for (room, _), of in walls.items() if room == shape.room.name])
            if any(inside(place, corners) for place in beyond):
                return False
    return True


def _arrivals(estimate: Estimate, names: Mapping[Owner, str]) -> dict[Key, list[Arrival]]:
    """Runs given by stretches, by the wall of the board or point that they end at."""
    ends: dict[str, tuple[Key, float]] = {}
    for point in estimate.setout.points:
        if point.wall is not None and point.along_mm is not None and point.surface in ("wall", "outside"):
            ends[point.id] = (point.room, point.wall), float(point.along_mm)
    for board in estimate.setout.boards:
        ends[board.name] = (board.room, board.wall), float(board.along_mm)
    found: dict[Key, list[Arrival]] = {}
    for run in estimate.routes.runs:
        if run.path is not None:
            continue
        owner = Owner("run", run.name)
        for end, far, word in ((run.start, run.end, "to"), (run.end, run.start, "from")):
            if end in ends:
                key, along = ends[end]
                where = f"{word} {far.removeprefix('outside:').strip()}"
                found.setdefault(key, []).append(Arrival(along, owner, names[owner], run.name, where))
    return found


def extent(walls: Mapping[Key, Side], outside: Mapping[Key, Outside], scale: int) -> tuple[float, float, float, float]:
    """Left, low, right and high of all that is drawn, in real mm."""
    places: list[XY] = []
    for key, side in walls.items():
        deep = max(outside[key].reach * scale, side.thickness)
        # Corners of outer faces lie within a wall's thickness beyond its ends.
        places += [side.at(at, -deep) for at in (-side.thickness, side.length + side.thickness)]
    xs, ys = [of[0] for of in places], [of[1] for of in places]
    return min(xs), min(ys), max(xs), max(ys)
