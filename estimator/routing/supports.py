"""Supports: a cable and its path go in; how many clips (or notches) hold it on risers and along joists comes out."""

from decimal import Decimal
from fractions import Fraction
from typing import Literal

from estimator.catalogue.model import Cable, Catalogue, Cell
from estimator.checks.model import Finding
from estimator.job.model import Job, Room
from estimator.rounding import ceil
from estimator.routing.model import Path, Piece

Direction = Literal["horizontal", "vertical"]
TABLE = "clip-spacing"
SUPPORTS = ("clip", "groove", "none")


def supports(job: Job, catalogue: Catalogue, cable: Cable, path: Path) -> int:
    """How many supports a path needs: for each straight piece up a riser or along joists, ceil(length / spacing).

    Pieces on lanes, across joists and through walls lie in holes and have none. A wall's `support = "none"` counts
    none, `groove` as many as clips. A void has no wall: the support that most walls of its room have counts there, of
    equally many `clip` before `groove` before `none`. No spacing in the tables: none (see `support_findings`).
    """
    return sum(_on_piece(job, catalogue, cable, piece) for piece in path.pieces)


def _on_piece(job: Job, catalogue: Catalogue, cable: Cable, piece: Piece) -> int:
    direction = direction_of(piece)
    if direction is None or _support(job.room(piece.room), piece.wall) == "none":
        return 0
    spacing_mm = spacing(catalogue, job.ruleset, cable, direction)
    return 0 if spacing_mm is None else ceil(Fraction(piece.length_mm) / Fraction(spacing_mm))


def direction_of(piece: Piece) -> Direction | None:
    """How the piece runs where it is held by supports; None where holes hold it."""
    if piece.kind == "riser":
        return "vertical"
    return "horizontal" if piece.kind == "along-joists" else None


def _support(room: Room, wall: str) -> str:
    if wall:
        return room.frame(wall).support
    of_walls: list[str] = [frame.support for frame in room.frames]
    return max(SUPPORTS, key=lambda support: (of_walls.count(support), -SUPPORTS.index(support)))


def column(cable: Cable, direction: Direction) -> str:
    """The column of the table that holds for a cable: armoured ones have their own."""
    return f"{'armoured' if cable.metal == 'armour' else 'pvc'}-{direction}"


def spacing(catalogue: Catalogue, ruleset: str, cable: Cable, direction: Direction) -> Decimal | None:
    """The most that two supports may stand apart, mm, by the width of the cable.

    Above the widest band the widest band counts; None where the ruleset has no such table.
    """
    name = column(cable, direction)
    band = catalogue.band(ruleset, TABLE, name, cable.width_mm) or _widest(catalogue, ruleset, name)
    return band.value if band else None


def _widest(catalogue: Catalogue, ruleset: str, name: str) -> Cell | None:
    rows = [key[2] for key in catalogue.cells if (key[0], key[1], key[3]) == (ruleset, TABLE, name)]
    return catalogue.cells[ruleset, TABLE, max(rows, key=Decimal), name] if rows else None


def support_findings(job: Job, catalogue: Catalogue, laid: tuple[tuple[str, Path], ...]) -> tuple[Finding, ...]:
    """What there is to say about spacings that the tables do not hold: one finding per cable and direction.

    `laid` is every cable (its code) with a path it takes.
    """
    pairs = {
        (cable, direction)
        for cable, path in laid
        for piece in path.pieces
        if (direction := direction_of(piece)) is not None
    }
    told = (_told(catalogue, job.ruleset, catalogue.cables[cable], way) for cable, way in sorted(pairs))
    return tuple(finding for finding in told if finding is not None)


def _told(catalogue: Catalogue, ruleset: str, cable: Cable, direction: Direction) -> Finding | None:
    name = column(cable, direction)
    if catalogue.band(ruleset, TABLE, name, cable.width_mm) is not None:
        return None
    widest = _widest(catalogue, ruleset, name)
    if widest is None:
        words = f'tables.csv has no "{TABLE}" row for ruleset "{ruleset}", column {name}: no supports counted'
        return Finding("support-spacing", "unchecked", cable.cable, words)
    words = (
        f"{cable.width_mm} mm wide, above the widest row of {TABLE} ({widest.row} mm): "
        f"supports counted at its {widest.value} mm; give the maker's figure as a row"
    )
    limit = Decimal(widest.row)
    return Finding(
        "support-spacing", "unchecked", cable.cable, words, cable.width_mm, limit, "mm", widest.source, widest.edition
    )
