"""The option of a light outside at each door: the job as it stands goes in, a group of points for every dark door comes out."""

from collections.abc import Iterable

from estimator.building.model import Wall
from estimator.catalogue.model import OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_here import Here, free_group
from estimator.compare.options_lighting import Feed, lighting
from estimator.compare.options_model import Made, cap, listed, must
from estimator.compare.options_places import Wanted, outer_doors, place_on
from estimator.job.model import Opening
from estimator.setout.words import in_metres

BESIDE_MM = 250
"""From a door to the middle of its light. Common practice."""
LIT_WITHIN_MM = 1000
"""A door with a light outside on its wall no further from it than this has one. Common practice."""


def door_light(here: Here, row: OptionRow) -> Made | str:
    """A light outside beside every door that leads outside and has none."""
    doors = [(room.name, wall, door) for room in here.job.rooms for wall, door in outer_doors(here, room.name)]
    if not doors:
        return "no door leads outside"
    dark = [(room, wall, door) for room, wall, door in doors if not _lit(here, wall, door)]
    if not dark:
        return "every door to the outside has a light beside it"
    groups: list[dict[str, object]] = []
    says, left = [], []
    for room, wall, door in dark:
        feed, along = lighting(here, room, outside=True), _beside(here, row, wall, door)
        if feed is None or along is None:
            left.append(f"{room}, wall {wall.name}")
            continue
        groups.append(_light(here, row, groups, wall, along, feed))
        by = f"switched by {listed([*feed.switches])}" if feed.switches else "always fed: take one with its own sensor"
        says.append(f"{room}, wall {wall.name} at {in_metres(along)}, on {feed.circuit.name}, {by}")
    if not groups:
        return f"{listed(left)}: no free place beside the door, or no lighting circuit that may take one more"
    stays = f" None at {listed(left)}: no free place, or no lighting circuit that may take one more." if left else ""
    return Made(f"{cap('; '.join(says))}.{stays}", Changes(add=(("points", groups),)))


def _lit(here: Here, wall: Wall, door: Opening) -> bool:
    low, high = door.along_mm - LIT_WITHIN_MM, door.along_mm + door.width_mm + LIT_WITHIN_MM
    return any(
        (point.room, point.wall, point.surface) == (wall.room, wall.name, "outside")
        and here.kind(point.kind).lit
        and low <= (point.along_mm or 0) <= high
        for point in here.estimate.setout.points
    )


def _beside(here: Here, row: OptionRow, wall: Wall, door: Opening) -> int | None:
    """The free place nearest to either side of a door, and not out of reach of it; of two the one on its right."""
    wanted = Wanted(must(row.kind), "outside", must(row.height_mm), outdoors=True)
    low, high = door.along_mm, door.along_mm + door.width_mm
    found = [(target, place_on(here, wall, wanted, target)) for target in (high + BESIDE_MM, low - BESIDE_MM)]
    near = [
        (abs(place - target), number, place)
        for number, (target, place) in enumerate(found)
        if place is not None and low - LIT_WITHIN_MM <= place <= high + LIT_WITHIN_MM
    ]
    return min(near)[2] if near else None


def _light(
    here: Here, row: OptionRow, made: Iterable[dict[str, object]], wall: Wall, along_mm: int, feed: Feed
) -> dict[str, object]:
    group: dict[str, object] = {
        "name": free_group(here, "EL", [str(one["name"]) for one in made]),
        "kind": must(row.kind),
        "circuit": feed.circuit.name,
        "room": wall.room,
        "surface": "outside",
        "height": f"{must(row.height_mm)} mm",
        "at": [{"wall": wall.name, "along": f"{along_mm} mm"}],
    }
    return {**group, "switched_by": [*feed.switches]} if feed.switches else group
