"""Lanes and risers of one wall: the places on it go in, the ways along and up its inside face come out.

Alongs and heights are whole mm of the wall and the room; stud centres may lie on half mm.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from estimator.building.model import RoomShape, Stud, Wall
from estimator.job.model import Section
from estimator.rounding import floor, half_up
from estimator.routing.graph import HOLE_BASE, WALL_LAYER, Drawn, GraphBuilder, Spot
from estimator.routing.model import XYZ, Passage, Piece
from estimator.routing.places import place_on
from estimator.routing.words import as_text, section_text

LANE_BELOW_CEILING_MM = 100
"""Where a lane runs below a ceiling that has no void (design, section 6)."""


@dataclass(frozen=True, slots=True)
class Face:
    """The inside face of a wall: `heights` of its lanes and `risers` (alongs), both ascending.

    `room` is the number of the room in the building's order. `studs` are those a lane at a height passes.
    """

    shape: RoomShape
    room: int
    wall: Wall
    heights: tuple[int, ...]
    risers: tuple[int, ...]
    studs: Mapping[int, tuple[Stud, ...]]
    passed_before: Mapping[int, tuple[int, ...]]

    def xyz(self, along_mm: int, height_mm: int) -> XYZ:
        """The building coordinates of a place."""
        x, y = place_on(self.shape, self.wall, along_mm)
        return x, y, height_mm + self.shape.room.floor_level_mm

    def spot(self, along_mm: int, height_mm: int) -> Spot:
        """The node at a place."""
        x, y, z = self.xyz(along_mm, height_mm)
        return z, y, x, WALL_LAYER, self.room, self.wall.index, along_mm

    def lane_cut(self, height_mm: int, low_mm: int, high_mm: int) -> bool:
        """Whether an opening cuts a lane between two alongs."""
        return any(
            gap.sill_mm < height_mm < gap.head_mm and low_mm < gap.along_mm + gap.width_mm and high_mm > gap.along_mm
            for gap in self.wall.openings
        )

    def riser_cut(self, along_mm: int, low_mm: int, high_mm: int) -> bool:
        """Whether an opening cuts a riser between two heights."""
        return any(
            gap.along_mm < along_mm < gap.along_mm + gap.width_mm and low_mm < gap.head_mm and high_mm > gap.sill_mm
            for gap in self.wall.openings
        )

    def studs_between(self, height_mm: int, low_mm: int, high_mm: int) -> int:
        """How many stud centres a lane passes from `low_mm` to `high_mm`; one exactly at `low_mm` counts."""
        centres = self.passed_before[height_mm]
        return bisect_left(centres, high_mm) - bisect_left(centres, low_mm)


def face_of(shape: RoomShape, room: int, wall: Wall, places: Mapping[str, Iterable[tuple[int, int]]]) -> Face:
    """The face of a wall; `places` gives along and height of every point and board by the name of its wall."""
    own = tuple(places.get(wall.name, ()))
    counted = [place for on in places.values() for place in on] if _protected(wall) else own
    heights = {height for _, height in counted}
    if not shape.room.ceiling.void:
        heights.add(shape.room.height_mm - LANE_BELOW_CEILING_MM)
    lanes = tuple(sorted(heights))
    risers = _risers(wall, own) if lanes or shape.room.floor.void else ()
    studs = {height: _studs_at(wall, height) for height in lanes}
    # c < t for a whole t where floor(c) < t, so whole numbers tell which centres lie before a place
    before = {height: tuple(floor(stud.centre_mm) for stud in passed) for height, passed in studs.items()}
    return Face(shape, room, wall, lanes, risers, studs, before)


def _protected(wall: Wall) -> bool:
    return wall.frame.cable_zones == "protected"


def _risers(wall: Wall, own: Iterable[tuple[int, int]]) -> tuple[int, ...]:
    thickness = min(half_up(wall.frame.stud.thickness_mm), wall.length_mm)
    return tuple(sorted({thickness, wall.length_mm - thickness, *(along for along, _ in own)}))


def _studs_at(wall: Wall, height_mm: int) -> tuple[Stud, ...]:
    found = [stud for stud in wall.studs if not stud.end and _stands_at(stud, height_mm)]
    return tuple(sorted(found, key=lambda stud: stud.centre_mm))


def _stands_at(stud: Stud, height_mm: int) -> bool:
    return stud.gap_mm is None or not stud.gap_mm[0] < height_mm < stud.gap_mm[1]


@dataclass(frozen=True, slots=True)
class Along:
    """A stretch of lane from one along to a higher one."""

    face: Face
    height_mm: int
    low_mm: int
    high_mm: int

    def trace(self) -> Iterator[Piece | Passage]:
        """The stretch, then the studs it passes."""
        face, height = self.face, self.height_mm
        ends = face.xyz(self.low_mm, height), face.xyz(self.high_mm, height)
        length = self.high_mm - self.low_mm
        yield Piece("lane", face.shape.room.name, face.wall.name, "", *ends, length)
        for stud in face.studs[height]:
            if self.low_mm <= stud.centre_mm < self.high_mm:
                yield stud_passage(face, stud, height)


@dataclass(frozen=True, slots=True)
class Up:
    """A stretch of riser from one height to a higher one; `floor` and `ceiling` where it ends in that void."""

    face: Face
    along_mm: int
    low_mm: int
    high_mm: int
    floor: bool
    ceiling: bool

    def trace(self) -> Iterator[Piece | Passage]:
        """The plate at the foot, the stretch, the plate at the head."""
        face, along = self.face, self.along_mm
        if self.floor:
            yield plate_passage(face, along, self.low_mm)
        ends = face.xyz(along, self.low_mm), face.xyz(along, self.high_mm)
        length = abs(self.high_mm - self.low_mm)
        yield Piece("riser", face.shape.room.name, face.wall.name, "", *ends, length)
        if self.ceiling:
            yield plate_passage(face, along, self.high_mm)


def stud_passage(face: Face, stud: Stud, height_mm: int) -> Passage:
    """Where a lane passes a stud."""
    room, wall = face.shape.room.name, face.wall.name
    key = ("stud", room, wall, as_text(stud.centre_mm), as_text(height_mm))
    depth = face.wall.frame.stud.depth_mm
    timber = Section(stud.right_mm - stud.left_mm, depth)
    at = face.xyz(half_up(stud.centre_mm), height_mm)
    return Passage(key, "stud", room, wall, at, section_text(timber), depth, height_mm)


def plate_passage(face: Face, along_mm: int, height_mm: int) -> Passage:
    """Where a riser passes the plate at its foot or head; plates are taken to be of the studs' timber."""
    room, wall, timber = face.shape.room.name, face.wall.name, face.wall.frame.stud
    key = ("plate", room, wall, as_text(along_mm), as_text(height_mm))
    at = face.xyz(along_mm, height_mm)
    return Passage(key, "plate", room, wall, at, section_text(timber), timber.depth_mm, along_mm)


