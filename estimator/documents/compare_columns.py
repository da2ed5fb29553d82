"""Text in columns for a terminal: words and widths go in, lines come out; letters that take two places count as two."""

from collections.abc import Sequence
from unicodedata import combining, east_asian_width

from estimator.drawings.svg import printable

WIDTH = 100


def plain(text: str) -> str:
    """One line of text without anything that a terminal would act on."""
    return " ".join(printable(text).split())


def places(text: str) -> int:
    """How many places of a terminal a text takes."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(letter) else 2 if east_asian_width(letter) in "WF" else 1 for letter in text)


def wrapped(text: str, width: int) -> list[str]:
    """Lines of at most so many places, broken at spaces, and within a word only where it is longer than a line."""
    lines = [""]
    for word in plain(text).split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if places(longer) <= width:
            lines[-1] = longer
            continue
        if lines[-1]:
            lines.append("")
        for letter in word:
            if places(lines[-1] + letter) > width:
                lines.append("")
            lines[-1] += letter
    return lines


def labelled(label: str, text: str, at: int, width: int = WIDTH) -> list[str]:
    """A label at the left and a text beside it, from place `at` on; a text without a label where that is empty."""
    return row(((label, at - 1, False), (text, width - at, False)))


def row(cells: Sequence[tuple[str, int, bool]]) -> list[str]:
    """Cells (text, width, whether it stands at the right) side by side, a place between them, each wrapped for itself."""
    made = [wrapped(text, width) for text, width, _ in cells]
    lines = []
    for number in range(max(len(lines_of) for lines_of in made)):
        parts = []
        for lines_of, (_, width, right) in zip(made, cells, strict=True):
            part = lines_of[number] if number < len(lines_of) else ""
            gap = " " * max(0, width - places(part))
            parts.append(gap + part if right else part + gap)
        lines.append(" ".join(parts).rstrip())
    return lines
