"""Takes boards and places given one by one on walls; gives them there, unmoved, and findings for broken distances."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.model import RoomShape, Wall
from estimator.checks.model import Finding, Level
from estimator.job.model import At, Board, Fitted, Group, WallPlace
from estimator.problems import NOWHERE, Place, Problem
from estimator.setout.bars import Bar, nearest_open, open_spans
from estimator.setout.clear import Face, Mark
from estimator.setout.heights import above_floor_mm, no_height, off_height
from estimator.setout.legal import bars
from estimator.setout.points import board_on, on_wall
from estimator.setout.site import Body, Placed, Site
from estimator.setout.words import address, in_metres, in_mm

STOPS = ("box-to-stud", "box-to-opening", "plate-air", "wall-end")
"""Rules whose things cannot share a place with a box; lying over one is a `stop`, not a question."""


@dataclass(frozen=True, slots=True)
class Given:
    """Something in a place that the user chose: who it is, where, what it keeps clear of besides."""

    id: str
    wall: Wall
    along_mm: int
    height_mm: int
    body: Body
    mark: Mark
    avoid: tuple[Fitted, ...]


def place_boards(site: Site) -> Placed:
    """Put every board of the job in its place, by name; a place off its wall is a problem."""
    placed = Placed()
    for board in sorted(site.job.boards, key=lambda board: board.name):
        if not board.outside_job and board.kind and board.room and board.wall and board.along_mm is not None:
            placed += _board(site, board, board.kind, board.room, board.wall, board.along_mm)
    return placed


def place_given(site: Site, group: Group) -> Placed:
    """Put the points of a group with `at` on walls or outside in place, in list order; one off it is a problem."""
    placed = Placed()
    shape = site.shape(group.room)
    assert isinstance(group.placing, At)
    for number, given in enumerate(group.placing.places, start=1):
        if isinstance(given, WallPlace):
            placed += _given_point(shape, group, number, given)
    return placed


def off_wall(wall: Wall, along_mm: int, where: str, place: Place) -> Problem | None:
    """A problem for a place beyond the wall's ends."""
    if 0 <= along_mm <= wall.length_mm:
        return None
    found = f"{in_metres(along_mm)} is not on wall {wall.name}, which is {in_metres(wall.length_mm)} long"
    return Problem(place, where, found, f"write a place from 0 m to {in_metres(wall.length_mm)}")


def check_given(site: Site, given: Sequence[Given], marks: Iterable[Mark]) -> tuple[Finding, ...]:
    """One finding for each that breaks a rule of distance, with the nearest place of its wall that breaks none."""
    on_face: dict[Face, list[Mark]] = {}
    for mark in marks:
        on_face.setdefault(mark.face, []).append(mark)
    found = (_check(site, one, [mark for mark in on_face.get(one.mark.face, ()) if mark != one.mark]) for one in given)
    return tuple(finding for finding in found if finding is not None)


def _board(site: Site, board: Board, kind: str, room: str, wall_name: str, along_mm: int) -> Placed:
    shape = site.shape(room)
    wall = shape.wall(wall_name)
    where = address("board", board.name)
    height = above_floor_mm(shape.room, wall_name, board.height)
    if height is None:
        return Placed(problems=(no_height(shape.room, wall_name, board.height, f"{where}.height", board.place),))
    off = (
        off_wall(wall, along_mm, f"{where}.along", board.place),
        off_height(shape.room, False, height, f"{where}.height", board.place),
    )
    problems = tuple(problem for problem in off if problem is not None)
    if problems:
        return Placed(problems=problems)
    return Placed(boards=(board_on(board, kind, shape.room, wall, along_mm, height),))


def _given_point(shape: RoomShape, group: Group, number: int, given: WallPlace) -> Placed:
    where = f"{address('points', group.name)}.at.{number}"
    place = group.place if given.place == NOWHERE else given.place
    wall = shape.wall(given.wall)
    written = given.height or group.height
    height = above_floor_mm(shape.room, given.wall, written)
    if height is None:
        return Placed(problems=(no_height(shape.room, given.wall, written, where, place),))
    off = (
        off_wall(wall, given.along_mm, where, place),
        off_height(shape.room, group.surface == "outside", height, where, place),
    )
    problems = tuple(problem for problem in off if problem is not None)
    if problems:
        return Placed(problems=problems)
    return Placed(points=(on_wall(group, number, shape.room, wall, given.along_mm, height, place=place),))


def _check(site: Site, given: Given, others: Iterable[Mark]) -> Finding | None:
    closing = bars(given.wall, given.body, given.height_mm, site.limits, others, given.avoid)
    broken = sorted((bar for bar in closing if bar.holds(given.along_mm)), key=lambda bar: _weight(bar, given.along_mm))
    if not broken:
        return None
    spans = open_spans(closing, 0, given.wall.length_mm)
    nearest = nearest_open(given.along_mm, spans)
    reasons = [_reason(bar, given.along_mm, given.body) for bar in broken]
    hint = "no clear place on this wall at this height"
    if nearest is not None:
        hint = f"nearest clear place {in_metres(nearest)}"
    worst = broken[0]
    why = ", and ".join(dict.fromkeys(reasons))
    said = f"{given.id} at {in_metres(given.along_mm)} on wall {given.wall.name}: {why}; {hint}"
    return site.finding(
        worst.check, _level(worst, given.along_mm), given.id, said, worst.distance_mm(given.along_mm), worst.limit_mm
    )


def _weight(bar: Bar, along_mm: int) -> tuple[int, Decimal, str]:
    return (0 if _level(bar, along_mm) == "stop" else 1, bar.distance_mm(along_mm) - bar.limit_mm, bar.of)


def _level(bar: Bar, along_mm: int) -> Level:
    return "stop" if bar.check in STOPS and bar.distance_mm(along_mm) < 0 else "ask"


def _reason(bar: Bar, along_mm: int, body: Body) -> str:
    distance = bar.distance_mm(along_mm)
    thing = "plate" if bar.check == "plate-air" else "board" if body.manner == "board" else "box"
    if distance < 0:
        over = "reaches past" if bar.check in ("wall-end", "box-to-corner") else "meets"
        return f"the {thing} {over} {bar.of}"
    return f"the {thing} is {in_mm(distance)} from {bar.of}, less than {in_mm(bar.limit_mm)}"
