"""What blocks cost where no limit counts: a block and tills that may be used in, bundles and a bound out."""

from collections.abc import Iterable
from dataclasses import dataclass

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Block, Task, Want
from estimator.buying.purchase.value import Picks


@dataclass(frozen=True, slots=True)
class Part:
    """How one block is bought, and the least that it can cost."""

    picks: Picks
    bound: int


def best_part(task: Task, cheapest: Cheapest, block: Block, may: int) -> Part | None:
    """A block from some tills, of the make that costs least; None where no make can be had."""
    found: list[tuple[int, int, Picks]] = []
    for wants in block.makes:
        picks = picks_of(task, cheapest, wants, may)
        if picks is not None:
            bundles = [bundle for _, bundle in picks]
            found.append((sum(of.cost for of in bundles), sum(of.bound for of in bundles), picks))
    if not found:
        return None
    return Part(min(found, key=lambda of: of[0])[2], min(bound for _, bound, _ in found))


def picks_of(task: Task, cheapest: Cheapest, wants: Iterable[Want], may: int) -> Picks | None:
    """The cheapest bundle of each want from some tills."""
    picks = []
    for want in wants:
        bundle = cheapest.of(want, task.sellers(may, want.trip))
        if bundle is None:
            return None
        picks.append((want, bundle))
    return tuple(picks)
