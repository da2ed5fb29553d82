"""Room for marks: wished places along a line go in, places that keep apart come out; and where a label collides least.

Lengths are in one unit throughout (mm of paper).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from estimator.drawings.svg import XY

Box = tuple[float, float, float, float]
"""Left, low, right, high."""


def kept_apart(wished: Sequence[float], halves: Sequence[float], low: float, high: float) -> tuple[float, ...]:
    """Places in the order of `wished` (ascending) that are nearest to it (least squares) and do not overlap.

    `halves` are half the widths; all stay between `low` and `high`. Where there is too little room, widths shrink alike.
    """
    if not wished:
        return ()
    needed = sum(2 * half for half in halves)
    shrink = min(1.0, (high - low) / needed) if needed > 0 else 1.0
    offsets = []
    at = -halves[0] * shrink
    for half in halves:
        offsets.append(at + half * shrink)
        at += 2 * half * shrink
    flat = _ascending([place - offset for place, offset in zip(wished, offsets, strict=True)])
    lowest = low + halves[0] * shrink
    highest = max(lowest, high - halves[-1] * shrink - offsets[-1])
    return tuple(min(max(place, lowest), highest) + offset for place, offset in zip(flat, offsets, strict=True))


def _ascending(values: Sequence[float]) -> list[float]:
    """The ascending list nearest to `values` by least squares: neighbours that cross are drawn to their mean."""
    blocks: list[tuple[float, int]] = []
    for value in values:
        blocks.append((value, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (a, m), (b, n) = blocks[-2:]
            blocks[-2:] = [((a * m + b * n) / (m + n), m + n)]
    return [value for value, count in blocks for _ in range(count)]


@dataclass(slots=True)
class Taken:
    """What paper is taken already: boxes of symbols and texts, and lines that a label should not break."""

    boxes: list[Box] = field(default_factory=list)
    lines: list[tuple[XY, XY]] = field(default_factory=list)

    def cost(self, box: Box) -> float:
        """How badly a box would collide: a little for each line through it, much for the area shared with boxes."""
        left, low, right, high = box
        near = [of for of in self.boxes if of[0] < right and left < of[2] and of[1] < high and low < of[3]]
        return float(crossings(self.lines, (box,))) + sum(8.0 + 8.0 * _shared(box, of) for of in near)

    def within(self, box: Box) -> "Taken":
        """What of it lies in a box, or reaches into it."""
        return Taken([of for of in self.boxes if _shared(of, box) > 0], [of for of in self.lines if crosses(of, box)])

    def best(self, boxes: Iterable[Box]) -> int:
        """The number of the box that collides least, of equal ones the first; it is taken from then on."""
        found = list(boxes)
        near = self._about(found)
        least, index = float("inf"), 0
        for number, box in enumerate(found):
            cost = round(near.cost(box), 6)
            if cost < least:
                least, index = cost, number
            if cost == 0:  # none can be better, and of equal ones the first counts
                break
        self.boxes.append(found[index])
        return index

    def _about(self, boxes: Sequence[Box]) -> "Taken":
        """What of it is not clear of all the boxes together, to one side of them."""
        left, low = min(of[0] for of in boxes), min(of[1] for of in boxes)
        right, high = max(of[2] for of in boxes), max(of[3] for of in boxes)
        return Taken(
            [of for of in self.boxes if of[0] < right and left < of[2] and of[1] < high and low < of[3]],
            [
                ((x, y), (to_x, to_y))
                for (x, y), (to_x, to_y) in self.lines
                if (x >= left or to_x >= left)
                and (x <= right or to_x <= right)
                and (y >= low or to_y >= low)
                and (y <= high or to_y <= high)
            ],
        )


def grown(box: Box, by: float) -> Box:
    """A box that reaches further on every side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def _shared(a: Box, b: Box) -> float:
    width = min(a[2], b[2]) - max(a[0], b[0])
    height = min(a[3], b[3]) - max(a[1], b[1])
    return width * height if width > 0 and height > 0 else 0.0


def crossings(lines: Sequence[tuple[XY, XY]], boxes: Iterable[Box]) -> int:
    """How often one of the lines has a part within one of the boxes.

    Most lines lie clear to one side of most boxes, which is seen here without a call for each.
    """
    found = 0
    for box in boxes:
        left, low, right, high = box
        for line in lines:
            (x, y), (to_x, to_y) = line
            if (x < left and to_x < left) or (x > right and to_x > right):
                continue
            if (y < low and to_y < low) or (y > high and to_y > high):
                continue
            found += crosses(line, box)
    return found


def crosses(line: tuple[XY, XY], box: Box) -> bool:
    """Whether a straight line has a part within a box, by clipping it at the four edges."""
    (x, y), (to_x, to_y) = line
    if (x < box[0] and to_x < box[0]) or (x > box[2] and to_x > box[2]):
        return False
    if (y < box[1] and to_y < box[1]) or (y > box[3] and to_y > box[3]):
        return False
    start, end = 0.0, 1.0
    for delta, near, far in ((to_x - x, box[0] - x, box[2] - x), (to_y - y, box[1] - y, box[3] - y)):
        if delta == 0:
            if near > 0 or far < 0:
                return False
            continue
        first, last = sorted((near / delta, far / delta))
        start, end = max(start, first), min(end, last)
        if start > end:
            return False
    return True
