"""The cutting task in its plainest form: pieces and stocks in, bare whole numbers (sizes, rooms, weights)
out.

One saw cut is added to each piece and to each stock, so a bin holds its pieces when their sizes sum to no
more than its room; all sizes are then divided by their common divisor. A *weight* is one whole number that
orders plans by money, then by length bought, then by number of bins.

Without saw cuts one length cut to order is never worse than two, and a sale stays a sale. With them two
lengths hold more than one; each length that a sale may give is then a kind of its own, if they are not too many.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from math import gcd

from estimator.buying.stock import CutSale, Piece, Stock, TooLong

MOST_LENGTHS = 64  # cut to order, that become kinds, of
MOST_TRIED = 1_000  # that are looked at
TABLE_CELLS = 4_000_000  # distinct sizes x longest room: what column generation may hold


@dataclass(frozen=True, slots=True)
class Kind:
    """A stock: what it can hold, its weight, and the most bins of it that a plan may have."""

    stock: Stock
    room: int
    weight: int
    most: int
    limited: bool


@dataclass(frozen=True, slots=True)
class Load:
    """One bin: `kind` counts through the task's kinds and then its sales; the sizes lie in falling order."""

    kind: int
    sizes: tuple[int, ...]


Layout = tuple[Load, ...]


@dataclass(frozen=True, slots=True)
class Task:
    """Sizes in falling order, kinds by rising room, sales; `money` and `step` are the weights of one money
    unit and of one bin's length unit.
    """

    sizes: tuple[int, ...]
    kinds: tuple[Kind, ...]
    sales: tuple[CutSale, ...]
    grain: int
    kerf: int
    money: int
    step: int

    def units(self, sale: CutSale, load: int) -> int:
        """Return how many whole units of a sale hold a load, in one length."""
        return -((self.kerf - load * self.grain) // sale.unit)

    def unit_weight(self, sale: CutSale) -> int:
        """Return the weight of one unit of a sale, the bin itself not counted."""
        return sale.price * self.money + sale.unit * self.step

    def weight(self, kind: int, load: int) -> int:
        """Return the weight of one bin of a kind, or of the least cut length that holds the load."""
        if kind < len(self.kinds):
            return self.kinds[kind].weight
        sale = self.sales[kind - len(self.kinds)]
        return self.units(sale, load) * self.unit_weight(sale) + 1

    def weigh(self, layout: Layout) -> int:
        """Return the weight of a whole layout."""
        return sum(self.weight(load.kind, sum(load.sizes)) for load in layout)

    def rest(self, sizes: Sequence[int], used: Sequence[int]) -> "Task":
        """Return the task of the sizes still to be cut when some bins of each kind are gone."""
        kinds = tuple(
            replace(kind, most=max(0, kind.most - gone)) if kind.limited else kind
            for kind, gone in zip(self.kinds, used, strict=True)
        )
        return replace(self, sizes=tuple(sorted(sizes, reverse=True)), kinds=kinds)


def task_of(
    pieces: Sequence[Piece], stocks: Sequence[Stock], kerf: int, sale: Sequence[CutSale], trim: int = 0
) -> Task:
    """Return the task for pieces and what is for sale, stocks that hold no piece left out; the order of the
    input is forgotten.

    `trim` is what is lost of each stock, but not of a length cut to order.
    Raises: ValueError for a length, unit, price, limit, kerf or trim that cannot be, or a key given two
    meanings; TooLong for pieces that fit nothing.
    """
    _check(pieces, stocks, kerf, sale, trim)
    raw = sorted((piece.length + kerf for piece in pieces), reverse=True)
    grain = reduce(gcd, raw, 0) or 1
    sizes = tuple(size // grain for size in raw)
    most_length = (
        len(raw) * (max((s.length for s in stocks), default=0) + max((s.unit for s in sale), default=0)) + sum(raw) + 1
    )
    step = len(raw) + 1
    money = most_length * step
    kinds = []
    for stock in sorted(stocks, key=lambda s: (s.length, s.price, s.key)):
        room = (stock.length - trim + kerf) // grain
        most = len(raw) if stock.limit is None else min(stock.limit, len(raw))
        if most and sizes and room >= sizes[-1]:
            weight = stock.price * money + stock.length * step + 1
            kinds.append(Kind(stock, room, weight, most, most < len(raw)))
    sales = tuple(sorted(sale, key=lambda s: (s.unit, s.price, s.key)))
    task = Task(sizes, tuple(kinds), sales, grain, kerf, money, step)
    return _unfolded(task) if kerf and sales and sizes else task


def _unfolded(task: Task) -> Task:
    """Return the task with every length of use that a sale may give as a kind, or unchanged where they are too many."""
    total = sum(task.sizes)
    if sum(task.units(sale, total) for sale in task.sales) > MOST_TRIED:
        return task
    loads = sums(task.sizes, total)
    lengths = [length for sale in task.sales for length in _lengths(task, sale, loads)]
    kinds = sorted((*task.kinds, *lengths), key=lambda kind: (kind.room, kind.weight, kind.stock.key))
    if len(lengths) > MOST_LENGTHS or len(set(task.sizes)) * kinds[-1].room > TABLE_CELLS:
        return task
    return replace(task, kinds=tuple(kinds), sales=())


def _lengths(task: Task, sale: CutSale, loads: int) -> Iterator[Kind]:
    """Yield the lengths of a sale that some pieces fill to within less than a unit; `loads` as `sums` gives them."""
    below = 0
    for units in range(1, task.units(sale, sum(task.sizes)) + 1):
        room = (units * sale.unit + task.kerf) // task.grain
        if (loads & ((1 << (room + 1)) - 1)) >> (below + 1):
            length = Stock(sale.key, units * sale.unit, units * sale.price)
            yield Kind(length, room, units * task.unit_weight(sale) + 1, len(task.sizes), False)
        below = room


def _check(pieces: Sequence[Piece], stocks: Sequence[Stock], kerf: int, sale: Sequence[CutSale], trim: int) -> None:
    whole = [p.length > 0 for p in pieces] + [s.length > 0 and s.price >= 0 for s in stocks] + [kerf >= 0, trim >= 0]
    whole += [s.limit is None or s.limit >= 0 for s in stocks] + [s.unit > 0 and s.price >= 0 for s in sale]
    if not all(whole):
        raise ValueError("lengths and units must be above zero; prices, limits, kerf and trim not below it")
    keys = [s.key for s in stocks] + [s.key for s in sale]
    if len(keys) != len(set(keys)):
        raise ValueError("two things for sale share a key")
    if len({p.key for p in pieces}) != len({(p.key, p.length) for p in pieces}):
        raise ValueError("pieces of different length share a key")
    longest = max((s.length - trim for s in stocks if s.limit != 0 and s.length > trim), default=0)
    long = [] if sale else sorted({p.key for p in pieces if p.length > longest})
    if long:
        raise TooLong(long, longest)


def sums(sizes: Sequence[int], top: int) -> int:
    """Return the subset sums of the sizes up to `top`, as the bits of one number."""
    mask = (1 << (top + 1)) - 1
    bits = 1
    for size in sizes:
        bits |= (bits << size) & mask
    return bits


def halves(most: int) -> list[int]:
    """Return parts of which every number from 0 to `most` is a sum."""
    parts = []
    part = 1
    while most > 0:
        parts.append(min(part, most))
        most -= parts[-1]
        part *= 2
    return parts
