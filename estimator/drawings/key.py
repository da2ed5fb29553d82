"""The key of plans, in parts: symbols in use, cables by letter, and what the other marks mean.

Plans go in; rows of a small picture and words come out, which the page sets as text.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from math import ceil
from xml.etree.ElementTree import tostring

from estimator.documents.words import metres
from estimator.drawings.cables import DOT_MM, LINE_MM, dash
from estimator.drawings.shell import HAIR_MM, THIN_MM
from estimator.drawings.storey import Storey
from estimator.drawings.svg import CABLE, GREY, INK, Pen, picture_root, text_width
from estimator.drawings.symbols import Glyph, draw_centred, glyph
from estimator.result import Estimate

WIDTH_MM = 80.0
ROW_MM, HEAD_MM, PART_MM, TEXT_MM, SMALL_MM = 4.5, 6.2, 3.0, 2.5, 2.2
PICTURE_MM, HIGH_MM, AIR_MM = 14.0, 4.4, 0.9
BEARING_MM = 0.2
"""From the edge of a picture to its letter: some reach a little to the left of where they begin."""
"""Size of a picture, and the air between the longest letter and the samples of line."""

Picture = Callable[[Pen], None]


@dataclass(frozen=True, slots=True)
class KeyRow:
    """A picture as SVG text, what it stands for, and small words beside that."""

    picture: str
    words: str
    small: str = ""


@dataclass(frozen=True, slots=True)
class KeyPart:
    """One part of a key."""

    title: str
    rows: tuple[KeyRow, ...]

    @property
    def height_mm(self) -> float:
        """About how high it prints, on the high side."""
        room = WIDTH_MM - PICTURE_MM - 3
        lines = (
            ceil((text_width(row.words, TEXT_MM) + text_width(row.small, SMALL_MM)) * 0.9 / room) for row in self.rows
        )
        return HEAD_MM + ROW_MM * sum(lines) + PART_MM


def keys(estimate: Estimate, laid: Sequence[Storey]) -> tuple[KeyPart, ...]:
    """The parts of the key to some plans, in the order in which they are read."""
    parts = (("Symbols", _symbols(estimate, laid)), ("Cables", _cables(estimate, laid)), ("Marks", _marks(laid)))
    return tuple(KeyPart(title, tuple(rows)) for title, rows in parts if rows)


def kinds(estimate: Estimate, rooms: Iterable[str]) -> tuple[tuple[str, str, tuple[str, ...]], ...]:
    """The kinds of point in some rooms by label: label, word of its symbol, and the names of their groups."""
    wanted, groups = set(rooms), dict[str, dict[str, None]]()
    for point in estimate.setout.points:
        if point.room in wanted:
            groups.setdefault(point.kind, {})[point.group] = None
    known = estimate.catalogue.points
    named = sorted((known[kind].label if kind in known else kind, kind) for kind in groups)
    return tuple(
        (label, known[kind].symbol if kind in known else kind, tuple(sorted(groups[kind]))) for label, kind in named
    )


def _symbols(estimate: Estimate, laid: Sequence[Storey]) -> list[KeyRow]:
    """Kinds in use on these plans by label, with the names of their groups; boards first."""
    rooms = [room for of in laid if not of.bare for room in of.around]
    boards = [board.name for board in estimate.setout.boards if board.room in rooms]
    rows = [KeyRow(_glyph(glyph("board")), "Board", ", ".join(boards))] if boards else []
    return rows + [
        KeyRow(_glyph(glyph(symbol)), label, ", ".join(groups)) for label, symbol, groups in kinds(estimate, rooms)
    ]


def _cables(estimate: Estimate, laid: Sequence[Storey]) -> list[KeyRow]:
    """Owners with cable on these plans, by letter: name, cable and metres of route."""
    told = {("circuit", of.name): (of.cable, of.route_mm) for of in estimate.routes.circuits}
    told |= {("control", of.name): (of.cable, of.route_mm) for of in estimate.routes.controls}
    told |= {("run", of.name): (of.cable, of.route_mm) for of in estimate.routes.runs}
    used = {owner for of in laid if not of.bare for owner in of.part.owners}
    names = laid[0].letters if laid else {}
    shown = {owner: letter for owner, letter in names.items() if owner in used}
    start = max((3.0, *(text_width(letter, TEXT_MM) + AIR_MM for letter in shown.values())))
    rows = []
    for owner, letter in shown.items():
        cable, length = told[owner.sort, owner.name]
        picture = _sample(letter, dash(owner, names), start)
        rows.append(KeyRow(picture, owner.name, f"{cable}, {metres(length, 1)} m"))
    return rows


def _marks(laid: Sequence[Storey]) -> list[KeyRow]:
    """The other marks in use, and what of the plans is not to scale."""
    openings = {opening.kind for of in laid for shape in of.shapes for opening in shape.room.openings}
    rows = []
    if any(of.cables for of in laid):
        rows.append(KeyRow(_dot(filled=True), "cable ends in this box"))
    if any(one.rings for of in laid for one in of.cables.values()):
        rows.append(KeyRow(_dot(filled=False), "cable goes up or down here"))
    if any(not of.bare and of.part.inner for of in laid):
        rows.append(KeyRow(_comes(), "comes from outside by a way that the job does not tell"))
    if any(shape.room.fitted for of in laid for shape in of.shapes):
        rows.append(KeyRow(_strip(), "fitted there, from and to which height"))
    if any(shape.room.soffits for of in laid for shape in of.shapes):
        rows.append(KeyRow(_edge(), "edge of the soffit"))
    if "door" in openings:
        rows.append(KeyRow(_nothing(), "Hinges and swing of doors are not in the job."))
    if any(not of.bare for of in laid):
        rows.append(KeyRow(_nothing(), "Side by side, cables are spread out to be seen."))
        rows.append(KeyRow(_nothing(), "Stems start where the middle of the box is."))
    return rows


def _picture(draw: Picture) -> str:
    element = picture_root(PICTURE_MM, HIGH_MM)
    draw(Pen(element, 1))
    return tostring(element, encoding="unicode")


MIDDLE = PICTURE_MM / 2 - 1, -HIGH_MM / 2


def _glyph(of: Glyph) -> str:
    return _picture(lambda pen: draw_centred(pen, of, MIDDLE))


def _sample(letter: str, pattern: Sequence[float], start: float) -> str:
    """The letter, and clear of it a sample of the line; `start` is the same for all of a key, so that samples stand in line."""

    def draw(pen: Pen) -> None:
        y = MIDDLE[1]
        pen.text((BEARING_MM, y - 0.36 * TEXT_MM), letter, TEXT_MM, "start", CABLE, bold=True)
        pen.line([(start, y), (max(PICTURE_MM - 1, start + 4), y)], LINE_MM, CABLE, pattern)

    return _picture(draw)


def _dot(*, filled: bool) -> str:
    if filled:
        return _picture(lambda pen: pen.circle(MIDDLE, DOT_MM, 0, fill=CABLE))
    return _picture(lambda pen: pen.circle(MIDDLE, DOT_MM, 0.2, colour=CABLE))


def _comes() -> str:
    def draw(pen: Pen) -> None:
        x, y = MIDDLE
        pen.line([(x - 4, y), (x + 2, y)], LINE_MM * 1.5, CABLE)
        pen.polygon([(x + 4, y), (x + 1.8, y - 0.7), (x + 1.8, y + 0.7)], 0, fill=CABLE)

    return _picture(draw)


def _strip() -> str:
    low, high, far = MIDDLE[1] - 1, MIDDLE[1] + 1, PICTURE_MM - 2
    corners = [(0.1, low), (far, low), (far, high), (0.1, high)]
    return _picture(lambda pen: pen.polygon(corners, HAIR_MM, "#ececec", GREY))


def _edge() -> str:
    return _picture(lambda pen: pen.line([(0, MIDDLE[1]), (PICTURE_MM - 2, MIDDLE[1])], THIN_MM, GREY, (2, 1)))


def _nothing() -> str:
    return _picture(lambda pen: pen.text((MIDDLE[0], MIDDLE[1] - 0.36 * TEXT_MM), "–", TEXT_MM, colour=INK))
