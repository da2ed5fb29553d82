"""The void of a rectangular room: gates and feet go in, a thin set of ways between them comes out.

Lines run through every gate and along the walls from wall to wall, so any two gates are joined by a way with one
bend, as long as their distances in x and y together, and joists passed add up in the same manner. A way that comes
by a third gate without stepping back costs the same as going straight, so only gates with no other gate in the
rectangle between them are joined, and every shortest way is still there.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Protocol

from estimator.building.model import Wall
from estimator.routing.graph import GraphBuilder
from estimator.routing.model import Passage, Piece
from estimator.routing.places import XY, bounds, place_on
from estimator.routing.voids import Void


class RectangleLines:
    """The lines of one rectangular void; see `Lines`."""

    def __init__(self, void: Void) -> None:
        self.void = void
        self._low, self._high = bounds(void.shape)
        self._gates: dict[XY, None] = {}
        self._feet: dict[XY, None] = {}
        self._xs = {self._low[0], self._high[0]}
        self._ys = {self._low[1], self._high[1]}

    @property
    def bounds(self) -> tuple[XY, XY]:
        """The lowest and the highest x and y."""
        return self._low, self._high

    @property
    def gates(self) -> tuple[XY, ...]:
        """The gates so far."""
        return tuple(self._gates)

    def gate(self, place: XY) -> None:
        """A place with lines parallel to x and to y through it."""
        self._gates[place] = None
        self._xs.add(place[0])
        self._ys.add(place[1])

    def foot(self, wall: Wall, along_mm: int) -> XY:
        """A place on the line along a wall, with no line of its own; tells where it is."""
        place = place_on(self.void.shape, wall, along_mm)
        self._feet[place] = None
        return place

    def open(self, axis: int, fixed: int) -> Sequence[tuple[Fraction, Fraction]]:
        """Where a line square to an axis (0: x is fixed) lies in the room or on its outline."""
        if not self._low[axis] <= fixed <= self._high[axis]:
            return ()
        return ((Fraction(self._low[1 - axis]), Fraction(self._high[1 - axis])),)

    def holds(self, place: XY) -> bool:
        """Whether a place lies in the room or on its outline."""
        return all(low <= at <= high for low, at, high in zip(self._low, place, self._high, strict=True))

    def meets(self, wall: Wall) -> list[int]:
        """The alongs at which lines of gates meet a wall, its ends included, ascending."""
        axis = 0 if wall.start[1] == wall.end[1] else 1
        start = wall.start[axis] + self.void.shape.room.at[axis]
        return sorted(abs(line - start) for line in (self._xs, self._ys)[axis])

    def bend(self, start: XY, end: XY) -> XY | None:
        """Where a way of two straight stretches turns, the lower y then x of two; None where no lines allow one."""
        if (start[0] == end[0] and end[0] in self._xs) or (start[1] == end[1] and end[1] in self._ys):
            return end
        bends = []
        if start[0] in self._xs and end[1] in self._ys:
            bends.append((end[1], start[0]))
        if end[0] in self._xs and start[1] in self._ys:
            bends.append((start[1], end[0]))
        if not bends:
            return None
        y, x = min(bends)
        return x, y

    def join(self, builder: GraphBuilder) -> None:
        """Joins everything in the void."""
        full = dict.fromkeys((*self._gates, *(foot for foot in self._feet if self._crossed(foot))))
        half = [foot for foot in self._feet if not self._crossed(foot)]
        full.update(dict.fromkeys(self._crossings(half)))
        for start, end in clear_pairs(full):
            self._join(builder, start, end)
        for start, end in self._beside(half, full):
            self._join(builder, start, end)
        for place in (*full, *half):
            builder.add(self.void.spot(place))

    def _join(self, builder: GraphBuilder, start: XY, end: XY) -> None:
        spot = self.void.spot
        builder.join(spot(start), spot(end), self.void.cost(start, end), Flat(self, start, end))

    def _crossed(self, place: XY) -> bool:
        return place[0] in self._xs and place[1] in self._ys

    def _crossings(self, half: Iterable[XY]) -> Iterator[XY]:
        """For a foot that only the line along its wall reaches: the nearest crossings on either side."""
        xs, ys = sorted(self._xs), sorted(self._ys)
        for x, y in half:
            if y in self._ys:
                yield from ((near, y) for near in _either_side(xs, x))
            else:
                yield from ((x, near) for near in _either_side(ys, y))

    def _beside(self, half: list[XY], full: Iterable[XY]) -> Iterator[tuple[XY, XY]]:
        """Neighbours on the lines along the walls of which at least one is a foot with no line of its own."""
        for axis, line in ((1, self._low[1]), (1, self._high[1]), (0, self._low[0]), (0, self._high[0])):
            feet = {place for place in half if place[axis] == line}
            on_line = sorted(feet | {place for place in full if place[axis] == line}) if feet else []
            for start, end in pairwise(on_line):
                if start in feet or end in feet:
                    yield start, end


def _either_side(lines: list[int], place: int) -> tuple[int, int]:
    return max(line for line in lines if line < place), min(line for line in lines if line > place)


def clear_pairs(places: Iterable[XY]) -> Iterator[tuple[XY, XY]]:
    """Pairs of places with no third in or on the rectangle between them."""
    upwards = sorted(places)
    for number, start in enumerate(upwards):
        for end in _outline(start, upwards[number + 1 :], 1):
            yield start, end
    downwards = sorted(places, key=lambda place: (place[0], -place[1]))
    for number, start in enumerate(downwards):
        for end in _outline(start, downwards[number + 1 :], -1):
            if end[1] != start[1]:
                yield start, end


def _outline(start: XY, others: Iterable[XY], sign: int) -> Iterator[XY]:
    """Of places from `start` on in x, those not behind another on its side in y (+1 up, -1 down, level both)."""
    nearest: int | None = None
    for other in others:
        rise = (other[1] - start[1]) * sign
        if rise >= 0 and (nearest is None or rise < nearest):
            nearest = rise
            yield other
            if rise == 0:
                return


class Bending(Protocol):
    """The lines of a void, which know where a way between two places on them bends."""

    @property
    def void(self) -> Void:
        """Whose lines they are."""
        ...

    def bend(self, start: XY, end: XY) -> XY | None:
        """Where a way of two straight stretches turns; None where no lines allow one."""
        ...


@dataclass(frozen=True, slots=True)
class Flat:
    """A way in a void between two places, with at most one bend."""

    lines: Bending
    start: XY
    end: XY

    def trace(self) -> Iterator[Piece | Passage]:
        """Its stretches and the joists they pass."""
        bend = self.lines.bend(self.start, self.end)
        if bend is None:
            raise ValueError(f"no lines join {self.start} and {self.end}")
        yield from self.lines.void.straight(self.start, bend)
        yield from self.lines.void.straight(bend, self.end)

    def turned(self) -> "Flat":
        """The same from its other end."""
        return Flat(self.lines, self.end, self.start)

    def then(self, other: "Flat") -> "Flat | None":
        """One with what follows, where that has at most one bend and costs no more."""
        if self.lines is not other.lines or self.lines.bend(self.start, other.end) is None:
            return None
        cost = self.lines.void.cost
        both = cost(self.start, self.end) + cost(other.start, other.end)
        return Flat(self.lines, self.start, other.end) if cost(self.start, other.end) == both else None
