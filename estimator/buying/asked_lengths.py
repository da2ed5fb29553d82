"""Lengths to ask for where something is sold by the metre: pieces go in, lengths that a merchant can have come out.

What is bought by the metre counts as one long length; nobody keeps timber so long, so the pieces are laid into lengths of
at most what is stocked, each piece whole.
"""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from estimator.rounding import ceil

CENTIMETRE = 10


def lengths_mm(
    pieces_mm: Iterable[Decimal], longest_mm: Decimal, kerf_mm: Decimal, bought_mm: Decimal
) -> list[Decimal]:
    """The lengths, the longest first: to whole centimetres where that is no more than what is bought, else as they are.

    None is over `longest_mm` but for a piece that is longer itself.
    """
    exact = [sum(of, Decimal(0)) + kerf_mm * (len(of) - 1) for of in _laid(pieces_mm, longest_mm, kerf_mm)]
    rounded = [min(Decimal(ceil(length / CENTIMETRE) * CENTIMETRE), max(length, longest_mm)) for length in exact]
    return sorted(rounded if sum(rounded) <= bought_mm else exact, reverse=True)


def _laid(pieces_mm: Iterable[Decimal], longest_mm: Decimal, kerf_mm: Decimal) -> Sequence[list[Decimal]]:
    """The pieces by length, the longest first, each in the first length that still has room."""
    lengths: list[list[Decimal]] = []
    for piece in sorted(pieces_mm, reverse=True):
        for of in lengths:
            if sum(of, Decimal(0)) + kerf_mm * len(of) + piece <= longest_mm:
                of.append(piece)
                break
        else:
            lengths.append([piece])
    return lengths
