"""Variants: a job's tree, a catalogue and changes go in, each priced by the whole pipeline; or why it cannot be."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes, changed
from estimator.compare.options_model import Option
from estimator.compare.options_scenario import after_option
from estimator.estimate import estimate
from estimator.job.crosscheck import crosscheck
from estimator.job.model import Scenario
from estimator.job.read import read_tree
from estimator.job.tree import Tree, address
from estimator.memory import NOTHING, Memory
from estimator.problems import Problem, Refused
from estimator.result import Estimate


@dataclass(frozen=True, slots=True)
class Variant:
    """A job with changes: its estimate, or the problems that keep it from having one."""

    name: str
    changes: Changes
    estimate: Estimate | None
    problems: tuple[Problem, ...]


def changes_of(scenario: Scenario, options: Sequence[Option]) -> Changes:
    """What a scenario of the job file changes: the option it names, of those of the job, and then what it says itself.

    Raises:
        Refused: the option does not apply to this job.
    """
    where = address(("scenario", scenario.name))
    own = Changes(scenario.change, scenario.remove, scenario.add, scenario.place, where)
    return own if scenario.option is None else after_option(own, scenario.option, options)


def variant(tree: Tree, catalogue: Catalogue, name: str, changes: Changes, memory: Memory = NOTHING) -> Variant:
    """The job with the changes made, worked out whole; a change that cannot be made is a value, not an exception.

    `memory` is what variants of one job share.
    """
    try:
        job, _ = read_tree(changed(tree, changes), catalogue, memory=memory)
        problems: Iterable[Problem] = crosscheck(job, catalogue)
        if not problems:
            return Variant(name, changes, estimate(job, catalogue, memory), ())
    except Refused as refused:
        problems = refused.problems
    return Variant(name, changes, None, tuple(problems))
