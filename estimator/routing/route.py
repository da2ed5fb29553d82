"""Routing as a whole: a job and where everything stands go in; circuits, controls, runs and drilled holes come out."""

from collections.abc import Callable, Iterator, Sequence
from typing import TypeVar

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import LEVELS, Finding
from estimator.job.model import Circuit, Control, Job, Run
from estimator.job.tree import address
from estimator.memory import NOTHING, Memory
from estimator.problems import Place, Problem, Refused, choose
from estimator.routing.as_built import apply_measured
from estimator.routing.circuits import route_circuit
from estimator.routing.controls import route_control
from estimator.routing.drilling import drill
from estimator.routing.legs import Setting, Ways, make_setting
from estimator.routing.model import CircuitRoute, ControlRoute, Path, Routes, RunRoute
from estimator.routing.network import build_network
from estimator.routing.runs import route_run
from estimator.routing.supports import support_findings
from estimator.routing.wall_plans import wall_plans
from estimator.routing.zone_findings import zone_findings
from estimator.setout.model import SetOut

Given = TypeVar("Given", Circuit, Control, Run)
Found = TypeVar("Found")


def route(job: Job, catalogue: Catalogue, building: Building, setout: SetOut, memory: Memory = NOTHING) -> Routes:
    """Every cable of the job laid through the network, and every hole drilled for it.

    Circuits, controls and runs are in the order of their names, legs in working order, holes in walking order,
    findings by level, check, subject, message.

    Raises:
        Refused: with every circuit, control and run that cannot be laid as written, or every measured leg that is none.
    """
    network = build_network(job, catalogue, building, setout)
    return route_over(job, catalogue, building, setout, network, memory)


def route_over(
    job: Job, catalogue: Catalogue, building: Building, setout: SetOut, ways: Ways, memory: Memory = NOTHING
) -> Routes:
    """As `route`, over a network that is there already.

    Raises:
        Refused: as `route`.
    """
    setting = make_setting(job, catalogue, building, setout, ways, memory)
    problems = list(_unknown(setting))
    if problems:
        raise Refused(problems)
    circuits = _each(job.circuits, lambda row: route_circuit(setting, row), problems)
    controls = _each(job.controls, lambda row: route_control(setting, row), problems)
    runs = _each(job.runs, lambda row: route_run(setting, row), problems)
    if problems:
        raise Refused(problems)
    built, loops, led, notes = apply_measured(job.as_built, [circuit for circuit, _ in circuits], controls, runs)
    findings = [finding for _, told in circuits for finding in told]
    return _together(setting, built, loops, led, [*findings, *notes])


def _each(rows: Sequence[Given], lay: Callable[[Given], Found], problems: list[Problem]) -> list[Found]:
    """What `lay` makes of every row, by name; what it refuses is added to `problems`."""
    found = []
    for row in sorted(rows, key=lambda row: row.name):
        try:
            found.append(lay(row))
        except Refused as refused:
            problems += refused.problems
    return found


def _together(
    setting: Setting,
    circuits: tuple[CircuitRoute, ...],
    controls: tuple[ControlRoute, ...],
    runs: tuple[RunRoute, ...],
    findings: list[Finding],
) -> Routes:
    owners: list[CircuitRoute | ControlRoute] = [*circuits, *controls]
    laid = [(leg.id, leg.cable, leg.path) for owner in owners for leg in owner.legs]
    laid += [(run.id, run.cable, run.path) for run in runs if run.path is not None]
    job, catalogue = setting.job, setting.catalogue
    drilled, about_holes = drill(setting.building, catalogue, job.ruleset, laid, setting.memory)
    cables: tuple[tuple[str, Path], ...] = tuple((cable, path) for _, cable, path in laid)
    about_supports = support_findings(job, catalogue, cables)
    walls = wall_plans(setting.building, setting.setout, catalogue, job.ruleset)
    about_zones = zone_findings(setting.building, catalogue, job.ruleset, walls, laid)
    told = sorted(dict.fromkeys((*findings, *about_holes, *about_supports, *about_zones)), key=_order)
    return Routes(circuits, controls, runs, drilled, tuple(told), walls)


def _order(finding: Finding) -> tuple[int, str, str, str]:
    return (LEVELS.index(finding.level), finding.check, finding.subject, finding.message)


def _unknown(setting: Setting) -> Iterator[Problem]:
    """Cables that the catalogue does not have, and boards that have no place in a room."""
    for circuit in setting.job.circuits:
        where = address(("circuit", circuit.name))
        yield from _cable(setting, circuit.place, f"{where}.cable", circuit.cable)
        yield from _cable(setting, circuit.place, f"{where}.switch_cable", circuit.switch_cable)
        yield from _cable(setting, circuit.place, f"{where}.strap_cable", circuit.strap_cable)
        yield from _end(setting, circuit.place, f"{where}.board", (circuit.board,))
    for control in setting.job.controls:
        where = address(("control", control.name))
        yield from _cable(setting, control.place, f"{where}.cable", control.cable)
        yield from _end(setting, control.place, where, (control.contactor, control.start, *control.buttons))
    for run in setting.job.runs:
        yield from _cable(setting, run.place, address(("run", run.name, "cable")), run.cable)


def _cable(setting: Setting, place: Place, where: str, name: str | None) -> Iterator[Problem]:
    known = setting.catalogue.cables
    if name is not None and name not in known:
        yield Problem(place, where, f'"{name}" is no cable of cables.csv', choose(name, known))


def _end(setting: Setting, place: Place, where: str, names: Sequence[str]) -> Iterator[Problem]:
    for name in names:
        if name not in setting.ends:
            yield Problem(place, where, f'"{name}" has no place in a room', choose(name, setting.ends))
