"""The key of a plan, in parts: symbols in use, cables by letter, and what the other marks mean; drawn at 1:1."""

from collections.abc import Callable, Sequence

from estimator.documents.words import metres
from estimator.drawings.cables import DOT_MM, LINE_MM, dash
from estimator.drawings.shell import HAIR_MM, THIN_MM
from estimator.drawings.storey import Storey
from estimator.drawings.svg import CABLE, GREY, INK, LIGHT, Drawing, Pen, finished, fitted_text, root
from estimator.drawings.symbols import Glyph, draw_centred, glyph
from estimator.result import Estimate

WIDTH_MM = 80.0
ROW_MM, HEAD_MM, TEXT_MM, SMALL_MM = 4.3, 5.6, 2.4, 2.1
PICTURE_MM = 13.0

Row = tuple[Callable[[Pen, float], None], str, str]
"""What draws the picture at the middle of a row, the words, and small words at the right."""


def keys(estimate: Estimate, laid: Storey, prefix: str) -> tuple[Drawing, ...]:
    """The parts of the key of one storey, in the order in which they are read."""
    parts = (("Symbols", _symbols(estimate, laid)), ("Cables", _cables(estimate, laid)), ("Marks", _marks(laid)))
    return tuple(_part(f"{prefix}-{index}", title, rows) for index, (title, rows) in enumerate(parts, 1) if rows)


def _part(prefix: str, title: str, rows: Sequence[Row]) -> Drawing:
    height = HEAD_MM + ROW_MM * len(rows) + 1
    desc = "; ".join(f"{words} {small}".strip() for _, words, small in rows)
    element = root(WIDTH_MM, height, 1, (0, 0), prefix, title, desc)
    pen = Pen(element, 1)
    pen.text((0, -3.6), title, 2.9, "start", bold=True)
    pen.line([(0, -HEAD_MM + 1), (WIDTH_MM, -HEAD_MM + 1)], THIN_MM)
    for index, (picture, words, small) in enumerate(rows):
        y = -(HEAD_MM + ROW_MM * index + ROW_MM / 2)
        picture(pen, y)
        room = WIDTH_MM - PICTURE_MM - (len(small) * SMALL_MM * 0.6 + 1 if small else 0)
        pen.text((PICTURE_MM, y - 0.36 * TEXT_MM), fitted_text(words, TEXT_MM, room), TEXT_MM, "start")
        if small:
            pen.text((WIDTH_MM, y - 0.36 * SMALL_MM), small, SMALL_MM, "end", GREY)
        pen.line([(PICTURE_MM, y - ROW_MM / 2), (WIDTH_MM, y - ROW_MM / 2)], HAIR_MM, LIGHT)
    return finished(element, WIDTH_MM, height, 1, title)


def _symbols(estimate: Estimate, laid: Storey) -> list[Row]:
    """Kinds in use on this storey by label, with the names of their groups; boards first."""
    rooms = set(laid.around)
    rows: list[Row] = []
    boards = [board for board in estimate.setout.boards if board.room in rooms]
    if boards:
        rows.append(
            (_glyph(glyph("board")), "Board", fitted_text(", ".join(board.name for board in boards), SMALL_MM, 30))
        )
    groups: dict[str, dict[str, None]] = {}
    for point in estimate.setout.points:
        if point.room in rooms:
            groups.setdefault(point.kind, {})[point.group] = None
    kinds = estimate.catalogue.points
    for label, kind in sorted((kinds[kind].label if kind in kinds else kind, kind) for kind in groups):
        symbol = kinds[kind].symbol if kind in kinds else kind
        rows.append((_glyph(glyph(symbol)), label, fitted_text(", ".join(groups[kind]), SMALL_MM, 30)))
    return rows


def _glyph(of: Glyph) -> Callable[[Pen, float], None]:
    return lambda pen, y: draw_centred(pen, of, (PICTURE_MM / 2 - 1, y))


def _cables(estimate: Estimate, laid: Storey) -> list[Row]:
    """Owners with cable on this storey, by letter: name, cable and metres of route (of a run: its length)."""
    arriving = {of.owner for outside in laid.outside.values() for of in outside.arrivals}
    told = {("circuit", of.name): (of.cable, of.route_mm) for of in estimate.routes.circuits}
    told |= {("control", of.name): (of.cable, sum(leg.route_mm for leg in of.legs)) for of in estimate.routes.controls}
    told |= {("run", of.name): (of.cable, of.length_mm) for of in estimate.routes.runs}
    rows: list[Row] = []
    for owner, letter in laid.letters.items():
        if owner in laid.cables or owner in arriving:
            cable, length = told[owner.sort, owner.name]
            rows.append(
                (
                    _sample(letter, dash(owner, laid.letters)),
                    owner.name,
                    f"{fitted_text(cable, SMALL_MM, 24)}, {metres(length, 1)} m",
                )
            )
    return rows


def _sample(letter: str, pattern: Sequence[float]) -> Callable[[Pen, float], None]:
    def picture(pen: Pen, y: float) -> None:
        pen.text((0, y - 0.36 * TEXT_MM), letter, TEXT_MM, "start", CABLE, bold=True)
        pen.line([(3, y), (PICTURE_MM - 1.5, y)], LINE_MM, CABLE, pattern)

    return picture


def _marks(laid: Storey) -> list[Row]:
    """The other marks in use, and what of the plan is not to scale."""
    openings = {opening.kind for shape in laid.shapes for opening in shape.room.openings}
    rows: list[Row] = []
    middle = PICTURE_MM / 2 - 1
    if laid.cables:
        rows.append((lambda pen, y: pen.circle((middle, y), DOT_MM, 0, fill=CABLE), "cable ends in this box", ""))
    if any(of.rings for of in laid.cables.values()):
        rows.append(
            (lambda pen, y: pen.circle((middle, y), DOT_MM, 0.2, colour=CABLE), "cable goes up or down here", "")
        )
    if any(shape.room.fitted for shape in laid.shapes):
        rows.append((_strip, "fitted there, from and to which height", ""))
    if any(shape.room.soffits for shape in laid.shapes):
        rows.append(
            (lambda pen, y: pen.line([(0, y), (PICTURE_MM - 2, y)], THIN_MM, GREY, (2, 1)), "edge of the soffit", "")
        )
    if "door" in openings:
        rows.append((_nothing, "Hinges and swing of doors are not in the job.", ""))
    rows.append((_nothing, "Side by side, cables are spread out to be seen.", ""))
    rows.append((_nothing, "Stems start where the middle of the box is.", ""))
    return rows


def _strip(pen: Pen, y: float) -> None:
    pen.polygon([(0, y - 1), (PICTURE_MM - 2, y - 1), (PICTURE_MM - 2, y + 1), (0, y + 1)], HAIR_MM, "#ececec", GREY)


def _nothing(pen: Pen, y: float) -> None:
    pen.text((PICTURE_MM / 2 - 1, y - 0.36 * TEXT_MM), "–", TEXT_MM, colour=INK)
