"""Which merchants are used: a task in; the cheapest purchase, the least that any could cost, and whether that is proven out.

Branch and bound, the node with the least bound first. A node says of every till that it is used on one of its tiers, not
used, or open; what everything costs from the tills in use and open, and the charges of those in use, is its bound.
"""

import heapq
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.labels import Work
from estimator.buying.purchase.model import Block, Purchase, Task, Want, bits
from estimator.buying.purchase.thresholds import NEVER, Asked, settle
from estimator.buying.purchase.value import Picks, purchase_of, rank, values_of

MOST_NODES = 4_000
MOST_WORK = 2_000_000
"""Options joined to partial choices, in all."""
MOST_TIES = 200
"""Nodes split that can only better the merchants of a purchase, not its money."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The best purchase found (None: none is possible, or none was found) and a bound below every purchase."""

    purchase: Purchase | None
    bound: int
    finished: bool


@dataclass(frozen=True, slots=True)
class Part:
    """How one block is bought, and the least that it can cost."""

    picks: Picks
    bound: int


@dataclass(frozen=True, slots=True)
class _Node:
    """`tiers` has for each till the tier it is used on, or -1; `open_` the tills that may be used but need not be.

    `parts` are the bundles of each block from those tills, with the least that each block can cost.
    """

    tiers: tuple[int, ...]
    taken: int
    open_: int
    parts: tuple[Part, ...]
    charges: int
    bound: int

    @property
    def may(self) -> int:
        return self.taken | self.open_

    @property
    def picks(self) -> Picks:
        return tuple(pick for part in self.parts for pick in part.picks)


def cheapest_purchase(task: Task, cheapest: Cheapest, *, minimums: bool = True) -> Answer:
    """Search until the best purchase is proven, or as far as the limits on work go.

    Ties: least money, then fewest merchants, then least left over, then merchants by name; with limits on the work
    that is spent on ties alone.
    """
    search = _Search(task, cheapest, minimums)
    search.run()
    return Answer(search.best, search.bound(), search.finished)


