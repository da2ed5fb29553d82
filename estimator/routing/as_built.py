"""As built: measured lengths and everything routed go in; the same with those lengths, and what they differ by, come out.

A measured length takes the place of `length_mm`, and `cut_mm` then equals it: what is in the wall has been cut.
Routes, holes and supports stay as planned.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from estimator.checks.model import Finding
from estimator.job.model import AsBuilt
from estimator.problems import Problem, Refused, choose
from estimator.rounding import metres
from estimator.routing.model import CircuitRoute, ControlRoute, Leg, RunRoute
from estimator.routing.words import as_text

CHECK = "as-built"
SHOWN = 6
"""How many legs a problem names at most."""

Built = tuple[tuple[CircuitRoute, ...], tuple[ControlRoute, ...], tuple[RunRoute, ...], tuple[Finding, ...]]
Lengths = Mapping[tuple[bool, str], int]
"""Measured lengths, mm, by whether it is a run and its id."""


@dataclass(frozen=True, slots=True)
class Cable:
    """A leg or run that may have been measured; `run` is whether it is one. Cables that look alike share `key`."""

    id: str
    owner: str
    run: bool
    ends: frozenset[str]

    @property
    def key(self) -> tuple[bool, str]:
        """What tells a circuit or control from a run of its name."""
        return self.run, self.owner

    @property
    def hint(self) -> str:
        """How a measured length says that it means this one."""
        return f'{"run" if self.run else "circuit"} = "{self.owner}"'


def apply_measured(
    measured: Sequence[AsBuilt],
    circuits: Sequence[CircuitRoute],
    controls: Sequence[ControlRoute],
    runs: Sequence[RunRoute],
) -> Built:
    """Everything routed, with measured lengths in place of planned ones, and a note for each owner of a measured one.

    Of legs alike on one circuit (two straps between the same switches) the first length is that of the first. The
    `value` of a note is in metres, measured less planned.

    Raises:
        Refused: with every measured length that belongs to no leg, to several, or to one that is measured already.
    """
    lengths = _lengths(measured, _cables(circuits, controls, runs))
    if not lengths:
        return tuple(circuits), tuple(controls), tuple(runs), ()
    built = tuple(replace(one, legs=_legs(one.legs, lengths)) for one in circuits)
    loops = tuple(replace(one, legs=_legs(one.legs, lengths)) for one in controls)
    led = tuple(_run(one, lengths.get((True, one.id))) for one in runs)
    return built, loops, led, tuple(_notes(lengths, (*built, *loops), led))


def _cables(
    circuits: Iterable[CircuitRoute], controls: Iterable[ControlRoute], runs: Iterable[RunRoute]
) -> tuple[Cable, ...]:
    owners: tuple[CircuitRoute | ControlRoute, ...] = (*circuits, *controls)
    legs = [Cable(leg.id, leg.owner, False, frozenset((leg.start, leg.end))) for one in owners for leg in one.legs]
    return (*legs, *(Cable(run.id, run.name, True, frozenset((run.start, run.end))) for run in runs))


def _lengths(measured: Sequence[AsBuilt], cables: Sequence[Cable]) -> Lengths:
    lengths: dict[tuple[bool, str], int] = {}
    problems: list[Problem] = []
    for number, row in enumerate(measured, 1):
        where = f"as_built[{number}]"
        fitting = [cable for cable in cables if _fits(cable, row)]
        free = [cable for cable in fitting if (cable.run, cable.id) not in lengths]
        several = list(dict.fromkeys(cable.key for cable in fitting))
        if not fitting:
            problems.append(Problem(row.place, where, f"{_words(row)} is no leg", _nearest(row, cables)))
        elif len(several) > 1:
            hints = list(dict.fromkeys(cable.hint for cable in fitting))
            found = f"{len(several)} cables go from {row.start} to {row.end}"
            problems.append(Problem(row.place, where, found, f"write {' or '.join(hints)} beside it"))
        elif not free:
            found = f"{fitting[-1].id} is measured already"
            problems.append(Problem(row.place, where, found, "keep one of the two lengths"))
        else:
            lengths[free[0].run, free[0].id] = row.length_mm
    if problems:
        raise Refused(problems)
    return lengths


def _fits(cable: Cable, row: AsBuilt) -> bool:
    if cable.ends != frozenset((row.start, row.end)):
        return False
    if row.run is not None:
        return cable.run and cable.owner == row.run
    return row.circuit is None or (not cable.run and cable.owner == row.circuit)


def _words(row: AsBuilt) -> str:
    owner = row.run if row.run is not None else row.circuit
    return f"{row.start} to {row.end}" + (f' of "{owner}"' if owner is not None else "")


def _nearest(row: AsBuilt, cables: Sequence[Cable]) -> str:
    """Cables of the named circuit or run, else all: those that share an end with the row, else the most alike."""
    owner = row.run if row.run is not None else row.circuit
    named = [cable for cable in cables if owner is not None and cable.owner == owner]
    among = named or list(cables)
    near = [cable.id for cable in among if cable.ends & {row.start, row.end}] or [cable.id for cable in named]
    if not near:
        return choose(f"{row.start} to {row.end}", [cable.id for cable in cables])
    return f"near it: {', '.join(near[:SHOWN])}{' ...' if len(near) > SHOWN else ''}"


def _legs(legs: Iterable[Leg], lengths: Lengths) -> tuple[Leg, ...]:
    return tuple(
        leg if (length := lengths.get((False, leg.id))) is None else replace(leg, length_mm=length, cut_mm=length)
        for leg in legs
    )


def _run(run: RunRoute, length_mm: int | None) -> RunRoute:
    return run if length_mm is None else replace(run, length_mm=length_mm, cut_mm=length_mm)


def _notes(
    lengths: Lengths, owners: Iterable[CircuitRoute | ControlRoute], runs: Iterable[RunRoute]
) -> Iterator[Finding]:
    for owner in owners:
        own = [leg for leg in owner.legs if (False, leg.id) in lengths]
        if own:
            yield _note(owner.name, f"measured: {len(own)} of {len(owner.legs)} legs", own)
    for run in runs:
        if (True, run.id) in lengths:
            yield _note(run.name, "measured: the run", [run])


def _note(name: str, counted: str, cables: Sequence[Leg | RunRoute]) -> Finding:
    planned, built = sum(cable.planned_mm for cable in cables), sum(cable.length_mm for cable in cables)
    more = built - planned
    change = f"{_m(abs(more))} {'more' if more > 0 else 'less'} than planned" if more else "as planned"
    words = f"{counted}, {_m(built)} in all, {change} ({_m(planned)})" if more else f"{counted}, {_m(built)}, {change}"
    return Finding(CHECK, "note", name, words, value=metres(more), unit="m")


def _m(length_mm: int) -> str:
    return f"{as_text(metres(length_mm))} m"
