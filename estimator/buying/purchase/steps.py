"""How one want is covered pack by pack: a want and its ways in, steps from row to row out.

A row stands for so many units covered, or for a set of pieces cut; the last for all of them.
"""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from decimal import Decimal
from fractions import Fraction
from itertools import islice
from math import ceil

from estimator.buying.offers import CUT_UNIT
from estimator.buying.purchase.choices import OutOfWork, Packs
from estimator.buying.purchase.model import Want, Way
from estimator.buying.purchase.options import covers, whole_units

FEW_COVERS = 1_000
"""Ways to cover a need, that are listed."""

Step = tuple[int, int, Packs]
"""From a row to another by some packs."""


def unit_steps(want: Want, ways: Sequence[Way]) -> tuple[list[Step], int]:
    """All at once where there are few ways to cover the need; else a row for each number of units, way after way."""
    sizes, need = whole_units(want, ways)
    with suppress(OutOfWork):
        listed = list(islice(covers(want, ways, {way.key: way.money for way in ways}, None), FEW_COVERS))
        if len(listed) < min(FEW_COVERS, need * len(ways)):
            return [(0, 1, packs) for packs in listed], 1
    return [
        (row, min(need, row + size), ((way, 1),)) for way, size in zip(ways, sizes, strict=True) for row in range(need)
    ], need


Brought = tuple[Way, int, tuple[int, ...]]
"""So many packs of a way, and what they bring to each need of a want."""


def unit_by_unit(want: Want, ways: Sequence[Way]) -> tuple[list[Brought], list[int]]:
    """Each pack by its units, and the units needed."""
    sizes, need = whole_units(want, ways)
    return [(way, 1, (size,)) for way, size in zip(ways, sizes, strict=True)], [need]


def cut_apart(want: Want, ways: Sequence[Way]) -> tuple[list[Brought], list[int]]:
    """Each length with each set of pieces that can be cut from it, and that each piece is needed."""
    many = len(want.pieces)
    found: list[Brought] = []
    for chosen in range(1, 1 << many):
        brought = tuple(chosen >> at & 1 for at in range(many))
        found += [(way, count, brought) for way, count in packs_for(want, ways, chosen)]
    return found, [1] * many


def cut_steps(want: Want, ways: Sequence[Way]) -> tuple[list[Step], int]:
    """A row for each set of pieces cut; each length takes the first piece that is left, and any others that fit."""
    last = (1 << len(want.pieces)) - 1
    steps: list[Step] = []
    for row in range(last):
        first = (~row & (row + 1)).bit_length() - 1
        rest = last & ~row & ~(1 << first)
        for others in _subsets(rest):
            chosen = others | 1 << first
            steps += [(row, row | chosen, (pack,)) for pack in packs_for(want, ways, chosen)]
    return steps, last


def packs_for(want: Want, ways: Sequence[Way], chosen: int) -> Iterator[tuple[Way, int]]:
    """One length from which some pieces can be cut, of every way that has one."""
    load_mm = _load_mm(want, chosen)
    for way in ways:
        if way.units == CUT_UNIT:
            yield way, ceil(Fraction(load_mm) / 1000)
        elif load_mm <= way.units * 1000:
            yield way, 1


def _load_mm(want: Want, chosen: int) -> Decimal:
    lengths = [piece.length_mm for number, piece in enumerate(want.pieces) if chosen >> number & 1]
    return sum(lengths, Decimal(0)) + want.kerf_mm * max(0, len(lengths) - 1)


def _subsets(mask: int) -> Iterator[int]:
    """All subsets, none of the pieces first."""
    subset = 0
    while True:
        yield subset
        if subset == mask:
            return
        subset = (subset - mask) & mask


def free_masks(want: Want) -> list[int]:
    """Sets of pieces that can be cut from what is in hand."""
    every = (1 << len(want.pieces)) - 1
    found = {0}
    for held in want.held:
        for _ in range(held.count if held.length_mm else 0):
            fits = [of for of in _subsets(every) if _load_mm(want, of) <= (held.length_mm or 0)]
            found |= {mask | of for mask in found for of in fits}
    return sorted(found)
