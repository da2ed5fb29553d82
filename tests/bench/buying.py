"""Buying by length: proof and time against a plain model in HiGHS, and money against first fit, over eight families.

A family is a price list and a way to draw pieces; lengths are in 0.1 m (timber in mm), money in pence, all invented.
The plain model asks of every piece in which drum it lies; it is the one that a reader of a textbook would write.
"""

import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from random import Random
from typing import TYPE_CHECKING

from estimator.buying.cutting import cut
from estimator.buying.stock import CutSale, Piece, Plan, Stock
from estimator.solvers import must, quiet_highs

if TYPE_CHECKING:
    from highspy import Highs

SEEDS = (1, 2, 3, 4, 5)
SIZES = (10, 30, 60, 120, 300)
AGAINST = 60
"""Pieces of the tasks that the plain model is given, too."""
SECONDS = 2
"""What the plain model may take for one task; where that is too short, it took at least so long."""
HARDEST = "H"


@dataclass(frozen=True, slots=True)
class Family:
    """What is for sale, and between which two lengths pieces are drawn: any of them, or `alike` that come again."""

    name: str
    stocks: tuple[Stock, ...]
    sale: tuple[CutSale, ...]
    lengths: tuple[int, int]
    kerf: int = 0
    alike: int = 0

    def pieces(self, count: int, seed: int) -> list[int]:
        """The lengths of `count` pieces."""
        chance = Random(seed)
        own = [chance.randint(*self.lengths) for _ in range(self.alike)]
        return [chance.choice(own) if own else chance.randint(*self.lengths) for _ in range(count)]


def _drums(**prices: int) -> tuple[Stock, ...]:
    return tuple(Stock(name, 10 * int(name[1:]), price) for name, price in prices.items())


ORDINARY = _drums(d25=1000, d50=1900, d100=3500)
OFFER = _drums(d25=800, d50=1900, d100=3500)
METRES = (CutSale("metre", 10, 56),)
TIMBER = (Stock("2.4", 2400, 480), Stock("3.0", 3000, 590), Stock("3.6", 3600, 700), Stock("4.8", 4800, 920))
LEGS, LONG = (8, 140), (80, 240)
FAMILIES = {
    "A": Family("ordinary", ORDINARY, METRES, LEGS),
    "B": Family("small drum on offer", OFFER, (), LEGS),
    "C": Family("no discount", _drums(d25=1000, d50=2000, d100=4000), (), LEGS),
    "D": Family("long runs", ORDINARY, METRES, LONG),
    "E": Family("timber, saw cuts", TIMBER, (), (180, 560), kerf=3, alike=4),
    "F": Family("odd drums", _drums(d25=1000, d35=1350, d50=1900, d90=3250), METRES, LEGS),
    "G": Family("no cut lengths", ORDINARY, (), LEGS),
    "H": Family("long runs, offer", OFFER, (), LONG),
}


def run() -> Iterator[str]:
    """For each family: 60 pieces against the plain model, all sizes proven or within what, money against first fit."""
    _ours(FAMILIES["A"], FAMILIES["A"].pieces(10, 0))  # imports and first calls are no part of what is measured
    _ours(FAMILIES[HARDEST], FAMILIES[HARDEST].pieces(30, 0))
    for letter, family in FAMILIES.items():
        if letter != HARDEST:
            yield _against(letter, family)
    for letter, family in FAMILIES.items():
        yield _sizes(letter, family)


def _ours(family: Family, lengths: Sequence[int]) -> tuple[Plan, float]:
    pieces = [Piece(f"{number:03}", length) for number, length in enumerate(lengths)]
    start = time.perf_counter()
    plan = cut(pieces, family.stocks, kerf=family.kerf, sale=family.sale)
    return plan, time.perf_counter() - start


def _against(letter: str, family: Family) -> str:
    rows = []
    for seed in SEEDS:
        lengths = family.pieces(AGAINST, seed)
        plan, ours = _ours(family, lengths)
        model = Plain(family, lengths)
        theirs = model.solve()
        assert not model.proven or not plan.proven or model.cost == plan.cost, (letter, seed, model.cost, plan.cost)
        rows.append((plan, ours, model, theirs))
    least = min(theirs / ours for _, ours, _, theirs in rows)
    return (
        f"{letter} {family.name}, {AGAINST} pieces: {sum(row[0].proven for row in rows)} of {len(rows)} proven in "
        f"{max(row[1] for row in rows):.4f} s at most; the plain model proves "
        f"{sum(row[2].proven for row in rows)} in {sum(row[3] for row in rows) / len(rows):.2f} s each, "
        f"at the least {least:.0f} times our time"
    )


