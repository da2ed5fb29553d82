"""What is left of every part after the job, and how much less of it would cost less: an order in, margins out.

Only packs of merchants that the order uses are looked at, and each part for itself: what a delivery charge or another
merchant would make of it is a question for a new order.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import gcd

from estimator.buying.model import Bought, Order
from estimator.buying.offers import ANY, Offers, allowed, offers_for
from estimator.buying.packs import PackOffer, cover
from estimator.catalogue.model import Catalogue, Part, Price
from estimator.job.model import InHand, Job
from estimator.rounding import floor, money
from estimator.takeoff.model import TakeOff

ZERO = Decimal(0)
COUNTED = ("nr", "pair")
"""Units of which half a one is none."""


@dataclass(frozen=True, slots=True)
class Margin:
    """What stays over of one part, and what a little more or less of it would change.

    `spare`: units left in all, of what is bought and of what was in hand, the need taken with its waste.
    `longest_spare_mm`: of lengths, the longest piece that can still be cut, as the cutting list lies; else None.
    `fits`: how many more of the usual piece: of a counted part one with its waste, of lengths the one that half of the
    pieces or more are as long as; None where there is no usual piece.
    `less`: by how much the need would have to fall for the cost to fall. Of lengths at least that much, since the shorter
    need must also fill what is then bought. None where nothing is paid, or where it is not known.
    `saves`: money inc VAT that a fall of the need by just `less` would save (of lengths, if it fills what is then bought).
    `money_left`: ex VAT, what is paid beyond what the bill takes.
    """

    part: str
    unit: str
    spare: Decimal
    longest_spare_mm: Decimal | None
    fits: int | None
    less: Decimal | None
    saves: Decimal | None
    money_left: Decimal


@dataclass(frozen=True, slots=True)
class _Left:
    """`free` are units in hand that could be used, whether they are or not."""

    spare: Decimal
    longest_mm: Decimal | None
    fits: int | None
    free: Decimal


def margins(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> tuple[Margin, ...]:
    """The margin of every part that the order covers, by part; exact."""
    rows: dict[str, list[Price]] = {}
    for row in catalogue.prices:
        rows.setdefault(row.part, []).append(row)
    needs: dict[str, Decimal] = {}
    for of in takeoff.quantities:
        needs[of.part] = needs.get(of.part, ZERO) + of.with_waste
    return tuple(
        # A part's own prices alone, so that the whole list is not gone through for each part.
        _margin(
            job,
            replace(catalogue, prices=tuple(rows.get(bought.part, ()))),
            takeoff,
            order,
            bought,
            needs.get(bought.part, ZERO),
        )
        for bought in sorted(order.bought, key=lambda of: of.part)
    )


def _margin(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order, bought: Bought, need: Decimal) -> Margin:
    """The margin of one part; `catalogue` holds its prices alone."""
    part = catalogue.parts[bought.part]
    match = _match(catalogue, order, part)
    if part.sold_as == "piece":
        left = _pieces_left(job, catalogue, part, bought, need)
    else:
        left = _lengths_left(job, takeoff, order, part)
    nobody = _of_nobody(order, part)
    merchants = sorted({line.merchant for line in order.lines if line.merchant != ANY or nobody})
    offers = offers_for(part.part, catalogue, merchants, match)
    less, saves = _less(offers, order, part, Fraction(need - left.free)) or (None, None)
    return Margin(part.part, part.unit, left.spare, left.longest_mm, left.fits, less, saves, _money_left(bought, need))


def _of_nobody(order: Order, part: Part) -> bool:
    """Whether the part is bought at a price that no merchant has given: only then do such prices count for it."""
    return any(line.merchant == ANY for line in order.lines if line.part == part.part)


def _match(catalogue: Catalogue, order: Order, part: Part) -> str | None:
    """The make the part is bought in, where all of its group must be of one; None where any will do."""
    keys = {(line.part, line.merchant, line.pack) for line in order.lines if line.part == part.part}
    if not part.match_group or not keys:
        return None
    return next(row.match for row in catalogue.prices if (row.part, row.merchant, row.pack) in keys)


def _money_left(bought: Bought, need: Decimal) -> Decimal:
    """What costing calls left over, of one part: net of its packs less its share in the bill, to the penny."""
    units = bought.units + bought.in_hand
    rate = Fraction(bought.net) / Fraction(units) if units else Fraction(0)
    return bought.net - money(rate * Fraction(need))


def _pieces_left(job: Job, catalogue: Catalogue, part: Part, bought: Bought, need: Decimal) -> _Left:
    sold = offers_for(part.part, catalogue, allowed(job, catalogue))
    smallest = min((row.price.pack for row in sold.rows), default=Decimal(1))
    free = sum((of.units(smallest) for of in _in_hand(job, part)), ZERO)
    spare = bought.units + free - need
    fits = floor(Fraction(spare) / (1 + Fraction(part.waste))) if part.unit in COUNTED else None
    return _Left(spare, None, fits, free)


def _in_hand(job: Job, part: Part) -> list[InHand]:
    return [of for of in job.buying.in_hand if of.part == part.part]


def _lengths_left(job: Job, takeoff: TakeOff, order: Order, part: Part) -> _Left:
    kerf = job.allowances.kerf_mm if part.counter == "timber" else ZERO
    cuts = [cut for cut in order.cuts if cut.part == part.part]
    whole = Counter[Decimal]()
    for of in _in_hand(job, part):
        if of.length_mm is not None:
            whole[Decimal(of.length_mm)] += of.count
    pieces = [piece.length_mm for piece in takeoff.pieces if piece.part == part.part]
    free = sum((length for length in whole.elements() if length >= min(pieces, default=ZERO)), ZERO)
    whole.subtract(cut.stock_mm for cut in cuts if not cut.merchant)
    over = [cut.left_over_mm - kerf for cut in cuts] + sorted(whole.elements())
    spare = sum((cut.left_over_mm for cut in cuts), ZERO) + sum(whole.elements(), ZERO)
    usual = _usual(pieces)
    fits = None if usual is None else sum(floor((length + kerf) / (usual + kerf)) for length in over)
    return _Left(spare.scaleb(-3), max((ZERO, *over)), fits, free.scaleb(-3))


def _usual(lengths_mm: Sequence[Decimal]) -> Decimal | None:
    """The length that half of the pieces or more have, of two such the longer; a piece alone is not usual."""
    counts = sorted((count, length) for length, count in Counter(lengths_mm).items())
    return counts[-1][1] if counts and counts[-1][0] >= 2 and 2 * counts[-1][0] >= len(lengths_mm) else None


def _less(offers: Offers, order: Order, part: Part, short: Fraction) -> tuple[Decimal, Decimal] | None:
    """By how much the need must fall to cost less, and what that saves; `short` is what is to be bought.

    Of lengths, what is paid must be the least that so many metres cost: only then does length alone say anything.
    """
    packs = [PackOffer(row.key, row.price.pack, row.money) for row in offers.rows]
    if short <= 0 or not packs:
        return None
    now = cover(short, packs)
    if not now.proven or not now.cost or (part.sold_as == "length" and now.cost < _paid(offers, order)):
        return None
    found = _most_for_less(packs, now.cost, short)
    if found is None:
        return None
    most, cost = found
    return _decimal(short - most), _decimal(offers.exact(now.cost - cost))


def _paid(offers: Offers, order: Order) -> int:
    """What the order pays for the part, on the scale of its offers."""
    packs = Counter[tuple[str, Decimal]]()
    for line in order.lines:
        if line.part == offers.part:
            packs[line.merchant, line.pack] += line.packs
    return sum(row.money * packs[row.price.merchant, row.price.pack] for row in offers.rows)


def _most_for_less(packs: Sequence[PackOffer], cost: int, short: Fraction) -> tuple[Fraction, int] | None:
    """The most units that cost less than `cost`, which is what `short` units cost, and what they do cost.

    All packs hold whole steps, and more steps never cost less, so halving finds the last that do. None where the search
    for packs does not end with a proof.
    """
    step = _common(packs)
    low, high, least = 0, -(-short // step), 0
    while high - low > 1:
        middle = (low + high) // 2
        plan = cover(middle * step, packs)
        if not plan.proven:
            return None
        if plan.cost < cost:
            low, least = middle, plan.cost
        else:
            high = middle
    return low * step, least


def _common(packs: Sequence[PackOffer]) -> Fraction:
    """The largest step that every pack holds a whole number of."""
    step = Fraction(0)
    for pack in packs:
        units = Fraction(pack.units)
        below = step.denominator * units.denominator
        step = Fraction(gcd(int(step * below), int(units * below)), below)
    return step


def _decimal(value: Fraction) -> Decimal:
    return Decimal(value.numerator) / value.denominator
