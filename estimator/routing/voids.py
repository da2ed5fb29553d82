"""A void as cables see it: its height and joists; straight stretches go in, pieces and joist holes come out.

Everything here is in the building's coordinates, whole mm, but for keys of passages, which are in the room's.
"""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal, Protocol

from estimator.building.model import Joists, RoomShape, Wall
from estimator.job.model import Section
from estimator.rounding import half_up
from estimator.routing.graph import HOLE_BASE, VOID_LAYER, GraphBuilder, Spot
from estimator.routing.model import XYZ, Passage, Piece
from estimator.routing.places import XY, bounds, is_rectangle
from estimator.routing.stretches import inside, off
from estimator.routing.words import as_text, section_text

Level = Literal["ceiling", "floor"]


@dataclass(frozen=True, slots=True)
class Void:
    """The void above or below a room; `across_x` are the joists that lines parallel to x pass, `across_y` likewise."""

    number: int
    shape: RoomShape
    level: Level
    z: int
    across_x: tuple[int, ...]
    across_y: tuple[int, ...]
    timber: Section | None

    def spot(self, place: XY) -> Spot:
        """The node at a place."""
        return self.z, place[1], place[0], VOID_LAYER, self.number, 0, 0

    def along_x(self, x: int) -> int:
        """A cost that grows with x; the difference of two is the cost of going from one to the other."""
        return x * HOLE_BASE + bisect_left(self.across_x, x)

    def along_y(self, y: int) -> int:
        """The same for y."""
        return y * HOLE_BASE + bisect_left(self.across_y, y)

    def cost(self, start: XY, end: XY) -> int:
        """The cost of going from one place to another with no step back."""
        in_x = abs(self.along_x(start[0]) - self.along_x(end[0]))
        return in_x + abs(self.along_y(start[1]) - self.along_y(end[1]))

    def xyz(self, place: XY) -> XYZ:
        """The building coordinates of a place."""
        return place[0], place[1], self.z

    def straight(self, start: XY, end: XY) -> Iterator[Piece | Passage]:
        """A stretch parallel to x or y and the joists it passes, in its direction; nothing where it has no length."""
        if start == end:
            return
        axis = 0 if start[1] == end[1] else 1
        joists = self.across_x if axis == 0 else self.across_y
        kind: Literal["along-joists", "across-joists"] = "across-joists" if joists else "along-joists"
        length = abs(start[axis] - end[axis])
        yield Piece(kind, self.shape.room.name, "", self.level, self.xyz(start), self.xyz(end), length)
        low, high = sorted((start[axis], end[axis]))
        passed = joists[bisect_left(joists, low) : bisect_left(joists, high)]
        line = start[1 - axis] - self.shape.room.at[1 - axis]
        for joist in passed if start[axis] < end[axis] else reversed(passed):
            place = (joist, start[1]) if axis == 0 else (start[0], joist)
            yield self.joist_passage(axis, joist, f"{'yx'[axis]}={line}", place)

    def joist_passage(self, axis: int, joist: int, line: str, place: XY) -> Passage:
        """Where a line passes the joist at `joist` (building x or y, by `axis`)."""
        room = self.shape.room
        key = ("joist", room.name, self.level, as_text(joist - room.at[axis]), line)
        depth = self.timber.depth_mm if self.timber else None
        words = section_text(self.timber) if self.timber else ""
        along = place[1 - axis] - self._joist_end(axis, joist, place[1 - axis])
        return Passage(key, "joist", room.name, "", self.xyz(place), words, depth, along)

    def _joist_end(self, axis: int, joist: int, at: int) -> int:
        """Where the joist that is passed at `at` begins: at the outline of the room, on the side of lower x or y."""
        if is_rectangle(self.shape):
            return bounds(self.shape)[0][1 - axis]
        room = self.shape.room
        corners = [(x + room.at[0], y + room.at[1]) for x, y in room.corners]
        stretches = inside(corners, axis, joist)
        low, _ = min(stretches, key=lambda stretch: (off(stretch, at), stretch))
        return half_up(low)


def void_of(number: int, shape: RoomShape, level: Level, joists: Joists | None, joists_at: XY) -> Void:
    """A room's void with joists whose places count from `joists_at` in the building."""
    room = shape.room
    z = room.floor_level_mm + (room.height_mm if level == "ceiling" else 0)
    across_x: tuple[int, ...] = ()
    across_y: tuple[int, ...] = ()
    if joists and joists.along == "y":
        across_x = tuple(place + joists_at[0] for place in joists.places_mm)
    elif joists:
        across_y = tuple(place + joists_at[1] for place in joists.places_mm)
    return Void(number, shape, level, z, across_x, across_y, joists.section if joists else None)


class Lines(Protocol):
    """The lines of one void while the network is put together: first gates and feet, then `join`."""

    void: Void

    def gate(self, place: XY) -> None:
        """A place with lines parallel to x and to y through it."""
        ...

    def foot(self, wall: Wall, along_mm: int) -> XY:
        """A place on the line along a wall, with no line of its own; tells where it is."""
        ...

    @property
    def gates(self) -> tuple[XY, ...]:
        """The gates so far."""
        ...

    def open(self, axis: int, fixed: int) -> Sequence[tuple[Fraction, Fraction]]:
        """Where a line square to an axis (0: x is fixed) lies in the room or on its outline, ascending."""
        ...

    def holds(self, place: XY) -> bool:
        """Whether a place lies in the room or on its outline."""
        ...

    def meets(self, wall: Wall) -> list[int]:
        """The alongs at which lines of gates meet a wall, its ends included, ascending."""
        ...

    def join(self, builder: GraphBuilder) -> None:
        """Joins everything in the void."""
        ...
