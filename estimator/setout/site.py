"""Takes a job, its catalogue and building; gives what every part of set-out looks up: kinds, bodies, limits, shapes."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.building.model import Building, RoomShape
from estimator.catalogue.model import Catalogue, PointKind
from estimator.checks.model import Finding, Level
from estimator.job.model import Group, Job, Surface
from estimator.problems import Problem, choose
from estimator.setout.model import PlacedBoard, Point
from estimator.setout.words import address

Manner = Literal["bay", "surface", "outside", "board"]


@dataclass(frozen=True, slots=True)
class Limits:
    """The clear distances of the ruleset, mm."""

    stud_mm: Decimal
    corner_mm: Decimal
    corner_note_mm: Decimal
    opening_mm: Decimal
    air_mm: Decimal
    share_mm: Decimal


@dataclass(frozen=True, slots=True)
class Body:
    """What is put on a wall: its box (the plate where there is no box) and its plate, mm, and which rules bind it.

    `bay`: a box in the wall. `surface`: on the lining. `outside`: on the cladding. `board`: a board.
    """

    manner: Manner
    width_mm: Decimal
    height_mm: Decimal
    plate_width_mm: Decimal
    plate_height_mm: Decimal


@dataclass(frozen=True, slots=True)
class Placed:
    """What one step of set-out gives."""

    points: tuple[Point, ...] = ()
    boards: tuple[PlacedBoard, ...] = ()
    problems: tuple[Problem, ...] = ()
    findings: tuple[Finding, ...] = ()

    def __add__(self, other: "Placed") -> "Placed":
        return Placed(
            self.points + other.points,
            self.boards + other.boards,
            self.problems + other.problems,
            self.findings + other.findings,
        )


@dataclass(frozen=True, slots=True)
class Site:
    """The job with its catalogue, building and limits."""

    job: Job
    catalogue: Catalogue
    building: Building
    limits: Limits

    def shape(self, room: str) -> RoomShape:
        """The room with its walls."""
        return self.building.room(room)

    def kind(self, kind: str) -> PointKind:
        """The row of points.csv."""
        return self.catalogue.points[kind]

    def body(self, kind: str, surface: Surface) -> Body:
        """The body of a kind of point on a wall, inside or outside."""
        return body_of(self.kind(kind), surface)

    def board_body(self, kind: str) -> Body:
        """The body of a kind of board; its own outline is its plate."""
        row = self.catalogue.boards[kind]
        return Body("board", row.width_mm, row.height_mm, row.width_mm, row.height_mm)

    def cut_mm(self, kind: str) -> Decimal:
        """The hole a kind of point needs in a ceiling, soffit or floor, mm: its cut-out, else the box width; or 0."""
        light = self.catalogue.lights.get(kind)
        if light is not None and light.cutout_mm is not None:
            return light.cutout_mm
        return self.kind(kind).width_mm

    def finding(
        self,
        rule: str,
        level: Level,
        subject: str,
        message: str,
        value: Decimal | None = None,
        limit: Decimal | None = None,
    ) -> Finding:
        """A finding with the source of the rule it is named after, where rules.csv has one; value and limit in mm."""
        row = self.catalogue.rules.get((self.job.ruleset, rule))
        return Finding(
            check=rule,
            level=level,
            subject=subject,
            message=message,
            value=value,
            limit=limit,
            unit=None if value is None and limit is None else "mm",
            source=row.source if row else None,
            edition=(row.edition or None) if row else None,
        )


def site_of(job: Job, catalogue: Catalogue, building: Building) -> Site:
    """Look up the limits of the job's ruleset.

    Raises KeyError where rules.csv lacks one (its reader asks for them all).
    """

    def limit(rule: str) -> Decimal:
        return catalogue.rule_mm(job.ruleset, rule)

    limits = Limits(
        stud_mm=limit("box-to-stud"),
        corner_mm=limit("box-to-corner"),
        corner_note_mm=limit("box-to-corner-note"),
        opening_mm=limit("box-to-opening"),
        air_mm=limit("plate-air"),
        share_mm=limit("noggin-share-height"),
    )
    return Site(job, catalogue, building, limits)


def unknown_kinds(job: Job, catalogue: Catalogue) -> tuple[Problem, ...]:
    """A problem for every group and board whose kind the catalogue lacks."""
    groups = (
        Problem(
            group.place,
            address("points", group.name, "kind"),
            f'no kind "{group.kind}"',
            choose(group.kind, catalogue.points),
        )
        for group in job.groups
        if group.kind not in catalogue.points
    )
    boards = (
        Problem(
            board.place,
            address("board", board.name, "kind"),
            f'no kind "{board.kind}"',
            choose(board.kind, catalogue.boards),
        )
        for board in job.boards
        if board.kind is not None and board.kind not in catalogue.boards
    )
    return (*groups, *boards)


def body_of(kind: PointKind, surface: Surface) -> Body:
    """The body of a kind of point: sizes that are 0 are taken from the other of box and plate."""
    boxed = kind.width_mm > 0
    width, height = (kind.width_mm, kind.height_mm) if boxed else (kind.plate_width_mm, kind.plate_height_mm)
    manner: Manner = "surface"
    if surface == "outside":
        manner = "outside"
    elif boxed and kind.fixing in ("noggin", "lining"):
        manner = "bay"
    return Body(manner, width, height, kind.plate_width_mm or width, kind.plate_height_mm or height)


def is_on_wall(group: Group) -> bool:
    """Whether the group's points are on walls, inside or outside."""
    return group.surface in ("wall", "outside")
