"""Symbols of plans: the word of `symbol` in points.csv goes in, a glyph comes out; a `Pen` puts it in its place.

They follow IEC 60617 as published guides show it (geometry in part from memory); downlight, alarms, buttons and the
charger are ours, since the standard has none that is usual on plans. Each drawing has a legend.

A glyph is drawn in mm of paper, its foot at 0, 0 and y growing away from the wall.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from estimator.drawings.svg import XY, Pen

LINE_MM = 0.25


@dataclass(frozen=True, slots=True)
class Glyph:
    """Outlines (filled white), strokes (no fill) and solids; a letter with its height above the foot. `half` is half its width."""

    half: float
    height: float
    outlines: tuple[str, ...] = ()
    strokes: tuple[str, ...] = ()
    solids: tuple[str, ...] = ()
    letter: str = ""
    letter_at: float = 0
    letter_size: float = 1.9


def _circle(radius: float, centre: float | None = None) -> str:
    """A circle standing on the foot, or about a centre above it."""
    low = (radius if centre is None else centre) - radius
    return f"M0 {low:g}A{radius:g} {radius:g} 0 0 1 0 {low + 2 * radius:g}A{radius:g} {radius:g} 0 0 1 0 {low:g}Z"


def _box(half: float, height: float) -> str:
    return f"M{-half:g} 0H{half:g}V{height:g}H{-half:g}Z"


_CUP = "M-2 2.1A2 2 0 0 1 2 2.1"
_EARTH = "M-1.7 0.1H1.7"


def _socket(letter: str = "") -> Glyph:
    return Glyph(2, 2.5, (f"{_CUP}Z",), (_EARTH, _CUP), letter=letter, letter_at=0.55, letter_size=1.7)


# One blade of a switch: up to the right at 60 degrees with a tick square to it; the others are it, turned about the circle.
_BLADE = "M0.4 2.69L1.45 4.51L2.05 4.16"
_BACK = "M-0.4 1.31L-1.45 -0.51L-2.05 -0.16"
_OTHER = "M-0.4 2.69L-1.45 4.51L-2.05 4.16"
_OTHER_BACK = "M0.4 1.31L1.45 -0.51L2.05 -0.16"
_KNOB = _circle(0.8, 2)


def _switch(*blades: str) -> Glyph:
    return Glyph(2.1, 4.6, (_KNOB,), blades)


GLYPHS: Mapping[str, Glyph] = MappingProxyType(
    {
        "socket": _socket(),
        "socket-twin": _socket("2"),
        "socket-outdoor": Glyph(
            2.3, 3, (f"{_CUP}Z",), (_EARTH, _CUP, "M-2.3 2.9H2.3"), letter="2", letter_at=0.55, letter_size=1.7
        ),
        "fused-unit": Glyph(1.7, 2.6, (_box(1.7, 2.6),), letter="F", letter_at=0.6),
        "box": Glyph(1.3, 2.6, (_circle(1.3),)),
        "switch-one-way": Glyph(2.1, 3.8, (_circle(0.8),), ("M0.4 1.49L1.75 3.83L2.35 3.48",)),
        "switch-two-way": _switch(_BLADE, _BACK),
        "switch-intermediate": _switch(_BLADE, _BACK, _OTHER, _OTHER_BACK),
        "switch-two-pole": Glyph(2.1, 3.8, (_circle(0.8),), ("M0.4 1.49L1.75 3.83L2.35 3.48M1.35 3.14L1.95 2.79",)),
        "switch-pull": Glyph(
            2.1, 3.8, (_circle(0.8),), ("M0.4 1.49L1.75 3.83L2.35 3.48", "M-1.7 2.4V0.3M-2.1 1L-1.7 0.3L-1.3 1")
        ),
        "isolator": Glyph(1.7, 2.6, (_box(1.7, 2.6),), ("M-1.7 0L1.7 2.6",)),
        "charger": Glyph(1.9, 3, (_box(1.9, 3),), letter="EV", letter_at=0.85),
        "electrode": Glyph(1.8, 2.2, (), ("M-1.8 0.6H1.8M-1.1 1.3H1.1M-0.5 2H0.5M0 0V0.6",)),
        "outlet-data": Glyph(1.7, 2.4, (), ("M-1.7 2.4V0H1.7V2.4",), letter="D", letter_at=0.55),
        "outlet-tv": Glyph(1.9, 2.4, (), ("M-1.9 2.4V0H1.9V2.4",), letter="TV", letter_at=0.55),
        "stop": Glyph(1.5, 3, (_box(1.5, 3),), (), (_circle(0.9, 1.5),)),
        "start": Glyph(1.5, 3, (_box(1.5, 3),), (_circle(0.9, 1.5),)),
        "light-point": Glyph(1.6, 3.2, (), ("M-1.6 0L1.6 3.2M1.6 0L-1.6 3.2",)),
        "light-wall": Glyph(1.7, 3.4, (_circle(1.7),), ("M-1.2 0.5L1.2 2.9M1.2 0.5L-1.2 2.9",)),
        "light-linear": Glyph(3.4, 1.8, (), ("M-3.4 0.9H3.4M-3.4 0V1.8M3.4 0V1.8",)),
        "downlight": Glyph(1.4, 2.8, (_circle(1.4),), (), (_circle(0.45, 1.4),)),
        "fan": Glyph(
            1.8,
            3.6,
            (_circle(1.8),),
            ("M0 1.8A0.75 0.55 0 1 1 -1.5 1.8A0.75 0.55 0 1 1 0 1.8A0.75 0.55 0 1 1 1.5 1.8A0.75 0.55 0 1 1 0 1.8",),
        ),
        "alarm-heat": Glyph(1.7, 3.4, (_circle(1.7),), letter="H", letter_at=1.05),
        "alarm-smoke": Glyph(1.7, 3.4, (_circle(1.7),), letter="S", letter_at=1.05),
        "board": Glyph(3.2, 3, (_box(3.2, 3),), (), ("M-3.2 0H3.2L-3.2 3Z",)),
    }
)


def glyph(word: str) -> Glyph:
    """The glyph of a symbol's word; one that is not known is a square with the first letter of the word."""
    found = GLYPHS.get(word)
    return found or Glyph(1.6, 3, (_box(1.6, 3),), letter=word[:1].upper() or "?", letter_at=0.85)


def draw_glyph(pen: Pen, of: Glyph, foot: XY, away: XY) -> None:
    """Draw a glyph with its foot at a place of the plan; `away` is the unit direction from the wall into the room."""
    along = (away[1], -away[0])
    s = pen.scale
    matrix = (s * along[0], -s * along[1], s * away[0], -s * away[1], foot[0], -foot[1])
    look = {"stroke": "#000", "stroke_width": str(LINE_MM)}
    for d in of.outlines:
        pen.shape(d, matrix, fill="#fff", **look)
    for d in of.strokes:
        pen.shape(d, matrix, fill="none", **look)
    for d in of.solids:
        pen.shape(d, matrix, fill="#000")
    if of.letter:
        # Upright whatever way the wall looks: the letter's middle is turned with the glyph, the letter is not.
        middle = of.letter_at + 0.36 * of.letter_size
        place = (foot[0] + away[0] * middle * s, foot[1] + away[1] * middle * s - 0.36 * of.letter_size * s)
        pen.text(place, of.letter, of.letter_size)


def draw_centred(pen: Pen, of: Glyph, centre: XY) -> None:
    """Draw a glyph upright about a place: on ceilings, floors, soffits and in legends."""
    draw_glyph(pen, of, (centre[0], centre[1] - of.height / 2 * pen.scale), (0.0, 1.0))
