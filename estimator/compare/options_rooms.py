"""Options for the room that wants them most: an extract fan with its hole, an alarm on the ceiling."""

from decimal import Decimal

from estimator.building.model import Wall
from estimator.catalogue.model import OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_here import Here, free_group, free_name
from estimator.compare.options_lighting import lighting
from estimator.compare.options_model import Made, must
from estimator.compare.options_places import Wanted, place_on
from estimator.job.model import Room
from estimator.setout.outline import has_room
from estimator.setout.words import in_metres

WET_USES = ("cooker", "water-heating")
WET_WORDS = ("kitchen", "bath", "shower", "utility", "cloak", "laundry", "toilet", "wc")
"""Uses of points, and words in the name of a room, by which it is known to want a fan or an alarm before others."""
CLEAR_MM = 300
"""Between an alarm and walls or other things on the ceiling. From memory."""
STEP_MM = 100


def fan(here: Here, row: OptionRow) -> Made | str:
    """A fan through an outer wall of the first room that wants one most and has none, always fed."""
    served = [room for room in here.job.rooms if here.serving(room.name)]
    without = [room for room in served if all(kind.kind != row.kind for kind in here.kinds_in(room.name))]
    if not without:
        return "every room that a board serves has one"
    wanted = Wanted(must(row.kind), "wall", must(row.height_mm), outdoors=True, through=True)
    for room in sorted(without, key=lambda one: not _wet(here, one)):
        feed = lighting(here, room.name, outside=False)
        for wall in here.walls(room.name) if feed is not None else ():
            along = place_on(here, wall, wanted, wall.length_mm // 2)
            if along is not None and feed is not None:
                return _fan(here, row, wall, along, feed.circuit.name)
    return "no room without one has a free place on an outer wall and a lighting circuit that may take one more"


def _fan(here: Here, row: OptionRow, wall: Wall, along_mm: int, circuit: str) -> Made:
    group = {
        "name": free_group(here, "EF"),
        "kind": must(row.kind),
        "circuit": circuit,
        "room": wall.room,
        "height": f"{must(row.height_mm)} mm",
        "at": [{"wall": wall.name, "along": f"{along_mm} mm"}],
    }
    says = f"{here.kind(must(row.kind)).label} in {wall.room}, wall {wall.name} at {in_metres(along_mm)}, "
    return Made(
        f"{says}with its hole, on {circuit}, always fed by way of its isolator.", Changes(add=(("points", [group]),))
    )


def _wet(here: Here, room: Room) -> bool:
    named = any(word in room.name.lower() for word in WET_WORDS)
    return named or any(kind.use in WET_USES for kind in here.kinds_in(room.name))


def ceiling_alarm(here: Here, row: OptionRow) -> Made | str:
    """An alarm on the ceiling of the first room that wants one most and has none, on the circuit of those that are there."""
    use = here.kind(must(row.kind)).use
    served = [room for room in here.job.rooms if here.serving(room.name)]
    without = [room for room in served if all(kind.use != use for kind in here.kinds_in(room.name))]
    if not without:
        return "every room that a board serves has an alarm"
    for room in sorted(without, key=lambda one: not _wet(here, one)):
        place = _on_ceiling(here, room, must(row.kind))
        if place is not None and (made := _alarm(here, row, room.name, place)) is not None:
            return made
    return "no room without one has a free place on its ceiling, and a circuit of alarms or a free way for it"


def _alarm(here: Here, row: OptionRow, room: str, place: tuple[int, int]) -> Made | None:
    kind, device = must(row.kind), must(row.device)
    use = here.kind(kind).use
    there = (
        one for one in here.open_circuits(room) if any(here.kind(of.kind).use == use for of in here.groups_on(one))
    )
    found = next(there, None)
    board = here.with_way(room, device)
    if found is None and board is None:
        return None
    name = found.name if found else free_name("alarm", [circuit.name for circuit in here.job.circuits])
    group = {
        "name": free_group(here, "CA"),
        "kind": kind,
        "circuit": name,
        "room": room,
        "surface": "ceiling",
        "at": [[f"{place[0]} mm", f"{place[1]} mm"]],
    }
    add: list[tuple[str, object]] = [("points", [group])]
    if found is None and board is not None:
        circuit = {"name": name, "board": board.name, "wiring": "radial", "cable": must(row.cable), "device": device}
        add.append(("circuit", [circuit]))
    where = f"{room} at {in_metres(place[0])}, {in_metres(place[1])}"
    says = f"{here.kind(kind).label} on the ceiling of {where}, on {'' if found else 'a new circuit, '}{name}."
    return Made(says, Changes(add=tuple(add)))


def _on_ceiling(here: Here, room: Room, kind: str) -> tuple[int, int] | None:
    """The place nearest to the middle of the room that is clear of its walls and of everything on its ceiling."""
    wide, deep = max(x for x, _ in room.corners), max(y for _, y in room.corners)
    places = [
        (x, y)
        for x in range(wide // 2 % STEP_MM, wide, STEP_MM)
        for y in range(deep // 2 % STEP_MM, deep, STEP_MM)
        if has_room(room.corners, x, y, Decimal(2 * CLEAR_MM)) and _clear(here, room, kind, x, y)
    ]
    return min(places, key=lambda of: ((2 * of[0] - wide) ** 2 + (2 * of[1] - deep) ** 2, of), default=None)


def _clear(here: Here, room: Room, kind: str, x: int, y: int) -> bool:
    row = here.kind(kind)
    return not any(
        mark.face == (room.name, "ceiling", "")
        and abs(mark.across_mm - x) < (mark.width_mm + row.plate_width_mm) / 2 + CLEAR_MM
        and abs(mark.up_mm - y) < (mark.height_mm + row.plate_height_mm) / 2 + CLEAR_MM
        for mark in here.marks
    )
