"""Tags round a wall and names in it: where things are goes in; places where words do not lie on each other come out.

Everything is in mm of paper, except where it says so.
"""

from collections.abc import Sequence

from estimator.drawings.svg import XY, text_width
from estimator.drawings.wall_network_things import Thing

NAME_MM = 2.1
ROOM_MM = 0.5
PITCH_MM = 2.7

Box = tuple[float, float, float, float]
"""Left, foot, right, head."""


def spread(wanted: Sequence[float], pitch: float = PITCH_MM) -> tuple[float, ...]:
    """Places at least `pitch` apart, in the order of those wanted, with the least sum of squared moves.

    Those that push each other stand as a block about the middle of what they want. `wanted` ascends.
    """
    blocks: list[tuple[float, int]] = []
    for index, place in enumerate(wanted):
        total, count = place - index * pitch, 1
        while blocks and blocks[-1][0] / blocks[-1][1] > total / count:
            before = blocks.pop()
            total, count = total + before[0], count + before[1]
        blocks.append((total, count))
    starts = [total / count for total, count in blocks for _ in range(count)]
    return tuple(start + index * pitch for index, start in enumerate(starts))


def named(
    things: Sequence[Thing], length_mm: int, scale: int, marks: Sequence[XY] = (), mark_mm: float = 0
) -> tuple[tuple[Thing, XY], ...]:
    """Where the name of each box begins: beside its corners, clear of boxes and of each other; else where the first is.

    Off the lines that run through its middle, level and upright. `things` and `marks` in real mm, places in real mm; marks are
    `mark_mm` across on paper.
    """
    half = mark_mm / 2
    rings = ((x / scale - half, y / scale - half, x / scale + half, y / scale + half) for x, y in marks)
    taken = [*(_box(thing, scale) for thing in things), *rings]
    wall = length_mm / scale
    found = []
    for thing in things:
        choices = _choices(thing, scale)
        free = (of for of in choices if of[0] > 0 and of[2] < wall and not any(_meet(of, other) for other in taken))
        best = next(free, choices[0])
        taken.append(best)
        found.append((thing, (best[0] * scale, best[1] * scale)))
    return tuple(found)


def _box(thing: Thing, scale: int) -> Box:
    half, tall = thing.wide_mm / 2 / scale, thing.high_mm / 2 / scale
    x, y = thing.along_mm / scale, thing.up_mm / scale
    return x - half, y - tall, x + half, y + tall


def _choices(thing: Thing, scale: int) -> tuple[Box, ...]:
    """Right and left of it over the middle, then under it; then over and under the box, beside the upright line."""
    left, foot, right, head = _box(thing, scale)
    x, y = thing.along_mm / scale, thing.up_mm / scale
    wide, tall = text_width(thing.name, NAME_MM), NAME_MM * 0.72
    corners = (
        (right + ROOM_MM, y + ROOM_MM),
        (left - ROOM_MM - wide, y + ROOM_MM),
        (right + ROOM_MM, y - ROOM_MM - tall),
        (left - ROOM_MM - wide, y - ROOM_MM - tall),
        (x + ROOM_MM, head + ROOM_MM),
        (x - ROOM_MM - wide, head + ROOM_MM),
        (x + ROOM_MM, foot - ROOM_MM - tall),
        (x - ROOM_MM - wide, foot - ROOM_MM - tall),
    )
    return tuple((a, b, a + wide, b + tall) for a, b in corners)


def _meet(one: Box, other: Box) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]
