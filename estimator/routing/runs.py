"""Runs: a cable between two places goes in, with or without stretches; its length, cut and end kits come out."""

from itertools import pairwise

from estimator.job.model import Run, Stretch
from estimator.job.tree import address
from estimator.problems import Problem, Refused
from estimator.routing.legs import Setting, cut_mm, walk
from estimator.routing.model import Path, RunRoute
from estimator.routing.solving import costs_from
from estimator.routing.supports import supports

OUTSIDE = "outside:"
NO_KIT = "none"


def route_run(setting: Setting, run: Run) -> RunRoute:
    """One run measured: by its stretches where it has any, else by its way through the rooms.

    With stretches: their sum and rises, plus two `run` tails, and no path. Without: the path plus the tails of
    both ends' kinds. Cut as legs are.

    Raises:
        Refused: no stretches, and an end that has no place or that no lane reaches.
    """
    path = None if run.stretches else _path(setting, run)
    if path is None:
        route_mm = stretched_mm(setting, run)
        tails_mm = 2 * setting.job.allowances.tail_mm("run")
    else:
        route_mm = path.length_mm
        tails_mm = setting.ends[run.start].tail_mm + setting.ends[run.end].tail_mm
    length_mm = route_mm + tails_mm
    cable = setting.cable(run.cable)
    return RunRoute(
        id=run.name,
        name=run.name,
        cable=run.cable,
        start=run.start,
        end=run.end,
        route_mm=route_mm,
        planned_mm=length_mm,
        length_mm=length_mm,
        cut_mm=cut_mm(setting.job.allowances, length_mm),
        supports=supports(setting.job, setting.catalogue, cable, path) if path else 0,
        path=path,
        stretches=tuple((stretch.trench or "building", stretch.length_mm) for stretch in run.stretches),
        end_kits=(end_kit(setting, run, 0), end_kit(setting, run, 1)),
        place=run.place,
    )


def _path(setting: Setting, run: Run) -> Path:
    lost = [end for end in (run.start, run.end) if end not in setting.ends]
    if lost:
        words = f"{' and '.join(lost)} has no place in a room, and the run has no stretches"
        raise Refused([Problem(run.place, address(("run", run.name)), words, "write its stretches")])
    costs_from(setting, run.start, [run.end])
    return walk(setting, run.start, run.end)


def stretched_mm(setting: Setting, run: Run) -> int:
    """The stretches laid end to end, with a rise at every change between building and trench.

    A rise is the entry height plus the depth of the trench: of its first dig going in, of its last coming out.
    """
    level = sum(stretch.length_mm for stretch in run.stretches)
    return level + sum(_rise_mm(setting, run, before, after) for before, after in pairwise(run.stretches))


def _rise_mm(setting: Setting, run: Run, before: Stretch, after: Stretch) -> int:
    if (before.trench is None) == (after.trench is None):
        return 0
    going_in = after.trench is not None
    digs = next(t.stretches for t in setting.job.trenches if t.name == (after.trench or before.trench))
    return digs[0 if going_in else -1].depth_mm + run.entry_mm


def end_kit(setting: Setting, run: Run, which: int) -> str:
    """The kit made off at an end (0 the start, 1 the end); empty where nothing is.

    The run's own `ends` come first. Else a board and an indoor point take the cable's `end_in`, an outdoor point its
    `end_out`, and `outside:` nothing.
    """
    given = run.end_kits[which]
    if given is not None:
        return "" if given == NO_KIT else given
    name = (run.start, run.end)[which]
    if name.startswith(OUTSIDE):
        return ""
    cable = setting.cable(run.cable)
    outdoors = name in setting.ends and setting.ends[name].outdoors
    return cable.end_out if outdoors else cable.end_in
