"""The drawing of a plan: rooms laid out on paper (a `Storey`) go in, a drawing to scale comes out.

View boxes are in real millimetres. Depths of symbols and distances between parallel cables are for the eye, and the key
says so.
"""

from collections.abc import Iterable
from itertools import groupby

from estimator.drawings.cables import dash, draw_arrivals, draw_dots, draw_letters, draw_lines
from estimator.drawings.dimensions import Told, draw_chain, draw_widths, opening_stops
from estimator.drawings.names import find_arrivals, find_fitted, find_label, room_name
from estimator.drawings.places import HALO_MM, ID_MM
from estimator.drawings.shell import Unnamed, draw_fitted, draw_openings, draw_soffits, draw_walls, strip_boxes
from estimator.drawings.sides import Side
from estimator.drawings.spacing import Taken, grown
from estimator.drawings.storey import Storey
from estimator.drawings.svg import Drawing, Pen, finished, root
from estimator.drawings.symbols import draw_centred, draw_glyph

MARGIN_MM = 1.2


def size_mm(laid: Storey) -> tuple[float, float]:
    """Width and height on paper in mm, margins included."""
    left, low, right, high = laid.extent
    return round((right - left) / laid.scale + 2 * MARGIN_MM, 3), round((high - low) / laid.scale + 2 * MARGIN_MM, 3)


def draw_plan(laid: Storey, title: str, prefix: str) -> Drawing:
    """The plan of what was laid out; ids of its layers begin with `prefix`."""
    scale = laid.scale
    left, _, _, high = laid.extent
    width, height = size_mm(laid)
    corner = left - MARGIN_MM * scale, -(high + MARGIN_MM * scale)
    element = root(width, height, scale, corner, prefix, title, _desc(laid))
    taken = Taken()
    everything = [side for around in laid.around.values() for side in around]
    unnamed = _shell(Pen(element, scale, f"{prefix}-walls"), laid, everything, taken)
    cables = Pen(element, scale, f"{prefix}-cables")
    for owner, of in laid.cables.items():
        draw_lines(cables, of, dash(owner, laid.letters))
        taken.lines += [((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale)) for a, b in of.lines]
    for side in everything:
        outside = laid.outside[side.room, side.wall.name]
        draw_arrivals(cables, side, outside.arrivals, outside.arrive, laid.letters)
    points = Pen(element, scale, f"{prefix}-points")
    _marks(points, laid, taken)
    for of in laid.cables.values():
        draw_dots(points, of)
    texts = Pen(element, scale, f"{prefix}-texts")
    for owner, of in laid.cables.items():
        draw_letters(texts, of, laid.letters[owner], taken)
    for mark in laid.marks:
        if mark.label is None:
            find_label(texts, mark, taken)
    if not laid.bare:
        for name, arrivals in groupby(laid.part.inner, key=lambda of: of.at):
            mark = next(of for of in laid.marks if of.id == name)
            find_arrivals(texts, mark, tuple(arrivals), laid.letters, taken)
        for one in unnamed:
            find_fitted(texts, one, taken)
    for shape in laid.shapes:
        room_name(texts, shape, laid.around[shape.room.name], taken)
    _dimensions(Pen(element, scale, f"{prefix}-dimensions"), laid, everything)
    return finished(element, width, height, scale, title)


def _desc(laid: Storey) -> str:
    if not laid.marks:
        return f"Seen from above at 1:{laid.scale}, with walls and openings."
    return (
        f"Seen from above at 1:{laid.scale}, with walls, openings, {len(laid.marks)} points and boards and the routes of "
        "cables. The tables of circuits and of points say the same in words."
    )


def _shell(pen: Pen, laid: Storey, everything: Iterable[Side], taken: Taken) -> list[Unnamed]:
    """Walls, soffits, openings and what is fitted; what of the last could not be named in its place."""
    unnamed: list[Unnamed] = []
    for shape in laid.shapes:
        draw_walls(pen, laid.around[shape.room.name])
    for shape in laid.shapes:
        draw_soffits(pen, shape, laid.around[shape.room.name])
        unnamed += draw_fitted(pen, shape, laid.around[shape.room.name])
    taken.boxes += strip_boxes(laid.shapes, laid.around, pen.scale)
    for side in everything:
        draw_openings(pen, side)
        for deep in (0.0, -side.thickness):
            a, b = side.at(0, deep), side.at(side.length, deep)
            taken.lines.append(((a[0] / pen.scale, a[1] / pen.scale), (b[0] / pen.scale, b[1] / pen.scale)))
    return unnamed


def _marks(pen: Pen, laid: Storey, taken: Taken) -> None:
    """Symbols with their stems, and the ids of those that stand at walls."""
    scale = pen.scale
    for mark in laid.marks:
        if mark.stem:
            pen.line(mark.stem, 0.2)
            taken.lines += [
                ((a[0] / scale, a[1] / scale), (b[0] / scale, b[1] / scale))
                for a, b in zip(mark.stem, mark.stem[1:], strict=False)
            ]
    for mark in laid.marks:
        taken.boxes.append(mark.box)
        if mark.away is None:
            draw_centred(pen, mark.glyph, mark.foot)
        else:
            draw_glyph(pen, mark.glyph, mark.foot, mark.away)
        if mark.label is not None:
            x, y = mark.label
            taken.boxes.append(grown(mark.label_box(scale), HALO_MM))
            pen.text((x, y - 0.36 * ID_MM * scale), mark.id, ID_MM, halo=HALO_MM)


def _dimensions(pen: Pen, laid: Storey, everything: Iterable[Side]) -> None:
    told: Told = []
    for side in everything:
        outside = laid.outside[side.room, side.wall.name]
        if outside.chain is not None:
            draw_chain(pen, side, opening_stops(side), outside.chain)
        else:
            draw_widths(pen, side, told)
        if outside.overall is not None:
            draw_chain(pen, side, (0.0, side.length), outside.overall)
