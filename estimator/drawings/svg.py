"""Small helpers over `xml.etree.ElementTree` for drawings: numbers, shapes and texts in, elements and SVG text out.

A `Pen` draws in the real millimetres of the building (x to the right, y to the back, which is up on paper); what has
its size on paper, such as text and line widths, is given in millimetres of paper and multiplied by the scale. Numbers
are written with at most three decimals, so that the same drawing is the same bytes everywhere.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import Literal
from xml.etree.ElementTree import Element, SubElement, tostring

Number = int | float | Decimal
XY = tuple[float, float]
Anchor = Literal["start", "middle", "end"]

INK, GREY, LIGHT, CABLE = "#000", "#595959", "#b4b4b4", "#6a2b57"
FONT = "'Helvetica Neue', Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif"

_REPLACEMENT = "\N{REPLACEMENT CHARACTER}"
# Marks that turn the direction of what follows them: they could make a page show other figures than it holds.
_TURNING = r"\u202a-\u202e\u2066-\u2069\u200e\u200f\u061c"
_BARRED = re.compile(rf"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ud800-\udfff\ufffe\uffff{_TURNING}]")
# Widths over the size of the type, of a wide sans serif, so that what is made to fit fits in a narrower one too.
_NARROW, _WIDE = frozenset("iljtfrI.,:;'|!()[] -"), frozenset("mwMW@%—…")


@lru_cache(maxsize=4096)
def num(value: Number) -> str:
    """A number with at most three decimals and no idle noughts: `12`, `0.35`, `-3.333`."""
    text = f"{value:.3f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def printable(text: str) -> str:
    """`text` with every character that no XML may hold, or that turns the direction of writing, replaced by U+FFFD."""
    return text if text.isascii() and text.isprintable() else _BARRED.sub(_REPLACEMENT, text)


@lru_cache(maxsize=1024)
def text_width(text: str, size: float) -> float:
    """About how wide a text comes out, on the wide side, in the unit of `size`."""
    return sum(0.36 if of in _NARROW else 0.92 if of in _WIDE else 0.75 if of.isupper() else 0.63 for of in text) * size


def fitted_text(text: str, size: float, room: float) -> str:
    """`text`, cut short with an ellipsis where it would not fit into `room`."""
    if text_width(text, size) <= room:
        return text
    while text and text_width(f"{text}…", size) > room:
        text = text[:-1]
    return f"{text.rstrip()}…"


def wrapped_text(text: str, size: float, room: float, most: int) -> tuple[str, ...]:
    """`text` in at most so many lines that fit into `room`, broken at spaces; what does not fit is cut with an ellipsis."""
    lines = [""]
    for word in text.split():
        longer = f"{lines[-1]} {word}".strip()
        if text_width(longer, size) <= room or not lines[-1] or len(lines) == most:
            lines[-1] = longer
        else:
            lines.append(word)
    return tuple(fitted_text(line, size, room) for line in lines)


@dataclass(frozen=True, slots=True)
class Drawing:
    """One drawing: its SVG text, its size on paper in mm, its scale (1 to so many) and its title."""

    svg: str
    width_mm: float
    height_mm: float
    scale: int
    title: str


def root(width_mm: float, height_mm: float, scale: int, corner: XY, prefix: str, title: str, desc: str) -> Element:
    """An `svg` element of that size on paper; `corner` is the left top of its view box, in real mm with y downwards."""
    element = Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{num(width_mm)}mm",
            "height": f"{num(height_mm)}mm",
            "viewBox": " ".join(num(of) for of in (*corner, width_mm * scale, height_mm * scale)),
            "role": "img",
            "aria-labelledby": f"{prefix}-title {prefix}-desc",
            "font-family": FONT,
        },
    )
    SubElement(element, "title", {"id": f"{prefix}-title"}).text = printable(title)
    SubElement(element, "desc", {"id": f"{prefix}-desc"}).text = printable(desc)
    return element


def picture_root(width_mm: float, height_mm: float) -> Element:
    """An `svg` element at 1:1 that only repeats what the words beside it say: those who listen do not hear of it."""
    return Element(
        "svg",
        {
            "xmlns": "http://www.w3.org/2000/svg",
            "width": f"{num(width_mm)}mm",
            "height": f"{num(height_mm)}mm",
            "viewBox": f"0 0 {num(width_mm)} {num(height_mm)}",
            "aria-hidden": "true",
            "font-family": FONT,
        },
    )


def finished(element: Element, width_mm: float, height_mm: float, scale: int, title: str) -> Drawing:
    """The drawing that an element has become."""
    return Drawing(tostring(element, encoding="unicode"), round(width_mm, 3), round(height_mm, 3), scale, title)


class Pen:
    """Draws into one layer: places in real mm, y up; widths, sizes and dashes in mm of paper."""

    def __init__(self, parent: Element, scale: int, layer: str = "", **look: str) -> None:
        """Open a layer with the id `layer` (none where empty); `look` are attributes that all of it shares."""
        attributes = {"id": layer} if layer else {}
        attributes |= {name.replace("_", "-"): value for name, value in look.items()}
        self.element = SubElement(parent, "g", attributes)
        self.scale = scale

    def line(self, places: Sequence[XY], width: float, colour: str = INK, dash: Sequence[float] = ()) -> None:
        """A line through `places`."""
        self.paths((places,), width, colour, dash)

    def paths(
        self, lines: Iterable[Sequence[XY]], width: float, colour: str = INK, dash: Sequence[float] = (), **more: str
    ) -> Element:
        """Several lines as one path; each starts its dashes anew."""
        d = " ".join("M" + "L".join(self._place(place) for place in places) for places in lines)
        return self._path(d, width, colour, dash, **more)

    def polygon(self, corners: Sequence[XY], width: float, fill: str = "none", colour: str = INK) -> None:
        """A closed line round `corners`; width 0 draws none."""
        self._path(
            "M" + "L".join(self._place(place) for place in corners) + "Z",
            width,
            colour if width else "none",
            (),
            fill=fill,
        )

    def circle(self, centre: XY, radius: float, width: float, fill: str = "none", colour: str = INK) -> None:
        """A circle of that radius on paper."""
        look = {"cx": num(centre[0]), "cy": num(-centre[1]), "r": num(radius * self.scale), "fill": fill}
        if width:
            look |= {"stroke": colour, "stroke-width": num(width * self.scale)}
        SubElement(self.element, "circle", look)

    def shape(self, d: str, matrix: Sequence[float], **look: str) -> None:
        """A path in its own coordinates, brought in place by a matrix of SVG."""
        attributes = {"d": d, "transform": f"matrix({' '.join(_fine(of) for of in matrix)})"}
        SubElement(self.element, "path", attributes | {name.replace("_", "-"): value for name, value in look.items()})

    def text(
        self,
        place: XY,
        words: str,
        size: float,
        anchor: Anchor = "middle",
        colour: str = INK,
        *,
        bold: bool = False,
        halo: float = 0,
        along: XY | None = None,
    ) -> None:
        """A text with its foot at `place`; `halo` is the width of white round it, `along` the direction it is read in."""
        look = {"font-size": num(size * self.scale), "fill": colour}
        if anchor != "start":
            look["text-anchor"] = anchor
        if bold:
            look["font-weight"] = "700"
        if halo:
            look |= {
                "paint-order": "stroke",
                "stroke": "#fff",
                "stroke-width": num(2 * halo * self.scale),
                "stroke-linejoin": "round",
            }
        if along is None:
            look |= {"x": num(place[0]), "y": num(-place[1])}
        else:
            look["transform"] = (
                "matrix("
                + " ".join(_fine(of) for of in (along[0], -along[1], along[1], along[0], place[0], -place[1]))
                + ")"
            )
        SubElement(self.element, "text", look).text = printable(words)

    def _place(self, place: XY) -> str:
        return f"{num(place[0])} {num(-place[1])}"

    def _path(self, d: str, width: float, colour: str, dash: Sequence[float], **more: str) -> Element:
        look = {"d": d, "fill": "none", "stroke": colour} | {
            name.replace("_", "-"): value for name, value in more.items()
        }
        if width:
            look["stroke-width"] = num(width * self.scale)
        if dash:
            look["stroke-dasharray"] = " ".join(num(of * self.scale) for of in dash)
        return SubElement(self.element, "path", look)


def _fine(value: float) -> str:
    """A number of a matrix: six decimals, since it is multiplied by lengths."""
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
