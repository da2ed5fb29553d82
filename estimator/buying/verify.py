"""A second look at a finished plan, sharing no code with the engines: the plan and its question in, faults in
words out.
"""

from collections import Counter
from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from estimator.buying.stock import Bin, CutSale, Piece, Plan, Stock


def plan_faults(
    plan: Plan,
    pieces: Sequence[Piece],
    stocks: Sequence[Stock],
    *,
    kerf: int = 0,
    sale: Sequence[CutSale] = (),
    trim: int = 0,
) -> tuple[str, ...]:
    """Return what is wrong with a plan: pieces cut twice or not at all, overfull bins, wrong lengths, prices,
    limits or sums.
    """
    faults = []
    if Counter(p.key for p in pieces) != Counter(key for b in plan.bins for key in b.pieces):
        faults.append("the pieces cut are not the pieces needed")
    lengths = {piece.key: piece.length for piece in pieces}
    by_key = {stock.key: stock for stock in stocks}
    sales = {one.key: one for one in sale}
    for number, one in enumerate(plan.bins, start=1):
        lost = trim if one.stock in by_key else 0
        faults += [f"bin {number}: {fault}" for fault in _bin_faults(one, lengths, by_key, sales, kerf, lost)]
    for key, count in sorted(Counter(b.stock for b in plan.bins).items()):
        limit = by_key[key].limit if key in by_key else None
        if limit is not None and count > limit:
            faults.append(f"{count} of {key}, of which there are {limit}")
    if plan.cost != sum(b.price for b in plan.bins):
        faults.append("the cost is not the sum of the prices")
    if plan.bound > plan.cost or plan.proven != (plan.bound == plan.cost):
        faults.append("the bound does not bear out what is claimed")
    return tuple(faults)


def _bin_faults(
    one: Bin, lengths: dict[str, int], stocks: dict[str, Stock], sales: dict[str, CutSale], kerf: int, lost: int
) -> list[str]:
    faults = []
    if one.stock in stocks:
        if (one.length, one.price) != (stocks[one.stock].length, stocks[one.stock].price):
            faults.append("not the length or price of its stock")
    elif one.stock in sales:
        units, over = divmod(one.length, sales[one.stock].unit)
        if over or units < 1 or one.price != units * sales[one.stock].price:
            faults.append("not whole units at their price")
    else:
        faults.append("not for sale")
    used = sum(lengths.get(key, 0) for key in one.pieces) + kerf * (len(one.pieces) - 1)
    if not one.pieces or used + lost > one.length or one.left != one.length - used:
        faults.append("empty, overfull, or the length left over is wrong")
    return faults


def pack_faults(
    counts: Sequence[tuple[str, int]],
    cost: int,
    need: Fraction | Decimal | int,
    offers: Sequence[tuple[str, Decimal, int, int | None]],
) -> tuple[str, ...]:
    """Return what is wrong with a choice of packs, offers given as key, units, price and limit."""
    by_key = {key: (Fraction(units), price, limit) for key, units, price, limit in offers}
    faults = [f"{key} is not on offer" for key, _ in counts if key not in by_key]
    known = [(by_key[key], count) for key, count in counts if key in by_key]
    if any(count < 1 or (limit is not None and count > limit) for (_, _, limit), count in known):
        faults.append("a count below one or above its limit")
    if sum((units * count for (units, _, _), count in known), Fraction(0)) < Fraction(need):
        faults.append("less than is needed")
    if sum(price * count for (_, price, _), count in known) != cost:
        faults.append("the cost is not the sum of the prices")
    return tuple(faults)
