"""What a job needs of every part: a take-off in, needs by part out."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.job.model import Stage
from estimator.problems import Place
from estimator.takeoff.model import CutPiece, Quantity, TakeOff

STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")


@dataclass(frozen=True, slots=True)
class Need:
    """All of one part that the job needs, at every stage; `stage` is the first that needs it."""

    part: str
    stage: Stage
    with_waste: Decimal
    place: Place
    pieces: tuple[CutPiece, ...]


def needs_of(takeoff: TakeOff) -> tuple[Need, ...]:
    """What must be bought, by part."""
    by_part: dict[str, list[Quantity]] = {}
    for quantity in takeoff.quantities:
        if quantity.with_waste:
            by_part.setdefault(quantity.part, []).append(quantity)
    return tuple(
        Need(
            part,
            min((row.stage for row in rows), key=STAGES.index),
            sum((row.with_waste for row in rows), Decimal(0)),
            next((place for row in rows for place in row.source), Place("")),
            tuple(piece for piece in takeoff.pieces if piece.part == part),
        )
        for part, rows in sorted(by_part.items())
    )
