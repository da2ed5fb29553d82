"""The building as geometry: walls with their studs, bays and openings, joists, and how rooms meet."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.job.model import Frame, Opening, Room, Section


@dataclass(frozen=True, slots=True)
class Stud:
    """One upright (or several that touch, as one): its faces and its centre as distances along the wall.

    `end` marks the two at the ends of the wall, and what touches them. `short` marks one that an opening cuts:
    it stands only above the head and below the sill of `gap_mm` (sill, head).
    """

    left_mm: Decimal
    right_mm: Decimal
    end: bool
    gap_mm: tuple[int, int] | None

    @property
    def centre_mm(self) -> Decimal:
        """The middle of it."""
        return (self.left_mm + self.right_mm) / 2


@dataclass(frozen=True, slots=True)
class Wall:
    """One wall. `start` and `end` are corners in the room's coordinates; `along` runs from start to end (clockwise).

    `studs` ascend by their left faces, full and short ones; a stud's faces never overlap another's of the same height.
    `offset_mm` is the place of its start on the closed line of all the room's walls.
    """

    room: str
    name: str
    index: int
    start: tuple[int, int]
    end: tuple[int, int]
    length_mm: int
    offset_mm: int
    frame: Frame
    openings: tuple[Opening, ...]
    studs: tuple[Stud, ...]

    def point_at(self, along_mm: int, out_mm: Decimal | int = 0) -> tuple[int, int]:
        """Room x and y (half up) of a place along the inside face, `out_mm` outwards of it."""
        from estimator.building.walls import point_on

        return point_on(self.start, self.end, along_mm, out_mm)


@dataclass(frozen=True, slots=True)
class Joists:
    """The joists of a ceiling or floor void: they stand on multiples of `centres_mm` from the room's lowest x or y.

    `along` is the axis they lie along; `across_mm` the room's extent square to them.
    """

    level: Literal["ceiling", "floor"]
    along: Literal["x", "y"]
    section: Section
    centres_mm: int
    places_mm: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class RoomShape:
    """A room with its walls (clockwise) and joists; joists None where they were not given or there is no void."""

    room: Room
    walls: tuple[Wall, ...]
    perimeter_mm: int
    ceiling: Joists | None
    floor: Joists | None

    def wall(self, name: str) -> Wall:
        """The wall with that name."""
        return next(wall for wall in self.walls if wall.name == name)


@dataclass(frozen=True, slots=True)
class Building:
    """All rooms, in the order of their building coordinates (floor level, y, x), then name."""

    rooms: tuple[RoomShape, ...]

    def room(self, name: str) -> RoomShape:
        """The room with that name."""
        return next(shape for shape in self.rooms if shape.room.name == name)
