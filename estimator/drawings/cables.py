"""Cables on a plan: lines told apart by dash and letter, dots and rings, and runs that come in from outside."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimator.drawings.letters import Owner
from estimator.drawings.lines import Drawn, Line
from estimator.drawings.sides import Side
from estimator.drawings.spacing import Box, Taken, kept_apart
from estimator.drawings.svg import CABLE, GREY, XY, Anchor, Pen, fitted_text, text_width, wrapped_text

LINE_MM = 0.4
DOT_MM = 0.55
LETTER_MM = 2.0
NAME_MM, FAR_MM = 2.2, 1.98
ARRIVAL_MM, ENTRY_MM = 9.0, 1.5
ARRIVAL_TEXT_MM = 30.0

# The first is whole; after the last they begin again, told apart by letter alone.
DASHES: tuple[tuple[float, ...], ...] = (
    (),
    (3, 0.9),
    (0.9, 0.7),
    (4, 0.8, 0.6, 0.8),
    (1.8, 0.8),
    (4, 0.7, 0.6, 0.7, 0.6, 0.7),
    (6, 1.2),
    (0.4, 0.8),
    (2.2, 0.7, 0.6, 0.7),
    (5, 0.8, 1.6, 0.8),
    (1.2, 1.4),
    (2.4, 0.6, 0.5, 0.6, 0.5, 0.6, 0.5, 0.6),
)


def dash(owner: Owner, marks: Mapping[Owner, str]) -> tuple[float, ...]:
    """The dash pattern of an owner, mm of paper."""
    return DASHES[list(marks).index(owner) % len(DASHES)]


def draw_lines(pen: Pen, of: Drawn, pattern: Sequence[float]) -> None:
    """All cable of one owner, with a ring where it goes up or down; dots come later, over the stems."""
    if of.lines:
        pen.paths(of.lines, LINE_MM, CABLE, pattern)
    for place in of.rings:
        pen.circle(place, DOT_MM, 0.2, fill="#fff", colour=CABLE)


def draw_dots(pen: Pen, of: Drawn) -> None:
    """A dot wherever a cable of one owner meets the stem of a symbol."""
    for place in of.dots:
        pen.circle(place, DOT_MM, 0, fill=CABLE)


def draw_letters(pen: Pen, of: Drawn, letter: str, taken: Taken) -> None:
    """The letter of an owner on its longest line, and on every other one that has room for it."""
    scale = pen.scale
    half = text_width(letter, LETTER_MM) / 2 + 0.2, LETTER_MM * 0.36 + 0.2
    lines = sorted(of.lines, key=lambda line: (-_length(line), line))
    for index, line in enumerate(lines[:5]):
        if index and _length(line) < 18 * scale:
            break
        spots = [_on(line, at / 20) for at in (10, 8, 12, 6, 14, 5, 15, 9, 11, 7, 13, 4, 16, 3, 17, 2, 18)]
        boxes = [_about(spot, half, scale) for spot in spots]
        x, y = spots[taken.best(boxes)]
        pen.text((x, y - 0.36 * LETTER_MM * scale), letter, LETTER_MM, bold=True, colour=CABLE, halo=0.45)


def _length(line: Line) -> float:
    return round(max(abs(line[0][0] - line[1][0]), abs(line[0][1] - line[1][1])), 3)


def _on(line: Line, at: float) -> XY:
    return line[0][0] + at * (line[1][0] - line[0][0]), line[0][1] + at * (line[1][1] - line[0][1])


def _about(spot: XY, half: tuple[float, float], scale: int) -> Box:
    x, y = spot[0] / scale, spot[1] / scale
    return x - half[0], y - half[1], x + half[0], y + half[1]


@dataclass(frozen=True, slots=True)
class Arrival:
    """A run given by stretches, at what it ends at: its id, room, wall (None: on none) and place along it; the run's letter
    and name, and where it comes from or leads to.
    """

    at: str
    room: str
    wall: str | None
    along: float
    owner: Owner
    letter: str
    name: str
    far: str


def arrival_width(found: Iterable[Arrival]) -> float:
    """How wide the words at arrivals come out, mm of paper."""
    names = (text_width(f"{of.letter}  {of.name}", NAME_MM) * 1.08 for of in found)
    return min(max((*names, *(text_width(line, FAR_MM) for of in found for line in _far(of)))), ARRIVAL_TEXT_MM)


def _far(of: Arrival) -> tuple[str, ...]:
    return wrapped_text(of.far, FAR_MM, ARRIVAL_TEXT_MM, 2)


def draw_arrivals(pen: Pen, side: Side, found: Iterable[Arrival], out: float, marks: Mapping[Owner, str]) -> None:
    """Runs that come in through a wall, each with an arrow, drawn to the place they end at; `out` mm from the inside face."""
    scale = pen.scale
    arrivals = sorted(found, key=lambda of: (of.along, of.letter))
    upright = abs(side.into[0]) > abs(side.into[1])
    halves = [1.8 + 1.2 * len(_far(of)) if upright else ARRIVAL_TEXT_MM / 2 for of in arrivals]
    wished, far = [of.along / scale for of in arrivals], (-40, side.length / scale + 40)
    places = kept_apart(wished, halves, *far)
    entries = kept_apart(wished, [ENTRY_MM / 2] * len(arrivals), *far)
    for of, place, entry in zip(arrivals, places, entries, strict=True):
        tip = side.at(place * scale, -(out + ARRIVAL_MM) * scale)
        pen.line(
            [side.at(entry * scale), side.at(entry * scale, -(out + 1.5) * scale), tip],
            LINE_MM * 1.5,
            CABLE,
            dash(of.owner, marks),
        )
        _arrow(pen, side.at(entry * scale, -side.thickness), side.into)
        _say(pen, side, of, tip, upright)


def _arrow(pen: Pen, tip: XY, into: XY) -> None:
    s = pen.scale
    across = -into[1], into[0]
    back = tip[0] - 2.2 * s * into[0], tip[1] - 2.2 * s * into[1]
    pen.polygon(
        [
            tip,
            (back[0] + 0.7 * s * across[0], back[1] + 0.7 * s * across[1]),
            (back[0] - 0.7 * s * across[0], back[1] - 0.7 * s * across[1]),
        ],
        0,
        fill=CABLE,
    )


def _say(pen: Pen, side: Side, of: Arrival, tip: XY, upright: bool) -> None:
    s = pen.scale
    anchor: Anchor = "middle" if not upright else "end" if side.into[0] > 0 else "start"
    far = _far(of)
    x = tip[0] - side.into[0] * 1.2 * s
    over = 0.8 + 2.4 * len(far) - 0.2 if side.into[1] < 0 else -0.8 - NAME_MM
    y = tip[1] if upright else tip[1] + over * s
    words = fitted_text(f"{of.letter}  {of.name}", NAME_MM, ARRIVAL_TEXT_MM)
    pen.text((x, y + 0.3 * s), words, NAME_MM, anchor, CABLE, bold=True, halo=0.3)
    for index, line in enumerate(far, 1):
        pen.text((x, y - (2.4 * index - 0.1 * (index - 1)) * s), line, FAR_MM, anchor, GREY, halo=0.3)
