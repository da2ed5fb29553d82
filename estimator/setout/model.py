"""What set-out gives: the exact place of every point and board, every noggin, and what there is to say about them."""

from dataclasses import dataclass, field
from decimal import Decimal

from estimator.checks.model import Finding
from estimator.job.model import Surface
from estimator.problems import NOWHERE, Place


@dataclass(frozen=True, slots=True)
class Point:
    """A point in its place, whole mm.

    `along_mm` on walls and outside, and along the wall of a soffit; `height_mm` (above the room's floor, centre line)
    only on walls and outside; None elsewhere.
    `at` is the place on the room's inside face in the room's own coordinates (for a point outside: the inside face
    at the same along and height; for a soffit: the inside face at its along, z = room height). `xyz_mm` is the place
    itself in the building's coordinates. `moved_mm` is the distance from the even place, 0 for places given.
    `load` stays with the group and the kind.
    """

    id: str
    group: str
    number: int
    kind: str
    circuit: str | None
    room: str
    surface: Surface
    wall: str | None
    along_mm: int | None
    height_mm: int | None
    out_mm: int | None
    at: tuple[int, int, int]
    xyz_mm: tuple[int, int, int]
    moved_mm: int
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class PlacedBoard:
    """A board in the job, in its place; `at` and `xyz_mm` as of a point."""

    name: str
    kind: str
    room: str
    wall: str
    along_mm: int
    height_mm: int
    at: tuple[int, int, int]
    xyz_mm: tuple[int, int, int]
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Noggin:
    """A timber between two studs that carries the boxes of `points`; `left_mm` is the along of its left end.

    `length_mm` is the clear width of its bay in whole mm, half up.
    """

    points: tuple[str, ...]
    room: str
    wall: str
    part: str
    left_mm: Decimal
    length_mm: Decimal
    height_mm: int
    setback_mm: Decimal
    spacer_mm: Decimal


@dataclass(frozen=True, slots=True)
class SetOut:
    """The result of set-out: points by name then number, boards by name, noggins by room, wall, left end, height."""

    points: tuple[Point, ...]
    boards: tuple[PlacedBoard, ...]
    noggins: tuple[Noggin, ...]
    findings: tuple[Finding, ...]
