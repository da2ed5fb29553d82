"""Where a scenario puts what it adds: its changes and the estimate with them go in, a place for every point comes out."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from estimator.compare.changes import Changes
from estimator.result import Estimate
from estimator.setout.model import Point


@dataclass(frozen=True, slots=True)
class Put:
    """A point that is new: `along_mm` from the left end of the wall as one faces it inside, `height_mm` above the floor.

    `wall`, `along_mm` and `height_mm` are None on a ceiling or a floor; `from_corner_mm` is then its place from the room's
    lowest corner, along x and y.
    """

    point: str
    kind: str
    room: str
    surface: str
    wall: str | None
    along_mm: int | None
    height_mm: int | None
    from_corner_mm: tuple[int, int] | None


def puts_of(after: Estimate, changes: Changes) -> tuple[Put, ...]:
    """The points of the groups that the changes add, in the order of the set-out."""
    added = set(_names(changes))
    return tuple(_put(point) for point in after.setout.points if point.group in added)


def _names(changes: Changes) -> Iterator[str]:
    for address, value in changes.add:
        for row in value if isinstance(value, list) else [value]:
            if address == "points" and isinstance(row, Mapping) and isinstance(row.get("name"), str):
                yield row["name"]


def _put(point: Point) -> Put:
    flat = None if point.wall is not None else (point.at[0], point.at[1])
    return Put(point.id, point.kind, point.room, point.surface, point.wall, point.along_mm, point.height_mm, flat)
