"""Where the pages of a printed sheet end: heights of its rows go in, rows that start a page come out."""

from collections.abc import Sequence

Row = tuple[int, float, bool]
"""Its number, its height in points, and whether it heads those below it."""


def group_breaks(rows: Sequence[Row], page: float, again: float) -> list[int]:
    """Rows that start a new page of `page` points, all but the first of which begin with `again` points repeated.

    A heading stays with the row below it, and with all of its group where that is no more than half a page.
    """
    starts: list[int] = []
    left = page
    for index, (row, points, heads) in enumerate(rows):
        wanted = _wanted(rows, index, page - again) if heads else points
        if wanted > left and index:
            starts.append(row)
            left = page - again
        left -= points
    return starts


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
