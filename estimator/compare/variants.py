"""Variants: a job's tree, a catalogue and changes go in, each priced by the whole pipeline; or why it cannot be."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes, attempt
from estimator.compare.left_behind import with_left_behind
from estimator.compare.options_model import Option
from estimator.compare.options_scenario import after_option
from estimator.estimate import estimate
from estimator.job.crosscheck import crosscheck
from estimator.job.model import Scenario
from estimator.job.read import read_tree
from estimator.job.tree import Tree, address
from estimator.memory import NOTHING, Memory
from estimator.problems import NOWHERE, Place, Problem, Refused
from estimator.result import Estimate

NOTHING_CHANGED = 'write option = "...", change = { "points.S.spread" = 16 }, add = { ... } or remove = ["..."], or take the scenario out'


@dataclass(frozen=True, slots=True)
class Variant:
    """A job with changes: its estimate, or the problems that keep it from having one."""

    name: str
    changes: Changes
    estimate: Estimate | None
    problems: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class Wanted:
    """A scenario to be priced: its changes, the option it names, and what keeps it from being priced at all."""

    name: str
    changes: Changes
    option: Option | None = None
    problems: tuple[Problem, ...] = ()


def wanted(scenario: Scenario, options: Sequence[Option]) -> Wanted:
    """A scenario of the job file; why it cannot be priced is a value."""
    option = next((one for one in options if one.name == scenario.option), None)
    try:
        return Wanted(scenario.name, changes_of(scenario, options), option)
    except Refused as refused:
        where = address(("scenario", scenario.name))
        return Wanted(scenario.name, Changes(place=scenario.place, where=where), option, refused.problems)


def changes_of(scenario: Scenario, options: Sequence[Option]) -> Changes:
    """What a scenario of the job file changes: the option it names, of those of the job, and then what it says itself.

    Raises:
        Refused: it changes nothing, says two things of one value, or its option does not apply to this job.
    """
    where = address(("scenario", scenario.name))
    own = Changes(scenario.change, scenario.remove, scenario.add, scenario.place, where)
    if scenario.option is None and not (own.change or own.remove or own.add):
        raise Refused([Problem(own.place, where, "it changes nothing", NOTHING_CHANGED)])
    addresses = [one for one, _ in own.change]
    twice = [one for one in dict.fromkeys(addresses) if addresses.count(one) > 1]
    if twice:
        raise Refused([Problem(own.place, f"{where}.change", f"{one} is changed twice", "keep one") for one in twice])
    return own if scenario.option is None else after_option(own, scenario.option, options)


def variant(tree: Tree, catalogue: Catalogue, name: str, changes: Changes, memory: Memory = NOTHING) -> Variant:
    """The job with the changes made, worked out whole; a change that cannot be made is a value, not an exception.

    `memory` is what variants of one job share. The job as it stands is taken to work: whatever is wrong with the changed one
    is told where the changes were written.
    """
    made, problems = attempt(tree, changes)
    try:
        job, _ = read_tree(made, catalogue, memory=memory)
        problems += crosscheck(job, catalogue)
        worked = estimate(job, catalogue, memory)
        if not problems:
            return Variant(name, changes, worked, ())
    except Refused as refused:
        problems += refused.problems
    problems = tuple(dict.fromkeys(problems))
    # Somebody took things out by hand, and can take out more; a plan within a limit leaves out what it leaves out.
    if changes.where or changes.removed_at is not None:
        problems = with_left_behind(made, changes, problems)
    return Variant(name, changes, None, tuple(dict.fromkeys(_there(changes, problem) for problem in problems)))


def _there(changes: Changes, problem: Problem) -> Problem:
    """A problem told where the changes were written, also where what they leave behind stands elsewhere."""
    places = [changes.place] if changes.change or changes.add or changes.removed_at is None else []
    if changes.remove and changes.removed_at is not None:
        places.append(changes.removed_at)
    if problem.place in places or NOWHERE in places or not places:
        return problem
    place = places[0] if len(places) == 1 else Place(", ".join(str(one) for one in places))
    return replace(problem, place=place)
