"""Which merchants are used: a task in; the cheapest purchase, the least that any could cost, and whether that is proven out.

Branch and bound, the node with the least bound first. A node says of every till that it is used on one of its tiers, not
used, or open; what everything costs from the tills in use and open, and the charges of those in use, is its bound.
"""

import heapq
from dataclasses import dataclass, replace

from estimator.buying.purchase.case import NEVER, Asked
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Purchase, Task, bits
from estimator.buying.purchase.parts import Part, best_part
from estimator.buying.purchase.proof import Work
from estimator.buying.purchase.thresholds import Cases, Reaching
from estimator.buying.purchase.value import Picks, Rank, purchase_of, rank, values_of

MOST_NODES = 4_000
MOST_WORK = 3_000_000
"""Columns of linear programmes, in all."""
MOST_CELLS = 600_000_000
"""Of tables of all values, in all."""
MOST_TIES = 200
"""Nodes split that can only better the merchants of a purchase, not its money."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The best purchase found (None: none is possible, or none was found) and a bound below every purchase."""

    purchase: Purchase | None
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


def cheapest_purchase(task: Task, cheapest: Cheapest) -> Answer:
    """Search until the best purchase is proven, or as far as the limits on work go.

    Ties: least money, then fewest merchants, then least left over, then merchants by name; with limits on the work that is
    spent on ties alone. Where packs beyond the need reach a limit, what is left over is compared among those that were found.
    """
    search = _Search(task, cheapest)
    search.run()
    return Answer(search.best, search.bound())


class _Search:
    def __init__(self, task: Task, cheapest: Cheapest) -> None:
        self.task = task
        self.cheapest = cheapest
        self.best: Purchase | None = None
        self.rank: Rank | None = None
        self.left: list[int] = []
        self.heap: list[tuple[int, int, int, _Node, Reaching | None]] = []
        self.pushed = 0
        self.ties = 0
        self.cases = Cases(task, cheapest, Work(MOST_WORK, MOST_CELLS))

    def run(self) -> None:
        every = (1 << len(self.task.tills)) - 1
        self.push(tuple(-1 for _ in self.task.tills), 0, every, None)
        steps = 0
        while self.heap:
            least, _, _, node, reaching = heapq.heappop(self.heap)
            if self.hopeless(least, node.taken):
                continue
            if self.best is not None and least == self.best.cost:
                self.ties += 1
            if steps >= MOST_NODES or self.ties > MOST_TIES:
                self.leave(least)
                continue
            steps += 1
            if reaching is None:
                self.split(node)
            else:
                self.close(node, reaching)

    def leave(self, bound: int) -> None:
        """Give up what is left at a bound."""
        if self.best is None or bound < self.best.cost:
            self.left.append(bound)

    def bound(self) -> int:
        """The least that any purchase can cost."""
        return min(self.left, default=0) if self.best is None else min(self.best.cost, *self.left, self.best.cost)

    def hopeless(self, least: int, taken: int) -> bool:
        """Whether nothing in a node can rank before the best."""
        return self.rank is not None and (least, self.task.merchants_of(taken).bit_count()) > self.rank[:2]

    def offer(self, purchase: Purchase | None) -> None:
        """Keep a purchase where it is better."""
        if purchase is not None:
            own = rank(self.task, purchase)
            if self.rank is None or own < self.rank:
                self.best, self.rank = purchase, own

    def push(self, tiers: tuple[int, ...], taken: int, open_: int, parent: _Node | None) -> None:
        """Bound a node, and keep it where it may hold something better."""
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
        bound = charges + sum(part.bound for part in parts)
        if parent is not None:
            bound = max(bound, parent.bound - parent.charges + charges)
        node = _Node(tiers, taken, open_, parts, charges, bound)
        if parent is None or parts is not parent.parts:
            self.offer(purchase_of(task, node.picks, ()))
        self.keep(node, None)

    def keep(self, node: _Node, reaching: Reaching | None) -> None:
        """Put a node by for later, unless it is hopeless."""
        if not self.hopeless(node.bound, node.taken):
            self.pushed += 1
            heapq.heappush(self.heap, (node.bound, -node.taken.bit_count(), self.pushed, node, reaching))

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
        """Push the nodes that decide one more till; where none used is open, see what it takes to reach the limits."""
        values, used = values_of(self.task, node.picks)
        at = self.choose(node, values, used)
        if at is not None:
            self.decide(node, at)
            return
        least = {at: self.task.tills[at].tiers[node.tiers[at]][1] for at in bits(node.taken)}
        least = {at: value for at, value in least.items() if value}
        if all(values[at] >= value for at, value in least.items()):
            # Here bound and cost differ only where a cutting plan is not proven.
            self.leave(node.bound)
            return
        reaching = Reaching(self.cases, node.taken, Asked(node.may, least, node.charges))
        bound = reaching.start(self.ceiling(node.taken))
        self.offer_all(reaching)
        self.keep(replace(node, bound=max(bound, node.bound)), reaching)

    def decide(self, node: _Node, at: int) -> None:
        """Push the nodes where a till is not used, and where it is used on each of its tiers."""
        bit = 1 << at
        self.push(node.tiers, node.taken, node.open_ & ~bit, node)
        for tier in range(len(self.task.tills[at].tiers)):
            tiers = (*node.tiers[:at], tier, *node.tiers[at + 1 :])
            self.push(tiers, node.taken | bit, node.open_ & ~bit, node)

    def choose(self, node: _Node, values: list[int], used: int) -> int | None:
        """The open till that is used and has the dearest terms, or holds the least goods."""
        undecided = list(bits(used & node.open_))
        return min(undecided, key=lambda at: (-self.task.tills[at].fee, values[at], at), default=None)

    def close(self, node: _Node, reaching: Reaching) -> None:
        """Settle what reaching limits costs at least; where tills are open yet that this may use, decide one of them."""
        bound = max(reaching.finish(self.ceiling(node.taken)), node.bound)
        self.offer_all(reaching)
        if bound >= self.ceiling(node.taken):
            return
        if node.open_:
            self.decide(replace(node, bound=bound), min(bits(node.open_)))
        else:
            self.leave(bound)

    def offer_all(self, reaching: Reaching) -> None:
        """Keep the best of the purchases found on the way."""
        for purchase in reaching.found:
            self.offer(purchase)

    def ceiling(self, taken: int) -> int:
        """What a purchase that uses some tills must cost less than to be of use."""
        if self.best is None or self.rank is None:
            return NEVER
        fewer = self.task.merchants_of(taken).bit_count() < self.rank[1]
        return self.best.cost + fewer
