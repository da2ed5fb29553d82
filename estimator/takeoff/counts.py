"""What is there to be counted: for every kit and `per`, how many, of what, in which room, and where it was written."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Protocol, TypeVar

from estimator.catalogue.model import Catalogue
from estimator.job.model import GROUNDS, Digging, Job, Trench
from estimator.problems import Place
from estimator.rounding import metres
from estimator.routing.model import Drilled, Leg, Routes, RunRoute
from estimator.setout.model import Point, SetOut

ONE = Decimal(1)
DIGGING: Mapping[Digging, str] = {"by hand": "trench-by-hand", "by machine": "trench-by-machine"}
"""The kit of digging itself, by how a trench is dug; what is the same either way is in the kit `trench`."""


@dataclass(frozen=True, slots=True)
class Count:
    """`count` of `per` for a kit. `group` and `number` are those of a point; else `of` says what it is."""

    kit: str
    per: str
    count: Decimal
    of: str
    room: str
    place: Place
    number: int = 0


class _Named(Protocol):
    @property
    def name(self) -> str: ...


Thing = TypeVar("Thing", bound=_Named)


def _by_name(things: Iterable[Thing]) -> list[Thing]:
    """By name, so that the order in which a job lists things decides nothing after it."""
    return sorted(things, key=lambda thing: thing.name)


def counts(job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes) -> tuple[Count, ...]:
    """Everything that a kit may count, in the order points, boards, devices, cables, ends, noggins, ground, rest."""
    made_for = holes_made_for_ends(routes)
    return (
        *_of_points(catalogue, placed, routes, made_for),
        *_of_circuits(job, catalogue, placed),
        *_of_boards(job, catalogue, routes),
        *_of_cables(job, catalogue, placed, routes),
        *_of_holes(job, catalogue, routes),
        *_of_ends(placed, routes, made_for),
        *_of_noggins(job, placed),
        *_of_the_rest(job),
    )


def ends_at(routes: Routes) -> dict[str, int]:
    """Cable ends at every point and board: of legs, controls and runs."""
    ends: dict[str, int] = {}
    things: tuple[Leg | RunRoute, ...] = (*routes.legs, *routes.runs)
    for thing in things:
        for end in (thing.start, thing.end):
            ends[end] = ends.get(end, 0) + 1
    return ends


def holes_made_for_ends(routes: Routes) -> dict[str, tuple[Drilled, ...]]:
    """By point or board: the drilled holes through a wall that were made to reach it (outside, or in a soffit)."""
    ends: dict[tuple[tuple[str, ...], str], set[str]] = {}
    things: tuple[Leg | RunRoute, ...] = (*routes.legs, *routes.runs)
    for thing in things:
        if thing.path is None or not thing.path.passages:
            continue
        for name, passage in ((thing.start, thing.path.passages[0]), (thing.end, thing.path.passages[-1])):
            if passage.kind == "wall":
                ends.setdefault((passage.key, thing.id), set()).add(name)
    made: dict[str, list[Drilled]] = {}
    for hole in routes.drilled:
        reached = (ends.get((hole.passage.key, leg), ()) for leg in hole.legs)
        for end in sorted({end for names in reached for end in names}):
            made.setdefault(end, []).append(hole)
    return {end: tuple(holes) for end, holes in made.items()}


def _of_points(
    catalogue: Catalogue, placed: SetOut, routes: Routes, made_for: Mapping[str, Sequence[Drilled]]
) -> Iterator[Count]:
    ends = ends_at(routes)
    on_noggins = {point for noggin in placed.noggins for point in noggin.points}
    for point in placed.points:
        kit = catalogue.points[point.kind].kit
        holes = len(made_for.get(point.id, ())) if point.surface in ("outside", "soffit") else 0
        for per, count in (
            ("point", 1),
            ("entry", ends.get(point.id, 0)),
            ("wall-hole", holes),
            ("noggin", int(point.id in on_noggins)),
        ):
            yield Count(kit, per, Decimal(count), point.group, point.room, point.place, point.number)


def _of_circuits(job: Job, catalogue: Catalogue, placed: SetOut) -> Iterator[Count]:
    kits: dict[str, list[Point]] = {}
    for point in placed.points:
        kits.setdefault(point.circuit or "", []).append(point)
    for circuit in _by_name(job.circuits):
        points = kits.get(circuit.name, [])
        for kit in sorted({catalogue.points[point.kind].kit for point in points}):
            yield Count(kit, "circuit", ONE, circuit.name, "", circuit.place)
        device = catalogue.devices[circuit.device]
        if device.kit:
            yield Count(device.kit, "circuit", ONE, circuit.name, "", circuit.place)


def _of_boards(job: Job, catalogue: Catalogue, routes: Routes) -> Iterator[Count]:
    for board in _by_name(job.boards):
        if board.outside_job or board.kind is None:
            continue
        kit = catalogue.boards[board.kind].kit
        circuits = [circuit for circuit in job.circuits if circuit.board == board.name]
        runs = sum((run.start == board.name) + (run.end == board.name) for run in routes.runs)
        for per, count in (("board", 1), ("circuit", len(circuits)), ("run-end", runs)):
            yield Count(kit, per, Decimal(count), board.name, board.room or "", board.place)


def _of_cables(job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes) -> Iterator[Count]:
    rooms = {point.id: point.room for point in placed.points}
    places = places_of_owners(job)
    for leg in routes.legs:
        kit, room = catalogue.cables[leg.cable].kit, rooms.get(leg.end, "")
        for per, count in (("leg", ONE), ("metre", metres(leg.route_mm)), ("support", Decimal(leg.supports))):
            yield Count(kit, per, count, leg.owner, room, places[leg.owner])
    for run in routes.runs:
        kit = catalogue.cables[run.cable].kit
        for per, count in (("run", ONE), ("metre", metres(run.route_mm)), ("support", Decimal(run.supports))):
            yield Count(kit, per, count, run.name, "", run.place)


def places_of_owners(job: Job) -> dict[str, Place]:
    """Where circuits and controls were written, by name."""
    return {circuit.name: circuit.place for circuit in job.circuits} | {
        control.name: control.place for control in job.controls
    }


def _of_holes(job: Job, catalogue: Catalogue, routes: Routes) -> Iterator[Count]:
    owners = {leg.id: leg.owner for leg in routes.legs} | {run.id: run.name for run in routes.runs}
    places = places_of_owners(job) | {run.name: run.place for run in job.runs}
    for hole in routes.drilled:
        widest = max(hole.cables, key=lambda cable: (catalogue.cables[cable].width_mm, cable))
        kit = catalogue.cables[widest].kit
        owner = owners[hole.legs[0]]
        yield Count(kit, f"{hole.passage.kind}-hole", ONE, owner, hole.passage.room, places[owner])


def _of_ends(placed: SetOut, routes: Routes, made_for: Mapping[str, Sequence[Drilled]]) -> Iterator[Count]:
    rooms = {point.id: point.room for point in placed.points} | {board.name: board.room for board in placed.boards}
    for run in routes.runs:
        for end, kit in zip((run.start, run.end), run.end_kits, strict=True):
            if not kit:
                continue
            holes = [hole for hole in made_for.get(end, ()) if run.id in hole.legs]
            for per, count in (("run-end", ONE), ("wall-hole", Decimal(len(holes)))):
                yield Count(kit, per, count, run.name, rooms.get(end, ""), run.place)


def _of_noggins(job: Job, placed: SetOut) -> Iterator[Count]:
    points = {point.id: point for point in placed.points}
    for noggin in placed.noggins:
        first = points[noggin.points[0]]
        for per, length in (("noggin", ONE), ("noggin-metre", noggin.length_mm.scaleb(-3))):
            yield Count("noggin", per, length, first.group, noggin.room, first.place, first.number)


def of_trench(trench: Trench) -> Iterator[Count]:
    """What a trench counts for: the kit `trench`, that of how it is dug, and for every surface its own (`trench-lawn`).

    A `trench-square-metre` is one of the bottom of the trench, a `trench-cubic-metre` one of what is dug out.
    """
    kits = [("trench", trench.stretches), (DIGGING[trench.dig], trench.stretches)]
    kits += [(f"trench-{ground}", tuple(of for of in trench.stretches if of.surface == ground)) for ground in GROUNDS]
    for kit, digs in kits:
        counts = (
            ("trench", Decimal(bool(digs))),
            ("trench-metre", metres(sum(dig.length_mm for dig in digs))),
            ("trench-square-metre", Decimal(sum(dig.length_mm * dig.width_mm for dig in digs)).scaleb(-6)),
            (
                "trench-cubic-metre",
                Decimal(sum(dig.length_mm * dig.width_mm * dig.depth_mm for dig in digs)).scaleb(-9),
            ),
        )
        for per, count in counts:
            yield Count(kit, per, count, trench.name, "", trench.place)


def _of_the_rest(job: Job) -> Iterator[Count]:
    for trench in _by_name(job.trenches):
        yield from of_trench(trench)
    for control in _by_name(job.controls):
        for per, count in (("control", 1), ("point", len(control.buttons) + 1), ("board", 1)):
            yield Count("control", per, Decimal(count), control.name, "", control.place)
    for room in _by_name(job.rooms):
        yield Count("room", "room", ONE, room.name, room.name, room.place)
    yield Count("job", "job", ONE, "the job", "", job.place)
