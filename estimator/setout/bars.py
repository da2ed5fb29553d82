"""Takes stretches of a line where a centre may not be; gives the whole millimetres where it may, and the nearest."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.rounding import ceil, floor

FAR = Decimal(10**9)
"""Further than any building, in mm: the outer end of a bar that has no end."""

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Bar:
    """An open stretch, mm along, that a rule closes to the centre of something.

    `check` names the rule and `limit_mm` is its distance; `of` says what the distance is kept from ("a stud ...").
    """

    low_mm: Decimal
    high_mm: Decimal
    check: str
    limit_mm: Decimal
    of: str

    def holds(self, centre_mm: int) -> bool:
        """Whether the rule closes this place."""
        return self.low_mm < centre_mm < self.high_mm

    def distance_mm(self, centre_mm: int) -> Decimal:
        """How far the thing would be from what the rule keeps it from; below zero it lies over it by so much."""
        return self.limit_mm - min(centre_mm - self.low_mm, self.high_mm - centre_mm)


def open_spans(bars: Iterable[Bar], low: int, high: int) -> tuple[Span, ...]:
    """The whole mm from `low` to `high`, both counted, that no bar holds: inclusive, ascending, not overlapping."""
    spans: list[Span] = []
    free = low
    for bar in sorted(bars, key=lambda bar: (bar.low_mm, bar.high_mm)):
        if bar.low_mm >= bar.high_mm:
            continue
        last = min(floor(bar.low_mm), high)
        if free <= last:
            spans.append((free, last))
        free = max(free, ceil(bar.high_mm), last + 1)
    if free <= high:
        spans.append((free, high))
    return tuple(spans)


def nearest_open(place: int, spans: Sequence[Span]) -> int | None:
    """The open place nearest to `place`, of two the lower; None where there is none."""
    near = (min(max(place, low), high) for low, high in spans)
    return min(near, key=lambda open_place: (abs(open_place - place), open_place), default=None)


def places_in(spans: Iterable[Span]) -> int:
    """How many whole mm the spans hold."""
    return sum(high - low + 1 for low, high in spans)
