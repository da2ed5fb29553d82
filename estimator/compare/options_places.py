"""Free places on walls: a wall and what is wanted go in, the nearest legal place comes out, by the set-out's own rules."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.building.model import Wall
from estimator.catalogue.model import BoardKind
from estimator.compare.options_here import Here, free_group
from estimator.job.model import At, Board, Group, Height, Opening, Surface, WallPlace
from estimator.setout.bars import FAR, Bar, nearest_open, open_spans
from estimator.setout.clear import Mark
from estimator.setout.legal import bars, legal
from estimator.setout.noggins import noggins
from estimator.setout.points import on_wall
from estimator.setout.site import Body


@dataclass(frozen=True, slots=True)
class Wanted:
    """A place that is looked for: a kind of point on a surface of a wall at a height.

    `outdoors`: no other room may lie behind. `through`: it goes through the wall and so keeps off the studs. `marks` are
    plates that are not there yet.
    """

    kind: str
    surface: Surface
    height_mm: int
    outdoors: bool = False
    through: bool = False
    marks: tuple[Mark, ...] = ()


def place_on(here: Here, wall: Wall, wanted: Wanted, target_mm: int) -> int | None:
    """The legal place on a wall nearest to a target, of two the lower; None where there is none.

    Clear of everything placed and, inside, of what is fitted there; where it can be, also clear of corners by the longer
    distance of `box-to-corner-note`, and never where its noggin would meet another.
    """
    body = here.site.body(wanted.kind, wanted.surface)
    room = here.site.shape(wall.room).room
    body = replace(body, manner="bay") if wanted.through else body
    if not body.height_mm / 2 <= wanted.height_mm <= room.height_mm - body.height_mm / 2:
        return None
    avoid = room.fitted if wanted.surface == "wall" else ()
    closed = [*bars(wall, body, wanted.height_mm, here.site.limits, (*here.marks, *wanted.marks), avoid)]
    if wanted.outdoors or wanted.surface == "outside":
        closed += _rooms_behind(here, wall, body)
    for more in (_corners(here, wall, body), ()):
        for place in _nearest_first(wall, (*closed, *more), target_mm):
            if _noggin_fits(here, wall, wanted, place):
                return place
    return None


def _rooms_behind(here: Here, wall: Wall, body: Body) -> Iterator[Bar]:
    reach = body.width_mm / 2
    for low, high in here.inner.get((wall.room, wall.name), []):
        yield Bar(low - reach, high + reach, "inner", Decimal(0), "another room")


def _corners(here: Here, wall: Wall, body: Body) -> tuple[Bar, ...]:
    inset = here.site.limits.corner_note_mm + body.width_mm / 2
    limit = here.site.limits.corner_note_mm
    return tuple(
        Bar(low, high, "box-to-corner-note", limit, wall.name)
        for low, high in ((-FAR, inset), (wall.length_mm - inset, FAR))
    )


def _nearest_first(wall: Wall, closed: Iterable[Bar], target_mm: int) -> list[int]:
    """The place nearest to the target in every open stretch of a wall."""
    spans = open_spans(closed, 0, wall.length_mm)
    near = (min(max(target_mm, low), high) for low, high in spans)
    return sorted(near, key=lambda place: (abs(place - target_mm), place))


def _noggin_fits(here: Here, wall: Wall, wanted: Wanted, along_mm: int) -> bool:
    """Whether a point there brings no finding about noggins that was not there before."""
    if wanted.surface != "wall" or here.kind(wanted.kind).fixing != "noggin":
        return True
    group = group_at(free_group(here, "N"), wanted.kind, wall, "wall", along_mm, wanted.height_mm)
    point = on_wall(group, 1, here.site.shape(wall.room).room, wall, along_mm, wanted.height_mm)
    points = here.estimate.setout.points
    before = noggins(here.site, points)[1]
    more = replace(here.site, job=replace(here.job, groups=(*here.job.groups, group)))
    return all(finding in before for finding in noggins(more, (*points, point))[1])


def group_at(name: str, kind: str, wall: Wall, surface: Surface, along_mm: int, height_mm: int) -> Group:
    """A group of one point on a wall, for set-out to look at."""
    at = At((WallPlace(wall.name, along_mm),))
    return Group(name, kind, None, (), wall.room, surface, Height(height_mm), at, None, (), None)


def board_place(here: Here, board: Board, kind: BoardKind) -> int | None:
    """Where along its wall a board may hang as another kind, nearest to where it hangs now; None where it fits nowhere."""
    standing = next(one for one in here.estimate.setout.boards if one.name == board.name)
    wall = here.site.shape(standing.room).wall(standing.wall)
    others = [mark for mark in here.marks if (mark.group, mark.number) != (board.name, 0)]
    body = here.site.board_body(kind.kind)
    return nearest_open(standing.along_mm, legal(wall, body, standing.height_mm, here.site.limits, others))


def outer_doors(here: Here, room: str) -> list[tuple[Wall, Opening]]:
    """The doors of a room that lead outside, wall by wall from its left end."""
    return [
        (wall, opening)
        for wall in here.walls(room)
        for opening in wall.openings
        if opening.kind == "door" and here.outer(wall, opening.along_mm, opening.along_mm + opening.width_mm)
    ]
