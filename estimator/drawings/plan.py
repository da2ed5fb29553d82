"""The drawing of a plan: rooms laid out on paper (a `Storey`) go in, a drawing to scale comes out.

View boxes are in real millimetres. Depths of symbols and distances between parallel cables are for the eye, and the key
says so.
"""

from collections.abc import Iterable, Sequence

from estimator.building.model import RoomShape
from estimator.drawings.cables import dash, draw_arrivals, draw_dots, draw_letters, draw_lines
from estimator.drawings.dimensions import draw_bar, draw_chain, draw_widths, opening_stops
from estimator.drawings.places import ID_MM, Mark, free_labels
from estimator.drawings.shell import draw_fitted, draw_openings, draw_soffits, draw_walls, strip_boxes
from estimator.drawings.sides import Side, inside
from estimator.drawings.spacing import Box, Taken
from estimator.drawings.storey import Storey
from estimator.drawings.svg import GREY, XY, Drawing, Pen, finished, fitted_text, root, text_width
from estimator.drawings.symbols import draw_centred, draw_glyph

MARGIN_MM, BAR_MM = 2.5, 12.0
NAMES_MM, SIZE_MM, STEP_MM = (3.2, 2.6, 2.0), 2.2, 2.0


def size_mm(laid: Storey) -> tuple[float, float]:
    """Width and height on paper in mm, margins and the check bar included; never narrower than the bar."""
    left, low, right, high = laid.extent
    width = max((right - left) / laid.scale, 104.0) + 2 * MARGIN_MM
    return round(width, 3), round((high - low) / laid.scale + 2 * MARGIN_MM + BAR_MM, 3)


def draw_plan(laid: Storey, title: str, prefix: str) -> Drawing:
    """The plan of what was laid out; ids of its layers begin with `prefix`."""
    scale = laid.scale
    left, low, _, high = laid.extent
    width, height = size_mm(laid)
    corner = left - MARGIN_MM * scale, -(high + MARGIN_MM * scale)
    element = root(width, height, scale, corner, prefix, title, _desc(laid))
    taken = Taken()
    everything = [side for around in laid.around.values() for side in around]
    _shell(Pen(element, scale, f"{prefix}-walls"), laid, everything, taken)
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
            _find_label(texts, mark, taken)
    for shape in laid.shapes:
        _room_name(texts, shape, laid.around[shape.room.name], taken)
    _dimensions(Pen(element, scale, f"{prefix}-dimensions"), laid, everything)
    draw_bar(Pen(element, scale, f"{prefix}-bar"), (left + scale, low - (MARGIN_MM + 4.5) * scale))
    return finished(element, width, height, scale, title)


def _desc(laid: Storey) -> str:
    if not laid.marks:
        return f"Seen from above at 1:{laid.scale}, with walls and openings."
    return (
        f"Seen from above at 1:{laid.scale}, with walls, openings, {len(laid.marks)} points and boards and the routes of "
        "cables. The tables of circuits and of points say the same in words."
    )


def _shell(pen: Pen, laid: Storey, everything: Iterable[Side], taken: Taken) -> None:
    for shape in laid.shapes:
        draw_walls(pen, laid.around[shape.room.name])
    for shape in laid.shapes:
        draw_soffits(pen, shape, laid.around[shape.room.name])
        draw_fitted(pen, shape, laid.around[shape.room.name])
    taken.boxes += strip_boxes(laid.shapes, laid.around, pen.scale)
    for side in everything:
        draw_openings(pen, side)
        for deep in (0.0, -side.thickness):
            a, b = side.at(0, deep), side.at(side.length, deep)
            taken.lines.append(((a[0] / pen.scale, a[1] / pen.scale), (b[0] / pen.scale, b[1] / pen.scale)))


def _box(places: Sequence[XY], scale: int) -> Box:
    xs, ys = [of[0] / scale for of in places], [of[1] / scale for of in places]
    return min(xs), min(ys), max(xs), max(ys)


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
            taken.boxes.append(mark.label_box(scale))
            pen.text((x, y - 0.36 * ID_MM * scale), mark.id, ID_MM, halo=0.35)


def _find_label(pen: Pen, mark: Mark, taken: Taken) -> None:
    """The id of a symbol that stands free, wherever it collides least."""
    boxes = free_labels(mark)
    left, low, _, _ = boxes[taken.best(boxes)]
    pen.text((left * pen.scale, low * pen.scale), mark.id, ID_MM, "start", halo=0.35)


def _room_name(pen: Pen, shape: RoomShape, around: Sequence[Side], taken: Taken) -> None:
    """The room's name and size, as near to its middle as it collides least; smaller, or the name alone, in a small room."""
    scale, room = pen.scale, shape.room
    inner = [side.at(0) for side in around]
    left, low, right, high = _box(inner, scale)
    wide = right - left - 1.5
    name_mm = next((of for of in NAMES_MM if text_width(room.name, of) <= wide), NAMES_MM[-1])
    name = fitted_text(room.name, name_mm, wide)
    size = f"{round((right - left) * scale)} × {round((high - low) * scale)}, {room.height_mm} high"
    if text_width(size, SIZE_MM) > wide:
        size = ""
    tall = name_mm + (SIZE_MM + 0.8 if size else 0)
    half = max(text_width(name, name_mm), text_width(size, SIZE_MM)) / 2, tall / 2
    middle = (left + right) / 2, (low + high) / 2
    spots = [
        spot
        for spot in _grid(middle, half, (left, low, right, high))
        if inside((spot[0] * scale, spot[1] * scale), inner)
    ] or [middle]
    x, y = spots[taken.best((a - half[0], b - half[1], a + half[0], b + half[1]) for a, b in spots)]
    top = y + tall / 2 - 0.8 * name_mm
    pen.text((x * scale, top * scale), name, name_mm, bold=True, halo=0.4)
    if size:
        pen.text((x * scale, (top - SIZE_MM - 0.8) * scale), size, SIZE_MM, halo=0.4, colour=GREY)


def _grid(middle: XY, half: tuple[float, float], room: Box) -> list[XY]:
    """Places for the middle of a text within a room, from its middle outwards."""
    reach = (room[2] - room[0]) / 2 - half[0] - 1, (room[3] - room[1]) / 2 - half[1] - 1
    steps = [max(0, int(reach[axis] / STEP_MM)) for axis in (0, 1)]
    found = [(i, j) for i in range(-steps[0], steps[0] + 1) for j in range(-steps[1], steps[1] + 1)]
    found.sort(key=lambda of: (of[0] * of[0] + of[1] * of[1], of))
    return [(middle[0] + STEP_MM * i, middle[1] + STEP_MM * j) for i, j in found]


def _dimensions(pen: Pen, laid: Storey, everything: Iterable[Side]) -> None:
    for side in everything:
        outside = laid.outside[side.room, side.wall.name]
        if outside.chain is not None:
            draw_chain(pen, side, opening_stops(side), outside.chain)
        else:
            draw_widths(pen, side)
        if outside.overall is not None:
            draw_chain(pen, side, (0.0, side.length), outside.overall)
