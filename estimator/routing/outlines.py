"""The void of a room of any outline: gates and feet go in, ways between them come out.

Lines run parallel to x and to y through every gate and along every wall, and stop where they meet a wall. Where all
walls lie along x and y a thin set of ways is enough (see `thin`); where one slopes, every line with every crossing on
it comes out. What falls between whole mm on a sloping wall is rounded half up.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from estimator.building.model import Wall
from estimator.rounding import half_up
from estimator.routing.graph import GraphBuilder
from estimator.routing.model import Passage, Piece
from estimator.routing.places import XY, place_on
from estimator.routing.slopes import OnWall, Slope, sloping
from estimator.routing.stretches import Stretch, inside, level_at, off
from estimator.routing.thin import Line, ThinLines
from estimator.routing.voids import Void


@dataclass(frozen=True, slots=True)
class Straight:
    """A stretch of one line."""

    void: Void
    start: XY
    end: XY

    def trace(self) -> Iterator[Piece | Passage]:
        """The stretch and the joists it passes."""
        return self.void.straight(self.start, self.end)


@dataclass(slots=True)
class Laid:
    """Lines with the whole mm of the places on them, and for each sloping wall the places along it."""

    lines: dict[Line, set[int]]
    slopes: dict[int, set[OnWall]]


class OutlineLines:
    """The lines of one void of any outline; see `Lines`."""

    def __init__(self, void: Void) -> None:
        self.void = void
        at = void.shape.room.at
        self._corners = [(x + at[0], y + at[1]) for x, y in void.shape.room.corners]
        self._gates: dict[XY, None] = {}
        self._feet: dict[tuple[int, int], XY] = {}
        self._stretches: dict[tuple[int, int], list[Stretch]] = {}
        self._laid: Laid | None = None

    @property
    def gates(self) -> tuple[XY, ...]:
        """The gates so far."""
        return tuple(self._gates)

    def gate(self, place: XY) -> None:
        """A place with lines parallel to x and to y through it."""
        self._gates[place] = None
        self._laid = None

    def foot(self, wall: Wall, along_mm: int) -> XY:
        """A place on the line along a wall, with no line of its own; tells where it is."""
        place = place_on(self.void.shape, wall, along_mm)
        self._feet[wall.index, along_mm] = place
        return place

    def holds(self, place: XY) -> bool:
        """Whether a place lies in the room or on its outline."""
        return any(low <= place[1] <= high for low, high in self.open(0, place[0]))

    def meets(self, wall: Wall) -> list[int]:
        """The alongs at which lines of gates meet a wall, its ends included, ascending."""
        laid = self._laid = self._laid or self._lay()
        if sloping(wall):
            return sorted({along for along, _ in laid.slopes[wall.index]})
        axis, fixed, low, high = self._wall_line(wall)
        start = self._end(wall, 0)[1 - axis]
        met = {abs(place - start) for place in laid.lines[axis, fixed, low, high] if self._on(wall, axis, place)}
        return sorted(met)

    def join(self, builder: GraphBuilder) -> None:
        """Joins everything in the void."""
        laid = self._laid = self._laid or self._lay()
        if laid.slopes:
            self._join_all(builder, laid)
        else:
            ThinLines(self.void, laid.lines, self.open).join(builder, self._gates, self._corners, self._feet.values())

    def _join_all(self, builder: GraphBuilder, laid: Laid) -> None:
        for (index, along), place in self._feet.items():
            wall = self.void.shape.walls[index]
            if sloping(wall):
                laid.slopes[index].add((along, place))
            else:
                line = self._wall_line(wall)
                laid.lines[line].add(place[1 - line[0]])
        for (axis, fixed, _, _), places in laid.lines.items():
            for low, high in pairwise(sorted(places)):
                self._join_straight(builder, _turn(axis, fixed, low), _turn(axis, fixed, high))
        for index, chain in laid.slopes.items():
            for start, end in pairwise(sorted(chain)):
                slope = Slope(self.void, self.void.shape.walls[index], start, end)
                builder.join(self.void.spot(start[1]), self.void.spot(end[1]), slope.cost, slope)

    def _join_straight(self, builder: GraphBuilder, start: XY, end: XY) -> None:
        spot = self.void.spot
        builder.join(spot(start), spot(end), self.void.cost(start, end), Straight(self.void, start, end))

    def open(self, axis: int, fixed: int) -> list[Stretch]:
        """Where a line square to an axis (0: x is fixed) lies in the room or on its outline, ascending."""
        known = self._stretches.get((axis, fixed))
        if known is None:
            known = self._stretches[axis, fixed] = inside(self._corners, axis, fixed)
        return known

    def _line(self, axis: int, place: XY) -> Line:
        """The line through a place; one that lies off the outline by rounding takes the nearest stretch."""
        fixed, at = place[axis], place[1 - axis]
        here = Fraction(at), Fraction(at)
        low, high = min(self.open(axis, fixed) or [here], key=lambda stretch: (off(stretch, at), stretch))
        return (axis, fixed, low, high) if off((low, high), at) <= 1 else (axis, fixed, *here)

    def _end(self, wall: Wall, along: int) -> XY:
        return place_on(self.void.shape, wall, along)

    def _wall_line(self, wall: Wall) -> Line:
        start, end = self._end(wall, 0), self._end(wall, wall.length_mm)
        axis = 0 if start[0] == end[0] else 1
        middle = (start[1 - axis] + end[1 - axis]) // 2
        return self._line(axis, _turn(axis, start[axis], middle))

    def _on(self, wall: Wall, axis: int, place: int) -> bool:
        low, high = sorted((self._end(wall, 0)[1 - axis], self._end(wall, wall.length_mm)[1 - axis]))
        return low <= place <= high

    def _lay(self) -> Laid:
        """Every line with its crossings, its gates, the ends of walls on it, and where it meets sloping walls."""
        lines: dict[Line, set[int]] = {}
        for place in self._gates:
            for axis in (0, 1):
                lines.setdefault(self._line(axis, place), set()).add(place[1 - axis])
        for wall in self.void.shape.walls:
            if not sloping(wall):
                line = self._wall_line(wall)
                ends = (self._end(wall, along)[1 - line[0]] for along in (0, wall.length_mm))
                lines.setdefault(line, set()).update(ends)
        for line, places in lines.items():
            for other, crossed in lines.items():
                if line[0] == 0 and other[0] == 1 and _cross(line, other):
                    places.add(other[1])
                    crossed.add(line[1])
        slopes = {wall.index: self._slope(wall, lines) for wall in self.void.shape.walls if sloping(wall)}
        return Laid(lines, slopes)

    def _slope(self, wall: Wall, lines: dict[Line, set[int]]) -> set[OnWall]:
        """The places on a sloping wall: its ends, the gates on it, and where lines end at it."""
        found = {(along, self._end(wall, along)) for along in (0, wall.length_mm)}
        gates = [on for place in self._gates if (on := self._on_slope(wall, place))]
        found.update(gates)
        start, end = self._end(wall, 0), self._end(wall, wall.length_mm)
        for line, places in lines.items():
            axis, fixed, low, high = line
            if not min(start[axis], end[axis]) <= fixed <= max(start[axis], end[axis]):
                continue
            level = level_at(start, end, axis, fixed)
            if level in (low, high) and not any(_is_at(place, axis, fixed, level) for _, place in gates):
                places.add(half_up(level))
                found.add((self._along(wall, _turn(axis, fixed, half_up(level))), _turn(axis, fixed, half_up(level))))
        return found

    def _on_slope(self, wall: Wall, place: XY) -> OnWall | None:
        along = self._along(wall, place)
        on_it = 0 <= along <= wall.length_mm and self._end(wall, along) == place
        return (along, place) if on_it else None

    def _along(self, wall: Wall, place: XY) -> int:
        start = self._end(wall, 0)
        dx, dy = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
        dot = dx * (place[0] - start[0]) + dy * (place[1] - start[1])
        return min(max(half_up(dot / Decimal(dx * dx + dy * dy).sqrt()), 0), wall.length_mm)


def _turn(axis: int, fixed: int, place: int) -> XY:
    return (fixed, place) if axis == 0 else (place, fixed)


def _is_at(place: XY, axis: int, fixed: int, level: Fraction) -> bool:
    return place[axis] == fixed and abs(place[1 - axis] - level) <= 1


def _cross(line: Line, other: Line) -> bool:
    return other[2] <= line[1] <= other[3] and line[2] <= other[1] <= line[3]
