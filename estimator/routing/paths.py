"""Draws a route: a chain of nodes of the graph goes in, its `Path` with pieces and passages comes out."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from estimator.routing.graph import Graph, Step
from estimator.routing.model import XYZ, Passage, Path, Piece
from estimator.routing.rectangles import Flat
from estimator.routing.slopes import Slope

Drawn = list[Piece | Passage]


def draw(graph: Graph, nodes: Sequence[int], start: XYZ, end: XYZ) -> Path:
    """The path along `nodes`, from `start` to `end` (building coordinates of the two terminals)."""
    items: Drawn = []
    for step, forward in _steps(graph, nodes):
        traced = list(step.trace())
        items += traced if forward else _turned(traced)
    pieces = _merged(item for item in items if isinstance(item, Piece))
    passages = tuple(item for item in items if isinstance(item, Passage))
    length = sum(piece.length_mm for piece in pieces)
    return Path(length, _corners(pieces, start, end), pieces, passages)


def reverse(path: Path) -> Path:
    """The same path from its other end."""
    pieces = tuple(_turned_piece(piece) for piece in reversed(path.pieces))
    return Path(path.length_mm, tuple(reversed(path.points)), pieces, tuple(reversed(path.passages)))


def _steps(graph: Graph, nodes: Sequence[int]) -> list[tuple[Step, bool]]:
    """The steps of a chain, each with whether it is drawn in this direction; ways through one void made one."""
    result: list[tuple[Step, bool]] = []
    for one, other in pairwise(nodes):
        edge = graph.edge(one, other)
        step, forward = edge.step, edge.start == graph.spots[one]
        if isinstance(step, Flat | Slope) and not forward:
            step, forward = step.turned(), True
        joined = _joined(result[-1][0], step) if result else None
        if joined:
            result[-1] = joined, True
        else:
            result.append((step, forward))
    return result


def _joined(first: Step, second: Step) -> Step | None:
    if isinstance(first, Flat) and isinstance(second, Flat):
        return first.then(second)
    if isinstance(first, Slope) and isinstance(second, Slope):
        return first.then(second)
    return None


def _turned(items: Drawn) -> Drawn:
    return [_turned_piece(item) if isinstance(item, Piece) else item for item in reversed(items)]


def _turned_piece(piece: Piece) -> Piece:
    return Piece(piece.kind, piece.room, piece.wall, piece.void, piece.end, piece.start, piece.length_mm)


def _merged(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """Pieces with no length left out, neighbours of one kind in one place and direction made one."""
    result: list[Piece] = []
    for piece in pieces:
        if not piece.length_mm:
            continue
        if result and _goes_on(result[-1], piece):
            length = result[-1].length_mm + piece.length_mm
            result[-1] = replace(result[-1], end=piece.end, length_mm=length)
        else:
            result.append(piece)
    return tuple(result)


def _goes_on(last: Piece, piece: Piece) -> bool:
    same = (last.kind, last.room, last.wall, last.void) == (piece.kind, piece.room, piece.wall, piece.void)
    if same and piece.kind == "lane":
        return True  # one wall is straight, though places on a sloping one are rounded to whole mm
    return same and _straight_on(last.start, last.end, piece.end)


def _straight_on(first: XYZ, middle: XYZ, last: XYZ) -> bool:
    """Whether going on from `middle` to `last` keeps the direction exactly."""
    a = tuple(q - p for p, q in zip(first, middle, strict=True))
    b = tuple(q - p for p, q in zip(middle, last, strict=True))
    crossed = (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
    return crossed == (0, 0, 0) and sum(p * q for p, q in zip(a, b, strict=True)) > 0


def _corners(pieces: Sequence[Piece], start: XYZ, end: XYZ) -> tuple[XYZ, ...]:
    """Both ends and every change of direction."""
    points = [start]
    for piece in pieces:
        if piece.end == points[-1]:
            continue
        if len(points) > 1 and _straight_on(points[-2], points[-1], piece.end):
            points[-1] = piece.end
        else:
            points.append(piece.end)
    return tuple(points) if len(points) > 1 else (start, end)