def join_lanes(builder: GraphBuilder, face: Face, more: Mapping[int, Iterable[int]]) -> None:
    """Joins every lane of a face; `more` gives further places (alongs) by height."""
    for height in face.heights:
        alongs = sorted({*face.risers, *more.get(height, ())})
        for low, high in pairwise(alongs):
            if not face.lane_cut(height, low, high):
                cost = (high - low) * HOLE_BASE + face.studs_between(height, low, high)
                step = Along(face, height, low, high)
                builder.join(face.spot(low, height), face.spot(high, height), cost, step)


def join_risers(
    builder: GraphBuilder,
    face: Face,
    more: Mapping[int, Iterable[int]],
    foot: Mapping[int, Spot],
    head: Mapping[int, Spot],
) -> None:
    """Joins every riser of a face; `more` gives further heights by along, `foot` and `head` the nodes in the voids."""
    for along in face.risers:
        heights = sorted({*face.heights, *more.get(along, ())})
        rungs = [(height, face.spot(along, height), 0) for height in heights]
        if along in foot:
            rungs.insert(0, (0, foot[along], 1))
        if along in head:
            rungs.append((face.shape.room.height_mm, head[along], 1))
        for low, high in pairwise(rungs):
            if not face.riser_cut(along, low[0], high[0]):
                cost = abs(high[0] - low[0]) * HOLE_BASE + low[2] + high[2]
                voids = (low is rungs[0] and along in foot, high is rungs[-1] and along in head)
                builder.join(low[1], high[1], cost, Up(face, along, low[0], high[0], *voids))


def join_corner(builder: GraphBuilder, left: Face, right: Face) -> None:
    """Joins lanes of equal height where the end of one wall meets the start of the next: two studs, no length."""
    for height in left.heights:
        if height in right.heights:
            last = [stud for stud in left.wall.studs if stud.end][-1]
            first = next(stud for stud in right.wall.studs if stud.end)
            passages = (stud_passage(left, last, height), stud_passage(right, first, height))
            start, end = left.spot(left.wall.length_mm, height), right.spot(0, height)
            builder.join(start, end, len(passages), Drawn(passages))
