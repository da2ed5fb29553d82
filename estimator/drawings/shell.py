"""The building on a plan: walls to scale with studs, openings, soffits and what is fitted; a `Pen` draws them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.sides import Side, outer_corners
from estimator.drawings.spacing import Box
from estimator.drawings.svg import GREY, INK, LIGHT, XY, Pen, text_width
from estimator.drawings.tracks import STRIP_MM
from estimator.job.model import Fitted, Opening

THICK_MM, THIN_MM, HAIR_MM = 0.35, 0.18, 0.13
NOTE_MM = 1.9


def draw_walls(pen: Pen, around: Sequence[Side]) -> None:
    """Outer and inner faces of the frame and cladding, and the studs in it, to scale."""
    pen.polygon(outer_corners(around), THICK_MM)
    pen.polygon([side.at(0) for side in around], THICK_MM)
    for side in around:
        depth = float(side.wall.frame.stud.depth_mm)
        for stud in side.wall.studs:
            low, high = float(stud.left_mm), float(stud.right_mm)
            pen.polygon([side.at(low), side.at(high), side.at(high, -depth), side.at(low, -depth)], 0, fill="#c8c8c8")
        pen.line([side.at(0, -depth), side.at(side.length, -depth)], HAIR_MM, LIGHT)


def draw_openings(pen: Pen, side: Side) -> None:
    """Doors with leaf and swing, windows with their panes, doorways as gaps."""
    for opening in side.wall.openings:
        low, high = float(opening.along_mm), float(opening.along_mm + opening.width_mm)
        far = -side.thickness
        pen.polygon([side.at(low), side.at(high), side.at(high, far), side.at(low, far)], 0, fill="#fff")
        for jamb in (low, high):
            pen.line([side.at(jamb), side.at(jamb, far)], THICK_MM)
        if opening.kind == "window":
            for deep in (0.0, far / 2, far):
                pen.line([side.at(low, deep), side.at(high, deep)], THIN_MM)
        else:
            _threshold(pen, side, opening, low, high)


def _threshold(pen: Pen, side: Side, opening: Opening, low: float, high: float) -> None:
    for deep in (0.0, -side.thickness):
        pen.line([side.at(low, deep), side.at(high, deep)], HAIR_MM, GREY, (1, 0.8))
    if opening.kind == "door" and not opening.named_in:  # the room that names a door has its leaf
        width = high - low
        pen.line([side.at(low), side.at(low, width)], THIN_MM * 1.4)
        pen.line([side.at(low + width * x, width * y) for x, y in _QUARTER], HAIR_MM, GREY)


# A quarter of a circle in steps of 7.5 degrees, from the open leaf to the jamb it closes on.
_QUARTER = (
    (0, 1),
    (0.130526, 0.991445),
    (0.258819, 0.965926),
    (0.382683, 0.92388),
    (0.5, 0.866025),
    (0.608761, 0.793353),
    (0.707107, 0.707107),
    (0.793353, 0.608761),
    (0.866025, 0.5),
    (0.92388, 0.382683),
    (0.965926, 0.258819),
    (0.991445, 0.130526),
    (1, 0),
)


def draw_soffits(pen: Pen, shape: RoomShape, around: Sequence[Side]) -> None:
    """The edge of every overhang, dashed."""
    for soffit in shape.room.soffits:
        side = next(of for of in around if of.wall.name == soffit.wall)
        low, high = -side.thickness, side.length + side.thickness
        near, far = -side.thickness, -side.thickness - soffit.depth_mm
        pen.line(
            [side.at(low, near), side.at(low, far), side.at(high, far), side.at(high, near)], THIN_MM, GREY, (2, 1)
        )


@dataclass(frozen=True, slots=True)
class Unnamed:
    """Something fitted whose name has no room in its strip; `middle` of what is seen of that, along its wall."""

    thing: Fitted
    side: Side
    middle: float


def draw_fitted(pen: Pen, shape: RoomShape, around: Sequence[Side]) -> tuple[Unnamed, ...]:
    """A strip along the wall for everything fitted, as long as it is; how far it stands out is not in the job.

    Long ones lie under short ones, each named where it is seen. What has no room for its name comes back, to be named beside it.
    """
    unnamed = []
    for side in around:
        mine = sorted(
            (of for of in shape.room.fitted if of.wall == side.wall.name), key=lambda of: (-of.width_mm, of.along_mm)
        )
        deep = STRIP_MM * pen.scale
        for thing in mine:
            low, high = _span(thing)
            corners = [side.at(low), side.at(high), side.at(high, deep), side.at(low, deep)]
            pen.polygon(corners, HAIR_MM, "#ececec", GREY)
        for index, thing in enumerate(mine):
            low, high = _seen(thing, mine[index + 1 :])
            if not _name(pen, side, thing, (low + high) / 2, high - low):
                unnamed.append(Unnamed(thing, side, (low + high) / 2))
    return tuple(unnamed)


def _span(thing: Fitted) -> tuple[float, float]:
    return float(thing.along_mm), float(thing.along_mm + thing.width_mm)


def _seen(thing: Fitted, above: Sequence[Fitted]) -> tuple[float, float]:
    """The longest stretch of a strip that no strip above it covers, the first of equal ones; all of it where none is seen."""
    spans = [_span(thing)]
    for low, high in map(_span, above):
        spans = [(a, b) for start, end in spans for a, b in ((start, min(end, low)), (max(start, high), end)) if a < b]
    return max(spans, key=lambda of: (of[1] - of[0], -of[0]), default=_span(thing))


def strip_boxes(shapes: Sequence[RoomShape], around: Mapping[str, Sequence[Side]], scale: int) -> tuple[Box, ...]:
    """What the strips take, mm of paper."""
    found = []
    for shape in shapes:
        for thing in shape.room.fitted:
            side = next(of for of in around[shape.room.name] if of.wall.name == thing.wall)
            a, b = side.at(thing.along_mm), side.at(thing.along_mm + thing.width_mm, STRIP_MM * scale)
            found.append(
                (min(a[0], b[0]) / scale, min(a[1], b[1]) / scale, max(a[0], b[0]) / scale, max(a[1], b[1]) / scale)
            )
    return tuple(found)


def _name(pen: Pen, side: Side, thing: Fitted, middle: float, seen: float) -> bool:
    """The name in what is seen of the strip, with its heights where there is room for them; whether there is room for the name."""
    room = seen / pen.scale - 1
    told = (f"{thing.name}, {thing.from_mm} to {thing.to_mm}", thing.name)
    words = next((of for of in told if text_width(of, NOTE_MM) <= room), "")
    if not words:
        return False
    along = readable(side.along)
    lift = 0.36 * NOTE_MM * pen.scale
    place = side.at(middle, STRIP_MM / 2 * pen.scale)
    pen.text((place[0] + along[1] * lift, place[1] - along[0] * lift), words, NOTE_MM, along=along, colour=INK)
    return True


def readable(along: XY) -> XY:
    """The direction along a wall in which a text is read from below or from the right."""
    if along[0] < -1e-9 or (abs(along[0]) <= 1e-9 and along[1] < 0):
        return -along[0], -along[1]
    return along
