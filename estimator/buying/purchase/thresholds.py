"""Reaching a merchant's limits: tills that may be used and values asked of some in, ways to reach them and a bound out.

Each make of each match group is a case of its own.
"""

from collections.abc import Iterator
from itertools import product

from estimator.buying.purchase.case import Asked, Case
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.choices import Work
from estimator.buying.purchase.closing import Closing
from estimator.buying.purchase.model import Purchase, Task, Want

MOST_CASES = 64


class Reaching:
    """The question of what it takes to reach values at tills: started with a quick bound, finished with a better one.

    `found` are purchases met on the way. Bounds are told as `ceiling` where nothing below that is left.
    """

    def __init__(self, task: Task, cheapest: Cheapest, asked: Asked, work: Work) -> None:
        self.found: list[Purchase] = []
        self.open: list[Case] = []
        self.all_cases = True
        for number, wants in enumerate(cases(task)):
            if number >= MOST_CASES:
                self.all_cases = False
                break
            if all(cheapest.of(want, task.sellers(asked.may, want.trip)) is not None for want in wants):
                self.open.append(Case(task, cheapest, asked, wants, work))

    def start(self, ceiling: int) -> int:
        """The quick bound."""
        for case in self.open:
            case.start(ceiling)
            ceiling = case.ceiling
            self.found += case.found
        self.open.sort(key=lambda case: case.bound)
        return self.bound(ceiling)

    def finish(self, ceiling: int) -> int:
        """The better bound, case by case with the least quick bound first."""
        self.found = []
        for case in self.open:
            if case.bound < ceiling:
                case.ceiling, case.found = ceiling, []
                if case.best is not None:
                    case.bound = max(case.bound, Closing(case, case.best).bound())
                ceiling = min(ceiling, case.ceiling)
                self.found += case.found
        return self.bound(ceiling)

    def bound(self, ceiling: int) -> int:
        """The least bound of all cases."""
        return min((case.bound for case in self.open), default=ceiling) if self.all_cases else 0


def cases(task: Task) -> Iterator[tuple[Want, ...]]:
    """Every choice of makes, as the wants it comes to."""
    for makes in product(*(block.makes for block in task.blocks)):
        yield tuple(want for wants in makes for want in wants)