class _Search:
    def __init__(self, task: Task, cheapest: Cheapest, minimums: bool) -> None:
        self.task = task
        self.cheapest = cheapest
        self.minimums = minimums
        self.best: Purchase | None = None
        self.rank: tuple[int, int, Fraction, tuple[int, ...]] | None = None
        self.left: list[int] = []
        self.heap: list[tuple[int, int, int, _Node]] = []
        self.pushed = 0
        self.ties = 0
        self.finished = True
        self.work = Work(MOST_WORK)

    def run(self) -> None:
        every = (1 << len(self.task.tills)) - 1
        self.push(tuple(-1 for _ in self.task.tills), 0, every, None)
        split = 0
        while self.heap:
            least, _, _, node = heapq.heappop(self.heap)
            if self.hopeless(least, node.taken):
                continue
            if self.best is not None and least == self.best.cost:
                self.ties += 1
            if split >= MOST_NODES or self.ties > MOST_TIES:
                if self.best is None or least < self.best.cost:
                    self.left.append(least)
                    self.finished = False
                continue
            split += 1
            self.split(node)

    def bound(self) -> int:
        """The least that any purchase can cost."""
        ends = [*self.left, *([self.best.cost] if self.best else [])]
        return min(ends, default=0)

    def hopeless(self, least: int, taken: int) -> bool:
        """Whether nothing in a node can rank before the best."""
        return self.rank is not None and (least, self.task.merchants_of(taken).bit_count()) > self.rank[:2]

    def offer(self, purchase: Purchase | None) -> None:
        """Keep a purchase where it is better."""
        if purchase is not None:
            own = rank(self.task, purchase)
            if self.rank is None or own < self.rank:
                self.best, self.rank = purchase, own

    def push(self, tiers: tuple[int, ...], taken: int, open_: int, parent: _Node | None, floor: int = 0) -> None:
        """Bound a node, and keep it where it may hold something better; `floor` is a bound that is known already."""
        task = self.task
        merchants = task.merchants_of(taken)
        if merchants.bit_count() > task.most:
            return
        if merchants.bit_count() == task.most:
            open_ &= sum(merchants << trip * len(task.merchants) for trip in range(task.trips))
        charges = sum(task.tills[at].tiers[tiers[at]][0] for at in bits(taken))
        parts = self.parts(taken | open_, taken, charges, parent)
        if parts is None:
            return
        bound = max(charges + sum(part.bound for part in parts), floor)
        self.pushed += 1
        node = _Node(tiers, taken, open_, parts, charges, bound)
        if parent is None or parts is not parent.parts:
            self.offer(purchase_of(task, node.picks, (), minimums=self.minimums))
        if not self.hopeless(bound, taken):
            heapq.heappush(self.heap, (bound, -taken.bit_count(), self.pushed, node))

    def parts(self, may: int, taken: int, charges: int, parent: _Node | None) -> tuple[Part, ...] | None:
        """The blocks from the tills that may be used; None where that is impossible, or hopeless before all are known."""
        task = self.task
        if parent is None:
            found = [best_part(task, self.cheapest, block, may) for block in task.blocks]
            return None if None in found else tuple(part for part in found if part is not None)
        if not parent.may & ~may:
            return None if self.hopeless(parent.bound - parent.charges + charges, taken) else parent.parts
        parts = list(parent.parts)
        bound = charges + sum(part.bound for part in parts)
        for at, part in enumerate(parent.parts):
            if self.hopeless(bound, taken):
                return None
            if any(bundle.used & ~task.sellers(may, want.trip) for want, bundle in part.picks):
                new = best_part(task, self.cheapest, task.blocks[at], may)
                if new is None:
                    return None
                bound += new.bound - part.bound
                parts[at] = new
        return tuple(parts)

    def split(self, node: _Node) -> None:
        """Push the nodes that decide one more till; where none is left to decide, reach the limits of those in use."""
        values, used = values_of(self.task, node.picks)
        at = self.choose(node, values, used)
        if at is None:
            self.close(node, values)
            return
        self.decide(node, at, 0)

    def decide(self, node: _Node, at: int, floor: int) -> None:
        """Push the nodes where a till is not used, and where it is used on each of its tiers."""
        bit = 1 << at
        self.push(node.tiers, node.taken, node.open_ & ~bit, node, floor)
        for tier in range(len(self.task.tills[at].tiers)):
            tiers = (*node.tiers[:at], tier, *node.tiers[at + 1 :])
            self.push(tiers, node.taken | bit, node.open_ & ~bit, node, floor)

    def choose(self, node: _Node, values: list[int], used: int) -> int | None:
        """The open till that is used and has the dearest terms, or holds the least goods."""
        undecided = list(bits(used & node.open_))
        return min(undecided, key=lambda at: (-self.task.tills[at].fee, values[at], at), default=None)

    def close(self, node: _Node, values: list[int]) -> None:
        """Every till used is decided: what is asked of them has been reached, or must be."""
        least = {at: self.least(at, node.tiers[at]) for at in bits(node.taken)}
        least = {at: value for at, value in least.items() if value}
        if all(values[at] >= value for at, value in least.items()):
            # Here bound and cost differ only where a cutting plan is not proven.
            if self.best is None or node.bound < self.best.cost:
                self.left.append(node.bound)
            return
        ceiling = NEVER if self.best is None else self.best.cost
        asked = Asked(node.may, least, node.charges, ceiling, self.minimums)
        found = settle(self.task, self.cheapest, asked, self.work)
        for purchase in found.purchases:
            self.offer(purchase)
        bound = max(found.bound, node.bound)
        if self.best is not None and bound >= self.best.cost:
            return
        if node.open_:
            self.decide(node, min(bits(node.open_)), bound)
        else:
            self.left.append(bound)

    def least(self, at: int, tier: int) -> int:
        """The value of goods that a tier asks at a till."""
        till = self.task.tills[at]
        charge, least = till.tiers[tier]
        if self.minimums:
            return least
        return (till.free_over or 0) if till.fee and not charge else 0


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