def _sizes(letter: str, family: Family) -> str:
    proven, gap, slowest = 0, 0.0, 0.0
    saved: list[tuple[int, int]] = []
    for size in SIZES:
        ours = theirs = 0
        for seed in SEEDS:
            lengths = family.pieces(size, seed)
            plan, seconds = _ours(family, lengths)
            proven += plan.proven
            gap = max(gap, (plan.cost - plan.bound) / plan.bound)
            slowest = max(slowest, seconds)
            ours, theirs = ours + plan.cost, theirs + first_fit(family, lengths)
        saved.append((theirs - ours, ours))
    many = len(SIZES) * len(SEEDS)
    told = ", ".join(f"{more / of:.1%} £{more / 100 / len(SEEDS):.2f}" for more, of in saved)
    return (
        f"{letter} {family.name}: {proven} of {many} proven{f', else within {gap:.2%}' if gap else ''}, {slowest:.3f} s at "
        f"most; first fit costs more by {told} a job of {', '.join(map(str, SIZES))} pieces"
    )


def first_fit(family: Family, lengths: Sequence[int]) -> int:
    """Least cost by first fit, longest piece first, over every usual drum; each drum then exchanged for the cheapest
    that holds what lies in it. Shares no code with the engine.
    """
    rooms = [stock.length for stock in family.stocks]
    costs = []
    for usual in rooms:
        drums: list[list[int]] = []
        for length in sorted(lengths, reverse=True):
            fits = (drum for drum in drums if sum(drum) + length + family.kerf * len(drum) <= usual)
            drum = next(fits, None)
            if drum is None:
                drums.append([length])
            else:
                drum.append(length)
        costs.append(sum(_cheapest(family, sum(drum) + family.kerf * (len(drum) - 1)) for drum in drums))
    return min(costs)


def _cheapest(family: Family, load: int) -> int:
    prices = [stock.price for stock in family.stocks if stock.length >= load]
    return min(prices + [-(-load // sale.unit) * sale.price for sale in family.sale])


class Plain:
    """Which piece lies in which drum, as HiGHS is told it: one number from 0 to 1 for each pair, whole metres of the cut
    length. Of every drum there are as many as first fit's money could buy, alike ones used in turn.
    """

    def __init__(self, family: Family, lengths: Sequence[int]) -> None:
        self.most = first_fit(family, lengths)
        self.cost = 0
        self.proven = False
        self.kerf = family.kerf
        self.lengths = lengths
        drums = [stock for stock in family.stocks for _ in range(min(len(lengths), self.most // stock.price))]
        self.bins: list[Stock | CutSale] = [*drums, *family.sale]

    def solve(self) -> float:
        """Solve, keep the cost and whether it is proven, and return the seconds that HiGHS took."""
        from highspy import HighsModelStatus

        highs = self._told()
        start = time.perf_counter()
        must(highs.run(), "run")
        seconds = time.perf_counter() - start
        self.proven = highs.getModelStatus() == HighsModelStatus.kOptimal
        self.cost = round(highs.getObjectiveValue())
        return seconds

    def _told(self) -> "Highs":
        import numpy as np
        from highspy import HighsVarType

        highs = quiet_highs(time_limit=float(SECONDS), mip_rel_gap=0.0)
        many, pieces = len(self.bins), len(self.lengths)
        columns = many * (pieces + 1)
        numbers = np.arange(columns, dtype=np.int32)
        tops = [float(self.most // one.price) if isinstance(one, CutSale) else 1.0 for one in self.bins]
        must(highs.addVars(columns, np.zeros(columns), np.array(tops + [1.0] * (many * pieces))), "columns")
        prices = np.array([float(one.price) for one in self.bins])
        must(highs.changeColsCost(many, numbers[:many], prices), "costs")
        whole = np.full(columns, HighsVarType.kInteger)
        must(highs.changeColsIntegrality(columns, numbers, whole), "whole numbers")
        for piece in range(pieces):
            first = many * (piece + 1)
            must(highs.addRow(1.0, 1.0, many, numbers[first : first + many], np.ones(many)), "a piece")
        for place, one in enumerate(self.bins):
            self._fill(highs, place, one)
        return highs

    def _fill(self, highs: "Highs", place: int, one: Stock | CutSale) -> None:
        """What lies in a drum is no longer than it is; a drum is taken after the one before it that is alike."""
        import numpy as np

        many = len(self.bins)
        columns = np.array([place, *range(many + place, many * (len(self.lengths) + 1), many)], dtype=np.int32)
        cut_to_order = isinstance(one, CutSale)
        room = one.unit if isinstance(one, CutSale) else one.length + self.kerf
        sizes = np.array([-float(room), *(float(length + self.kerf) for length in self.lengths)])
        over = float(self.kerf) if cut_to_order else 0.0
        must(highs.addRow(-highs.inf, over, len(columns), columns, sizes), "a drum")
        if place and self.bins[place - 1] == one:
            pair = np.array([place - 1, place], dtype=np.int32)
            must(highs.addRow(0.0, highs.inf, 2, pair, np.array([1.0, -1.0])), "alike drums in turn")
