"""What is sold by length: legs from drums without joints, timber with a saw cut between pieces, off-cuts in hand first."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import gcd

from estimator.buying.cutting import cut
from estimator.buying.model import Cut
from estimator.buying.offers import CUT_UNIT, Offers
from estimator.buying.stock import CutSale, Piece, Plan, Stock
from estimator.buying.task import Task, task_of
from estimator.job.model import InHand
from estimator.takeoff.model import CutPiece

HAND = "in hand"
_FINE = 1000
"""Lengths are counted in 1/1000 mm: sizes of timber may hold parts of a millimetre."""


@dataclass(frozen=True, slots=True)
class Lengths:
    """How one part is bought and cut: packs by offer key, the cutting list, units taken from what is in hand (m)."""

    packs: tuple[tuple[str, int], ...]
    cuts: tuple[Cut, ...]
    in_hand: Decimal
    cost: Fraction
    bound: Fraction
    proven: bool


def buy_lengths(
    offers: Offers,
    pieces: Sequence[CutPiece],
    in_hand: Sequence[InHand],
    kerf_mm: Decimal,
    limits: Mapping[str, int] | None = None,
    *,
    deep: bool = True,
) -> Lengths:
    """Cut the pieces from the cheapest stock, exactly; with `limits`, from so many packs of each offer at most.

    `deep` as of `cut`. Where there are limits and no saw cut, what is cut to order of one offer is one length: that holds all that several
    would.

    Raises:
        TooLong: a piece is longer than anything to be had, with the lengths in 1/1000 mm.
        NotEnough: there is not enough to be had.
    """
    for_sale = _for_sale(offers, pieces, in_hand, kerf_mm, limits)
    plan = cut(for_sale.pieces, for_sale.stocks, kerf=for_sale.kerf, sale=for_sale.sales, deep=deep)
    return _bought(offers, pieces, plan, for_sale.unit)


def stock_task(
    offers: Offers, pieces: Sequence[CutPiece], in_hand: Sequence[InHand], kerf_mm: Decimal
) -> tuple[Task, int]:
    """The same question in its plainest form, for listing what could hold the pieces, and a metre in its lengths.

    Raises:
        TooLong: a piece is longer than anything to be had.
    """
    for_sale = _for_sale(offers, pieces, in_hand, kerf_mm, None)
    task = task_of(for_sale.pieces, for_sale.stocks, for_sale.kerf, for_sale.sales)
    return task, _fine(1000) // for_sale.unit


@dataclass(frozen=True, slots=True)
class _ForSale:
    """Pieces and what they may be cut from, in whole numbers of `unit` / 1000 mm."""

    pieces: list[Piece]
    stocks: list[Stock]
    sales: list[CutSale]
    kerf: int
    unit: int


def _for_sale(
    offers: Offers,
    pieces: Sequence[CutPiece],
    in_hand: Sequence[InHand],
    kerf_mm: Decimal,
    limits: Mapping[str, int] | None,
) -> _ForSale:
    drums = [
        (row.key, _fine(row.price.pack * 1000), row.money, None if limits is None else limits.get(row.key, 0))
        for row in offers.rows
        if row.price.pack != CUT_UNIT
    ]
    hand = [(f"{HAND} {i}", _fine(of.length_mm), 0, of.count) for i, of in enumerate(in_hand) if of.length_mm]
    sale = [(row.key, row.money) for row in offers.rows if row.price.pack == CUT_UNIT]
    if limits is not None and not kerf_mm:
        drums += [(key, _fine(1000 * limits[key]), money, 1) for key, money in sale if limits.get(key)]
        sale = []
    wanted = [_fine(piece.length_mm) for piece in pieces]
    kerf = _fine(kerf_mm)
    unit = gcd(*wanted, *(drum[1] for drum in (*drums, *hand)), kerf, _fine(1000)) or 1
    return _ForSale(
        [Piece(f"{index:05}", length // unit) for index, length in enumerate(wanted)],
        [Stock(key, length // unit, money, limit) for key, length, money, limit in (*drums, *hand)],
        [CutSale(key, _fine(1000) // unit, money) for key, money in sale],
        kerf // unit,
        unit,
    )


def _fine(length_mm: Decimal | int) -> int:
    scaled = Decimal(length_mm) * _FINE
    whole = int(scaled)
    if whole != scaled:
        raise ValueError(f"{length_mm} mm is finer than 1/{_FINE} mm")
    return whole


def _bought(offers: Offers, pieces: Sequence[CutPiece], plan: Plan, unit: int) -> Lengths:
    packs: Counter[str] = Counter()
    cuts = []
    taken = Decimal(0)
    for held in plan.bins:
        length_mm = _mm(held.length, unit)
        from_hand = held.stock.startswith(HAND)
        merchant = "" if from_hand else offers.row(held.stock).price.merchant
        if from_hand:
            taken += length_mm.scaleb(-3)
        else:
            pack_mm = offers.row(held.stock).price.pack * 1000
            packs[held.stock] += int(length_mm / pack_mm)
        made = tuple((pieces[int(key)].of, pieces[int(key)].length_mm) for key in held.pieces)
        cuts.append(Cut(offers.part, merchant, length_mm, made, _mm(held.left, unit)))
    return Lengths(
        tuple(sorted(packs.items())), tuple(cuts), taken, offers.exact(plan.cost), offers.exact(plan.bound), plan.proven
    )


def _mm(length: int, unit: int) -> Decimal:
    return Decimal(length * unit) / _FINE
