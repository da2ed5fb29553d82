"""The comparison: a job's tree, a catalogue, the estimate of the two and what is asked go in, a `Comparison` comes out."""

from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes, changed
from estimator.compare.differences import differences
from estimator.compare.each import Sweep, each
from estimator.compare.edits import edits_of
from estimator.compare.later_alone import later_of
from estimator.compare.model import Column, Comparison, Swept
from estimator.compare.puts import puts_of
from estimator.compare.sure import how_sure
from estimator.compare.variants import Variant, Wanted, variant
from estimator.compare.within import within
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.problems import Place
from estimator.result import Estimate

EACH = Place("--each")
WITHIN = Place("--within")


@dataclass(frozen=True, slots=True)
class Asked:
    """What to compare: scenarios, ranges of values, a limit of money inc VAT; `first` is changed before the latter two."""

    scenarios: tuple[Wanted, ...] = ()
    sweeps: tuple[Sweep, ...] = ()
    limit: Decimal | None = None
    first: Changes | None = None


def compare(tree: Tree, catalogue: Catalogue, base: Estimate, asked: Asked) -> Comparison:
    """Work out every scenario, every value of every range, and the best plan within the limit.

    Where what is to be changed first cannot be, there are neither ranges nor a plan.

    Raises:
        Refused: a limit that the job is not within, where no group has a priority.
    """
    memory = Memory()
    columns = tuple(_column(tree, catalogue, base, one, memory) for one in asked.scenarios)
    sure = how_sure(base)
    start = base if asked.first is None else _first(tree, catalogue, asked.first, columns, memory)
    if start is None:
        return Comparison(base, sure, columns, (), None, base, asked.first)
    from_here = tree if asked.first is None else changed(tree, asked.first)
    swept = tuple(Swept(sweep, each(from_here, catalogue, sweep, EACH, memory)) for sweep in asked.sweeps)
    limited = None if asked.limit is None else within(from_here, catalogue, start, asked.limit, WITHIN, memory)
    if limited is not None and limited.plan is not None and asked.first is None:
        limited = replace(limited, edits=edits_of(tree, limited.plan.changes))
    return Comparison(base, sure, columns, swept, limited, start, asked.first)


def _first(
    tree: Tree, catalogue: Catalogue, changes: Changes, columns: tuple[Column, ...], memory: Memory
) -> Estimate | None:
    """The job with what is changed first, which mostly is a scenario too."""
    made = next((one.variant for one in columns if one.variant.changes is changes), None)
    return (made or variant(tree, catalogue, "", changes, memory)).estimate


def _column(tree: Tree, catalogue: Catalogue, base: Estimate, asked: Wanted, memory: Memory) -> Column:
    if asked.problems:
        return Column(Variant(asked.name, asked.changes, None, asked.problems), None, None, asked.option)
    one = variant(tree, catalogue, asked.name, asked.changes, memory)
    if one.estimate is None:
        return Column(one, None, None, asked.option)
    return Column(
        one,
        differences(base, one.estimate),
        later_of(tree, catalogue, base, one, memory),
        asked.option,
        puts_of(one.estimate, asked.changes),
        edits_of(tree, asked.changes),
    )
