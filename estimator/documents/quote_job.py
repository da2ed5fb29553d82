"""What is wired, as rows of text: an `Estimate` goes in; circuits, controls, runs and groups of points come out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from itertools import groupby
from types import MappingProxyType

from estimator.documents import words
from estimator.drawings.letters import Owner, letters
from estimator.job.model import Group
from estimator.result import Estimate
from estimator.rounding import metres
from estimator.routing.model import CircuitRoute, RunRoute, Use
from estimator.setout.model import Point
from estimator.takeoff.labels import ids_as_text

CENTIMETRE = Decimal("0.01")
USES: Mapping[Use, str] = MappingProxyType(
    {"feed": "feed", "switched": "to lights", "strapper": "straps", "control": "control"}
)
"""What a leg is for, as it is told beside its cable."""
NAMED = 3
"""Of more cables than this at one group, letters are told in place of names."""


@dataclass(frozen=True, slots=True)
class CircuitRow:
    """One circuit as printed; `metres` of route, `with_tails` with the tails at every end."""

    letter: str
    name: str
    board: str
    wiring: str
    cables: tuple[str, ...]
    device: str
    points: str
    metres: str
    with_tails: str
    proven: str


def circuit_rows(estimate: Estimate) -> tuple[CircuitRow, ...]:
    """Circuits by name."""
    marks = letters(estimate.routes)
    given = {circuit.name: circuit for circuit in estimate.job.circuits}
    return tuple(
        CircuitRow(
            marks[Owner("circuit", of.name)],
            of.name,
            of.board,
            of.wiring,
            _cables(of),
            given[of.name].device,
            _ids(estimate, of.sequence),
            _metres(of.route_mm),
            _metres(of.length_mm),
            "yes" if of.proven else f"no; at least {_metres(of.bound_mm)} m",
        )
        for of in sorted(estimate.routes.circuits, key=lambda of: of.name)
    )


def _cables(of: CircuitRoute) -> tuple[str, ...]:
    """The circuit's cable, then what else it is wired in, with what that is for."""
    others = dict.fromkeys((leg.cable, leg.use) for leg in of.legs if leg.cable != of.cable)
    return (of.cable, *(f"{cable} {USES[use]}" for cable, use in others))


def _metres(length_mm: int) -> str:
    """Metres with two decimals, so that a column of them stands in line."""
    return f"{metres(length_mm).quantize(CENTIMETRE, rounding=ROUND_HALF_UP):f}"


def _ids(estimate: Estimate, ids: Sequence[str]) -> str:
    wanted = set(ids)
    return ids_as_text((point.group, point.number) for point in estimate.setout.points if point.id in wanted)


@dataclass(frozen=True, slots=True)
class ControlRow:
    """One control as printed."""

    letter: str
    name: str
    cable: str
    loop: str
    drops: str
    metres: str
    with_tails: str


def control_rows(estimate: Estimate) -> tuple[ControlRow, ...]:
    """Controls by name."""
    marks = letters(estimate.routes)
    return tuple(
        ControlRow(
            marks[Owner("control", of.name)],
            of.name,
            of.cable,
            ", ".join((of.board, *(leg.end for leg in of.legs))),
            ", ".join(of.drops),
            _metres(of.route_mm),
            _metres(of.length_mm),
        )
        for of in sorted(estimate.routes.controls, key=lambda of: of.name)
    )


@dataclass(frozen=True, slots=True)
class RunRow:
    """One run as printed; `metres` of route (with rises), `with_tails` with the tails at both ends."""

    letter: str
    name: str
    cable: str
    ends: str
    way: str
    metres: str
    with_tails: str


def run_rows(estimate: Estimate) -> tuple[RunRow, ...]:
    """Runs by name, with what they lie in."""
    marks = letters(estimate.routes)
    return tuple(
        RunRow(
            marks[Owner("run", of.name)],
            of.name,
            of.cable,
            f"{_place(of.start)} to {_place(of.end)}",
            _way(of, estimate),
            _metres(of.route_mm),
            _metres(of.length_mm),
        )
        for of in sorted(estimate.routes.runs, key=lambda of: of.name)
    )


