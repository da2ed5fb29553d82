"""Boxes and boards of walls, to scale: an `Estimate` goes in; what stands on (or outside) each wall comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.result import Estimate

Key = tuple[str, str]
"""Names of room and wall."""


@dataclass(frozen=True, slots=True)
class Thing:
    """A box or board to scale, its middle at `along_mm` and `up_mm`; where it has no box, its plate."""

    name: str
    along_mm: int
    up_mm: int
    wide_mm: float
    high_mm: float
    outside: bool


def things_by_wall(estimate: Estimate) -> Mapping[Key, Sequence[Thing]]:
    """Points and boards by their wall, in the order of the set-out."""
    found: dict[Key, list[Thing]] = {}
    for point in estimate.setout.points:
        if point.wall is None or point.along_mm is None or point.height_mm is None:
            continue
        kind = estimate.catalogue.points[point.kind]
        wide, high = kind.width_mm or kind.plate_width_mm, kind.height_mm or kind.plate_height_mm
        outside = point.surface == "outside"
        thing = Thing(point.id, point.along_mm, point.height_mm, float(wide), float(high), outside)
        found.setdefault((point.room, point.wall), []).append(thing)
    for board in estimate.setout.boards:
        case = estimate.catalogue.boards[board.kind]
        size = float(case.width_mm), float(case.height_mm)
        thing = Thing(board.name, board.along_mm, board.height_mm, *size, outside=False)
        found.setdefault((board.room, board.wall), []).append(thing)
    return found
