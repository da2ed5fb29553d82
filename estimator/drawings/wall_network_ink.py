"""Plain strings of SVG for drawings of which there are many: places in real mm in, y up, paths and texts out.

A `Pen` makes an element of everything it draws; a page of fifty walls has thousands, so these are written down at once,
all lines of one look as one path. Looks are given in mm of paper and multiplied by the scale.
"""

from collections.abc import Iterable, Sequence
from html import escape

from estimator.drawings.dimensions import STROKE_MM
from estimator.drawings.svg import XY, num, printable


def mm(value: float) -> str:
    """A number of a place: whole ones need no rounding."""
    return str(int(value)) if value == int(value) else num(value)


def track(places: Sequence[XY]) -> str:
    """A line through places, as a part of a path."""
    return "M" + "L".join(f"{mm(x)} {mm(-y)}" for x, y in places)


def frame(low: float, high: float, foot: float, head: float) -> str:
    """A closed rectangle, as a part of a path."""
    return f"M{mm(low)} {mm(-foot)}H{mm(high)}V{mm(-head)}H{mm(low)}Z"


def ring(x: float, y: float, across: float) -> str:
    """A circle about a place, as a part of a path."""
    half = across / 2
    return f"M{mm(x - half)} {mm(-y)}a{mm(half)} {mm(half)} 0 1 0 {mm(across)} 0a{mm(half)} {mm(half)} 0 1 0 {mm(-across)} 0Z"


def slash(x: float, y: float, scale: int) -> str:
    """A stroke of 45 degrees through a place, as at the ends of dimensions, as a part of a path."""
    half = STROKE_MM / 2 * scale * 0.70711
    return track([(x - half, y - half), (x + half, y + half)])


def stroked(parts: Iterable[str], width: float, scale: int, colour: str, fill: str = "none", dash: str = "") -> str:
    """One path of parts; nothing where there are none. `dash` is in real mm, width 0 draws no line."""
    d = "".join(parts)
    if not d:
        return ""
    line = f' stroke="{colour}" stroke-width="{num(width * scale)}"' if width else ""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    return f'<path d="{d}" fill="{fill}"{line}{dashes}/>'


def dashes(pattern: Sequence[float], scale: int) -> str:
    """A pattern of dashes in mm of paper, as `stroked` takes it."""
    return " ".join(num(of * scale) for of in pattern)


def words(text: str, x: float, y: float, *, turned: bool = False) -> str:
    """A text with its foot (or its anchor) at a place, read upwards where `turned`; the layer has size and anchor."""
    inert = escape(printable(text), quote=False)
    if turned:
        return f'<text transform="translate({mm(x)} {mm(-y)})rotate(-90)">{inert}</text>'
    return f'<text x="{mm(x)}" y="{mm(-y)}">{inert}</text>'


def lettering(
    texts: Iterable[str], size: float, scale: int, anchor: str = "start", colour: str = "", halo: float = 0
) -> str:
    """A layer of texts of one look; nothing where there are none. `halo` is the width of white round them."""
    inside = "".join(texts)
    if not inside:
        return ""
    look = f' font-size="{num(size * scale)}"'
    if anchor != "start":
        look += f' text-anchor="{anchor}"'
    if colour:
        look += f' fill="{colour}"'
    if halo:
        look += f' paint-order="stroke" stroke="#fff" stroke-width="{num(2 * halo * scale)}" stroke-linejoin="round"'
    return f"<g{look}>{inside}</g>"
