"""Says in plain words why one place cannot be reached from another, where a circuit keeps to some surfaces or to none."""

from collections.abc import Iterable

from estimator.job.model import KeepTo, Opening
from estimator.routing.assemble import Assembled
from estimator.routing.ends import Terminal
from estimator.routing.graph import WALL_LAYER, Graph
from estimator.routing.unreached import in_opening, opening_words, place_of, reached, why_unreached

Walls = frozenset[tuple[int, int]]
"""Walls that can be reached, by the numbers of room and wall."""


def why_apart(assembled: Assembled, graph: Graph, surfaces: KeepTo, start: Terminal, end: Terminal) -> str:
    """What cuts `end` off from `start` in `graph`, which keeps to `surfaces`; empty where nothing does."""
    number = graph.number
    found = frozenset(reached(graph, number[start.spot]))
    if number[end.spot] in found:
        return ""
    if number[end.spot] not in frozenset(reached(assembled.graph, number[start.spot])):
        return in_opening(assembled, end) or (
            why_unreached(assembled, end) or f"{start.name} is cut off: {why_unreached(assembled, start)}"
        )
    kept = f'keep_to = "{surfaces}" leaves out'
    if surfaces == "ceiling":
        return _no_ceiling(assembled, kept, start, end)
    spots = [graph.spots[node] for node in found]
    walls = frozenset((spot[4], spot[5]) for spot in spots if spot[3] == WALL_LAYER)
    return _no_wall(assembled, kept, walls, start, end)


def _no_ceiling(assembled: Assembled, kept: str, start: Terminal, end: Terminal) -> str:
    for one in (end, start):
        if assembled.parts.rooms[one.room] not in assembled.parts.ceilings:
            return f'room "{one.room}" of {one.name} has no ceiling void, and {kept} all else'
        if _surface(one) == "floor":
            return f"{one.name} is on the floor, and {kept} the lines of floor voids"
        place = place_of(assembled, one)
        if place:
            face, along, height = place
            above = [gap for gap in face.wall.openings if _stands_over(gap, along, height)]
            if above:
                return f"the riser of {one.name}, {along} mm along, is cut by {_all(above)}, and {kept} lanes round it"
    return f'the ceiling voids of room "{start.room}" and room "{end.room}" do not meet, and {kept} all else'


def _stands_over(gap: Opening, along: int, height: int) -> bool:
    return gap.along_mm < along < gap.along_mm + gap.width_mm and gap.head_mm > height


def _no_wall(assembled: Assembled, kept: str, walls: Walls, start: Terminal, end: Terminal) -> str:
    for one in (end, start):
        if _surface(one) not in ("wall", "outside"):
            return f"{one.name} is on the {_surface(one)}, and {kept} voids"
    number = assembled.parts.rooms[end.room]
    place = place_of(assembled, end)
    names = [wall.name for wall in assembled.parts.faces[number][0].shape.walls]
    near = [names[wall] for wall in range(len(names)) if (number, wall) in walls]
    if place is None or not near:
        return f'no lane leads from room "{start.room}" through a wall into room "{end.room}", and {kept} voids'
    face, _, height = place
    cutting = [gap for gap in face.wall.openings if gap.sill_mm < height < gap.head_mm]
    if cutting:
        return f"its lane at {height} mm is cut by {_all(cutting)}, and {kept} a way round by a void"
    words = " or ".join(f'"{name}"' for name in near)
    return f'no lane of wall "{face.wall.name}" is as high as one of wall {words} beside it, and {kept} voids'


def _surface(one: Terminal) -> str:
    return one.point.surface if one.point else "wall"


def _all(openings: Iterable[Opening]) -> str:
    return " and ".join(opening_words(gap) for gap in openings)
