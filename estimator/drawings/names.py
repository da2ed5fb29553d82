"""Names on a plan that have no fixed place: what they belong to and what paper is taken go in; a `Pen` sets them where they
collide least.
"""

from collections.abc import Mapping, Sequence

from estimator.building.model import RoomShape
from estimator.drawings.cables import ARRIVAL_TEXT_MM, FAR_MM, LINE_MM, NAME_MM, Arrival, dash
from estimator.drawings.letters import Owner
from estimator.drawings.places import HALO_MM, ID_MM, Mark, free_labels
from estimator.drawings.shell import HAIR_MM, NOTE_MM, Unnamed
from estimator.drawings.sides import Side, inside
from estimator.drawings.spacing import Box, Taken, grown
from estimator.drawings.svg import CABLE, GREY, XY, Anchor, Pen, fitted_text, text_width, wrapped_text
from estimator.drawings.tracks import STRIP_MM

NAMES_MM, SIZE_MM, STEP_MM, STEPS = (3.2, 2.6, 2.0), 2.2, 2.0, 12
STUB_MM = 6.0


def find_label(pen: Pen, mark: Mark, taken: Taken) -> None:
    """The id of a symbol that stands free, wherever it collides least."""
    boxes = free_labels(mark)
    left, low, _, _ = boxes[taken.best(grown(of, HALO_MM) for of in boxes)]
    pen.text((left * pen.scale, low * pen.scale), mark.id, ID_MM, "start", halo=HALO_MM)


def find_arrivals(pen: Pen, mark: Mark, found: Sequence[Arrival], marks: Mapping[Owner, str], taken: Taken) -> None:
    """Runs that come to a symbol by a way that the job does not tell: each with an arrow towards it, its name, and where it
    comes from, one under the other on one side of the symbol.
    """
    left, low, right, high = mark.box
    if mark.label is not None:
        id_box = mark.label_box(pen.scale)
        left, low, right, high = min(left, id_box[0]), min(low, id_box[1]), max(right, id_box[2]), max(high, id_box[3])
    told = [_lines(of) for of in found]
    tall = sum(map(_tall, told))
    wide = STUB_MM + 1 + max(text_width(words, size) for lines in told for words, size in lines)
    middle = (low + high) / 2
    spots = []
    for off in (0.0, 3.0, -3.0, 6.0, -6.0, 10.0, -10.0, 15.0, -15.0, 20.0, -20.0):
        base = middle - tall / 2 + off
        spots += [(1, (right + 0.6, base, right + 0.6 + wide, base + tall))]
        spots += [(-1, (left - 0.6 - wide, base, left - 0.6, base + tall))]
    way, box = spots[taken.best(of for _, of in spots)]
    x, y = box[0] if way > 0 else box[2], box[3]
    for of, lines in zip(found, told, strict=True):
        _stub(pen, (x, y - 0.5 * NAME_MM), way, (right if way > 0 else left, middle), dash(of.owner, marks))
        _told(pen, (x + way * (STUB_MM + 1), y), "start" if way > 0 else "end", lines)
        y -= _tall(lines)


def _lines(of: Arrival) -> tuple[tuple[str, float], ...]:
    """What is said at an arrival, line by line, with the size of each: its name, and where it comes from in up to three lines."""
    far = wrapped_text(of.far, FAR_MM, ARRIVAL_TEXT_MM, 3)
    name = fitted_text(f"{of.letter}  {of.name}", NAME_MM, ARRIVAL_TEXT_MM)
    return ((name, NAME_MM), *((line, FAR_MM) for line in far))


def _tall(lines: Sequence[tuple[str, float]]) -> float:
    return sum(1.12 * size for _, size in lines) + 0.6


def _stub(pen: Pen, tip: XY, way: int, mark: XY, pattern: Sequence[float]) -> None:
    """A piece of cable with an arrow; where it does not lie level with the symbol, a thin line leads on to that."""
    s = pen.scale
    (x, y), back = tip, tip[0] + way * 2.2
    if abs(y - mark[1]) > 1.5:
        pen.line([(x * s, y * s), (mark[0] * s, mark[1] * s)], HAIR_MM, CABLE)
    pen.line([((x + way * STUB_MM) * s, y * s), (back * s, y * s)], LINE_MM * 1.5, CABLE, pattern)
    pen.polygon([(x * s, y * s), (back * s, (y + 0.7) * s), (back * s, (y - 0.7) * s)], 0, fill=CABLE)


