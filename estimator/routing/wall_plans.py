"""Plans of walls: the building and what stands in it go in; for each wall its zones, lanes and risers, with reasons, come out.

They are for drawing what may go where; the network itself is made in `assemble`, of the same faces.
"""

from collections.abc import Iterator, Mapping, Sequence

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.job.model import Opening
from estimator.routing.assemble import places_by_wall
from estimator.routing.lanes import LANE_BELOW_CEILING_MM, Face, face_of
from estimator.routing.model import Line, WallPlan
from estimator.routing.zones import marks_by_wall, width_rule, zones_of
from estimator.setout.model import SetOut

Names = Mapping[tuple[str, str], Sequence[tuple[str, int, int]]]
"""Name, along and height of what is on (or outside) each wall, by names of room and wall."""


def wall_plans(building: Building, setout: SetOut, catalogue: Catalogue, ruleset: str) -> tuple[WallPlan, ...]:
    """The plan of every wall, rooms in the building's order and walls clockwise; no zones where the ruleset has none."""
    marks, rule = marks_by_wall(building, setout, catalogue, ruleset), width_rule(catalogue, ruleset)
    places, names = places_by_wall(setout), _names(setout)
    plans = []
    for number, shape in enumerate(building.rooms):
        for wall in shape.walls:
            face = face_of(shape, number, wall, places.get(shape.room.name, {}))
            own = marks.get((shape.room.name, wall.name), ())
            zones = zones_of(shape, wall, own, rule.value) if rule and rule.value is not None else ()
            lines = (*_lanes(face, names), *_risers(face, names))
            plans.append(WallPlan(shape.room.name, wall.name, zones, lines))
    return tuple(plans)


def _names(setout: SetOut) -> Names:
    found: dict[tuple[str, str], list[tuple[str, int, int]]] = {}
    for point in setout.points:
        if point.wall is not None and point.along_mm is not None and point.height_mm is not None:
            found.setdefault((point.room, point.wall), []).append((point.id, point.along_mm, point.height_mm))
    for board in setout.boards:
        found.setdefault((board.room, board.wall), []).append((board.name, board.along_mm, board.height_mm))
    return found


def _lanes(face: Face, names: Names) -> Iterator[Line]:
    room = face.shape.room
    own = names.get((room.name, face.wall.name), ())
    every = [one for (of, _), ones in names.items() if of == room.name for one in ones]
    for height in face.heights:
        on_wall = [name for name, _, up in own if up == height]
        elsewhere = [name for name, _, up in every if up == height and name not in on_wall]
        if on_wall:
            reason = f"level with {', '.join(on_wall)}"
        elif not room.ceiling.void and height == room.height_mm - LANE_BELOW_CEILING_MM:
            reason = f"{LANE_BELOW_CEILING_MM} mm below a ceiling without a void"
        else:
            reason = f"level with {', '.join(elsewhere)}, guarded mechanically"
        cuts = [gap for gap in face.wall.openings if gap.sill_mm < height < gap.head_mm]
        spans = [(gap.along_mm, gap.along_mm + gap.width_mm) for gap in cuts]
        yield Line("lane", height, _left(0, face.wall.length_mm, spans), reason)


def _risers(face: Face, names: Names) -> Iterator[Line]:
    room = face.shape.room
    own = names.get((room.name, face.wall.name), ())
    low = 0 if room.floor.void else min(face.heights, default=0)
    high = room.height_mm if room.ceiling.void else max(face.heights, default=0)
    for along in face.risers:
        on_riser = [name for name, at, _ in own if at == along]
        reason = f"in line with {', '.join(on_riser)}" if on_riser else "beside the stud at the end of the wall"
        cuts = [gap for gap in face.wall.openings if _over(gap, along)]
        yield Line("riser", along, _left(low, high, [(gap.sill_mm, gap.head_mm) for gap in cuts]), reason)


def _over(gap: Opening, along: int) -> bool:
    return gap.along_mm < along < gap.along_mm + gap.width_mm


def _left(low: int, high: int, cuts: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
    """What is left of a stretch where others are cut out of it."""
    left: list[tuple[int, int]] = []
    start = low
    for cut_low, cut_high in sorted(cuts):
        if cut_low > start:
            left.append((start, min(cut_low, high)))
        start = max(start, cut_high)
    if start < high:
        left.append((start, high))
    return tuple(left)
