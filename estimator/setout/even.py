"""Takes a line of walls, the legal places on it and a count; gives the legal places nearest to an even spread.

All lengths are whole millimetres along the line. Every sum is exact; of equal sums the least start counts, then
the list of places that comes first by number.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.setout.even_chain import closest, fits, squares, stretches_of
from estimator.setout.even_start import Ring, best_row


@dataclass(frozen=True, slots=True)
class Even:
    """Places in ascending order, the even place of each, and the sum of their squared moves.

    `start`: the first even place in mm along the closed line, None on one wall. `total` is in mm2. A place of a closed
    line may have moved across the line's start; its even place is then at the other end.
    """

    start: int | None
    total: int
    places: tuple[int, ...]
    evens: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TooMany:
    """There is no legal set of the size asked for; `fits` is the most that go in."""

    fits: int


def spread_line(length: int, n: int, legal: Sequence[tuple[int, int]], apart: int) -> Even | TooMany:
    """Spread n places along one wall of `length` mm, even ones at (k - 1/2) x length / n rounded half up.

    `legal`: inclusive intervals of centres in mm, ascending, within 0 to length. `apart`: least mm between two
    centres; below 1 it counts as 1. The least sum of squared moves, then the places that come first by number.

    Raises:
        ValueError: n is below 1, or the intervals are out of order or out of the wall.
    """
    _check(n, legal, length)
    stretches, gap = stretches_of(legal, [(0, length + 1)]), max(apart, 1)
    most = fits(stretches, gap)
    if most < n:
        return TooMany(most)
    evens = tuple(((2 * k + 1) * length + n) // (2 * n) for k in range(n))
    places = closest(evens, stretches, gap)
    assert places is not None
    return Even(None, squares(places, evens), places, evens)


def spread_round(
    length: int, n: int, legal: Sequence[tuple[int, int]], apart: int, faces: Sequence[tuple[int, int]]
) -> Even | TooMany:
    """Spread n places round a closed line of `length` mm, even ones at f + k x length / n rounded half up.

    `legal`: inclusive intervals of centres in mm, ascending, within 0 to length - 1. `faces`: start and end of each
    wall in mm, end to end over the whole line. `apart`: least mm between two centres on one face, below 1 it counts
    as 1; a place on a shared end is on the face that starts there. Of every whole start f from 0 to length / n, the
    least sum of squared moves (the short way round, places in the order of their even ones), then the least f, then
    the places that come first by number; where the same places pair with their even ones in two ways, the way in
    which number 1 has the earlier one along the room.

    Raises:
        ValueError: n is below 1, or the intervals or faces are out of order or off the line.
    """
    _check(n, legal, length - 1)
    _check_faces(faces, length)
    stretches, gap = stretches_of(legal, faces), max(apart, 1)
    most = fits(stretches, gap)
    if most < n:
        return TooMany(most)
    ring = Ring(length, n, stretches, gap)
    best = best_row(ring)
    evens = tuple(even % length for even in ring.evens(best.start, best.turn))
    return Even(best.start, best.total, best.places, evens)


def _check(n: int, legal: Sequence[tuple[int, int]], last: int) -> None:
    if n < 1:
        raise ValueError(f"n is {n}, at least 1 is needed")
    before = -1
    for low, high in legal:
        if not before < low <= high <= last:
            raise ValueError(f"legal interval {low} to {high} is out of order or not within 0 to {last}")
        before = high


def _check_faces(faces: Sequence[tuple[int, int]], length: int) -> None:
    ends = [0, *(end for _, end in faces)]
    if [start for start, _ in faces] != ends[:-1] or ends[-1] != length or ends != sorted(set(ends)):
        raise ValueError(f"faces {list(faces)} do not lie end to end from 0 to {length}")
