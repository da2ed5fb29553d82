"""The comparison: a job's tree, a catalogue, the estimate of the two and what is asked go in, a `Comparison` comes out."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes
from estimator.compare.differences import differences
from estimator.compare.each import Sweep, each
from estimator.compare.later import later
from estimator.compare.model import Column, Comparison, Swept
from estimator.compare.sure import how_sure
from estimator.compare.variants import Variant, variant
from estimator.compare.within import within
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.problems import Place
from estimator.result import Estimate

EACH = Place("--each")
WITHIN = Place("--within")


@dataclass(frozen=True, slots=True)
class Asked:
    """What to compare: named changes, ranges of values, a limit of money inc VAT."""

    scenarios: tuple[tuple[str, Changes], ...] = ()
    sweeps: tuple[Sweep, ...] = ()
    limit: Decimal | None = None


def compare(tree: Tree, catalogue: Catalogue, base: Estimate, asked: Asked) -> Comparison:
    """Work out every scenario, every value of every range, and the best plan within the limit.

    Raises:
        Refused: a limit where no group has a priority.
    """
    memory = Memory()
    columns = _columns(base, (variant(tree, catalogue, name, changes, memory) for name, changes in asked.scenarios))
    swept = tuple(Swept(sweep, each(tree, catalogue, sweep, EACH, memory)) for sweep in asked.sweeps)
    limited = None if asked.limit is None else within(tree, catalogue, base, asked.limit, WITHIN, memory)
    return Comparison(base, how_sure(base), columns, swept, limited)


def _columns(base: Estimate, variants: Iterable[Variant]) -> tuple[Column, ...]:
    return tuple(
        Column(one, None, None)
        if one.estimate is None
        else Column(one, differences(base, one.estimate), later(base, one.estimate))
        for one in variants
    )
