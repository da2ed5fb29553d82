"""Places of holes: drilled holes, several of which may be at one place, go in; each comes out with a place of its own.

The first hole of a place is where its cables run. The others go along the member to the nearest place that keeps the
spacing of the rules from every hole there is: of two as near the one nearer to the drilling zone of the member, then the
higher one (up, right, or further in x or y). All figures are exact and whole mm, and nothing goes by names.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from itertools import groupby, pairwise
from math import isqrt

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.rounding import ceil, floor
from estimator.routing.hole_limits import ZONES, Limits, diameter_mm
from estimator.routing.hole_members import across_member, along_member, extent, member_of, moved
from estimator.routing.model import Drilled, Passage, SetOff
from estimator.routing.stretches import Stretch, off


@dataclass(frozen=True, slots=True)
class Spot:
    """A hole on its member: how far along, how far across (through a wall: up), and how wide; `own`: of the same place."""

    along_mm: int
    across_mm: int
    wide_mm: Decimal
    own: bool = False


Taken = list[tuple[int, int]]
"""Places along a member and how far a hole is to stay from each."""
Reach = Callable[[Spot], int]


def place_holes(
    building: Building, catalogue: Catalogue, limits: Limits, drilled: Sequence[Drilled]
) -> tuple[Drilled, ...]:
    """The same holes in their order, those at one place (they come one after another) told apart by `set_off`.

    A hole lies whole within its member; in a plate or wall between the studs, in the bay of its place. Where the place
    is in the drilling zone of its member, holes that can stay in that zone do. Where the spacing cannot be kept from the
    holes of other places, it is kept from those of its own; where not even that, they go as far apart as can be. Where
    the ruleset has no spacing, holes do no more than not run into one another.
    """
    places = [tuple(holes) for _, holes in groupby(drilled, key=lambda hole: hole.passage.key)]
    spots: dict[tuple[str, ...], list[Spot]] = {}
    for first, *_ in places:
        spots.setdefault(member_of(first.passage), []).append(spot_of(limits, catalogue, first))
    found: list[Drilled] = []
    for holes in places:
        if len(holes) == 1:
            found += holes
            continue
        widths = [spot_of(limits, catalogue, hole).wide_mm for hole in holes]
        found += _placed(building, limits, holes, widths, spots[member_of(holes[0].passage)])
    return tuple(found)


def spot_of(limits: Limits, catalogue: Catalogue, hole: Drilled) -> Spot:
    """Where a hole is on its member, and how wide; 0 where bits are not known."""
    wide_mm = diameter_mm(limits, catalogue, hole) or Decimal(0)
    return Spot(along_member(hole.passage) + hole.by_mm, across_member(hole.passage), wide_mm)


def _placed(
    building: Building, limits: Limits, holes: Sequence[Drilled], widths: Sequence[Decimal], spots: list[Spot]
) -> Iterator[Drilled]:
    """The holes of one place; `spots` are those on the member, and gain the new ones."""
    passage = holes[0].passage
    start, across = along_member(passage), across_member(passage)
    others = [one for one in spots if (one.along_mm, one.across_mm) != (start, across)]
    own: list[Spot] = []
    for number, (hole, wide) in enumerate(zip(holes, widths, strict=True), 1):
        at = _next(building, limits, passage, wide, (*own, *others)) if own else start
        own.append(Spot(at, across, wide, own=True))
        yield replace(hole, set_off=SetOff(number, len(holes), at - start, moved(building, passage, at - start)))
    spots += [replace(one, own=False) for one in own[1:]]


def _next(building: Building, limits: Limits, passage: Passage, wide_mm: Decimal, spots: Sequence[Spot]) -> int:
    """Where the next hole of a place goes."""
    start, across = along_member(passage), across_member(passage)
    wide = Fraction(wide_mm)

    def apart(one: Spot) -> int:
        """So far that two holes do not run into one another."""
        return _beside(ceil((wide + Fraction(one.wide_mm)) / 2), one.across_mm - across)

    def spaced(one: Spot) -> int:
        """So far as the rules have it."""
        asked = limits.spacing_mm(passage.kind, wide_mm, one.wide_mm)
        return apart(one) if asked is None else max(apart(one), _beside(ceil(asked), one.across_mm - across))

    def spaced_from_own(one: Spot) -> int:
        return spaced(one) if one.own else apart(one)

    on = extent(building, passage, wide)
    zones = zones_along(limits, passage.kind, on.whole)
    for stretches in (on.near, on.anywhere, (on.whole,)):
        ends = list(_whole_mm(stretches, wide / 2))
        for reach in (spaced, spaced_from_own):
            at = _nearest(start, ends, _taken(spots, reach), zones)
            if at is not None:
                return at
        at = _farthest(start, ends, spots)
        if at is not None and all(abs(at - one) >= reach_mm for one, reach_mm in _taken(spots, apart)):
            return at
    least = _farthest(start, [(ceil(on.whole[0]), floor(on.whole[1]))], spots)
    return start if least is None else least


def zones_along(limits: Limits, kind: str, whole: Stretch) -> tuple[Stretch, ...]:
    """Where along a member, from end to end, its drilling zones are; none where the rules have none for its kind."""
    names = ZONES.get(kind)
    low, high = (limits.value(name) for name in names) if names else (None, None)
    if low is None or high is None:
        return ()
    length = whole[1] - whole[0]
    near, far = Fraction(low) * length, Fraction(high) * length
    return (whole[0] + near, whole[0] + far), (whole[1] - far, whole[1] - near)


def _beside(reach_mm: int, across_mm: int) -> int:
    """How far along, up to whole mm, two holes need to be apart to be `reach_mm` apart where they are that far across."""
    left = reach_mm**2 - across_mm**2
    return 1 + isqrt(left - 1) if left > 0 else 0


def _taken(spots: Sequence[Spot], reach: Reach) -> Taken:
    return [(one.along_mm, reach(one)) for one in spots]


def _whole_mm(stretches: Sequence[Stretch], margin: Fraction) -> Iterator[tuple[int, int]]:
    """The first and last whole mm of each stretch for the centre of a hole that is to lie in it."""
    for low, high in stretches:
        if ceil(low + margin) <= floor(high - margin):
            yield ceil(low + margin), floor(high - margin)


def _nearest(start: int, ends: Sequence[tuple[int, int]], taken: Taken, zones: Sequence[Stretch]) -> int | None:
    """The place nearest to `start` that is far enough from all that is taken; None: there is none.

    That place is always an end of a stretch or just as far from something taken as it has to be.
    """
    edges = sorted(
        {*(edge for pair in ends for edge in pair), *(at + way * far for at, far in taken for way in (-1, 1))}
    )
    home = next((zone for zone in zones if not off(zone, start)), None)

    def rank(at: int) -> tuple[bool, int, Fraction, int]:
        leaves = home is not None and off(home, at) > 0
        return leaves, abs(at - start), min((off(zone, at) for zone in zones), default=Fraction(0)), -at

    clear = (
        at
        for at in edges
        if any(low <= at <= high for low, high in ends) and all(abs(at - one) >= reach for one, reach in taken)
    )
    return min(clear, key=rank, default=None)


def _farthest(start: int, ends: Sequence[tuple[int, int]], spots: Sequence[Spot]) -> int | None:
    """The place that is farthest from the nearest hole; of equals the one nearest to `start`, then the higher."""
    places: list[int] = []
    for low, high in ends:
        inner = sorted({low, high, *(one.along_mm for one in spots if low <= one.along_mm <= high)})
        places += (low, high, *((one + other) // 2 for one, other in pairwise(inner)))

    def rank(at: int) -> tuple[int, int, int]:
        return -min(abs(at - one.along_mm) for one in spots), abs(at - start), -at

    return min(places, key=rank, default=None)
