"""What plans of a job share whatever their scale: an `Estimate` goes in; walls as rulers, letters and runs that come in come out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.cables import Arrival
from estimator.drawings.letters import Owner, letters
from estimator.drawings.sides import Side, inside, outer_corners, sides
from estimator.drawings.svg import XY
from estimator.result import Estimate

Key = tuple[str, str]
"""A room and the name of a wall."""
NEAR_MM = 250
"""Another room this near beyond a wall makes it an inner one (real mm)."""


@dataclass(frozen=True, slots=True)
class Site:
    """All rooms of a job, measured once for every plan of it."""

    estimate: Estimate
    around: Mapping[str, tuple[Side, ...]]
    corners: Mapping[str, tuple[XY, ...]]
    names: Mapping[Owner, str]
    arrivals: tuple[Arrival, ...]

    def outer(self, side: Side, rooms: Iterable[RoomShape]) -> bool:
        """Whether none of `rooms` lies just beyond any part of a wall."""
        beyond = [side.at(side.length * at / 8, -side.thickness - NEAR_MM) for at in (1, 2, 3, 4, 5, 6, 7)]
        return not any(
            _near(beyond, corners) and any(inside(place, corners) for place in beyond)
            for shape in rooms
            if shape.room.name != side.room
            for corners in (self.corners[shape.room.name],)
        )

    def beside(self, shape: RoomShape) -> tuple[RoomShape, ...]:
        """The rooms of its floor level."""
        level = shape.room.floor_level_mm
        return tuple(of for of in self.estimate.building.rooms if of.room.floor_level_mm == level)


def _near(places: Sequence[XY], corners: Sequence[XY]) -> bool:
    """Whether boxes round two sets of places meet."""
    return all(
        min(of[axis] for of in places) <= max(of[axis] for of in corners)
        and min(of[axis] for of in corners) <= max(of[axis] for of in places)
        for axis in (0, 1)
    )


def site(estimate: Estimate) -> Site:
    """Measure all rooms."""
    around = {shape.room.name: sides(shape) for shape in estimate.building.rooms}
    corners = {room: outer_corners(of) for room, of in around.items()}
    names = letters(estimate.routes)
    return Site(estimate, around, corners, names, tuple(_arrivals(estimate, names)))


def _arrivals(estimate: Estimate, names: Mapping[Owner, str]) -> Iterable[Arrival]:
    """Both ends of every run given by stretches that stand in a room."""
    ends: dict[str, tuple[str, str | None, int | None]] = {
        point.id: (point.room, point.wall if point.surface in ("wall", "outside") else None, point.along_mm)
        for point in estimate.setout.points
    }
    ends |= {board.name: (board.room, board.wall, board.along_mm) for board in estimate.setout.boards}
    for run in estimate.routes.runs:
        if run.path is not None:
            continue
        owner = Owner("run", run.name)
        for end, far, word in ((run.start, run.end, "to"), (run.end, run.start, "from")):
            if end in ends:
                room, wall, along = ends[end]
                where = f"{word} {far.removeprefix('outside:').strip()}"
                yield Arrival(end, room, wall, float(along or 0), owner, names[owner], run.name, where)
