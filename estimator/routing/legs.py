"""Legs: the ends of a cable, its path and the job's allowances go in; legs with length, cut and supports come out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Protocol

from estimator.building.model import Building
from estimator.catalogue.model import Cable, Catalogue
from estimator.job.model import Allowances, Job, KeepTo
from estimator.job.tree import address
from estimator.memory import NOTHING, Memory
from estimator.problems import Place, Problem, Refused, choose
from estimator.rounding import tenth_of_a_metre_up
from estimator.routing.model import Leg, Path, Use
from estimator.routing.supports import supports
from estimator.setout.model import PlacedBoard, Point, SetOut


class Ways(Protocol):
    """What routing asks of the network: costs of pairs, the path of a pair, and why a place is not reached."""

    def costs(self, names: Sequence[str], /) -> list[list[int | None]]:
        """A symmetric matrix of mm x HOLE_BASE + holes in the order of `names`; None where no path exists."""

    def costs_of(self, start: str, names: Sequence[str], /) -> list[int | None]:
        """The row of a start in the matrix that `costs` makes of `names`."""

    def path(self, start: str, end: str, /) -> Path | None:
        """The path whose cost `costs` tells."""

    def why_unreached(self, name: str, start: str, /) -> str:
        """In words, what keeps the network from getting from `start` to a place."""

    def kept_to(self, surfaces: KeepTo, /) -> "Ways":
        """The ways that are left to a circuit that keeps to some surfaces."""


@dataclass(frozen=True, slots=True)
class End:
    """A place where a cable may end: a point or a board.

    `order` is how nodes are sorted before a solver sees them: building z, y, x, then number; the name only settles what
    stands at one place with one number. `ends_allowed` is how many cable ends a tree may bring here.
    """

    name: str
    order: tuple[int, int, int, int, str]
    kind: str
    tail_mm: int
    ends_allowed: int
    outdoors: bool
    where: str
    place: Place


@dataclass(frozen=True, slots=True)
class Setting:
    """What every part of routing reads: the job, the catalogue, what stands where, and the network over it."""

    job: Job
    catalogue: Catalogue
    building: Building
    setout: SetOut
    ways: Ways
    ends: Mapping[str, End]
    keep_to: KeepTo = "any"
    memory: Memory = NOTHING

    def cable(self, name: str) -> Cable:
        """The catalogue's row of a cable."""
        return self.catalogue.cables[name]

    def kept_to(self, surfaces: KeepTo) -> "Setting":
        """The same with the ways alone that a circuit kept to some surfaces may take."""
        return replace(self, ways=self.ways.kept_to(surfaces), keep_to=surfaces)

    def group_of(self, point: str) -> str:
        """The name of the group of a point."""
        return next(one.group for one in self.setout.points if one.id == point)

    def in_order(self, names: Sequence[str]) -> tuple[str, ...]:
        """Names sorted by building coordinates, each once."""
        return tuple(sorted(dict.fromkeys(names), key=lambda name: self.ends[name].order))


@dataclass(frozen=True, slots=True)
class Step:
    """A leg that is still to be measured; `start` is the end nearer the board."""

    start: str
    end: str
    cable: str
    use: Use


def make_setting(
    job: Job, catalogue: Catalogue, building: Building, setout: SetOut, ways: Ways, memory: Memory = NOTHING
) -> Setting:
    """Everything routing reads, with each end's tail looked up.

    Raises:
        Refused: a kind of point or board names a tail that the job's allowances do not have.
    """
    places: tuple[PlacedBoard | Point, ...] = (*setout.boards, *setout.points)
    rows = [_tail(job.allowances, catalogue, place) for place in places]
    problems = [row for row in rows if isinstance(row, Problem)]
    if problems:
        raise Refused(problems)
    ends = [row for row in rows if isinstance(row, End)]
    return Setting(job, catalogue, building, setout, ways, {end.name: end for end in ends}, memory=memory)


def _tail(allowances: Allowances, catalogue: Catalogue, place: Point | PlacedBoard) -> End | Problem:
    if isinstance(place, Point):
        kind = catalogue.points[place.kind]
        name, number, allowed = place.id, place.number, kind.ends_allowed
        outdoors, where = kind.place_in_or_out == "out", address(("points", place.group))
        key, row = kind.tail, kind.place
    else:
        board = catalogue.boards[place.kind]
        name, number, allowed, outdoors, where = place.name, 0, 1, False, address(("board", place.name))
        key, row = board.tail, board.place
    known = dict(allowances.tails_mm)
    if key not in known:
        return Problem(row, "tail", f'"{key}" is no tail of [allowances]', choose(key, known))
    x, y, z = place.xyz_mm
    return End(name, (z, y, x, number, name), place.kind, known[key], allowed, outdoors, where, place.place)


def cut_mm(allowances: Allowances, length_mm: int) -> int:
    """What is cut off the drum for `length_mm`: length x (1 + waste) + extra, exact, then up to the next 0.1 m."""
    exact = Fraction(length_mm) * Fraction(Decimal(1) + allowances.cable_waste) + allowances.leg_extra_mm
    return tenth_of_a_metre_up(exact)


def walk(setting: Setting, start: str, end: str) -> Path:
    """The path between two ends that are known to be joined."""
    path = setting.ways.path(start, end)
    if path is None:
        raise LookupError(f"no path from {start} to {end}, though the network gave it a cost")
    return path


def write_legs(setting: Setting, owner: str, steps: Sequence[Step]) -> tuple[Leg, ...]:
    """The legs of one circuit or control in the order of `steps`; length = route + the tails of both ends."""
    seen: dict[tuple[str, str], int] = {}
    legs = []
    for step in steps:
        pair = (step.start, step.end)
        seen[pair] = seen.get(pair, 0) + 1
        again = f" ({seen[pair]})" if seen[pair] > 1 else ""
        legs.append(_leg(setting, f"{owner}: {step.start} to {step.end}{again}", owner, step))
    return tuple(legs)


def _leg(setting: Setting, name: str, owner: str, step: Step) -> Leg:
    path = walk(setting, step.start, step.end)
    length_mm = path.length_mm + setting.ends[step.start].tail_mm + setting.ends[step.end].tail_mm
    return Leg(
        id=name,
        owner=owner,
        start=step.start,
        end=step.end,
        cable=step.cable,
        use=step.use,
        route_mm=path.length_mm,
        planned_mm=length_mm,
        length_mm=length_mm,
        cut_mm=cut_mm(setting.job.allowances, length_mm),
        supports=supports(setting.job, setting.catalogue, setting.cable(step.cable), path),
        path=path,
    )
