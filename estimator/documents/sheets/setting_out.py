"""The sheet Set-out: where every box, board and noggin goes, for a tape and a pencil; no trade figure is made here."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.catalogue.model import BoardKind, PointKind
from estimator.documents.key import SET_OUT
from estimator.documents.sheets.looks import GENERAL, GROUP, PLAIN, QUIET, RULED, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.result import Estimate
from estimator.setout.model import Noggin, PlacedBoard, Point

HEADS = (
    "Id",
    "What",
    "Room",
    "Wall or face",
    "From the\nleft end",
    "Centre\nheight",
    "Bottom\nof box",
    "Plan x",
    "Plan y",
    "Out from\nwall",
    "Moved",
    "Noggin\nlength",
    "Set-back",
    "Spacer\nbehind",
)
ID, WHAT, ROOM, WALL, ALONG, HEIGHT, BOTTOM, X, Y, OUT, MOVED, LENGTH, SETBACK, SPACER = range(14)
WIDTHS = (11, 28, 14, 14, 9, 9, 9, 9, 9, 9, 9, 9, 9, 9)
RIGHT_HEADS = tuple(range(ALONG, SPACER + 1))
NOTE = (
    "All in mm. Walls are seen from inside, clockwise from the back wall; from the left end and up from the room's finished "
    "floor, to the centre of the box. Ceilings and floors: plan x to the right from the left wall and plan y from the front wall, in rooms "
    "with corners from the origin of those corners. Moved: how far a point stands from its even place. Noggins: from the left end "
    "of the wall to that of the noggin; set-back from the inside face of the stud to the front of the noggin, with a spacer of that "
    "thickness behind it. A figure below nought: see Findings."
)
FACES = ("wall", "ceiling", "floor", "outside", "soffit")
"""All that is done inside a room first, then what is outside."""

Figure = Decimal | int | None


def write_set_out(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Set-out", NOTE, HEADS, RIGHT_HEADS)
    row = _group(page, FIRST_ROW, "Points and boards")
    placed = in_walking_order(estimate)
    for one in placed:
        _placed(page, estimate, row, one)
        row += 1
    if not placed:
        page.text(row, ID, "None.", QUIET)
        row += 1
    row = _group(page, row + 1, "Noggins")
    noggins = sorted(estimate.setout.noggins, key=lambda noggin: _room(estimate, noggin.room))
    for noggin in noggins:
        _noggin(page, estimate, row, noggin)
        row += 1
    if not noggins:
        page.text(row, ID, "None.", QUIET)
        row += 1
    page.finish(page.words(row, SET_OUT) - 1, SPACER)


def _group(page: Page, row: int, words: str) -> int:
    page.rule(row, SPACER, GROUP)
    page.text(row, ID, words, {**GROUP, "text_wrap": False})
    return row + 1


def in_walking_order(estimate: Estimate) -> Sequence[Point | PlacedBoard]:
    """Points and boards room by room: walls clockwise, each from its left end, then ceiling, floor, outside and soffits."""

    def key(of: Point | PlacedBoard) -> tuple[int, int, int, tuple[int, ...], str, int]:
        room = _room(estimate, of.room)
        names = estimate.job.rooms[room].wall_names
        wall = names.index(of.wall) if of.wall else -1
        if isinstance(of, PlacedBoard):
            return room, 0, wall, (of.along_mm, of.height_mm), of.name, 0
        where = (of.at[1], of.at[0]) if of.along_mm is None else (of.along_mm, of.height_mm or 0)
        return room, FACES.index(of.surface), wall, where, of.group, of.number

    return sorted((*estimate.setout.points, *estimate.setout.boards), key=key)


def _room(estimate: Estimate, name: str) -> int:
    return [room.name for room in estimate.job.rooms].index(name)


def _placed(page: Page, estimate: Estimate, row: int, of: Point | PlacedBoard) -> None:
    kind: PointKind | BoardKind | None
    flat = False
    if isinstance(of, PlacedBoard):
        kind, name, face = estimate.catalogue.boards.get(of.kind), of.name, of.wall
        out, moved = None, None
    else:
        kind, name, face = estimate.catalogue.points.get(of.kind), of.id, _face(of)
        out, moved, flat = of.out_mm, of.moved_mm, of.along_mm is None
    bottom = kind.bottom_mm(of.height_mm) if kind and of.height_mm is not None else None
    x, y = of.at[:2] if flat else (None, None)
    _words(page, row, (name, kind.label if kind else of.kind, of.room, face))
    figures = (
        (ALONG, of.along_mm),
        (HEIGHT, of.height_mm),
        (BOTTOM, bottom),
        (X, x),
        (Y, y),
        (OUT, out),
        (MOVED, moved),
    )
    _figures(page, row, figures)


def _face(point: Point) -> str:
    if point.surface == "wall":
        return point.wall or ""
    return f"{point.wall}, {point.surface}" if point.wall else point.surface


def _noggin(page: Page, estimate: Estimate, row: int, noggin: Noggin) -> None:
    part = estimate.catalogue.parts.get(noggin.part)
    words = (part.trade_name or part.description) if part else noggin.part
    _words(page, row, (", ".join(noggin.points), words, noggin.room, noggin.wall))
    figures = (
        (ALONG, noggin.left_mm),
        (HEIGHT, noggin.height_mm),
        (LENGTH, noggin.length_mm),
        (SETBACK, noggin.setback_mm),
        (SPACER, noggin.spacer_mm),
    )
    _figures(page, row, figures)


def _words(page: Page, row: int, words: Sequence[str]) -> None:
    page.rule(row, SPACER, RULED)
    for col, text in enumerate(words):
        page.text(row, col, text, RULED, WRAPPED)


def _figures(page: Page, row: int, figures: Sequence[tuple[int, Figure]]) -> None:
    for col, value in figures:
        if value is not None:
            page.number(row, col, value, RULED, PLAIN, GENERAL)
