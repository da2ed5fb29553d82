"""Rooms laid out on paper at one scale: a `Site` and rooms of one floor level go in, everything that has a place comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.cables import Arrival
from estimator.drawings.chains import Chain, chains
from estimator.drawings.letters import Owner
from estimator.drawings.lines import Drawn, drawn
from estimator.drawings.outside import Face, Outside, extent, faces, outsides
from estimator.drawings.places import Mark, marks
from estimator.drawings.shell import strip_boxes
from estimator.drawings.sides import Side
from estimator.drawings.site import Key, Site
from estimator.drawings.tracks import PITCH_MM, Tracks, tracks

APART_MM = 2000
"""Rooms further apart than this have drawings of their own (real mm)."""


@dataclass(frozen=True, slots=True)
class Part:
    """Rooms of one floor level that go on one drawing, whatever its scale."""

    of: Site
    shapes: tuple[RoomShape, ...]
    walls: Mapping[Key, Side]
    faces: Mapping[Key, Face]
    chains: tuple[Chain, ...]

    @property
    def rooms(self) -> frozenset[str]:
        """The names of its rooms."""
        return frozenset(shape.room.name for shape in self.shapes)

    @property
    def inner(self) -> tuple[Arrival, ...]:
        """Runs given by stretches that end in these rooms and are not drawn through a wall."""
        through = [one for face in self.faces.values() for one in face.arrivals]
        return tuple(one for one in self.of.arrivals if one.room in self.rooms and one not in through)

    @property
    def owners(self) -> tuple[Owner, ...]:
        """Whose cable is in these rooms, by letter."""
        used = {chain.owner for chain in self.chains} | {
            one.owner for one in self.of.arrivals if one.room in self.rooms
        }
        return tuple(owner for owner in self.of.names if owner in used)

    @property
    def filled(self) -> float:
        """How much of its floor, at 1:1, the lines of cables take with the air between them; over the scale it is a share."""
        length = sum(
            abs(a - b) for chain in self.chains for bit in chain.bits for a, b in zip(bit.start, bit.end, strict=True)
        )
        return length * PITCH_MM / sum(_area(shape) for shape in self.shapes)

    def extent(self, scale: int) -> tuple[float, float, float, float]:
        """Left, low, right and high of all that is drawn at that scale, in real mm."""
        return extent(self.walls, outsides(self.faces, self.walls, scale), scale)


def part(of: Site, shapes: Sequence[RoomShape], *, bare: bool = False) -> Part:
    """What a drawing of those rooms needs to know; `bare` leaves points and cables out."""
    walls = {(side.room, side.wall.name): side for shape in shapes for side in of.around[shape.room.name]}
    rooms = tuple(shape.room.name for shape in shapes)
    return Part(of, tuple(shapes), walls, faces(of, shapes), () if bare else chains(of.estimate, rooms, walls))


def _area(shape: RoomShape) -> float:
    corners = shape.room.corners
    return abs(sum(a[0] * b[1] - a[1] * b[0] for a, b in zip(corners, (*corners[1:], corners[0]), strict=True))) / 2


@dataclass(frozen=True, slots=True)
class Storey:
    """Rooms of one floor level at one scale."""

    scale: int
    part: Part
    around: Mapping[str, tuple[Side, ...]]
    on: Tracks
    cables: Mapping[Owner, Drawn]
    marks: tuple[Mark, ...]
    outside: Mapping[Key, Outside]
    bare: bool

    @property
    def shapes(self) -> tuple[RoomShape, ...]:
        """Its rooms."""
        return self.part.shapes

    @property
    def letters(self) -> Mapping[Owner, str]:
        """The letter of every owner of the job."""
        return self.part.of.names

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Left, low, right and high of all that is drawn, in real mm."""
        return extent(self.on.walls, self.outside, self.scale)


def storey(of: Part, scale: int, *, bare: bool = False) -> Storey:
    """Lay rooms of one floor level out at a scale; `bare` leaves points out."""
    names, estimate = of.of.names, of.of.estimate
    around = {room: of.of.around[room] for room in (shape.room.name for shape in of.shapes)}
    strips = frozenset((shape.room.name, thing.wall) for shape in of.shapes for thing in shape.room.fitted)
    on = tracks(of.chains, of.walls, strips, names, scale)
    cables = _cables(of.chains, names, on)
    points = [point for point in estimate.setout.points if point.room in around and not bare]
    boards = [board for board in estimate.setout.boards if board.room in around and not bare]
    lines = [line for one in cables.values() for line in one.lines]
    standing = marks(points, boards, estimate.catalogue, on, lines, strip_boxes(of.shapes, around, scale))
    return Storey(scale, of, around, on, cables, standing, outsides(of.faces, of.walls, scale), bare)


def _cables(found: Sequence[Chain], names: Mapping[Owner, str], on: Tracks) -> dict[Owner, Drawn]:
    used = {chain.owner for chain in found}
    return {owner: drawn(owner, found, on) for owner in names if owner in used}


def parts(shapes: Sequence[RoomShape]) -> tuple[tuple[RoomShape, ...], ...]:
    """Rooms that go on one drawing: of one floor level, and not far from each other; in the order of the rooms."""
    left = list(shapes)
    found = []
    while left:
        near = [left.pop(0)]
        for shape in near:
            more = [other for other in left if _near(shape, other)]
            left = [other for other in left if other not in more]
            near += more
        found.append(tuple(shape for shape in shapes if shape in near))
    return tuple(found)


def _near(a: RoomShape, b: RoomShape) -> bool:
    if a.room.floor_level_mm != b.room.floor_level_mm:
        return False
    return all(
        max(of[axis] for of in a.room.corners) + a.room.at[axis] + APART_MM >= b.room.at[axis]
        and max(of[axis] for of in b.room.corners) + b.room.at[axis] + APART_MM >= a.room.at[axis]
        for axis in (0, 1)
    )
