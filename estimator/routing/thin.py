"""The void of a room whose walls all lie along x and y: its lines go in, a thin set of ways between places comes out.

Where the rectangle between two places lies wholly in the room, the lines through them join them by a way with one
bend, as long as their distances in x and y together. A shortest way through the room that has no such rectangle goes
by a corner that stands out into it. So only gates, such corners, and the places where feet reach a line are joined,
each with those that have no other in the rectangle between them, and every shortest way is still there.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from estimator.routing.graph import GraphBuilder
from estimator.routing.places import XY
from estimator.routing.rectangles import Flat, clear_pairs
from estimator.routing.stretches import Stretch
from estimator.routing.voids import Void

Line = tuple[int, int, Fraction, Fraction]
"""The axis it is square to (0: x is fixed), the fixed coordinate, and from where to where it runs."""


@dataclass(frozen=True, slots=True)
class ThinLines:
    """The lines of such a void with the places on them; `inside` tells where the room is open along a line."""

    void: Void
    lines: Mapping[Line, Iterable[int]]
    inside: Callable[[int, int], Sequence[Stretch]]

    def join(self, builder: GraphBuilder, gates: Iterable[XY], corners: Iterable[XY], feet: Iterable[XY]) -> None:
        """Joins gates, corners and feet (places on the lines along walls)."""
        half = [foot for foot in feet if not self._crossed(foot)]
        full = dict.fromkeys((*gates, *corners, *(foot for foot in feet if self._crossed(foot))))
        full.update(dict.fromkeys(self._crossings(half)))
        for start, end in (*self._clear(full), *self._beside(half, full)):
            builder.join(self.void.spot(start), self.void.spot(end), self.void.cost(start, end), Flat(self, start, end))
        for place in (*full, *half):
            builder.add(self.void.spot(place))

    def bend(self, start: XY, end: XY) -> XY | None:
        """Where a way of two straight stretches turns, the lower y then x of two; None where no lines allow one."""
        if start[0] == end[0] or start[1] == end[1]:
            return end if self._straight(start, end) else None
        turns = [
            turn
            for turn in ((start[0], end[1]), (end[0], start[1]))
            if self._straight(start, turn) and self._straight(turn, end)
        ]
        return min(turns, key=lambda turn: (turn[1], turn[0])) if turns else None

    def _straight(self, start: XY, end: XY) -> bool:
        """Whether one line runs from place to place."""
        if start == end:
            return True
        axis = 0 if start[0] == end[0] else 1
        stretch = self._stretch(axis, start, end)
        return stretch is not None and (axis, start[axis], *stretch) in self.lines

    def _stretch(self, axis: int, start: XY, end: XY) -> Stretch | None:
        """Where the room is open along a straight stretch between two places, past both; None where a wall is between."""
        low, high = sorted((start[1 - axis], end[1 - axis]))
        return next((s for s in self.inside(axis, start[axis]) if s[0] <= low and high <= s[1]), None)

    def _crossed(self, place: XY) -> bool:
        """Whether a line parallel to x and one parallel to y pass a place."""
        return all(
            (stretch := self._stretch(axis, place, place)) is not None and (axis, place[axis], *stretch) in self.lines
            for axis in (0, 1)
        )

    def _crossings(self, half: Iterable[XY]) -> Iterator[XY]:
        """For a foot that only the line along its wall reaches: the nearest crossings on either side."""
        for place in half:
            for axis, along in self._lines_at(place):
                before = max((at for at in along if at < place[1 - axis]), default=None)
                after = min((at for at in along if at > place[1 - axis]), default=None)
                yield from (_turn(axis, place[axis], at) for at in (before, after) if at is not None)

    def _lines_at(self, place: XY) -> Iterator[tuple[int, Iterable[int]]]:
        for axis in (0, 1):
            stretch = self._stretch(axis, place, place)
            if stretch is not None and (axis, place[axis], *stretch) in self.lines:
                yield axis, self.lines[axis, place[axis], *stretch]

    def _beside(self, half: Sequence[XY], full: Iterable[XY]) -> Iterator[tuple[XY, XY]]:
        """Neighbours on the lines along the walls of which at least one is a foot with no line of its own."""
        feet = set(half)
        on_line: dict[tuple[int, int], list[XY]] = {}
        for place in (*half, *full):
            for axis in (0, 1):
                on_line.setdefault((axis, place[axis]), []).append(place)
        for key in dict.fromkeys((axis, foot[axis]) for foot in half for axis, _ in self._lines_at(foot)):
            for start, end in pairwise(sorted(on_line[key])):
                if (start in feet or end in feet) and self._straight(start, end):
                    yield start, end

    def _clear(self, places: Iterable[XY]) -> Iterator[tuple[XY, XY]]:
        """Pairs with no third place in the rectangle between them, which lies wholly in the room."""
        for start, end in clear_pairs(places):
            turns = (start[0], end[1]), (end[0], start[1])
            if all(self._stretch(0 if at[0] == turn[0] else 1, at, turn) for turn in turns for at in (start, end)):
                yield start, end


def _turn(axis: int, fixed: int, place: int) -> XY:
    return (fixed, place) if axis == 0 else (place, fixed)
