"""Where a reader gave up in a text, and what stands round that place."""

import re
from dataclasses import dataclass

from estimator.job.spans import tokens


@dataclass(frozen=True, slots=True)
class Spot:
    """Where the reader gave up: all lines, the number of that line from 1, and the column in it from 1."""

    lines: tuple[str, ...]
    number: int
    column: int

    @property
    def line(self) -> str:
        """The line itself."""
        return self.lines[self.number - 1]

    @property
    def rest(self) -> str:
        """What stands from the place on."""
        return self.line[self.column - 1 :]

    @property
    def item(self) -> str:
        """The item of a list, or the value in braces, that the place is in."""
        start = max(self.line.rfind(mark, 0, self.column - 1) for mark in "[,{=") + 1
        end = min((at for mark in ",]}" if (at := self.line.find(mark, self.column - 1)) >= 0), default=None)
        return self.line[start:end].strip()

    @property
    def value(self) -> str:
        """What stands after the first = of the line, a remark at its end taken off."""
        return re.sub(r"\s+#.*$", "", self.line.partition("=")[2]).strip()


def locate(text: str, match: re.Match[str] | None) -> Spot:
    """The place of a complaint: `match` holds its line and column, or nothing for the end of the text."""
    lines = tuple(text.split("\n"))
    if match is not None and match[1]:
        return Spot(lines, int(match[1]), int(match[2]))
    number = next((at for at in range(len(lines), 0, -1) if lines[at - 1].strip()), 1)
    return Spot(lines, number, len(lines[number - 1].rstrip()) + 1)


def open_bracket(text: str, spot: Spot) -> Spot | None:
    """The last bracket that is still open where the reader gave up."""
    end = sum(len(line) + 1 for line in spot.lines[: spot.number - 1]) + spot.column - 1
    stack: list[int] = []
    for token in tokens(text[:end], whole=False):
        if token.kind == "mark" and token.text in "[{":
            stack.append(token.start)
        elif token.kind == "mark" and token.text in "]}" and stack:
            stack.pop()
    if not stack:
        return None
    before = text[: stack[-1]]
    return Spot(spot.lines, before.count("\n") + 1, stack[-1] - before.rfind("\n"))
