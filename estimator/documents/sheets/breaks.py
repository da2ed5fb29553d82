"""Where the pages of a printed sheet end: heights of its rows go in, rows that start a page come out."""

from collections.abc import Sequence

from estimator.documents.list_pages import (
    A4_LONG_POINTS,
    A4_SHORT_POINTS,
    PIXELS_PER_INCH,
    POINTS_PER_INCH,
)

SIDE_INCHES, TOP_INCHES, FOOT_INCHES = 0.3, 0.5, 0.7
"""Margins of a printed sheet."""
LEAST_LAST = 5
"""So many rows at least are on the last page, where those above can come along."""

Row = tuple[int, float, bool]
"""Its number, its height in points, and whether it heads those below it."""


def group_breaks(rows: Sequence[Row], page: float, again: float) -> list[int]:
    """Rows that start a new page of `page` points, all but the first of which begin with `again` points repeated.

    A heading stays with the row below it, and with all of its group where that is no more than half a page. The last page holds
    `LEAST_LAST` rows or more, or as many as fit, unless it holds a group of its own or a heading would be left behind.
    """
    starts: list[int] = []
    left = page
    for index, (row, points, heads) in enumerate(rows):
        wanted = _wanted(rows, index, page - again) if heads else points
        if wanted > left and index:
            starts.append(row)
            left = page - again
        left -= points
    return _filled(rows, starts, page - again)


def _filled(rows: Sequence[Row], starts: list[int], page: float) -> list[int]:
    """The same with the last page, of `page` points, begun earlier where it would hold few rows and no group of its own."""
    numbers = [row for row, _, _ in rows]
    last = numbers.index(starts[-1]) if starts else 0
    if not last or len(rows) - last >= LEAST_LAST or rows[last][2]:
        return starts
    before = numbers.index(starts[-2]) if len(starts) > 1 else 0
    earlier = len(rows) - LEAST_LAST
    while earlier < last and sum(points for _, points, _ in rows[earlier:]) > page:
        earlier += 1
    while earlier > before and rows[earlier - 1][2]:
        earlier -= 1
    fits = sum(points for _, points, _ in rows[earlier:]) <= page
    return [*starts[:-1], numbers[earlier]] if before < earlier < last and fits else starts


def room(widths: Sequence[float], landscape: bool) -> float:
    """Points of row height that an A4 page holds where the columns (in characters) are fitted to its width."""
    # A character is 7 pixels wide in the usual font, and a column has 5 besides: ECMA-376, part 1, 18.3.1.13.
    wide = sum(width * 7 + 5 for width in widths) * POINTS_PER_INCH / PIXELS_PER_INCH
    across, down = (A4_LONG_POINTS, A4_SHORT_POINTS) if landscape else (A4_SHORT_POINTS, A4_LONG_POINTS)
    scale = min(1.0, (across - 2 * SIDE_INCHES * POINTS_PER_INCH) / wide)
    return (down - (TOP_INCHES + FOOT_INCHES) * POINTS_PER_INCH) / scale


def _wanted(rows: Sequence[Row], index: int, page: float) -> float:
    """How much of a page a heading needs below it."""
    least = sum(points for _, points, _ in rows[index : index + 2])
    whole = 0.0
    for at, (_, points, heads) in enumerate(rows[index:]):
        if heads and at > 1:
            break
        whole += points
        if whole > page / 2:
            return least
    return whole
