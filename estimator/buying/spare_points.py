"""How many more points of each kind fit what is bought: margins and kits in, a number for each kind out."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.buying.margins import margins
from estimator.buying.model import Order
from estimator.catalogue.model import Catalogue
from estimator.job.model import NO_CIRCUIT, Group, Job
from estimator.rounding import floor
from estimator.takeoff.model import TakeOff

ENDS_OF_A_LEG = 2
"""One more point on a circuit is one more leg: two ends, one of them or both at points of its kind."""


@dataclass(frozen=True, slots=True)
class SparePoint:
    """`fits` more points of a kind can be fitted from what is bought, cable and timber apart; `first_out` then runs out."""

    kind: str
    fits: int
    first_out: str


def spare_points(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> tuple[SparePoint, ...]:
    """For every kind of point in the job, by kind; a kind whose kit has nothing counted in pieces is left out.

    Counts the rows of its kit for each point and each cable end at it, with their waste; each kind for itself, as if all
    that is spare were for it. Ties: of parts that run out together the first by name.
    """
    spare = {margin.part: margin.spare for margin in margins(job, catalogue, takeoff, order)}
    found = []
    for kind in sorted({group.kind for group in job.groups}):
        ends = max(_ends(job, group) for group in job.groups if group.kind == kind)
        wanted = _wanted(catalogue, kind, ends)
        if wanted:
            found.append(_fitting(kind, wanted, spare))
    return tuple(found)


def _fitting(kind: str, wanted: Mapping[str, Fraction], spare: Mapping[str, Decimal]) -> SparePoint:
    counts = [(floor(Fraction(spare.get(part, Decimal(0))) / each), part) for part, each in wanted.items()]
    fits, part = min(counts)
    return SparePoint(kind, fits, part)


def _wanted(catalogue: Catalogue, kind: str, ends: int) -> dict[str, Fraction]:
    """What one more point takes of each part sold by the piece, with waste."""
    wanted: dict[str, Fraction] = {}
    times = {"point": 1, "entry": ends}
    for row in catalogue.kits.get(catalogue.points[kind].kit, ()):
        part = catalogue.parts[row.part]
        each = Fraction(row.quantity) * times.get(row.per, 0) * (1 + Fraction(part.waste))
        if each and part.sold_as == "piece":
            wanted[row.part] = wanted.get(row.part, Fraction(0)) + each
    return wanted


def _ends(job: Job, group: Group) -> int:
    """Cable ends that one more point of the group brings: none for a box alone, one at the end of a run or of its own
    cable in a star, else two.
    """
    if group.circuit == NO_CIRCUIT:
        return 0
    wiring = {circuit.name: circuit.wiring for circuit in job.circuits}
    if group.circuit is not None:
        return 1 if wiring[group.circuit] == "star" else ENDS_OF_A_LEG
    controlled = {point for control in job.controls for point in (*control.buttons, control.start)}
    mine = any(point.rstrip("0123456789") == group.name for point in controlled)
    return ENDS_OF_A_LEG if mine else 1
