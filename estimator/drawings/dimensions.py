"""Dimensions as on drawings of buildings: lengths in mm without a unit, 45 degree strokes at the ends of each line."""

from collections.abc import Sequence
from itertools import pairwise

from estimator.drawings.shell import HAIR_MM, readable
from estimator.drawings.sides import Side
from estimator.drawings.svg import INK, XY, Drawing, Pen, finished, root, text_width

SIZE_MM = 2.1
STROKE_MM = 1.6
OVER_MM = 1.0
ROW_MM = 5.2
BAR_WIDE_MM, BAR_HIGH_MM, BAR_LEFT_MM = 107.0, 7.2, 2.0


def draw_chain(pen: Pen, side: Side, stops: Sequence[float], out: float) -> None:
    """A row of dimensions along a wall between `stops` (along, real mm), `out` mm of paper from its inside face."""
    scale = pen.scale
    deep = -out * scale
    pen.line([side.at(stops[0] - OVER_MM * scale, deep), side.at(stops[-1] + OVER_MM * scale, deep)], HAIR_MM)
    for stop in stops:
        pen.line([side.at(stop, -side.thickness - 1.2 * scale), side.at(stop, deep - OVER_MM * scale)], HAIR_MM)
        _stroke(pen, side, stop, deep)
    raised = False
    for low, high in pairwise(stops):
        words = f"{round(high - low)}"
        # One that is narrower than its figure has it a line further out, unless its neighbour's is there.
        raised = text_width(words, SIZE_MM) > (high - low) / scale - 0.6 and not raised
        _figure(pen, side, (low + high) / 2, deep, words, raised)


def _stroke(pen: Pen, side: Side, stop: float, deep: float) -> None:
    """The stroke at the end of a dimension: 45 degrees to it, rising to the right as it is read."""
    along = readable(side.along)
    up = -along[1], along[0]
    half = STROKE_MM / 2 * pen.scale * 0.70711
    x, y = side.at(stop, deep)
    pen.line(
        [
            (x - half * (along[0] + up[0]), y - half * (along[1] + up[1])),
            (x + half * (along[0] + up[0]), y + half * (along[1] + up[1])),
        ],
        0.35,
        INK,
    )


def _figure(pen: Pen, side: Side, middle: float, deep: float, words: str, raised: bool) -> None:
    along = readable(side.along)
    up: XY = (-along[1], along[0])
    lift = (0.6 + (SIZE_MM if raised else 0)) * pen.scale
    x, y = side.at(middle, deep)
    pen.text((x + up[0] * lift, y + up[1] * lift), words, SIZE_MM, along=along, halo=0.3)


Told = list[tuple[str, float, float]]
"""Widths that stand in a drawing already, and where."""


def draw_widths(pen: Pen, side: Side, told: Told) -> None:
    """The width of every opening in the opening itself: for inner walls, which have no row of dimensions.

    An opening between two rooms is in both of their walls; the second finds it in `told`, which gains what is drawn here.
    """
    along = readable(side.along)
    lift = 0.36 * SIZE_MM * pen.scale
    for opening in side.wall.openings:
        x, y = side.at(opening.along_mm + opening.width_mm / 2, -side.thickness / 2)
        width, near = str(opening.width_mm), SIZE_MM * pen.scale
        if any(width == of and abs(x - left) < near and abs(y - up) < near for of, left, up in told):
            continue
        told.append((width, x, y))
        pen.text((x + along[1] * lift, y - along[0] * lift), width, SIZE_MM * 0.9, along=along, halo=0.2)


def opening_stops(side: Side) -> list[float]:
    """Both ends of a wall and both edges of every opening, ascending, each once."""
    edges = {0.0, side.length}
    for opening in side.wall.openings:
        edges |= {float(opening.along_mm), float(opening.along_mm + opening.width_mm)}
    return sorted(edges)


def bar(scale: int, prefix: str) -> Drawing:
    """A bar of 100 mm of paper with a stroke at every 10 mm, alternately filled, and the real length at that scale."""
    title = "Bar to check the print by"
    words = f"1:{scale}; this bar is 100 mm long when printed at 100 %"
    element = root(BAR_WIDE_MM, BAR_HIGH_MM, 1, (0, 0), prefix, title, words)
    pen = Pen(element, 1)
    for index in range(10):
        a, b = BAR_LEFT_MM + index * 10, BAR_LEFT_MM + (index + 1) * 10
        pen.polygon([(a, -4.2), (b, -4.2), (b, -2.8), (a, -2.8)], HAIR_MM, "#000" if index % 2 == 0 else "#fff")
    for index in (0, 5, 10):
        metres = f"{index * scale / 100:g}"
        pen.text((BAR_LEFT_MM + index * 10, -6.6), f"{metres} m" if index == 10 else metres, 1.9)
    pen.text((BAR_LEFT_MM, -1.8), words, 1.9, "start")
    return finished(element, BAR_WIDE_MM, BAR_HIGH_MM, 1, title)
