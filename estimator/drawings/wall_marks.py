"""Symbols along walls: things with their true places go in, marks that keep clear of cables and of each other come out.

Where symbols would overlap they are moved apart along the wall and their stems bent; how long stems are is chosen wall by
wall so that least is drawn over. Lengths named `_MM` are of paper.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from estimator.drawings.chains import Rail
from estimator.drawings.sides import Side
from estimator.drawings.spacing import Box, Taken, crossings, kept_apart
from estimator.drawings.svg import XY, text_width
from estimator.drawings.symbols import Glyph
from estimator.drawings.tracks import Tracks

STEMS_MM = (2.3, 3.6, 5.0, 6.5, 8.0, 10.0, 12.0)
ID_MM = 2.3
AIR_MM = 0.5
SHIFTS_MM = (-1.0, 1.0, -2.5, 2.5, -4.5, 4.5, -7.0, 7.0)
LONGER, OVER_A_SYMBOL, BENT = 0.25, 4.0, 0.12
"""What a longer stem costs (a mm), a stem over a symbol, and a bent one (a mm), beside what `Taken.cost` counts."""

Key = tuple[str, str]
Costs = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Thing:
    """Something on a wall: how far along (real mm), its id and its glyph."""

    along: float
    id: str
    glyph: Glyph


@dataclass(frozen=True, slots=True)
class Mark:
    """One symbol: its glyph, its foot (its centre where `away` is None), the stem to it, and its id.

    `label` is a fixed place of the id (middle of the text), None where the plan looks for one. `box` is what it takes.
    """

    id: str
    glyph: Glyph
    foot: XY
    away: XY | None
    stem: tuple[XY, ...]
    label: XY | None
    box: Box

    def label_box(self, scale: int) -> Box:
        """What the id takes where its place is fixed."""
        x, y = self.label or self.foot
        half = text_width(self.id, ID_MM) / 2, ID_MM * 0.36
        return x / scale - half[0], y / scale - half[1], x / scale + half[0], y / scale + half[1]


def wall_marks(things: Mapping[Key, Sequence[Thing]], on: Tracks, taken: Taken) -> tuple[Mark, ...]:
    """The marks of all walls, the longest wall first; `taken` grows by what they take."""
    found: dict[Key, tuple[Mark, ...]] = {}
    order = list(on.walls)
    for key in sorted(
        (key for key in order if things[key]), key=lambda of: (-round(on.walls[of].length), order.index(of))
    ):
        mine = sorted(things[key], key=lambda of: (of.along, of.id))
        found[key] = _best(on, key, mine, things, found, taken.within(_reach(on, key, mine)))
        for mark in found[key]:
            taken.boxes += [mark.box, mark.label_box(on.scale)]
            taken.lines += _lines(mark, on.scale)
    return tuple(mark for key in order for mark in found.get(key, ()))


@dataclass(frozen=True, slots=True)
class _Wall:
    """The things of one wall while places for them are tried, and what of it is known: most marks stay as others move."""

    side: Side
    mine: Sequence[Thing]
    corridor: float
    halves: Sequence[float]
    taken: Taken
    scale: int
    known: dict[tuple[int, float, float], tuple[Mark, Costs]]

    def tried(self, stem: float, room: tuple[float, float], at: Sequence[float]) -> tuple[float, tuple[Mark, ...]]:
        """What it costs to stand at the wished places with stems of one length, and the marks there."""
        total, marks = 0.0, []
        for index, place in enumerate(kept_apart(at, self.halves, *room)):
            if (index, stem, place) not in self.known:
                mark = _stood(self.side, self.mine[index], place, self.corridor, stem, self.scale)
                self.known[index, stem, place] = mark, _costs(mark, self.taken, self.scale)
            mark, costs = self.known[index, stem, place]
            marks.append(mark)
            for cost in costs:
                total += cost
        return round(total + LONGER * stem * len(self.mine), 6), tuple(marks)


def _best(
    on: Tracks,
    key: Key,
    mine: Sequence[Thing],
    things: Mapping[Key, Sequence[Thing]],
    found: Mapping[Key, Sequence[Mark]],
    taken: Taken,
) -> tuple[Mark, ...]:
    """The marks of one wall that draw over least: by length of stem, then by moving one after the other to either side."""
    side, corridor = on.walls[key], on.corridor(Rail("wall", *key))
    wall = _Wall(side, mine, corridor, [_half(side, of) for of in mine], taken, on.scale, {})
    wished = [of.along / on.scale for of in mine]
    beside = _neighbours(on, key, things, found)
    glyphs = _deep(side, mine)
    rooms = list(
        dict.fromkeys(
            (stem, _room_for(side.length / on.scale, beside, deep))
            for stem in STEMS_MM
            for deep in (0.0, corridor + stem + glyphs)
        )
    )
    costs = [wall.tried(stem, room, wished)[0] for stem, room in rooms]
    stem, room = rooms[costs.index(min(costs))]
    cost, marks = wall.tried(stem, room, wished)
    done = {tuple(wished)}  # what was tried cannot come to cost less than the least so far
    for index, shift in [(index, shift) for index in range(len(mine)) for shift in SHIFTS_MM] * 2:
        at = [*wished]
        at[index] += shift
        if sorted(at) != at or tuple(at) in done:
            continue
        done.add(tuple(at))
        if (new := wall.tried(stem, room, at))[0] < cost:
            wished, (cost, marks) = at, new
    return marks


def _reach(on: Tracks, key: Key, mine: Sequence[Thing]) -> Box:
    """All that the marks of a wall can come to stand on."""
    side, scale = on.walls[key], on.scale
    deep = (on.corridor(Rail("wall", *key)) + STEMS_MM[-1] + _deep(side, mine) + AIR_MM) * scale
    places = [side.at(along, inward) for along in (0, side.length) for inward in (0, deep)]
    xs, ys = [of[0] / scale for of in places], [of[1] / scale for of in places]
    return min(xs), min(ys), max(xs), max(ys)


def _stood(side: Side, of: Thing, place: float, corridor: float, stem: float, scale: int) -> Mark:
    """The mark of one thing at a place along its wall, at the end of a stem of that length."""
    foot = side.at(place * scale, (corridor + stem) * scale)
    bent = abs(place * scale - of.along) > 0.05 * scale
    line = (side.at(of.along), *((side.at(of.along, corridor * scale),) if bent else ()), foot)
    return _standing(of, foot, side.into, line, scale)


def _costs(mark: Mark, taken: Taken, scale: int) -> Costs:
    """What a mark, its stem over symbols, and the bend of its stem cost."""
    lines = _lines(mark, scale)
    return (
        taken.cost(mark.box) + taken.cost(mark.label_box(scale)),
        OVER_A_SYMBOL * crossings(lines, taken.boxes),
        BENT * sum(abs(a[0] - b[0]) + abs(a[1] - b[1]) for a, b in lines[1:]),
    )


def _lines(mark: Mark, scale: int) -> list[tuple[XY, XY]]:
    places = [(x / scale, y / scale) for x, y in mark.stem]
    return list(pairwise(places))


def _half(side: Side, of: Thing) -> float:
    """Half of what a mark takes along its wall: its glyph, and its id where that is wider."""
    along_x = abs(side.along[0])
    across = text_width(of.id, ID_MM) / 2 * along_x + ID_MM * 0.45 * (1 - along_x)
    return max(of.glyph.half, across) + AIR_MM


def _deep(side: Side, mine: Sequence[Thing]) -> float:
    """How deep glyphs and ids of a wall reach beyond their feet."""
    into_x = abs(side.into[0])
    return max(_height(of.glyph) + text_width(of.id, ID_MM) * into_x + ID_MM * (1 - into_x) for of in mine) + 1


def _height(of: Glyph) -> float:
    """The height of a glyph as its id sees it: low ones alike, so that ids of neighbours stand in a row."""
    return max(of.height, 3.0)


def _standing(of: Thing, foot: XY, away: XY, stem: tuple[XY, ...], scale: int) -> Mark:
    """A mark that stands away from a wall, its id beyond it."""
    wide = text_width(of.id, ID_MM)
    reach = _height(of.glyph) + 0.5 + (wide / 2 * abs(away[0]) + ID_MM * 0.4 * abs(away[1]))
    label = foot[0] + away[0] * reach * scale, foot[1] + away[1] * reach * scale
    return Mark(of.id, of.glyph, foot, away, stem, label, bounds(of.glyph, foot, away, scale))


def bounds(of: Glyph, foot: XY, away: XY, scale: int) -> Box:
    """What a glyph that stands away from a wall takes."""
    x, y = foot[0] / scale, foot[1] / scale
    (up_x, up_y), wide_x, wide_y = away, abs(away[1]) * of.half, abs(away[0]) * of.half
    top_x, top_y = up_x * of.height, up_y * of.height
    return (
        x + (top_x if top_x < 0 else 0.0) - wide_x,
        y + (top_y if top_y < 0 else 0.0) - wide_y,
        x + (top_x if top_x > 0 else 0.0) + wide_x,
        y + (top_y if top_y > 0 else 0.0) + wide_y,
    )


@dataclass(frozen=True, slots=True)
class _Neighbour:
    """What stands on the wall before or after one, seen from the corner between them (mm of paper).

    `keep` is what its cables and symbols take whatever they are; `reach` is for each of its marks how far from the
    corner it begins, and how deep it reaches.
    """

    keep: float
    reach: tuple[tuple[float, float], ...]


def _neighbours(
    on: Tracks, key: Key, things: Mapping[Key, Sequence[Thing]], found: Mapping[Key, Sequence[Mark]]
) -> tuple[_Neighbour, _Neighbour]:
    """The walls before and after one."""
    around = [of for of in on.walls if of[0] == key[0]]
    index = around.index(key)
    before, after = around[index - 1], around[(index + 1) % len(around)]

    def seen(other: Key, at_end: bool) -> _Neighbour:
        keep = on.corridor(Rail("wall", *other)) + (AIR_MM if other in found or not things[other] else STEMS_MM[0])
        side = on.walls[other]
        boxes = [_in(side, mark, on.scale) for mark in found.get(other, ())]
        return _Neighbour(keep, tuple((side.length / on.scale - b if at_end else a, deep) for a, b, deep in boxes))

    return seen(before, at_end=True), seen(after, at_end=False)


def _room_for(length: float, beside: tuple[_Neighbour, _Neighbour], deep: float) -> tuple[float, float]:
    """Between which places along a wall marks that reach `deep` may stand, so as not to meet those of its neighbours."""
    kept = [
        max((of.keep, *(reach + AIR_MM for from_corner, reach in of.reach if from_corner < deep + AIR_MM)))
        for of in beside
    ]
    if kept[0] + kept[1] > 0.6 * length:
        kept = [min(of, 0.2 * length) for of in kept]
    return kept[0], length - kept[1]


def _in(side: Side, mark: Mark, scale: int) -> tuple[float, float, float]:
    """From where to where along its wall, and how deep, a mark with its id reaches."""
    boxes = (mark.box, mark.label_box(scale))
    places = [side.of((x * scale, y * scale)) for box in boxes for x in (box[0], box[2]) for y in (box[1], box[3])]
    return (
        min(of[0] for of in places) / scale,
        max(of[0] for of in places) / scale,
        max(of[1] for of in places) / scale,
    )
