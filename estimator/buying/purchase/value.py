"""What a way to buy everything comes to: bundles and extra packs in, a `Purchase` with its charges and its rank out."""

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction

from estimator.buying.purchase.model import Bundle, Extra, Purchase, Task, Want, bits

Picks = tuple[tuple[Want, Bundle], ...]
Rank = tuple[int, int, Fraction, tuple[str, ...]]


def values_of(task: Task, picks: Picks, extras: Sequence[Extra] = ()) -> tuple[list[int], int]:
    """The value of goods at every till, in its merchant's basis, and the tills that are used."""
    values = [0] * len(task.tills)
    used = 0
    for want, bundle in picks:
        for way, count in bundle.packs:
            till = task.till(want, way.seller)
            values[till] += way.value * count
            used |= 1 << till
    for extra in extras:
        till = task.till(extra.want, extra.way.seller)
        values[till] += extra.way.value * extra.packs
        used |= 1 << till
    return values, used


def purchase_of(task: Task, picks: Picks, extras: Sequence[Extra]) -> Purchase | None:
    """The purchase; None where it uses too many merchants or does not reach a least order."""
    values, used = values_of(task, picks, extras)
    charges = charges_of(task, values, used)
    if charges is None or task.merchants_of(used).bit_count() > task.most:
        return None
    goods = goods_money(picks, extras)
    left = left_over(picks, extras)
    return Purchase(picks, tuple(extras), tuple(values), charges, used, goods + sum(charges), left)


def charges_of(task: Task, values: Sequence[int], used: int) -> tuple[int, ...] | None:
    """What every till charges; None where one that is used does not reach its least order."""
    if any(values[till] < task.tills[till].minimum for till in bits(used)):
        return None
    return tuple(
        till.charge(value) if used >> at & 1 else 0
        for at, (till, value) in enumerate(zip(task.tills, values, strict=True))
    )


def goods_money(picks: Picks, extras: Sequence[Extra]) -> int:
    """What is paid for goods."""
    return sum(bundle.cost for _, bundle in picks) + sum(extra.way.money * extra.packs for extra in extras)


def left_over(picks: Picks, extras: Sequence[Extra]) -> Fraction:
    """Money ex VAT left in packs, on the scale of the purchase: each part's packs less the share that is needed of them."""
    more: dict[int, list[Extra]] = {}
    for extra in extras:
        more.setdefault(extra.want.number, []).append(extra)
    total = Fraction(0)
    for want, bundle in picks:
        own = more.get(want.number, ())
        if not bundle.packs and not own:
            continue
        money = bundle.cost + sum(extra.way.money * extra.packs for extra in own)
        units = bundle.in_hand + sum((way.units * count for way, count in bundle.packs), Decimal(0))
        units += sum((extra.way.units * extra.packs for extra in own), Decimal(0))
        if want.with_waste < units:
            total += Fraction(money) / (1 + Fraction(want.vat_rate)) * (1 - Fraction(want.with_waste) / Fraction(units))
    return total


def rank(task: Task, purchase: Purchase) -> Rank:
    """What orders purchases: money, merchants, money left over, merchants by name."""
    names = task.names_of(purchase.used)
    return purchase.cost, len(names), purchase.left_over, names
