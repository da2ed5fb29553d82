"""The cheapest whole packs for an amount: a need and what is on offer in, numbers of packs and a checked cost
out.

Exact whole numbers throughout. Branch and bound settles what price lists look like; where prices are so alike
that it would not end soon, a table over all amounts does.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from functools import reduce
from math import gcd, lcm

from estimator.buying.stock import NotEnough, PlanFault
from estimator.buying.task import halves
from estimator.buying.verify import pack_faults

MOST_STEPS = 20_000  # of branch and bound
MOST_CELLS = 3_000_000  # of the table: amounts x offers


@dataclass(frozen=True, slots=True)
class PackOffer:
    """A pack of `units` of a part at a price; `limit` is how many packs are to be had, None for as many as
    wanted.
    """

    key: str
    units: Decimal
    price: int
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class PackPlan:
    """How many of which packs, by key; none cover the need for less than `bound`, and `proven` says that
    these cost just that.
    """

    counts: tuple[tuple[str, int], ...]
    cost: int
    bound: int
    proven: bool


@dataclass(frozen=True, slots=True)
class _Offer:
    place: int  # by key
    size: int
    weight: int
    most: int


@dataclass(frozen=True, slots=True)
class _Task:
    """`need` in whole steps; offers by rising weight for each step; `money` is the weight of one unit of
    money.
    """

    need: int
    offers: tuple[_Offer, ...]
    money: int


def cover(need: Fraction | Decimal | int, offers: Sequence[PackOffer]) -> PackPlan:
    """Return the whole packs of least cost whose units together are the need or more.

    Units: `need` in the unit of the packs, money in any whole unit.
    Ties: least money, then least left over, then fewest packs, then more of the pack whose key comes first.
    Order: by key. Raises: ValueError for a need, pack, price or limit that cannot be, or a key given twice;
    NotEnough where all packs together are less than the need; PlanFault if the plan fails its check.
    """
    _check(need, offers)
    if need == 0:
        return PackPlan((), 0, 0, True)
    by_key = sorted(offers, key=lambda offer: offer.key)
    task = _task(Fraction(need), by_key)
    if sum(offer.size * offer.most for offer in task.offers) < task.need:
        raise NotEnough(True)
    search = _Search(task)
    search.run()
    counts, open_ended = search.best, search.steps > MOST_STEPS
    if open_ended and task.need * len(task.offers) <= MOST_CELLS:
        counts, open_ended = _by_table(task), False
    packs = tuple((offer.key, count) for offer, count in zip(by_key, counts, strict=True) if count)
    cost = sum(offer.price * count for offer, count in zip(by_key, counts, strict=True))
    bound = min(cost, _rate_bound(task) // task.money) if open_ended else cost
    faults = pack_faults(packs, cost, need, [(o.key, o.units, o.price, o.limit) for o in offers])
    if faults:
        raise PlanFault("; ".join(faults))
    return PackPlan(packs, cost, bound, cost == bound)


def _check(need: Fraction | Decimal | int, offers: Sequence[PackOffer]) -> None:
    fine = [offer.units > 0 and offer.price >= 0 and (offer.limit is None or offer.limit >= 0) for offer in offers]
    if need < 0 or not all(fine):
        raise ValueError("a pack must hold something; needs, prices and limits must not be below zero")
    if len({offer.key for offer in offers}) != len(offers):
        raise ValueError("two packs on offer share a key")


def _task(need: Fraction, by_key: Sequence[PackOffer]) -> _Task:
    """Return the task in whole steps, the largest of which all packs are made; the need is rounded up to
    them.
    """
    parts = [Fraction(offer.units) for offer in by_key]
    below = lcm(*(part.denominator for part in parts))
    sizes = [int(part * below) for part in parts]
    step = reduce(gcd, sizes, 0) or 1
    sizes = [size // step for size in sizes]
    steps = -(-need.numerator * below // (need.denominator * step))
    most = [steps if o.limit is None else min(o.limit, steps) for o in by_key]
    packs = -(-steps // min(sizes, default=1)) + 1
    tie = (packs + 1) ** len(sizes)
    length = packs * tie
    money = (steps + max(sizes, default=0) + 1) * length
    found = [
        _Offer(
            place,
            size,
            offer.price * money + size * length + tie - (packs + 1) ** (len(sizes) - 1 - place),
            limit,
        )
        for place, (offer, size, limit) in enumerate(zip(by_key, sizes, most, strict=True))
    ]
    return _Task(steps, tuple(sorted(found, key=lambda o: (Fraction(o.weight, o.size), o.place))), money)


def _rate_bound(task: _Task) -> int:
    """Return the least weight when packs may be bought in fractions."""
    weight, left = 0, task.need
    for offer in task.offers:
        if offer.size * offer.most >= left:
            return weight - (-left * offer.weight) // offer.size
        weight += offer.weight * offer.most
        left -= offer.size * offer.most
    return weight


class _Search:
    """Branch and bound: of the pack with the best rate as many as possible, then one fewer, and so on."""

    def __init__(self, task: _Task) -> None:
        self.offers = task.offers
        self.need = task.need
        self.steps = 0
        self.counts = [0] * len(task.offers)
        self.best: list[int] = []
        self.least: int | None = None

    def run(self) -> None:
        """Find the lightest counts, or the lightest within MOST_STEPS."""
        self._next(0, self.need, 0)

    def _next(self, at: int, left: int, weight: int) -> None:
        if left <= 0:
            if self.least is None or weight < self.least:
                self.least, self.best = weight, list(self.counts)
            return
        if at == len(self.offers) or (self.least is not None and self.steps > MOST_STEPS):
            return
        self.steps += 1
        offer = self.offers[at]
        for count in range(min(offer.most, -(-left // offer.size)), -1, -1):
            rest = left - count * offer.size
            heavier = weight + count * offer.weight
            if self._hopeless(at + 1, rest, heavier):
                if rest > 0:
                    return
                continue
            self.counts[offer.place] = count
            self._next(at + 1, rest, heavier)
            self.counts[offer.place] = 0

    def _hopeless(self, at: int, left: int, weight: int) -> bool:
        if left > 0 and sum(offer.size * offer.most for offer in self.offers[at:]) < left:
            return True
        if self.least is None:
            return False
        if left > 0:
            weight -= -left * self.offers[at].weight // self.offers[at].size
        return weight >= self.least


def _by_table(task: _Task) -> list[int]:
    """Return the lightest counts by a table over all amounts up to the need."""
    heavy = sum(offer.weight * offer.most for offer in task.offers) + 1
    lightest = [0] + [heavy] * task.need
    steps: list[tuple[_Offer, int, bool, bytearray]] = []
    for offer in task.offers:
        many = offer.size * offer.most >= task.need
        for part in [1] if many else halves(offer.most):
            size, weight, taken = offer.size * part, offer.weight * part, bytearray(task.need + 1)
            order = range(1, task.need + 1) if many else range(task.need, 0, -1)
            for amount in order:
                value = lightest[amount - size if amount > size else 0] + weight
                if value < lightest[amount]:
                    lightest[amount] = value
                    taken[amount] = 1
            steps.append((offer, part, many, taken))
    counts = [0] * len(task.offers)
    left = task.need
    for offer, part, many, taken in reversed(steps):
        while left > 0 and taken[left]:
            counts[offer.place] += part
            left = max(0, left - offer.size * part)
            if not many:
                break
    return counts
