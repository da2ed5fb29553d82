"""What is sold by the piece: the cheapest whole packs that cover a need, packs in hand first."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from estimator.buying.offers import Offers
from estimator.buying.packs import PackOffer, cover
from estimator.job.model import InHand

Bought = tuple[tuple[tuple[str, int], ...], tuple[()], Decimal, Fraction, Fraction, bool]


def buy_pieces(offers: Offers, need: Decimal, in_hand: Sequence[InHand]) -> Bought:
    """Packs by offer, no cuts, units in hand that are used, cost, bound, proven: the tail of an order's choice.

    A pack in hand is taken to be of the smallest size that is sold.
    """
    smallest = min((row.price.pack for row in offers.rows), default=Decimal(1))
    there = sum((of.packs * smallest for of in in_hand if of.packs is not None), Decimal(0))
    taken = min(there, need)
    plan = cover(need - taken, [PackOffer(row.key, row.price.pack, row.money) for row in offers.rows])
    return plan.counts, (), taken, offers.exact(plan.cost), offers.exact(plan.bound), plan.proven
