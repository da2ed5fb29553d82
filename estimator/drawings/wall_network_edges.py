"""What stands round the drawing of a wall: its view and scale go in; numbered tags with leaders, and dimensions, come out.

Zones that run level have their numbers at the left, upright ones on top, lanes at the right and risers below; dimensions
are outside of all that, with 45 degree strokes at their ends.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from estimator.drawings.dimensions import OVER_MM, ROW_MM, SIZE_MM
from estimator.drawings.shell import HAIR_MM
from estimator.drawings.svg import CABLE, GREY, INK, text_width
from estimator.drawings.wall_network_ink import lettering, mm, slash, stroked, track, words
from estimator.drawings.wall_network_tags import spread
from estimator.drawings.wall_network_view import View

LEFT_MM, RIGHT_MM, TOP_MM, LOW_MM = 22.0, 14.0, 13.0, 19.0
TAG_MM = 2.0
NEAR_MM, FAR_MM, WORDS_MM = 0.6, 3.0, 3.5
"""From the wall: where a leader begins, where it ends, and where its tag does."""
LEVEL_OUT_MM, HIGH_OUT_MM = 15.5, 16.5
"""From the wall to the first dimension below it, and to the one at its left."""
CLEAR_MM = 2.5
"""How far the lines reach in from a dimension: not over the tags."""


def tags(view: View, scale: int) -> Iterator[str]:
    """The numbers of zones, lanes and risers, where they are or as near as they can be read, with leaders to where they are."""
    level = [(float(of.zone.low_mm + of.zone.high_mm) / 2, f"zone {of.number}") for of in view.bands if of.level]
    upright = [
        (float(of.zone.low_along_mm + of.zone.high_along_mm) / 2, f"zone {of.number}")
        for of in view.bands
        if not of.level
    ]
    own = [way for way in view.ways if way.number]
    lanes = [(float(way.line.at_mm), f"lane {way.number}") for way in own if way.line.kind == "lane"]
    risers = [(float(way.line.at_mm), f"riser {way.number}") for way in own if way.line.kind == "riser"]
    length, high = view.wall.length_mm, view.height_mm
    yield from _beside(level, 0, -scale, scale, GREY)
    yield from _beside(lanes, length, scale, scale, CABLE)
    yield from _over(upright, high, scale, scale, GREY)
    yield from _over(risers, 0, -scale, scale, CABLE)


Told = Sequence[tuple[float, str]]
"""Where something is, real mm, and the words of its tag."""


def _beside(told: Told, edge: float, step: int, scale: int, colour: str) -> Iterator[str]:
    """Tags at the left or right of a wall; `step` is one mm of paper away from it."""
    places = [of * scale for of in spread([at / scale for at, _ in told])]
    leaders = [
        track([(edge + NEAR_MM * step, at), (edge + (NEAR_MM + 0.6) * step, at), (edge + FAR_MM * step, place)])
        for (at, _), place in zip(told, places, strict=True)
    ]
    yield stroked(leaders, HAIR_MM, scale, colour)
    drop = 0.36 * TAG_MM * scale
    found = (words(text, edge + WORDS_MM * step, at - drop) for (_, text), at in zip(told, places, strict=True))
    yield lettering(found, TAG_MM, scale, "start" if step > 0 else "end", colour, 0.3)


def _over(told: Told, edge: float, step: int, scale: int, colour: str) -> Iterator[str]:
    """Tags over or under a wall, read upwards; `step` is one mm of paper away from it."""
    places = [of * scale for of in spread([at / scale for at, _ in told])]
    leaders = [
        track([(at, edge + NEAR_MM * step), (at, edge + (NEAR_MM + 0.6) * step), (place, edge + FAR_MM * step)])
        for (at, _), place in zip(told, places, strict=True)
    ]
    yield stroked(leaders, HAIR_MM, scale, colour)
    drop = 0.36 * TAG_MM * scale
    found = (
        words(text, at + drop, edge + WORDS_MM * step, turned=True) for (_, text), at in zip(told, places, strict=True)
    )
    yield lettering(found, TAG_MM, scale, "start" if step > 0 else "end", colour, 0.3)


def dimensions(view: View, scale: int) -> Iterator[str]:
    """The edges of openings and the whole length below, the height at the left."""
    length, high = view.wall.length_mm, view.height_mm
    edges = {edge for of in view.wall.openings for edge in (of.along_mm, of.along_mm + of.width_mm)}
    rows = [sorted({0, length} | edges), [0, length]] if edges else [[0, length]]
    lines: list[str] = []
    strokes: list[str] = []
    figures: list[str] = []
    over, near, lift = OVER_MM * scale, CLEAR_MM * scale, 0.6 * scale
    for number, stops in enumerate(rows):
        y = -(LEVEL_OUT_MM + ROW_MM * number) * scale
        lines.append(track([(-over, y), (length + over, y)]))
        for stop in stops:
            lines.append(track([(stop, y + (near if number == 0 else over)), (stop, y - over)]))
            strokes.append(slash(stop, y, scale))
        figures += _figures(stops, y + lift, scale)
    x = -HIGH_OUT_MM * scale
    lines.append(track([(x, -over), (x, high + over)]))
    for stop in (0, high):
        lines.append(track([(x + near, stop), (x - over, stop)]))
        strokes.append(slash(x, stop, scale))
    figures.append(words(mm(high), x - lift, high / 2, turned=True))
    yield stroked(lines, HAIR_MM, scale, INK)
    yield stroked(strokes, 0.35, scale, INK)
    yield lettering(figures, SIZE_MM, scale, "middle", INK, 0.3)


def _figures(stops: Sequence[int], y: float, scale: int) -> Iterator[str]:
    """The lengths of a row; one that is narrower than its figure has it a line higher, unless its neighbour's is there."""
    raised = False
    for low, high in pairwise(stops):
        text = str(high - low)
        raised = text_width(text, SIZE_MM) > (high - low) / scale - 0.6 and not raised
        yield words(text, (low + high) / 2, y + (SIZE_MM * scale if raised else 0))
