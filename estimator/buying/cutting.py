"""The cheapest drums, bars and cut lengths for a list of pieces: pieces and what is for sale in, a checked
cutting plan out.

Two engines take turns: combinations of drums by rising cost, refused or filled (whole numbers only), and,
where that leaves the cost open, column generation with a dive. Limits on work are counts, never a clock, so
the same question has the same answer.
"""

from collections.abc import Sequence
from dataclasses import replace

from estimator.buying.bounds import NEVER, Measure, by_size, capped
from estimator.buying.fill import fitted
from estimator.buying.settle import Effort, settle
from estimator.buying.stock import Bin, CutSale, NotEnough, Piece, Plan, PlanFault, Stock
from estimator.buying.task import Layout, Load, Task, task_of
from estimator.buying.verify import plan_faults

MOST_EXACT = 40  # pieces, up to which combinations are searched as EXACT says, beyond as QUICK does
QUICK = Effort(combos=10, tries=3, steps=0)
FIRST = replace(QUICK, combos=2)  # before it is asked what pieces are worth
FEW_KINDS = 4  # of drums or lengths, up to which that is not asked
EXACT = Effort(combos=200, tries=24, steps=2_000)
ROUNDS = 400  # of pricing for the whole task
FINEST = 100_000  # what the dearest length comes to in the money that the second engine is given, where it is coarsened


def cut(
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    *,
    kerf: int = 0,
    sale: Sequence[CutSale] = (),
    trim: int = 0,
    deep: bool = True,
) -> Plan:
    """Return the cheapest way found to cut the pieces, and a bound that no way goes below.

    Without `deep` the second engine is left out, unless the first finds nothing.

    Units: lengths and money in any whole unit each; pieces + kerf x (n - 1) + trim <= length of a bin. `trim`
    is what squaring the end takes off each stock, once; a length cut to order bears none. It counts as left over.
    Ties: least money, then least length bought, then fewest bins, then a fixed rule that does not depend on
    the order of the input; `proven` speaks of the money alone. With a kerf and more than 64 lengths that could be
    cut to order, lengths and bins of equal money are not settled, and a gap in money may stay open, told as such.
    Order: bins by falling length, then key; in a bin the longest piece first, equal ones by key.
    Raises: ValueError for lengths, prices, limits or keys that cannot be; TooLong for pieces that fit
    nothing; NotEnough where limits run out; PlanFault if the plan fails its check.
    """
    if not pieces:
        return Plan((), 0, 0, True, "nothing to cut")
    task = task_of(pieces, stocks, kerf, sale, trim)
    layout, bound, method = _solve(task, deep)
    bins = _bins(task, layout, pieces)
    cost = sum(one.price for one in bins)
    plan = Plan(bins, cost, bound, bound == cost, method)
    faults = plan_faults(plan, pieces, stocks, kerf=kerf, sale=sale, trim=trim)
    if faults:
        raise PlanFault("; ".join(faults))
    return plan


def _solve(task: Task, deep: bool) -> tuple[Layout, int, str]:
    """Return a layout, a lower bound in money, and the name of what found the layout."""
    best = min(fitted(task), key=task.weigh, default=None)
    method = "first fit"
    lean = capped(task)
    effort = EXACT if len(task.sizes) <= MOST_EXACT else QUICK
    ceiling = task.weigh(best) if best is not None else NEVER
    measures = by_size(task)
    several = deep and effort is QUICK and len(task.kinds) > FEW_KINDS and not task.sales
    found = settle(lean, measures, ceiling, FIRST if several else effort)
    if several and found.layout is None and found.bound < ceiling:
        # Trying to fill what cannot hold the pieces takes longer than asking what they are worth.
        found = settle(lean, measures + by_worth(task), ceiling, effort)
    if found.layout is not None:
        best, method = found.layout, "combinations"
    bound = found.bound // task.money
    if best is None or (deep and bound < task.weigh(best) // task.money):
        best, bound, method = _second(task, best, bound, method)
    if best is None:
        raise NotEnough(bound >= NEVER // task.money)
    return best, bound, method


def by_worth(task: Task) -> list[Measure]:
    """The measure by what pieces are worth where lengths are bought in fractions; none where that is too much work."""
    from estimator.buying.patterns import Patterns

    grain = max(1, max((of.stock.price for of in task.kinds), default=0) // FINEST)
    kinds = tuple(replace(of, stock=replace(of.stock, price=of.stock.price // grain)) for of in task.kinds)
    coarse = replace(task, kinds=kinds, sales=tuple(replace(of, price=of.price // grain) for of in task.sales))
    patterns = Patterns(coarse)
    if not patterns.small_enough:
        return []
    found = patterns.measure(task, patterns.relax(coarse, ROUNDS).worth)
    return [] if found is None else [found]


def _second(task: Task, best: Layout | None, bound: int, method: str) -> tuple[Layout | None, int, str]:
    """Return what the second engine makes of a task that the first left open; numpy and HiGHS are loaded only
    here.
    """
    from estimator.buying.dive import dive
    from estimator.buying.narrow import narrow
    from estimator.buying.patterns import Patterns, cut_off

    patterns = Patterns(task)
    if not patterns.small_enough:
        return best, bound, method
    patterns.learn(best or ())
    relaxed = patterns.relax(task, ROUNDS)
    by_worth = patterns.measure(task, relaxed.worth)
    measures = by_size(task) + ([by_worth] if by_worth else [])
    ceiling = task.weigh(best) if best else NEVER
    found = narrow(patterns, capped(task), measures, ceiling)
    bound = max(bound, found.bound // task.money)
    if found.layout is not None:
        best, method, ceiling = found.layout, "patterns", task.weigh(found.layout)
    if bound < ceiling // task.money:
        layout = dive(patterns, task, ceiling, cut_off(patterns, task, relaxed))
        if layout is not None:
            best, method = layout, "patterns"
    return best, bound, method


def _bins(task: Task, layout: Layout, pieces: Sequence[Piece]) -> tuple[Bin, ...]:
    """Return the bins in order, with keys given out to equal pieces in order of key."""
    keys: dict[int, list[str]] = {}
    for piece in sorted(pieces, key=lambda p: p.key, reverse=True):
        keys.setdefault((piece.length + task.kerf) // task.grain, []).append(piece.key)
    bins = []
    for length, key, price, load in sorted(_bought(task, load) for load in layout):
        names = tuple(keys[size].pop() for size in load)
        left = -length - sum(load) * task.grain + task.kerf
        bins.append(Bin(key, -length, price, names, left))
    return tuple(bins)


def _bought(task: Task, load: Load) -> tuple[int, str, int, tuple[int, ...]]:
    if load.kind < len(task.kinds):
        stock = task.kinds[load.kind].stock
        return -stock.length, stock.key, stock.price, load.sizes
    sale = task.sales[load.kind - len(task.kinds)]
    units = task.units(sale, sum(load.sizes))
    return -units * sale.unit, sale.key, units * sale.price, load.sizes
