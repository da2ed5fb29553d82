"""What is bought for an extra once the walls are closed: two estimates (without it, with it) go in, money inc VAT comes out."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from estimator.buying.offers import allowed, inc_vat, named_first
from estimator.catalogue.model import Catalogue
from estimator.job.model import Job
from estimator.result import Estimate
from estimator.rounding import money
from estimator.takeoff.model import CutPiece

MM = Fraction(1, 1000)


def materials(before: Estimate, after: Estimate) -> Decimal:
    """All that is added, each part in the smallest packs that hold it."""
    total = Fraction(0)
    for part, units in _added(before, after).items():
        total += _alone(after.job, after.catalogue, part, units)
    for piece in _pieces(before, after):
        total += _alone(after.job, after.catalogue, piece.part, Fraction(piece.length_mm) * MM)
    return money(total)


def sums(before: Estimate, after: Estimate) -> Iterator[tuple[str, Decimal]]:
    """Sums that are added cost as much later as now: nobody has said otherwise."""
    had = {line.sum.name for line in before.budget.sums}
    for line in after.budget.sums:
        if line.sum.name not in had:
            vat = money(line.net * after.job.allowances.vat) if line.sum.vat == "ex" else line.vat
            yield line.sum.name, line.net + vat


def _added(before: Estimate, after: Estimate) -> dict[str, Fraction]:
    """Units more of every part that is sold by the piece."""
    parts = after.catalogue.parts
    more: dict[str, Fraction] = {}
    for sign, estimate in ((1, after), (-1, before)):
        for line in estimate.takeoff.quantities:
            if parts[line.part].sold_as == "piece":
                more[line.part] = more.get(line.part, Fraction(0)) + sign * Fraction(line.with_waste)
    return {part: units for part, units in sorted(more.items()) if units > 0}


def _pieces(before: Estimate, after: Estimate) -> list[CutPiece]:
    """So many of the longest pieces of each part as there are more of them: which leg is new is not to be known."""
    had = Counter(piece.part for piece in before.takeoff.pieces)
    by_part: dict[str, list[CutPiece]] = {}
    for piece in after.takeoff.pieces:
        by_part.setdefault(piece.part, []).append(piece)
    added = []
    for part, pieces in sorted(by_part.items()):
        pieces.sort(key=lambda piece: (-piece.length_mm, piece.of))
        added += pieces[: max(0, len(pieces) - had[part])]
    return added


def _alone(job: Job, catalogue: Catalogue, part: str, units: Fraction) -> Fraction:
    """Money inc VAT for so many units bought by themselves, in the cheapest one pack size; nothing where nobody sells it."""
    merchants = allowed(job, catalogue)
    rate = catalogue.parts[part].vat_rate
    sold = [
        row
        for row in catalogue.prices
        if row.part == part
        and row.merchant in merchants
        and (catalogue.parts[part].sold_as == "piece" or _holds(row.pack, units))
    ]
    costs = [inc_vat(row, rate) * -(-units // Fraction(row.pack)) for row in named_first(sold)]
    return min(costs, default=Fraction(0))


def _holds(pack: Decimal, units: Fraction) -> bool:
    """Whether a piece of that length can be had out of one pack: cut to order, or no longer than it."""
    return pack == 1 or Fraction(pack) >= units
