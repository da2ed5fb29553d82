"""Leaving groups out of a job: a job and names of groups go in, the changes that take them out whole come out.

With a group go the circuits that feed nothing else, the runs that end at its points, the controls that need one of its
buttons or have nothing left to drop (with their other buttons), and the measured lengths of what is gone; sequences,
spurs and bound legs forget its points. Where what is left
makes no job (a light whose switch is gone), the check of the changed job says so.
"""

from collections.abc import Iterable, Iterator

from estimator.compare.changes import Changes
from estimator.job.model import Circuit, Control, Job, Run
from estimator.job.tree import address
from estimator.problems import Place
from estimator.setout.model import SetOut


def leaving_out(job: Job, placed: SetOut, groups: Iterable[str], place: Place) -> Changes:
    """The changes that take these groups out of the job; `placed` says which points they have."""
    gone = frozenset(groups)
    circuits = [one for one in job.circuits if _fed(job, one) and _fed(job, one) <= gone]
    controls = _controls(job, placed, gone, frozenset(one.name for one in circuits))
    gone |= _buttons(job, placed, controls)
    points = _points(placed, gone)
    runs = [one for one in job.runs if points & {one.start, one.end}]
    removed = [address(("points", name)) for name in sorted(gone)]
    removed += [address(("circuit", name)) for name in sorted(one.name for one in circuits)]
    removed += [address(("run", name)) for name in sorted(one.name for one in runs)]
    removed += [address(("control", name)) for name in sorted(one.name for one in controls)]
    removed += [f"as_built[{number + 1}]" for number in reversed(_unmeasured(job, points, circuits, runs, controls))]
    change: list[tuple[str, object]] = []
    for key, name, lists in _lists(job, points, circuits, controls):
        for inner, left in lists:
            if left:
                change.append((address((key, name, inner)), left))
            else:
                removed.append(address((key, name, inner)))
    return Changes(change=tuple(change), remove=tuple(removed), place=place)


def _points(placed: SetOut, groups: frozenset[str]) -> frozenset[str]:
    return frozenset(point.id for point in placed.points if point.group in groups)


def _fed(job: Job, circuit: Circuit) -> frozenset[str]:
    """The groups on a circuit."""
    return frozenset(group.name for group in job.groups if group.circuit == circuit.name)


def _controls(job: Job, placed: SetOut, gone: frozenset[str], circuits: frozenset[str]) -> list[Control]:
    """Controls that lose a button, or all that they drop."""
    points = _points(placed, gone)
    return [one for one in job.controls if points & {one.start, *one.buttons} or set(one.drops) <= circuits]


def _buttons(job: Job, placed: SetOut, controls: list[Control]) -> frozenset[str]:
    """Groups all of whose points are buttons of these controls and nothing else."""
    buttons = {point for one in controls for point in (one.start, *one.buttons)}
    kept = {point for one in job.controls if one not in controls for point in (one.start, *one.buttons)}
    kept |= {end for run in job.runs for end in (run.start, run.end)}
    return frozenset(
        group.name
        for group in job.groups
        if group.circuit is None and (ids := _points(placed, frozenset({group.name}))) and ids <= buttons - kept
    )


Lists = list[tuple[str, object]]


def _lists(
    job: Job, points: frozenset[str], circuits: list[Circuit], controls: list[Control]
) -> Iterator[tuple[str, str, Lists]]:
    """Of every circuit and control that stays: its lists that name something gone, without that."""
    for circuit in job.circuits:
        if circuit not in circuits:
            yield "circuit", circuit.name, list(_forget(circuit, points))
    names = {one.name for one in circuits}
    for control in job.controls:
        if control not in controls and names & set(control.drops):
            yield "control", control.name, [("drops", [name for name in control.drops if name not in names])]


def _forget(circuit: Circuit, points: frozenset[str]) -> Iterator[tuple[str, object]]:
    for key, ids in (("sequence", circuit.sequence), ("first", circuit.first), ("last", circuit.last)):
        if points & set(ids):
            yield key, [one for one in ids if one not in points]
    if any(points & set(pair) for pair in circuit.legs):
        yield "legs", [list(pair) for pair in circuit.legs if not points & set(pair)]
    if any(points & set(pair) for pair in circuit.spurs):
        yield "spurs", {spur: host for spur, host in circuit.spurs if not points & {spur, host}}


def _unmeasured(
    job: Job, points: frozenset[str], circuits: list[Circuit], runs: list[Run], controls: list[Control]
) -> list[int]:
    """Which measured lengths belong to what is gone, by their number from 0."""
    owners = {circuit.name for circuit in circuits} | {control.name for control in controls}
    led = {one.name for one in runs}
    return [
        number
        for number, one in enumerate(job.as_built)
        if points & {one.start, one.end} or one.circuit in owners or one.run in led
    ]