def _place(end: str) -> str:
    return end.removeprefix("outside:").strip()


def _way(run: RunRoute, estimate: Estimate) -> str:
    given = next(of for of in estimate.job.runs if of.name == run.name)
    if not given.stretches:
        return "through the rooms"
    return ", ".join(
        f"{words.metres(of.length_mm)} m {'in the building' if of.trench is None else f'in trench {of.trench}'}"
        for of in given.stretches
    )


@dataclass(frozen=True, slots=True)
class GroupRow:
    """One group of points as printed; places in mm."""

    name: str
    label: str
    fed_by: str
    count: str
    places: tuple[str, ...]


def group_rows(estimate: Estimate) -> tuple[GroupRow, ...]:
    """Groups by name, each with its places: walls in the order of the points."""
    found = []
    for name, points in groupby(
        sorted(estimate.setout.points, key=lambda of: (of.group, of.number)), lambda of: of.group
    ):
        mine = tuple(points)
        kind = estimate.catalogue.points.get(mine[0].kind)
        found.append(
            GroupRow(
                name,
                kind.label if kind else mine[0].kind,
                _fed_by(estimate, estimate.job.group(name), mine),
                str(len(mine)),
                tuple(_places(mine, len(estimate.job.rooms))),
            )
        )
    return tuple(found)


def _fed_by(estimate: Estimate, group: Group, points: Sequence[Point]) -> str:
    if group.circuit not in (None, "none"):
        return str(group.circuit)
    ids = {point.id for point in points}
    owners = [Owner("control", of.name) for of in estimate.job.controls if ids & {of.start, *of.buttons}]
    owners += [Owner("run", of.name) for of in estimate.job.runs if ids & {of.start, of.end}]
    if len(owners) > NAMED:
        return f"{len(owners)} cables: {_lettered(estimate, owners)}"
    return ", ".join(sorted({of.name for of in owners})) or "box only"


def _lettered(estimate: Estimate, owners: Sequence[Owner]) -> str:
    """The letters of owners, neighbours drawn together."""
    marks = letters(estimate.routes)
    order = list(marks)
    texts = []
    for _, found in groupby(enumerate(sorted(map(order.index, owners))), key=lambda of: of[1] - of[0]):
        mine = [marks[order[index]] for _, index in found]
        texts.append(f"{mine[0]} to {mine[-1]}" if len(mine) > 2 else ", ".join(mine))
    return ", ".join(texts)


def _places(points: Iterable[Point], rooms: int) -> Iterable[str]:
    """One text for each stretch of points on one surface of a room at one height; rooms are named where there are several."""
    for (room, surface, height), mine in groupby(points, key=lambda of: (of.room, of.surface, of.height_mm)):
        of = tuple(mine)
        where = f"{room}, " if rooms > 1 else ""
        if surface in ("ceiling", "floor"):
            spots = "; ".join(f"{point.at[0]}, {point.at[1]}" for point in of)
            yield f"{where}{surface}, x and y from the lowest: {spots}"
        elif surface == "soffit":
            yield f"{where}soffit of {'; '.join(_along(of))}"
        else:
            yield f"{where}{'outside, ' if surface == 'outside' else ''}{height} up: {'; '.join(_along(of))}"


def _along(points: Iterable[Point]) -> Iterable[str]:
    """Wall by wall how far along it the points are; of a soffit, how far out."""
    for (wall, out), mine in groupby(points, key=lambda of: (of.wall, of.out_mm if of.surface == "soffit" else None)):
        spots = ", ".join(str(point.along_mm) for point in mine)
        yield f"{wall} {spots}" if out is None else f"{wall}, {out} out: {spots}"