def _told(pen: Pen, place: XY, anchor: Anchor, lines: Sequence[tuple[str, float]]) -> None:
    s, (x, y) = pen.scale, place
    for index, (words, size) in enumerate(lines):
        y -= 1.12 * size
        pen.text(
            (x * s, (y + 0.25 * size) * s), words, size, anchor, GREY if index else CABLE, bold=not index, halo=0.3
        )


def find_fitted(pen: Pen, of: Unnamed, taken: Taken) -> None:
    """The name of something fitted beside its strip, with a thin line to it."""
    scale, side = pen.scale, of.side
    half = text_width(of.thing.name, NOTE_MM) / 2, NOTE_MM * 0.45
    reach = half[0] * abs(side.into[0]) + half[1] * abs(side.into[1])
    spots = [
        side.at(of.middle + shift * scale, (STRIP_MM + 1 + deep + reach) * scale)
        for deep in (1.0, 3.0, 6.0, 9.0, 13.0)
        for shift in (0.0, 3.0, -3.0, 6.0, -6.0, 10.0, -10.0)
    ]
    x, y = spots[taken.best(_about(spot, half, scale) for spot in spots)]
    strip = side.at(of.middle, STRIP_MM / 2 * scale)
    near = x - side.into[0] * (half[0] + 0.4) * scale, y - side.into[1] * (half[1] + 0.4) * scale
    pen.line([strip, near], HAIR_MM, GREY)
    pen.text((x, y - 0.36 * NOTE_MM * scale), of.thing.name, NOTE_MM, halo=0.3)


def _about(spot: XY, half: tuple[float, float], scale: int) -> Box:
    x, y = spot[0] / scale, spot[1] / scale
    return x - half[0], y - half[1], x + half[0], y + half[1]


def room_name(pen: Pen, shape: RoomShape, around: Sequence[Side], taken: Taken) -> None:
    """The room's name and size, as near to its middle as it collides least.

    In a small room it is smaller, or the name alone; where a room is too narrow for its name, that is turned upwards.
    """
    scale, room = pen.scale, shape.room
    inner = [side.at(0) for side in around]
    xs, ys = [of[0] / scale for of in inner], [of[1] / scale for of in inner]
    box = min(xs), min(ys), max(xs), max(ys)
    wide, high = box[2] - box[0] - 1.5, box[3] - box[1] - 1.5
    turned = text_width(room.name, NAMES_MM[-1]) > wide and high > wide
    room_mm = high if turned else wide
    name_mm = next((of for of in NAMES_MM if text_width(room.name, of) <= room_mm), NAMES_MM[-1])
    name = fitted_text(room.name, name_mm, room_mm)
    size = f"{round((box[2] - box[0]) * scale)} × {round((box[3] - box[1]) * scale)}, {room.height_mm} high"
    if turned or text_width(size, SIZE_MM) > wide:
        size = ""
    tall = name_mm + (SIZE_MM + 0.8 if size else 0)
    half = max(text_width(name, name_mm), text_width(size, SIZE_MM)) / 2, tall / 2
    half = (half[1], half[0]) if turned else half
    middle = (box[0] + box[2]) / 2, (box[1] + box[3]) / 2
    spots = [of for of in _grid(middle, half, box) if inside((of[0] * scale, of[1] * scale), inner)] or [middle]
    here = taken.within(box)
    x, y = spots[here.best((a - half[0], b - half[1], a + half[0], b + half[1]) for a, b in spots)]
    taken.boxes.append(here.boxes[-1])
    if turned:
        pen.text(((x + 0.3 * name_mm) * scale, y * scale), name, name_mm, bold=True, halo=0.4, along=(0.0, 1.0))
        return
    top = y + tall / 2 - 0.8 * name_mm
    pen.text((x * scale, top * scale), name, name_mm, bold=True, halo=0.4)
    if size:
        pen.text((x * scale, (top - SIZE_MM - 0.8) * scale), size, SIZE_MM, halo=0.4, colour=GREY)


def _grid(middle: XY, half: tuple[float, float], room: Box) -> list[XY]:
    """Places for the middle of a text within a room, from its middle outwards; in a large room they are further apart."""
    reach = [max(0.0, (room[axis + 2] - room[axis]) / 2 - half[axis] - 1) for axis in (0, 1)]
    step = max(STEP_MM, *(of / STEPS for of in reach))
    wide, high = (int(of / step) for of in reach)
    found = [(i, j) for i in range(-wide, wide + 1) for j in range(-high, high + 1)]
    found.sort(key=lambda of: (of[0] * of[0] + of[1] * of[1], of))
    return [(middle[0] + step * i, middle[1] + step * j) for i, j in found]
