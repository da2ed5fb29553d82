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


@dataclass(frozen=True, slots=True)
class Free:
    """Where along its member a hole could go: `apart_mm` from the nearest other hole, and whether that is what is asked.

    `near`: in the same bay; else somewhere else on the member.
    """

    along_mm: int
    apart_mm: int
    enough: bool
    near: bool


def free_place(building: Building, limits: Limits, passage: Passage, spot: Spot, others: Sequence[Spot]) -> Free | None:
    """The nearest place that keeps the spacing from all `others`, in its bay if there is one; else the best in its bay.

    None: no such hole lies whole anywhere near.
    """
    reach = _Reach(limits, passage, spot.wide_mm)
    on = extent(building, passage, Fraction(spot.wide_mm))
    zones = zones_along(limits, passage.kind, on.whole)

    def free(at: int, *, enough: bool, near: bool) -> Free:
        return Free(at, min(abs(at - one.along_mm) for one in others), enough, near)

    for near, stretches in ((True, on.near), (False, on.anywhere)):
        ends = list(_whole_mm(stretches, Fraction(spot.wide_mm) / 2))
        at = _nearest(spot.along_mm, ends, _taken(others, reach.spaced), zones)
        if at is not None:
            return free(at, enough=True, near=near)
    best = _farthest(spot.along_mm, list(_whole_mm(on.near, Fraction(spot.wide_mm) / 2)), others)
    return None if best is None else free(best, enough=False, near=True)


@dataclass(frozen=True, slots=True)
class _Reach:
    """How far along its member a hole of some width is to stay from another."""

    limits: Limits
    passage: Passage
    wide_mm: Decimal

    def apart(self, one: Spot) -> int:
        """So far that two holes do not run into one another."""
        return self._beside(ceil((Fraction(self.wide_mm) + Fraction(one.wide_mm)) / 2), one)

    def spaced(self, one: Spot) -> int:
        """So far as the rules have it."""
        asked = self.limits.spacing_mm(self.passage.kind, self.wide_mm, one.wide_mm)
        return self.apart(one) if asked is None else max(self.apart(one), self._beside(ceil(asked), one))

    def spaced_from_own(self, one: Spot) -> int:
        return self.spaced(one) if one.own else self.apart(one)

    def _beside(self, reach_mm: int, one: Spot) -> int:
        return _beside(reach_mm, one.across_mm - across_member(self.passage))


def _next(building: Building, limits: Limits, passage: Passage, wide_mm: Decimal, spots: Sequence[Spot]) -> int:
    """Where the next hole of a place goes."""
    start, wide = along_member(passage), Fraction(wide_mm)
    reach = _Reach(limits, passage, wide_mm)
    on = extent(building, passage, wide)
    zones = zones_along(limits, passage.kind, on.whole)
    for stretches in (on.near, on.anywhere, (on.whole,)):
        ends = list(_whole_mm(stretches, wide / 2))
        for far in (reach.spaced, reach.spaced_from_own):
            at = _nearest(start, ends, _taken(spots, far), zones)
            if at is not None:
                return at
        at = _farthest(start, ends, spots)
        if at is not None and all(abs(at - one) >= reach_mm for one, reach_mm in _taken(spots, reach.apart)):
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
