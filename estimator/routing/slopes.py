"""A stretch of void line along a sloping wall: two places on the wall go in, its piece and joist holes come out."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from estimator.building.model import Wall
from estimator.rounding import half_up
from estimator.routing.graph import HOLE_BASE
from estimator.routing.model import Passage, Piece
from estimator.routing.places import XY
from estimator.routing.stretches import level_at
from estimator.routing.voids import Void

OnWall = tuple[int, XY]
"""An along and the place there, rounded to whole mm."""


def sloping(wall: Wall) -> bool:
    """Whether a wall lies neither along x nor along y."""
    return wall.start[0] != wall.end[0] and wall.start[1] != wall.end[1]


@dataclass(frozen=True, slots=True)
class Slope:
    """A stretch along a sloping wall, in either direction. Joists are passed at their own x or y."""

    void: Void
    wall: Wall
    start: OnWall
    end: OnWall

    @property
    def cost(self) -> int:
        """Its length along the wall and the joists it passes."""
        return abs(self.end[0] - self.start[0]) * HOLE_BASE + sum(1 for _ in self._joists())

    def trace(self) -> Iterator[Piece | Passage]:
        """The stretch, then the joists it passes."""
        void, length = self.void, abs(self.end[0] - self.start[0])
        crossed = bool(void.across_x or void.across_y)
        kind: Literal["along-joists", "across-joists"] = "across-joists" if crossed else "along-joists"
        ends = void.xyz(self.start[1]), void.xyz(self.end[1])
        yield Piece(kind, void.shape.room.name, "", void.level, *ends, length)
        for axis, joist in self._joists():
            yield void.joist_passage(axis, joist, self.wall.name, self._at(axis, joist))

    def turned(self) -> "Slope":
        """The same from its other end."""
        return Slope(self.void, self.wall, self.end, self.start)

    def then(self, other: "Slope") -> "Slope | None":
        """One with what follows, where both lie along one wall."""
        if self.void is not other.void or self.wall is not other.wall:
            return None
        return Slope(self.void, self.wall, self.start, other.end)

    def _joists(self) -> Iterator[tuple[int, int]]:
        for axis, joists in enumerate((self.void.across_x, self.void.across_y)):
            start, end = self.start[1][axis], self.end[1][axis]
            low, high = sorted((start, end))
            passed = joists[bisect_left(joists, low) : bisect_left(joists, high)]
            yield from ((axis, joist) for joist in (passed if start < end else reversed(passed)))

    def _at(self, axis: int, joist: int) -> XY:
        fixed = joist - self.void.shape.room.at[axis]
        other = half_up(level_at(self.wall.start, self.wall.end, axis, fixed)) + self.void.shape.room.at[1 - axis]
        return (joist, other) if axis == 0 else (other, joist)
