"""Reaching merchants' limits: tills that may be used and values asked of some in, ways to reach them and a bound out.

Each make of each match group is looked at by itself, and in that each trip: what is bought in one trip costs the same
whatever is bought in the other. Cases are kept, since many questions share one.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product

from estimator.buying.purchase.case import NEVER, Asked, Case
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.closing import close
from estimator.buying.purchase.model import Purchase, Task, Want, bits
from estimator.buying.purchase.proof import Work
from estimator.buying.purchase.value import purchase_of

MOST_CASES = 64

Key = tuple[tuple[int, ...], int, tuple[tuple[int, int], ...], int]


@dataclass(slots=True)
class Cases:
    """All cases of one task met so far."""

    task: Task
    cheapest: Cheapest
    work: Work
    known: dict[Key, Case] = field(default_factory=dict)

    def of(self, asked: Asked, wants: Sequence[Want]) -> Case:
        """The case, started."""
        key = (tuple(want.number for want in wants), asked.may, tuple(sorted(asked.values.items())), asked.charges)
        if key not in self.known:
            self.known[key] = Case(self.task, self.cheapest, asked, wants, self.work)
            self.known[key].start()
        return self.known[key]


class Reaching:
    """The question of what it takes to reach values at tills: started with quick bounds, finished with better ones.

    `found` are purchases met on the way. Bounds are told as `ceiling` where nothing below that is left.
    """

    def __init__(self, cases: Cases, taken: int, asked: Asked) -> None:
        task, self.cheapest = cases.task, cases.cheapest
        self.task = task
        self.found: list[Purchase] = []
        self.open: list[list[Case]] = []
        self.all_cases = True
        by_trip = [self.in_trip(taken, asked, trip) for trip in range(task.trips)]
        for number, wants in enumerate(choices_of_makes(task)):
            if number >= MOST_CASES:
                self.all_cases = False
                break
            if all(self.cheapest.of(want, task.sellers(asked.may, want.trip)) is not None for want in wants):
                trips = [[want for want in wants if want.trip == trip] for trip in range(task.trips)]
                self.open.append([cases.of(one, own) for one, own in zip(by_trip, trips, strict=True)])

    def in_trip(self, taken: int, asked: Asked, trip: int) -> Asked:
        """What is asked in one trip. Charges are those of the least value that is asked of each till."""
        first = trip * len(self.task.merchants)
        here = self.task.everyone << first
        charges = sum(self.task.tills[at].charge(asked.values.get(at, 0)) for at in bits(taken & here))
        return Asked(asked.may & here, {at: of for at, of in asked.values.items() if here >> at & 1}, charges)

    def start(self, ceiling: int) -> int:
        """The quick bound."""
        self.found = [purchase for trips in self.open for purchase in self.purchases(trips)]
        self.open.sort(key=whole_bound)
        return self.bound(min([ceiling, *(purchase.cost for purchase in self.found)]))

    def purchases(self, trips: Sequence[Case]) -> Iterator[Purchase]:
        """What the best of each trip come to together."""
        best = [case.best for case in trips]
        kept = [one for one in best if one is not None]
        if len(kept) == len(best):
            picks = tuple(pick for one in kept for pick in one.picks)
            found = purchase_of(self.task, picks, [extra for one in kept for extra in one.extras])
            if found is not None:
                yield found

    def finish(self, ceiling: int) -> int:
        """The better bound, the least quick bound first."""
        self.found = []
        for trips in self.open:
            for case in trips:
                bound = whole_bound(trips)
                if bound < ceiling:
                    close(case, ceiling - (bound - case.bound))
            for purchase in self.purchases(trips):
                ceiling = min(ceiling, purchase.cost)
                self.found.append(purchase)
        return self.bound(ceiling)

    def bound(self, ceiling: int) -> int:
        """The least bound of all cases."""
        return min([ceiling, *map(whole_bound, self.open)]) if self.all_cases else 0


def whole_bound(trips: Sequence[Case]) -> int:
    """What all trips cost at least."""
    return min(NEVER, sum(case.bound for case in trips))


def choices_of_makes(task: Task) -> Iterator[tuple[Want, ...]]:
    """Every choice of makes, as the wants it comes to."""
    for makes in product(*(block.makes for block in task.blocks)):
        yield tuple(want for wants in makes for want in wants)
