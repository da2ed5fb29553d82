"""Rules of heights: given where a wall needs one, above something that is there, and between floor and ceiling."""

from collections.abc import Iterator

from estimator.job.corners import wall_names
from estimator.job.model import Height
from estimator.job.table import Spot, Table
from estimator.problems import Problem, choose


def heights(group: Table, room: Table, surface: str) -> Iterator[Problem]:
    """The heights of a group on walls: its own, and those of single places."""
    if surface not in ("wall", "outside"):
        return
    places = [item for item in group.items("at", object) if isinstance(item, Table)]
    without = [place for place in places if not place.has("height")]
    for place in places:
        yield from height(place, room, surface, place.get("height", Height), (place.get("wall", str),))
    if group.has("at") and not without:
        return
    if not group.has("height"):
        yield group.problem(None, "height is missing", 'write height = "450 mm" (centre line above the floor)')
    walls = [place.get("wall", str) for place in without] if group.has("at") else _walls(group, room)
    yield from height(group, room, surface, group.get("height", Height), tuple(walls))


def _walls(group: Table, room: Table) -> list[str | None]:
    if group.get("spread", int) is not None:
        return list(wall_names(room) or ())
    # Where nothing readable says which walls, that is told, and no wall can be wrong.
    return [wall for wall, _ in group.pairs("on")]


def height(
    table: Table, room: Table, surface: str, given: Height | None, walls: tuple[str | None, ...]
) -> Iterator[Problem]:
    """What is wrong with the height of something on those walls of a room."""
    if given is None:
        return
    if given.above == "floor":
        yield from _in_room(table, room, given.mm)
    elif given.above == "ground":
        yield from _above_ground(table, room, surface, given.mm)
    else:
        yield from _above_thing(table, room, given, walls)


def _in_room(table: Table, room: Table, floor_mm: int) -> Iterator[Problem]:
    top = room.get("height", int)
    if top is not None and floor_mm > top:
        found = f"this is {floor_mm} mm above the floor, the room is {top} mm high"
        yield table.problem("height", found, "write a smaller height")
    if floor_mm < 0:
        yield table.problem("height", f"this is {-floor_mm} mm below the floor", "write a greater height")


def _above_ground(table: Table, room: Table, surface: str, mm: int) -> Iterator[Problem]:
    ground = room.get("ground", int)
    if surface != "outside":
        found = "only a point outside has a height above ground"
        yield table.problem("height", found, 'write the height above the floor, or surface = "outside"')
    elif not room.has("ground"):
        found = f'room "{room.name}" does not say where the ground is'
        yield table.problem("height", found, 'write ground = "-150 mm" in the room (below its floor)')
    elif ground is not None:
        yield from _in_room(table, room, ground + mm)


def _above_thing(table: Table, room: Table, given: Height, walls: tuple[str | None, ...]) -> Iterator[Problem]:
    things = [thing for thing in room.tables("fitted") if thing.name is not None]
    spot: Spot = ("height",)
    lost = [
        thing
        for thing in things
        if thing.name == given.above and thing.get("wall", str) not in (wall_names(room) or ())
    ]
    for wall in () if lost else walls:
        here = [thing for thing in things if thing.get("wall", str) == wall]
        found = next((thing for thing in here if thing.name == given.above), None)
        if found is not None:
            yield from _in_room(table, room, (found.get("to", int) or 0) + given.mm)
        elif wall is not None:
            hint = _hint(given, here, things)
            yield table.problem(spot, f'nothing fitted at wall "{wall}" is called "{given.above}"', hint)
            return


def _hint(given: Height, here: list[Table], things: list[Table]) -> str:
    if any(thing.name == given.above for thing in things):
        walls = " and ".join(str(thing.get("wall", str)) for thing in things if thing.name == given.above)
        return f"it is fitted at {walls}; write the height above the floor, or name the walls with on or at"
    return choose(given.above, [str(thing.name) for thing in here or things])
