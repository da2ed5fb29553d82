"""Where the pages of a printed list end: heights of its rows go in, rows that start a page come out.

No heading is left alone at the foot of a page. A program that fits the width by itself may take other breaks than these.
"""

from collections.abc import Sequence

POINTS_PER_INCH, PIXELS_PER_INCH = 72, 96
A4_LONG_POINTS, A4_SHORT_POINTS = 841.9, 595.3
"""published: ISO 216, 297 x 210 mm."""
SPARE = 0.98
"""Programs differ a little in how large they print."""


def room(widths: Sequence[float], side_inches: float, above_and_below_inches: float) -> float:
    """Points of row height that a landscape A4 page holds where the columns (in characters) are fitted to its width."""
    # A character is 7 pixels wide in the usual font, and a column has 5 besides: ECMA-376, part 1, 18.3.1.13.
    wide = sum(width * 7 + 5 for width in widths) * POINTS_PER_INCH / PIXELS_PER_INCH
    scale = min(1.0, (A4_LONG_POINTS - side_inches * POINTS_PER_INCH) / wide)
    return (A4_SHORT_POINTS - above_and_below_inches * POINTS_PER_INCH) / scale * SPARE


def breaks(rows: Sequence[tuple[int, float, bool]], first: float, later: float) -> list[int]:
    """Rows that start a new page, for rows of (number, points, whether it heads the next); room on the first and later pages."""
    starts: list[int] = []
    left = first
    for index, (row, points, heads) in enumerate(rows):
        wanted = points + (rows[index + 1][1] if heads and index + 1 < len(rows) else 0)
        if wanted > left and index:
            starts.append(row)
            left = later
        left -= points
    return starts
