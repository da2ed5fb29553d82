"""What stands outside walls: the rooms of a plan go in; places of dimensions and of runs that come in, and the extent, come out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.cables import ARRIVAL_MM, Arrival, arrival_width
from estimator.drawings.dimensions import ROW_MM
from estimator.drawings.sides import Side
from estimator.drawings.site import Key, Site
from estimator.drawings.svg import XY


@dataclass(frozen=True, slots=True)
class Face:
    """What stands outside one wall, whatever the scale: whether rooms of the plan lie beyond it, whether it carries the
    whole length, the runs that come in through it, how far soffits reach (real mm), and whether points stand on it.
    """

    outer: bool
    overall: bool
    arrivals: tuple[Arrival, ...]
    soffit_mm: int
    has_points: bool


@dataclass(frozen=True, slots=True)
class Outside:
    """What stands outside one wall, mm of paper from its inside face: where dimensions and arrivals go, and how far it reaches."""

    chain: float | None
    overall: float | None
    arrivals: tuple[Arrival, ...]
    arrive: float
    reach: float


def faces(of: Site, shapes: Sequence[RoomShape]) -> dict[Key, Face]:
    """Every wall of the rooms of a plan, room by room."""
    mine = {(side.room, side.wall.name): side for shape in shapes for side in of.around[shape.room.name]}
    outer = {key: of.outer(side, shapes) for key, side in mine.items()}
    overall = _overall(mine, outer)
    hung = {(point.room, point.wall) for point in of.estimate.setout.points if point.surface == "outside"}
    found = {}
    for shape in shapes:
        for side in of.around[shape.room.name]:
            key = side.room, side.wall.name
            soffit = max((one.depth_mm for one in shape.room.soffits if one.wall == key[1]), default=0)
            arrivals = tuple(one for one in of.arrivals if (one.room, one.wall) == key)
            # A run is not drawn through an inner wall: it comes from outside by a way that the job does not tell.
            if arrivals and not of.outer(side, of.beside(shape)):
                arrivals = ()
            found[key] = Face(outer[key], key in overall, arrivals, soffit, key in hung)
    return found


def _overall(walls: Mapping[Key, Side], outer: Mapping[Key, bool]) -> set[Key]:
    """Walls that carry the whole length: of those that are parallel and equally long one a room, with openings before without."""
    told: dict[tuple[str, int, int, int], Key] = {}
    order = list(walls)
    mine = [(key, side) for key, side in walls.items() if outer[key]]
    for key, side in sorted(mine, key=lambda of: (not of[1].wall.openings, order.index(of[0]))):
        way = abs(round(side.along[0] * 1000)), abs(round(side.along[1] * 1000)), round(side.length)
        told.setdefault((key[0], *way), key)
    return set(told.values())


def outsides(found: Mapping[Key, Face], walls: Mapping[Key, Side], scale: int) -> dict[Key, Outside]:
    """The same at one scale."""
    return {key: _outside(face, walls[key], scale) for key, face in found.items()}


def _outside(face: Face, side: Side, scale: int) -> Outside:
    hung = max(face.soffit_mm / scale + 1 if face.soffit_mm else 0.0, 8.0 if face.has_points else 0.0)
    base = side.thickness / scale + hung
    chain = base + 4.5 if side.wall.openings and face.outer else None
    whole = (chain + ROW_MM if chain is not None else base + 4.5) if face.overall else None
    last = max(of for of in (base, chain, whole) if of is not None)
    reach = last + (3.2 if last > base else 1.0)
    if face.arrivals:
        reach = last + 1.5 + ARRIVAL_MM + (arrival_width(face.arrivals) + 1.5 if abs(side.into[0]) > 0.5 else 10)
    return Outside(chain, whole, face.arrivals, last if last == base else last + 1.5, reach)


def extent(walls: Mapping[Key, Side], outside: Mapping[Key, Outside], scale: int) -> tuple[float, float, float, float]:
    """Left, low, right and high of all that is drawn, in real mm."""
    places: list[XY] = []
    for key, side in walls.items():
        deep = max(outside[key].reach * scale, side.thickness)
        # Corners of outer faces lie within a wall's thickness beyond its ends.
        places += [side.at(at, -deep) for at in (-side.thickness, side.length + side.thickness)]
    xs, ys = [of[0] for of in places], [of[1] for of in places]
    return min(xs), min(ys), max(xs), max(ys)
