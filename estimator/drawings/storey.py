"""One storey laid out on paper at one scale: an `Estimate` and rooms go in, everything that has a place comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.chains import Chain, chains
from estimator.drawings.letters import Owner, letters
from estimator.drawings.lines import Drawn, drawn
from estimator.drawings.outside import Key, Outside, extent, outsides
from estimator.drawings.places import Mark, marks
from estimator.drawings.shell import strip_boxes
from estimator.drawings.sides import Side, sides
from estimator.drawings.tracks import Tracks, tracks
from estimator.result import Estimate

APART_MM = 2000
"""Rooms further apart than this have drawings of their own (real mm)."""

Choice = tuple[int, float, float]
"""A scale, and the width and height in mm of the paper that is there for the drawing at that scale."""


@dataclass(frozen=True, slots=True)
class Storey:
    """Rooms of one floor level at one scale."""

    scale: int
    shapes: tuple[RoomShape, ...]
    around: Mapping[str, tuple[Side, ...]]
    letters: Mapping[Owner, str]
    on: Tracks
    cables: Mapping[Owner, Drawn]
    marks: tuple[Mark, ...]
    outside: Mapping[Key, Outside]

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Left, low, right and high of all that is drawn, in real mm."""
        return extent(self.on.walls, self.outside, self.scale)


def storey(estimate: Estimate, shapes: Sequence[RoomShape], choices: Sequence[Choice], *, bare: bool = False) -> Storey:
    """Lay rooms of one floor level out by the first of `choices` at which they fit on the paper, else by the last.

    `bare` leaves points and cables out.
    """
    around = {shape.room.name: sides(shape) for shape in shapes}
    walls = {(side.room, side.wall.name): side for of in around.values() for side in of}
    names = letters(estimate.routes)
    for scale, width, height in choices:
        outside = outsides(estimate, shapes, walls, names, scale)
        left, low, right, high = extent(walls, outside, scale)
        if right - left <= width * scale and high - low <= height * scale:
            break
    found = () if bare else chains(estimate, tuple(around), walls)
    strips = frozenset((shape.room.name, thing.wall) for shape in shapes for thing in shape.room.fitted)
    on = tracks(found, walls, strips, names, scale)
    cables = _cables(found, names, on)
    points = [point for point in estimate.setout.points if point.room in around and not bare]
    boards = [board for board in estimate.setout.boards if board.room in around and not bare]
    lines = [line for of in cables.values() for line in of.lines]
    standing = marks(points, boards, estimate.catalogue, on, lines, strip_boxes(shapes, around, scale))
    return Storey(scale, tuple(shapes), around, names, on, cables, standing, outside)


def _cables(found: Sequence[Chain], names: Mapping[Owner, str], on: Tracks) -> dict[Owner, Drawn]:
    used = {chain.owner for chain in found}
    return {owner: drawn(owner, found, on) for owner in names if owner in used}


def parts(shapes: Sequence[RoomShape]) -> tuple[tuple[RoomShape, ...], ...]:
    """Rooms that go on one drawing: of one floor level, and not far from each other; in the order of the rooms."""
    left = list(shapes)
    found = []
    while left:
        part = [left.pop(0)]
        for shape in part:
            near = [other for other in left if _near(shape, other)]
            left = [other for other in left if other not in near]
            part += near
        found.append(tuple(shape for shape in shapes if shape in part))
    return tuple(found)


def _near(a: RoomShape, b: RoomShape) -> bool:
    if a.room.floor_level_mm != b.room.floor_level_mm:
        return False
    return all(
        max(of[axis] for of in a.room.corners) + a.room.at[axis] + APART_MM >= b.room.at[axis]
        and max(of[axis] for of in b.room.corners) + b.room.at[axis] + APART_MM >= a.room.at[axis]
        for axis in (0, 1)
    )
