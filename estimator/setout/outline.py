"""Takes the corners of a room; says whether a place lies in it, and how near it is to a wall, in exact numbers."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

Corner = tuple[int, int]


def holds(corners: Sequence[Corner], x_mm: int, y_mm: int) -> bool:
    """Whether a place lies inside the outline or on it."""
    inside = False
    for (ax, ay), (bx, by) in _sides(corners):
        turn = (bx - ax) * (y_mm - ay) - (by - ay) * (x_mm - ax)
        between = min(ax, bx) <= x_mm <= max(ax, bx) and min(ay, by) <= y_mm <= max(ay, by)
        if turn == 0 and between:
            return True
        if (ay > y_mm) != (by > y_mm) and (turn > 0) == (by > ay):
            inside = not inside
    return inside


def has_room(corners: Sequence[Corner], x_mm: int, y_mm: int, across_mm: Decimal) -> bool:
    """Whether a round hole of that width, its middle at the place, lies wholly inside the outline."""
    if not holds(corners, x_mm, y_mm):
        return False
    reach = Fraction(across_mm) ** 2 / 4
    return all(_squared(side, x_mm, y_mm) >= reach for side in _sides(corners))


def _sides(corners: Sequence[Corner]) -> Iterator[tuple[Corner, Corner]]:
    return pairwise((*corners, corners[0]))


def _squared(side: tuple[Corner, Corner], x_mm: int, y_mm: int) -> Fraction:
    """The squared distance from a place to a side, mm2."""
    (ax, ay), (bx, by) = side
    dx, dy, to_x, to_y = bx - ax, by - ay, x_mm - ax, y_mm - ay
    length, along = dx * dx + dy * dy, to_x * dx + to_y * dy  # squared, and how far along, as a share of it
    if along <= 0:
        return Fraction(to_x * to_x + to_y * to_y)
    if along >= length:
        return Fraction((x_mm - bx) ** 2 + (y_mm - by) ** 2)
    return Fraction((dx * to_y - dy * to_x) ** 2, length)
