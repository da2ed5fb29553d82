"""Takes a room; gives the joists over its ceiling and under its floor."""

from typing import Literal

from estimator.building.model import Joists
from estimator.job.model import Room


def joists(room: Room, level: Literal["ceiling", "floor"]) -> Joists | None:
    """Lay the joists of one void: centres in mm from the room's lowest x or y, ascending, inside the room.

    None where there is no void, or where the section, the centres or the way they lie was not given.
    """
    void = room.ceiling if level == "ceiling" else room.floor
    if not void.void or void.joist is None or void.centres_mm is None or void.joists_along is None:
        return None
    across = 0 if void.joists_along == "y" else 1
    extent = max(corner[across] for corner in room.corners)
    places = tuple(range(void.centres_mm, extent, void.centres_mm))
    return Joists(level, void.joists_along, void.joist, void.centres_mm, places)
