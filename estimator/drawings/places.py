"""Where the symbol of every point and board stands on paper: the things of a storey go in, marks with feet come out.

On ceilings, floors, soffits and outer faces a symbol stands in its place. On the inside of a wall it stands clear of the
cables, at the end of a stem that starts at its true place: `wall_marks` finds where.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.catalogue.model import Catalogue
from estimator.drawings.lines import Line
from estimator.drawings.spacing import Box, Taken
from estimator.drawings.svg import XY, text_width
from estimator.drawings.symbols import Glyph, glyph
from estimator.drawings.tracks import Tracks
from estimator.drawings.wall_marks import AIR_MM, ID_MM, Mark, Thing, bounds, wall_marks
from estimator.setout.model import PlacedBoard, Point

__all__ = ["HALO_MM", "ID_MM", "Mark", "marks"]

HALO_MM = 0.35
"""White round the id of a symbol."""


@dataclass(frozen=True, slots=True)
class _Sorted:
    """The things of a storey by where they are drawn."""

    walls: dict[tuple[str, str], list[Thing]]
    free: list[Mark]


def marks(
    points: Sequence[Point],
    boards: Sequence[PlacedBoard],
    catalogue: Catalogue,
    on: Tracks,
    cables: Sequence[Line],
    strips: Sequence[Box],
) -> tuple[Mark, ...]:
    """Every point and board of a storey: those that stand free, then walls from the longest to the shortest.

    `cables` (real mm) and `strips` (mm of paper) are what symbols should not stand on.
    """
    things = _sorted(points, boards, catalogue, on)
    scale = on.scale
    around = (
        (mark.box[0] - AIR_MM, mark.box[1] - AIR_MM, mark.box[2] + AIR_MM, mark.box[3] + AIR_MM) for mark in things.free
    )
    taken = Taken([*strips, *around], [((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale)) for a, b in cables])
    return (*things.free, *wall_marks(things.walls, on, taken))


def _sorted(points: Sequence[Point], boards: Sequence[PlacedBoard], catalogue: Catalogue, on: Tracks) -> _Sorted:
    found = _Sorted({key: [] for key in on.walls}, [])
    for board in boards:
        found.walls[board.room, board.wall].append(Thing(float(board.along_mm), board.name, glyph("board")))
    for point in points:
        of = _glyph(point, catalogue)
        if point.surface == "wall" and point.wall is not None and point.along_mm is not None:
            found.walls[point.room, point.wall].append(Thing(float(point.along_mm), point.id, of))
        else:
            found.free.append(_free(point, of, on))
    return found


def _glyph(point: Point, catalogue: Catalogue) -> Glyph:
    kind = catalogue.points.get(point.kind)
    return glyph(kind.symbol if kind else point.kind)


def _free(point: Point, of: Glyph, on: Tracks) -> Mark:
    """A symbol in its place: on an outer face standing away from it, elsewhere upright about its middle."""
    place: XY = float(point.xyz_mm[0]), float(point.xyz_mm[1])
    if point.surface == "outside" and point.wall is not None:
        into = on.walls[point.room, point.wall].into
        away: XY = -into[0], -into[1]
        return Mark(point.id, of, place, away, (), None, bounds(of, place, away, on.scale))
    reach = of.half * on.scale, of.height / 2 * on.scale
    corner = place[0] - reach[0], place[1] - reach[1]
    box = (
        corner[0] / on.scale,
        corner[1] / on.scale,
        (place[0] + reach[0]) / on.scale,
        (place[1] + reach[1]) / on.scale,
    )
    return Mark(point.id, of, place, None, (), None, box)


def free_labels(mark: Mark) -> tuple[Box, ...]:
    """Where the id of a symbol that stands free may go, best first: beside it, over or under it."""
    left, low, right, high = mark.box
    x, y = (left + right) / 2, (low + high) / 2
    wide, tall, air = text_width(mark.id, ID_MM), ID_MM * 0.72, 0.4
    corners = (
        (right + air, y + 0.4),
        (right + air, y - tall - 0.4),
        (left - air - wide, y + 0.4),
        (left - air - wide, y - tall - 0.4),
        (x - wide / 2, high + air),
        (x - wide / 2, low - air - tall),
        (right + air, y - tall / 2),
        (left - air - wide, y - tall / 2),
    )
    return tuple((a, b, a + wide, b + tall) for a, b in corners)
