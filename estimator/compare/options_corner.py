"""The option of a cable to an outside corner, for a camera or an alarm: the job as it stands goes in, a box and a run come out."""

from typing import NamedTuple

from estimator.building.model import Wall
from estimator.catalogue.model import OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_cables import DATA
from estimator.compare.options_here import Here, free_group, free_name
from estimator.compare.options_model import Made, must
from estimator.compare.options_places import Wanted, outer_doors, place_on
from estimator.setout.words import in_metres

PANEL = "blank-box"
PANEL_HEIGHT_MM = 1400
"""What a cable to an outside corner starts at, and how high it hangs, where no data cables come together. Common practice."""
CORNER_MM = 400
"""How far from the corner a camera or an alarm is looked for first. Common practice."""


def corner_cable(here: Here, row: OptionRow) -> Made | str:
    """A box outside at a corner of the building, and a cable to it: from where the data cables come together, for a data
    cable, else from a box beside the board.
    """
    kind, cable, height = must(row.kind), must(row.cable), must(row.height_mm)
    wanted = Wanted(kind, "outside", height, outdoors=True)
    found = next(
        (
            (room, wall, place)
            for room in _rooms(here)
            for wall, target in _outer_corners(here, room)
            if (place := place_on(here, wall, wanted, target)) is not None
        ),
        None,
    )
    if found is None:
        return "no room with a board has a free outside corner"
    room, wall, along = found
    start = _start(here, cable, room)
    if start is None:
        return "no wall has room for the box that the cable starts at"
    end = free_group(here, "EX")
    box = {"name": end, "kind": kind, "room": room, "surface": "outside", "height": f"{height} mm"}
    points: list[object] = [*start.added, {**box, "at": [{"wall": wall.name, "along": f"{along} mm"}]}]
    name = free_name(f"cable to {end}1", [run.name for run in here.job.runs])
    run = {"name": name, "cable": cable, "from": start.point, "to": f"{end}1"}
    says = f"{here.kind(kind).label}: {room}, wall {wall.name} at {in_metres(along)}, with {cable} from {start.said}."
    return Made(says, Changes(add=(("points", points), ("run", [run]))))


def _rooms(here: Here) -> list[str]:
    """Rooms that a board serves: with a door to the outside first, then in the order of the job."""
    served = [room.name for room in here.job.rooms if here.serving(room.name)]
    return sorted(served, key=lambda room: not any(outer_doors(here, room)))


def _outer_corners(here: Here, room: str) -> list[tuple[Wall, int]]:
    """Corners that stick out between two outer walls: the wall before each and a place near its right end, which is the
    corner, then the wall after each and a place near its left end.
    """
    walls = here.walls(room)
    pairs = [(one, walls[(number + 1) % len(walls)]) for number, one in enumerate(walls)]
    out = [
        (one, other)
        for one, other in pairs
        if _turns_right(one, other)
        and here.outer(one, one.length_mm - CORNER_MM, one.length_mm)
        and here.outer(other, 0, CORNER_MM)
    ]
    return [(one, one.length_mm - CORNER_MM) for one, _ in out] + [(other, CORNER_MM) for _, other in out]


def _turns_right(one: Wall, other: Wall) -> bool:
    (ax, ay), (bx, by) = ((wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]) for wall in (one, other))
    return ax * by - ay * bx < 0


class Start(NamedTuple):
    """The point that a cable starts at, the groups that have to be added for it, and what a sentence calls it."""

    point: str
    added: list[dict[str, object]]
    said: str


def _start(here: Here, cable: str, room: str) -> Start | None:
    """Where a cable starts: where data cables come together, for one, else a new box beside the board."""
    hub = _hub(here) if here.catalogue.cables[cable].construction == DATA else None
    if hub is not None and {board.name for board in here.serving(hub[1])} & {one.name for one in here.serving(room)}:
        return Start(hub[0], [], hub[0])
    board = here.serving(room)[0]
    wall = here.site.shape(board.room or "").wall(board.wall or "")
    along = place_on(here, wall, Wanted(PANEL, "wall", PANEL_HEIGHT_MM), board.along_mm or 0)
    if along is None:
        return None
    name = free_group(here, "PX")
    at = [{"wall": wall.name, "along": f"{along} mm"}]
    group: dict[str, object] = {
        "name": name,
        "kind": PANEL,
        "room": wall.room,
        "height": f"{PANEL_HEIGHT_MM} mm",
        "at": at,
    }
    return Start(f"{name}1", [group], f"a new box {name}1 beside {board.name}")


def _hub(here: Here) -> tuple[str, str] | None:
    """The point at which most data runs end, and its room; of equals the first in the order of the job."""
    rooms = {point.id: point.room for point in here.estimate.setout.points}
    data = [run for run in here.job.runs if here.catalogue.cables[run.cable].construction == DATA]
    ends = [end for run in data for end in (run.start, run.end) if end in rooms]
    best = max(dict.fromkeys(ends), key=ends.count, default=None)
    return None if best is None else (best, rooms[best])
