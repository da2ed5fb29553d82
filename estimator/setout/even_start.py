"""Takes a closed line with its legal places; gives the start whose even places lie nearest to legal ones.

A try is a start together with a turn: which even place number 1 has. Places may move across the line's end, so turns
other than 0 count too. For given places, the sum of squared moves is the sum of squares of the try's even places plus
a straight line in how far these are shifted along the room. The best sum, less those squares, is thus the least of many
straight lines, and so is never below the chord between two tries that are solved. That bound, and the sum with
clearances forgotten, leave most tries out.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush
from itertools import pairwise
from typing import NamedTuple

from estimator.setout.even_chain import Stretch, closest, nearest, squares


@dataclass(frozen=True, slots=True)
class Ring:
    """A closed line of `length` mm, `count` places wanted, its legal stretches, the least gap on one face in mm."""

    length: int
    count: int
    stretches: tuple[Stretch, ...]
    gap: int

    def even(self, k: int) -> int:
        """The even place k of start 0, not wrapped at the line's ends."""
        return (2 * k * self.length + self.count) // (2 * self.count)

    def evens(self, start: int, turn: int) -> list[int]:
        """Even places of numbers 1 to n, number 1 having the one that is `turn` after the start; not wrapped."""
        return [start + self.even(k) for k in range(turn, turn + self.count)]


class Row(NamedTuple):
    """The best places for one start (mm) and turn, and their sum of squared moves (mm2); less is better."""

    total: int
    start: int
    places: tuple[int, ...]
    turn: int


class _Try(NamedTuple):
    """A start in mm and a turn, with the sum when clearances are forgotten, which no sum is below.

    `shift`: the sum of the even places, less that of start 0 and turn 0, in mm; `square`: the sum of their squares.
    """

    turn: int
    start: int
    bound: int
    shift: int
    square: int


class _Span(NamedTuple):
    """Tries between two solved ones, by index: their least bound, its start, and the one to solve next."""

    bound: int
    start: int
    split: int
    first: int
    last: int


def best_row(ring: Ring) -> Row:
    """The row with the least sum of all starts 0 to length / n, then the least start, then the first places by number.

    Raises:
        ValueError: fewer places fit than the ring's `count`.
    """
    bounds = _sums(ring, _near_round(ring), 0)
    start = bounds.index(min(bounds))
    turn = _lowest_turn(ring, start)
    best = _solve(ring, start, turn)
    if best.total > bounds[start]:
        return _search(ring, best)
    return min([best, *_equals(ring, best, 1), *_equals(ring, best, -1)])


def _equals(ring: Ring, best: Row, step: int) -> list[Row]:
    """Rows of the same start and sum with other turns, going up or down."""
    rows: list[Row] = []
    turn = best.turn + step
    while _loose(ring, best.start, turn) <= best.total:
        places = closest(ring.evens(best.start, turn), ring.stretches, ring.gap, best.total)
        if places is not None:
            rows.append(best._replace(places=places, turn=turn))
        turn += step
    return rows


def _search(ring: Ring, best: Row) -> Row:
    """Split the tries that may be as good as `best` until no bound is."""
    tries = _tries(ring, best.total)
    ends = sorted({0, len(tries) - 1, _index(tries, best)})
    solved = {i: _solve(ring, tries[i].start, tries[i].turn, best) for i in ends}
    best = min(solved.values())
    heap = [span for i, j in pairwise(ends) for span in _span(ring, tries, solved, i, j)]
    heapify(heap)
    while heap and heap[0][:2] <= best[:2]:
        span = heappop(heap)
        start, turn = tries[span.split].start, tries[span.split].turn
        solved[span.split] = _solve(ring, start, turn, solved[span.first], solved[span.last])
        best = min(best, solved[span.split])
        for i, j in pairwise((span.first, span.split, span.last)):
            for part in _span(ring, tries, solved, i, j):
                heappush(heap, part)
    return best


def _index(tries: Sequence[_Try], row: Row) -> int:
    return next(i for i, this in enumerate(tries) if this[:2] == (row.turn, row.start))


def _solve(ring: Ring, start: int, turn: int, *known: Row) -> Row:
    """The best row of a try; places already known from other tries tell how far to look."""
    evens = ring.evens(start, turn)
    most = min((squares(row.places, evens) for row in known), default=None)
    places = closest(evens, ring.stretches, ring.gap, most)
    assert places is not None
    return Row(squares(places, evens), start, places, turn)


