"""Takes a height as written (above the floor, the ground, or a fitted thing); gives mm above the room's floor."""

from estimator.job.model import Height, Room
from estimator.problems import Place, Problem
from estimator.setout.words import in_metres


def above_floor_mm(room: Room, wall: str, height: Height | None) -> int | None:
    """The height above the floor on that wall, mm; None for no height, no such thing on the wall, or no ground level.

    Of several fitted things of one name on the wall, the highest counts.
    """
    if height is None:
        return None
    if height.above == "floor":
        return height.mm
    if height.above == "ground":
        return None if room.ground_mm is None else room.ground_mm + height.mm
    tops = [thing.to_mm for thing in room.fitted if thing.name == height.above and thing.wall == wall]
    return max(tops) + height.mm if tops else None


def no_height(room: Room, wall: str, height: Height | None, where: str, place: Place) -> Problem:
    """Say why a height is not known."""
    if height is None:
        return Problem(place, where, "no height", 'write the height of the centre line, such as height = "450 mm"')
    if height.above == "ground":
        found = f'a height above ground, and room "{room.name}" has no ground level'
        return Problem(place, where, found, 'write ground = "-150 mm" in the room, or a height above the floor')
    found = f'nothing named "{height.above}" is fitted on wall {wall} of "{room.name}"'
    return Problem(place, where, found, "write a fitted thing of that wall, or a height above the floor")


def off_height(room: Room, outside: bool, height_mm: int, where: str, place: Place) -> Problem | None:
    """A problem for a height that is not on the wall: above the ceiling, or below the floor (outside: the ground)."""
    lowest = min(room.ground_mm or 0, 0) if outside else 0
    if lowest <= height_mm <= room.height_mm:
        return None
    bottom = "ground" if outside else "floor"
    found = f"{in_metres(height_mm)} above the floor is not on the wall"
    write = f"write a height from the {bottom} ({in_metres(lowest)}) to the ceiling ({in_metres(room.height_mm)})"
    return Problem(place, where, found, write)
