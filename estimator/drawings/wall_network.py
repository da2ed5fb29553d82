"""What may go where in a wall, drawn: a wall's view goes in, its elevation from inside comes out, to scale, for A4.

Zones are toned, lanes and risers dashed, cables that run there solid. Numbers at the edges are those of the wall's table:
zones at the left and on top, lanes at the right, risers below. Scales are those of ISO 5455:1979.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from estimator.drawings.dimensions import ROW_MM
from estimator.drawings.shell import HAIR_MM, THICK_MM
from estimator.drawings.svg import CABLE, GREY, INK, LIGHT, XY, Drawing, finished, fitted_text, root
from estimator.drawings.wall_network_edges import LEFT_MM, LOW_MM, RIGHT_MM, TOP_MM, dimensions, tags
from estimator.drawings.wall_network_ink import dashes, frame, lettering, ring, slash, stroked, track, words
from estimator.drawings.wall_network_tags import NAME_MM, named
from estimator.drawings.wall_network_things import Thing
from estimator.drawings.wall_network_view import View, Way
from estimator.routing.zone_distance import Kind

TONE, STUD = "#ececec", "#8c8c8c"
LINE_MM, CABLE_MM, CUT_MM, BOX_MM = 0.2, 0.5, 0.35, 0.25
HOLE_MM = 1.3
"""The ring of a hole, whatever its bit: a mark, not to scale."""
WAY_DASH, OUTSIDE_DASH, BEHIND_DASH = (1.6, 1.0), (0.8, 0.6), (0.4, 0.9)

UPRIGHT_MM, FLAT_MM = (180.0, 225.0), (271.0, 150.0)
"""Width and height of what fits a sheet of A4 with its heading, upright and lying."""
CHOICES = ((20, False), *((scale, flat) for scale in (50, 100, 200, 500, 1000) for flat in (False, True)))
"""Scales, and whether the sheet lies, in the order in which they are tried; the last is used whatever."""


@dataclass(frozen=True, slots=True)
class WallDrawing:
    """The drawing of one wall, and whether it needs a sheet that lies."""

    drawing: Drawing
    flat: bool


def wall_drawing(view: View, prefix: str, title: str) -> WallDrawing:
    """The elevation of one wall, at the first scale at which it fits a sheet of A4; ids in it begin with `prefix`."""
    scale, flat = next((choice for choice in CHOICES if _fits(view, *choice)), CHOICES[-1])
    width, height = _size(view, scale)
    corner = -LEFT_MM * scale, -(view.height_mm + TOP_MM * scale)
    element = root(width, height, scale, corner, prefix, title, _desc(view, scale))
    empty = finished(element, width, height, scale, title)
    layers = (_wall, _behind, _ways, _holes, _boxes, dimensions, tags)
    body = "".join(part for layer in layers for part in layer(view, scale))
    return WallDrawing(replace(empty, svg=f"{empty.svg.removesuffix('</svg>')}{body}</svg>"), flat)


def _size(view: View, scale: int) -> tuple[float, float]:
    low = LOW_MM + (ROW_MM if view.wall.openings else 0)
    return round(view.wall.length_mm / scale + LEFT_MM + RIGHT_MM, 3), round(view.height_mm / scale + TOP_MM + low, 3)


def _fits(view: View, scale: int, flat: bool) -> bool:
    width, height = _size(view, scale)
    sheet = FLAT_MM if flat else UPRIGHT_MM
    return width <= sheet[0] and height <= sheet[1]


def _desc(view: View, scale: int) -> str:
    lanes = sum(way.line.kind == "lane" for way in view.ways)
    behind = sum(len(of.things) for of in view.behind)
    beyond = f" Of the room behind, {behind} boxes and boards and its cables in this wall." if view.behind else ""
    return (
        f"Seen from inside at 1:{scale}, with studs, openings, {len(view.things)} boxes and boards, {len(view.bands)} cable "
        f"zones, {lanes} lanes, {len(view.ways) - lanes} risers and {len(view.beside)} holes beside them.{beyond} The table below says the same in words."
    )


def _wall(view: View, scale: int) -> Iterator[str]:
    """Zones, studs and openings one over the other, then the outline."""
    length, high = float(view.wall.length_mm), float(view.height_mm)
    zones = (band.zone for band in view.bands)
    tone = [frame(float(of.low_along_mm), float(of.high_along_mm), float(of.low_mm), float(of.high_mm)) for of in zones]
    yield stroked(tone, HAIR_MM, scale, LIGHT, TONE)
    yield stroked(_studs(view), HAIR_MM, scale, STUD)
    openings = view.wall.openings
    holes = [frame(of.along_mm, of.along_mm + of.width_mm, of.sill_mm, of.head_mm) for of in openings]
    yield stroked(holes, THICK_MM, scale, INK, "#fff")
    yield stroked((frame(0, length, 0, high),), THICK_MM, scale, INK)
    kinds = []
    for of in openings:
        text = fitted_text(of.kind, NAME_MM, of.width_mm / scale - 1)
        kinds.append(words(text, of.along_mm + of.width_mm / 2, (of.sill_mm + of.head_mm) / 2))
    yield lettering(kinds, NAME_MM, scale, "middle", GREY)


def _studs(view: View) -> Iterator[str]:
    for stud in view.wall.studs:
        low, high = float(stud.left_mm), float(stud.right_mm)
        sill, head = stud.gap_mm or (view.height_mm, view.height_mm)
        if sill > 0:
            yield frame(low, high, 0, sill)
        if head < view.height_mm:
            yield frame(low, high, head, view.height_mm)


def _behind(view: View, scale: int) -> Iterator[str]:
    """What the wall of the room behind holds, dotted: cables, then boxes."""
    cables = [track(_ends(of.kind, of.at_mm, of.low_mm, of.high_mm)) for far in view.behind for of, _ in far.cables]
    yield stroked(cables, CABLE_MM, scale, CABLE, dash=dashes(BEHIND_DASH, scale))
    boxes = [_box(of) for far in view.behind for of in far.things]
    yield stroked(boxes, BOX_MM, scale, INK, dash=dashes(BEHIND_DASH, scale))


def _ways(view: View, scale: int) -> Iterator[str]:
    """Lanes and risers, where openings cut them, and what runs in them."""
    own = [way for way in view.ways if way.number]
    lines = [track(_ends(way.line.kind, way.line.at_mm, *stretch)) for way in own for stretch in way.line.stretches]
    yield stroked(lines, LINE_MM, scale, CABLE, dash=dashes(WAY_DASH, scale))
    yield stroked((cut for way in own for cut in _cuts(view, way, scale)), CUT_MM, scale, CABLE)
    cables = [track(_ends(of.kind, of.at_mm, of.low_mm, of.high_mm)) for of in view.stretches]
    yield stroked(cables, CABLE_MM, scale, CABLE)


def _ends(kind: Kind, at: int, low: int, high: int) -> tuple[XY, XY]:
    return ((low, at), (high, at)) if kind == "lane" else ((at, low), (at, high))


def _cuts(view: View, way: Way, scale: int) -> Iterator[str]:
    """A stroke through the line at each edge of an opening that cuts it."""
    at = way.line.at_mm
    for gap in view.wall.openings:
        left, right = gap.along_mm, gap.along_mm + gap.width_mm
        if way.line.kind == "lane" and gap.sill_mm < at < gap.head_mm:
            yield from (slash(edge, at, scale) for edge in (left, right))
        elif way.line.kind == "riser" and left < at < right:
            yield from (slash(at, edge, scale) for edge in (gap.sill_mm, gap.head_mm))


def _holes(view: View, scale: int) -> Iterator[str]:
    """A ring at each hole that is not on its lane or riser; all others are, so nothing marks them."""
    rings = (ring(of.along_mm, of.up_mm, HOLE_MM * scale) for of in view.beside)
    yield stroked(rings, BOX_MM, scale, CABLE, "#fff")


def _boxes(view: View, scale: int) -> Iterator[str]:
    inside: list[str] = []
    outside: list[str] = []
    for of in view.things:
        (outside if of.outside else inside).append(_box(of))
    yield stroked(inside, BOX_MM, scale, INK, "#fff")
    yield stroked(outside, BOX_MM, scale, INK, dash=dashes(OUTSIDE_DASH, scale))
    marks = [(of.along_mm, of.up_mm) for of in view.beside]
    things = (*view.things, *(of for far in view.behind for of in far.things))
    names = (words(of.name, *place) for of, place in named(things, view.wall.length_mm, scale, marks, HOLE_MM))
    yield lettering(names, NAME_MM, scale, halo=0.3)


def _box(of: Thing) -> str:
    half, tall = of.wide_mm / 2, of.high_mm / 2
    return frame(of.along_mm - half, of.along_mm + half, of.up_mm - tall, of.up_mm + tall)
