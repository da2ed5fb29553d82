"""How many drums or lengths hold given pieces: pieces and a stock length go in, a count that is enough comes out."""

from collections.abc import Iterable
from decimal import Decimal


def enough(pieces_mm: Iterable[Decimal], stock_mm: Decimal, kerf_mm: Decimal = Decimal(0)) -> int | None:
    """So many of `stock_mm` that every piece can be cut whole, a saw cut of `kerf_mm` between neighbours.

    The longest piece goes first, each into the first that still has room: always enough, at times one more than would
    do. None where a piece is longer than the stock.
    """
    left: list[Decimal] = []
    for piece in sorted(pieces_mm, reverse=True):
        if piece > stock_mm:
            return None
        place = next((index for index, room in enumerate(left) if room >= piece + kerf_mm), None)
        if place is None:
            left.append(stock_mm - piece)
        else:
            left[place] -= piece + kerf_mm
    return len(left)
