"""Says in plain words why a point or board cannot be reached: the network and a terminal go in, words come out."""

from collections.abc import Iterator

from estimator.building.model import RoomShape
from estimator.job.model import Opening
from estimator.routing.adjoining import ceiling_z
from estimator.routing.assemble import Assembled
from estimator.routing.ends import Terminal
from estimator.routing.graph import Graph
from estimator.routing.lanes import Face


def why_unreached(assembled: Assembled, end: Terminal) -> str:
    """What cuts a terminal off from most others; empty where it belongs to the largest part of the network."""
    parts = _parts(assembled)
    largest = max(parts, key=len)
    if end in largest:
        return ""
    own = next(part for part in parts if end in part)
    return (
        _no_void(assembled, end)
        or in_opening(assembled, end)
        or _cut_in_room(assembled, end, own)
        or _cut_off(assembled, end, own)
    )


def _parts(assembled: Assembled) -> list[list[Terminal]]:
    """Terminals by the connected part of the network they are in, in building order."""
    part_of: dict[int, int] = {}
    parts: dict[int, list[Terminal]] = {}
    for end in assembled.terminals:
        node = assembled.graph.number[end.spot]
        if node not in part_of:
            part_of.update(dict.fromkeys(reached(assembled.graph, node), node))
        parts.setdefault(part_of[node], []).append(end)
    return list(parts.values())


def reached(graph: Graph, node: int) -> Iterator[int]:
    """The nodes that can be reached from one, itself the first."""
    seen, waiting = {node}, [node]
    while waiting:
        here = waiting.pop()
        yield here
        for other, _ in graph.near[here]:
            if other not in seen:
                seen.add(other)
                waiting.append(other)


def _no_void(assembled: Assembled, end: Terminal) -> str:
    """A point that only a void could bring a cable to, in a room that has none."""
    surface = end.point.surface if end.point else "wall"
    room = assembled.parts.rooms[end.room]
    if surface in ("ceiling", "soffit") and room not in assembled.parts.ceilings:
        return f'room "{end.room}" has no ceiling void, and a {surface} point is reached through it alone'
    if surface == "floor" and room not in assembled.parts.floors:
        return f'room "{end.room}" has no floor void, and a floor point is reached through it alone'
    return ""


def in_opening(assembled: Assembled, end: Terminal) -> str:
    """A place inside an opening, which cuts both its lane and its riser."""
    place = place_of(assembled, end)
    if place is None:
        return ""
    face, along, height = place
    for opening in face.wall.openings:
        inside = opening.along_mm < along < opening.along_mm + opening.width_mm
        if inside and opening.sill_mm < height < opening.head_mm:
            return f"it lies in {opening_words(opening)}, which cuts its lane and its riser"
    return ""


def _cut_in_room(assembled: Assembled, end: Terminal, own: list[Terminal]) -> str:
    """A part of one room that openings cut off from the rest of it."""
    place = place_of(assembled, end)
    cut_off = [other for other in assembled.terminals if other.room == end.room and other not in own]
    if place is None or not cut_off:
        return ""
    face, _, height = place
    cutting = [opening_words(gap) for gap in face.wall.openings if gap.sill_mm < height < gap.head_mm]
    if not cutting:
        return f'no lane, riser or void joins {height} mm on wall "{face.wall.name}" to the rest of room "{end.room}"'
    return f"its lane at {height} mm is cut by {' and '.join(cutting)}, and no void leads round"


def _cut_off(assembled: Assembled, end: Terminal, own: list[Terminal]) -> str:
    """A room, or rooms joined to each other, that nothing joins to the rest."""
    names = sorted({other.room for other in own}, key=lambda name: assembled.parts.rooms[name])
    rooms = " and ".join(f'"{name}"' for name in names)
    faces = assembled.parts.faces[assembled.parts.rooms[end.room]]
    lacks = _lacks(assembled, faces[0].shape)
    return f"no void or shared wall leads out of {'room' if len(names) == 1 else 'rooms'} {rooms}{lacks}"


def _lacks(assembled: Assembled, shape: RoomShape) -> str:
    number = assembled.parts.rooms[shape.room.name]
    storeys = {face[0].shape.room.floor_level_mm for face in assembled.parts.faces}
    if shape.room.floor_level_mm > min(storeys) and number not in assembled.parts.floors:
        return ": it has no floor void to come up through"
    if number not in assembled.parts.ceilings:
        return ": it has no ceiling void"
    if not any(number in (wall.first, wall.second) for wall in assembled.shared):
        return ": none of its walls lies back to back with a wall of another room"
    return f": the ceiling voids beside it, near {ceiling_z(shape)} mm, do not meet its own"


def place_of(assembled: Assembled, end: Terminal) -> tuple[Face, int, int] | None:
    """The face, along and height of a terminal on (or outside) a wall."""
    number = assembled.parts.rooms[end.room]
    if end.point and end.point.surface not in ("wall", "outside"):
        return None
    _, _, _, _, _, index, along = end.spot
    face = assembled.parts.faces[number][index]
    return face, along, end.xyz[2] - face.shape.room.floor_level_mm


def opening_words(opening: Opening) -> str:
    """An opening by its kind, its wall and where it lies."""
    right = opening.along_mm + opening.width_mm
    named = f'; room "{opening.named_in}" names it' if opening.named_in else ""
    return (
        f'the {opening.kind} of wall "{opening.wall}" ({opening.along_mm} to {right} mm along,'
        f" {opening.sill_mm} to {opening.head_mm} mm high{named})"
    )