def _span(ring: Ring, tries: Sequence[_Try], solved: dict[int, Row], first: int, last: int) -> list[_Span]:
    """The span between two solved tries that stand at `first` and `last`; empty when nothing lies between."""
    inner = tries[first + 1 : last]
    if not inner:
        return []
    left, right = tries[first], tries[last]
    low = solved[first].total - left.square
    rise, width = solved[last].total - right.square - low, right.shift - left.shift
    slack = _slack(ring, left, right)
    low -= slack
    chords = [low - -rise * (this.shift - left.shift) // width + this.square for this in inner]
    bound, start, at = min(
        (max(this.bound, chord), this.start, i) for i, (this, chord) in enumerate(zip(inner, chords, strict=True))
    )
    # Where the chord decides, its lowest try is the likely best; where it does not, halving lifts the chord fastest.
    split = at if chords[at] >= inner[at].bound and not slack else len(inner) // 2
    return [_Span(bound, start, first + 1 + split, first, last)]


def _slack(ring: Ring, left: _Try, right: _Try) -> int:
    """How far rounding of the even places may take a sum below the chord, in mm2; nothing within one turn.

    Between turns, an even place is off the straight line by at most 1 mm, all of them together by nothing, and each
    mm counts twice the distance of its place from the middle of the legal places.
    """
    if left.turn == right.turn or ring.length % ring.count == 0:
        return 0
    return ring.count * (ring.stretches[-1].high - ring.stretches[0].low + 1)


def _tries(ring: Ring, most: int) -> list[_Try]:
    """All tries whose sum with clearances forgotten is at most `most` mm2, by turn, then start."""
    n, length = ring.count, ring.length
    # In a best row no place moves further than half the line, so no turn goes further than half the count and rounding.
    turns = range(-(n // 2) - 2, n // 2 + 3)
    first = ring.even(turns[0])
    near = _near_open(ring, first, ring.even(turns[-1] + n) + length // n)
    bounds = _sums(ring, near, turns[0])
    tries: list[_Try] = []
    for turn in turns:
        evens = ring.evens(0, turn)
        plain, double = sum(even * even for even in evens), 2 * sum(evens)
        for f, bound in enumerate(bounds):
            if bound <= most:
                tries.append(_Try(turn, f, bound, n * f + turn * length, (n * f + double) * f + plain))
        goes = near[evens[0] - first : evens[0] - first + len(bounds)]
        comes = near[evens[0] + length - first :]
        bounds = [bound - old + new for bound, old, new in zip(bounds, goes, comes, strict=False)]
    return tries


def _sums(ring: Ring, near: Sequence[int], turn: int) -> list[int]:
    """For every start, the sum of `near` over the even places; `near` begins at the first even place of start 0."""
    starts = ring.length // ring.count + 1
    evens = ring.evens(0, turn)
    columns = zip(*(near[even - evens[0] : even - evens[0] + starts] for even in evens), strict=True)
    return [sum(column) for column in columns]


def _near_round(ring: Ring) -> list[int]:
    """Squared distance to the nearest legal place, the short way round, for every mm from 0 to length, both counted."""
    first, length = ring.stretches[0].low, ring.length
    near = _inside([*ring.stretches, Stretch(first + length, first + length, 0)])
    return near[length - first : length] + near[: length - first] + near[length - first : length - first + 1]


def _near_open(ring: Ring, low: int, high: int) -> list[int]:
    """Squared distance to the nearest legal place, never across the line's end, for every mm from `low` to `high`."""
    first, last = ring.stretches[0].low, ring.stretches[-1].high
    before = [(first - x) ** 2 for x in range(low, first)]
    after = [(x - last) ** 2 for x in range(last + 1, high + 1)]
    return before + _inside(ring.stretches) + after


def _inside(stretches: Sequence[Stretch]) -> list[int]:
    """Squared distance to the nearest legal place from the first legal mm to the last."""
    near = [0] * (stretches[0].high - stretches[0].low + 1)
    for here, following in pairwise(stretches):
        between = following.low - here.high - 1
        up = [d * d for d in range(1, (between + 1) // 2 + 1)]
        near += up + up[: between // 2][::-1] + [0] * (following.high - following.low + 1)
    return near


def _lowest_turn(ring: Ring, start: int) -> int:
    """The turn whose sum with clearances forgotten is least; that sum is convex in the turn."""
    turn, loose = 0, _loose(ring, start, 0)
    for step in (1, -1):
        while (further := _loose(ring, start, turn + step)) < loose:
            turn, loose = turn + step, further
    return turn


def _loose(ring: Ring, start: int, turn: int) -> int:
    """Sum of squared distances to the nearest legal places, never across the line's end, clearances forgotten."""
    return sum(nearest(even, ring.stretches) ** 2 for even in ring.evens(start, turn))
