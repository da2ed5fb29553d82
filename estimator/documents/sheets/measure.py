"""How much of a cell a text takes: a text and the width of a column in go in, lines of the workbook's font come out.

Widths of letters are those of Helvetica, which the fonts that stand in for it share (published: Adobe, Helvetica AFM,
thousandths of the size). A column is so many figures of the usual font wide, 7 pixels each (ECMA-376, part 1, 18.3.1.13),
and 10 point is 13.33 pixels: 525 thousandths.
"""

from functools import lru_cache

FIGURE = 525
SPARE = 0.96
"""Programs differ a little in how wide they set a text."""
BOLD = 1.08
_BY_WIDTH = {
    191: "'",
    222: "ijl",
    260: "|",
    278: " !,./:;I[]\\ft",
    333: "()-`r",
    334: "{}",
    355: '"',
    389: "*",
    469: "^",
    500: "Jckvsxyz",
    584: "+<=>~",
    611: "FTZ",
    667: "&ABEKPSVXY",
    722: "CDHNRUw",
    778: "GOQ",
    833: "Mm",
    889: "%",
    944: "W",
    1015: "@",
}


class _Widths(dict[str, int]):
    """Small letters and figures without a row of their own are 556; what is not ASCII may be as wide as a capital."""

    def __missing__(self, letter: str) -> int:
        return 556 if letter.isascii() or letter in "£€–" else 778


_WIDTHS = _Widths({letter: width for width, letters in _BY_WIDTH.items() for letter in letters})


def width_of(text: str) -> int:
    """How wide a text on one line is, in thousandths of its size."""
    return sum(map(_WIDTHS.__getitem__, text))


@lru_cache(maxsize=4096)
def lines_of(text: str, room: float, bold: bool = False) -> int:
    """How many lines a text takes in a column so many figures wide, broken at spaces, and in words that are longer than it."""
    most = room * FIGURE * SPARE / (BOLD if bold else 1)
    return sum(_lines(part, max(most, 1000)) for part in text.split("\n"))


def _lines(part: str, most: float) -> int:
    whole = width_of(part)
    if whole <= most:
        return 1
    lines, left, space = 1, most, _WIDTHS[" "]
    for word in part.split(" "):
        wide: float = width_of(word)
        if wide > left and left < most:
            lines, left = lines + 1, most
        if wide > most:
            over = int(wide // most)
            lines, wide = lines + over, wide - over * most
        left -= wide + space
    return lines
