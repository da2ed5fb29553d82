"""The price of the next one: an address and a range of numbers go in, the total at each and what each step costs come out."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes
from estimator.compare.differences import Differences, differences
from estimator.compare.variants import Variant, variant
from estimator.job.tree import Tree
from estimator.memory import Memory
from estimator.problems import Place, Problem
from estimator.result import Estimate

MOST_VALUES = 200
_RANGE = re.compile(r"(?P<first>\d{1,4})\s*\.\.\s*(?P<last>\d{1,4})?", re.ASCII)


@dataclass(frozen=True, slots=True)
class Sweep:
    """Whole numbers from `first` to `last`, both counted, for the value at an address."""

    address: str
    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Step:
    """The job with one of the numbers: its variant, and what changed since the number before that could be worked out.

    `since` is None for the first; `number` says how many more it is than that one.
    """

    value: int
    variant: Variant
    since: Differences | None
    number: int

    @property
    def total(self) -> Decimal | None:
        """What the job comes to, inc VAT; None where it cannot be worked out."""
        return None if self.variant.estimate is None else self.variant.estimate.budget.total

    @property
    def price(self) -> Decimal | None:
        """How much more the total is than at the number before; None for the first and where there is no total."""
        return None if self.since is None else self.since.total


def sweep_of(text: str, place: Place) -> Sweep | Problem:
    """What `points.S.spread=8..24` asks for, or what is wrong with it."""
    address, equals, numbers = text.partition("=")
    found = _RANGE.fullmatch(numbers.strip())
    write = "write an address and a range of whole numbers: points.S.spread=8..24"
    if not equals or not address.strip():
        return Problem(place, "", f'"{text}" has no address', write)
    if found is None:
        return Problem(place, address.strip(), f'"{numbers.strip()}" is no range', write)
    if found["last"] is None:
        return Problem(
            place, address.strip(), f'the range "{numbers.strip()}" has no end', f"write {found['first']}..24"
        )
    first, last = int(found["first"]), int(found["last"])
    if last < first:
        return Problem(
            place, address.strip(), f"the range ends before it starts ({first}..{last})", f"write {last}..{first}"
        )
    if last - first >= MOST_VALUES:
        return Problem(
            place, address.strip(), f"{last - first + 1} values are too many", f"ask for {MOST_VALUES} or fewer"
        )
    return Sweep(address.strip(), first, last)


def each(
    tree: Tree, catalogue: Catalogue, sweep: Sweep, place: Place, memory: Memory | None = None
) -> tuple[Step, ...]:
    """The job worked out with every number of the range, in rising order; they share a memory, a new one by default."""
    memory = Memory() if memory is None else memory
    steps = []
    last: tuple[int, Estimate] | None = None
    for value, one in _variants(tree, catalogue, sweep, place, memory):
        since, number = None, 0
        if last is not None and one.estimate is not None:
            since, number = differences(last[1], one.estimate), value - last[0]
        steps.append(Step(value, one, since, number))
        if one.estimate is not None:
            last = (value, one.estimate)
    return tuple(steps)


def _variants(
    tree: Tree, catalogue: Catalogue, sweep: Sweep, place: Place, memory: Memory
) -> Iterable[tuple[int, Variant]]:
    for value in range(sweep.first, sweep.last + 1):
        changes = Changes(change=((sweep.address, value),), place=place)
        yield value, variant(tree, catalogue, str(value), changes, memory)
