"""Holes near one another and holes off the way of their cables: placed holes go in, findings come out, one for each wall."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import isqrt

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.routing.hole_limits import SPACINGS, Limits, face
from estimator.routing.hole_members import member_of
from estimator.routing.hole_places import Free, Spot, free_place, spot_of
from estimator.routing.model import Drilled, Passage
from estimator.routing.words import as_text
from estimator.routing.zones import width_rule

NEAR, OFF = "hole-spacing", "hole-off-lane"
Placed = Sequence[tuple[Drilled, Spot]]


@dataclass(frozen=True, slots=True)
class Pair:
    """Two holes of one member, the distance of their centres squared, and what the rules ask for, mm."""

    one: Drilled
    other: Drilled
    square: int
    asked_mm: Decimal

    @property
    def apart_mm(self) -> int:
        """The distance, whole mm down."""
        return isqrt(self.square)

    @property
    def share(self) -> Fraction:
        """How much of what is asked for there is, squared."""
        return Fraction(self.square) / Fraction(self.asked_mm) ** 2


def too_near(
    building: Building, catalogue: Catalogue, ruleset: str, limits: Limits, drilled: Sequence[Drilled]
) -> tuple[Finding, ...]:
    """An `ask` for each wall (or void) where holes of a member are nearer than the spacing, which tells the worst pair.

    It names the nearest place where one of the two could go, or how near to another the best place for it would be: holes
    on the way of their cables are not moved, and those set off are not where the member is full.

    The worst has the least share of what is asked for, of equals the first on the walk. `unchecked` for a kind of member
    that the ruleset has no spacing for, where one has more holes than one.
    """
    members: dict[tuple[str, ...], list[tuple[Drilled, Spot]]] = {}
    for hole in drilled:
        spot = spot_of(limits, catalogue, hole)
        if spot.wide_mm:
            members.setdefault(member_of(hole.passage), []).append((hole, spot))
    several = {member: holes for member, holes in members.items() if len(holes) > 1}
    kinds = dict.fromkeys(member[0] for member in several)
    silent = [kind for kind in SPACINGS if kind in kinds and limits.value(SPACINGS[kind]) is None]
    near: dict[tuple[str, str], list[Pair]] = {}
    for holes in several.values():
        for pair in _pairs(limits, holes):
            near.setdefault((pair.one.passage.room, face(pair.one.passage)), []).append(pair)
    return (
        *(_not_known(ruleset, kind) for kind in silent),
        *(_told(building, limits, place, pairs, members) for place, pairs in near.items()),
    )


def _pairs(limits: Limits, holes: Placed) -> Iterator[Pair]:
    for number, (one, at) in enumerate(holes):
        for other, beside in holes[number + 1 :]:
            asked = limits.spacing_mm(one.passage.kind, at.wide_mm, beside.wide_mm)
            square = (at.along_mm - beside.along_mm) ** 2 + (at.across_mm - beside.across_mm) ** 2
            if asked is not None and square < asked**2:
                yield Pair(one, other, square, asked)


def _not_known(ruleset: str, kind: str) -> Finding:
    words = (
        f'rules.csv has no value for "{SPACINGS[kind]}" in ruleset "{ruleset}": how far apart holes belong is not known'
    )
    return Finding(NEAR, "unchecked", "job", words)


def _told(
    building: Building,
    limits: Limits,
    place: tuple[str, str],
    pairs: Sequence[Pair],
    members: Mapping[tuple[str, ...], Placed],
) -> Finding:
    worst = min(pairs, key=lambda pair: pair.share)
    rule = limits.rules[SPACINGS[worst.one.passage.kind]]
    many = "Two holes are" if len(pairs) == 1 else f"{len(pairs)} pairs of holes are"
    words = (
        f"{many} nearer to each other than {as_text(rule.value or Decimal(0))} times the larger of them. "
        f"{'They' if len(pairs) == 1 else 'The nearest'} are {worst.apart_mm} mm apart between centres, where "
        f"{as_text(worst.asked_mm)} mm belong: {_where(worst)}. "
        f"{_free(building, limits, worst, members[member_of(worst.one.passage)])}"
    )
    subject = f"{place[0]}, {place[1]}"
    apart = Decimal(worst.apart_mm)
    return Finding(NEAR, "ask", subject, words, apart, worst.asked_mm, "mm", rule.source, rule.edition)


def _where(pair: Pair) -> str:
    """The member, and where the two holes are on it."""
    passage = pair.one.passage
    if passage.kind == "joist":
        member = f"the joist at {passage.joist_axis} = {as_text(passage.along_mm)} mm"
        return f"{member}, {pair.one.on_member_mm} and {pair.other.on_member_mm} mm along it"
    if passage.kind == "stud":
        return f"the stud at {as_text(passage.along_mm)} mm, {_up(pair.one)} and {_up(pair.other)} mm up"
    if passage.kind == "plate":
        member = f"the plate at {_up(pair.one)} mm up"
        return f"{member}, {as_text(pair.one.along_mm)} and {as_text(pair.other.along_mm)} mm along"
    return " and ".join(f"{as_text(one.along_mm)} mm along, {_up(one)} mm up" for one in (pair.one, pair.other))


def _free(building: Building, limits: Limits, pair: Pair, member: Placed) -> str:
    """Where one of the two could go: of both the lesser move, of equals the second."""
    found = [
        (free, hole, spot)
        for hole, spot in member
        if hole is pair.one or hole is pair.other
        for free in [free_place(building, limits, hole.passage, spot, [of for one, of in member if one is not hole])]
        if free is not None
    ]
    if not found:
        return "No place for either is left. What does the frame's designer say?"

    def rank(one: tuple[Free, Drilled, Spot]) -> tuple[bool, bool, int, bool]:
        free, hole, spot = one
        far = -free.apart_mm if not free.enough else abs(free.along_mm - spot.along_mm)
        return not free.enough, not free.near, far, hole is pair.one

    free, hole, spot = min(found, key=rank)
    was, to = _at(hole, spot, spot.along_mm), _at(hole, spot, free.along_mm)
    lone = "Both are where their cables run. " if not (pair.one.by_mm or pair.other.by_mm) else ""
    if not free.enough:
        return (
            f"{lone}There is no place left that keeps the distance from every hole: the best for the one at {was} mm is at {to} mm, "
            f"{free.apart_mm} mm from the next. What does the frame's designer say?"
        )
    bay = "" if free.near else ", in another bay"
    return (
        f"{lone}The one at {was} mm would keep its distance at {to} mm{bay}: can its cable go there, or does the frame's designer "
        "agree?"
    )


def _at(hole: Drilled, spot: Spot, along_mm: int) -> int:
    """A place along the member as the list has it: along a joist from its end in the room."""
    return along_mm if hole.passage.kind != "joist" else hole.on_member_mm + along_mm - spot.along_mm


def _up(hole: Drilled) -> str:
    return as_text(hole.height_mm or Decimal(0))


def off_the_way(
    building: Building, catalogue: Catalogue, ruleset: str, drilled: Sequence[Drilled]
) -> tuple[Finding, ...]:
    """An `ask` for each wall that keeps cable zones and where holes are set off so that cables leave their lane or riser.

    That is in studs and in the plate at the floor; a plate at the ceiling lies in the zone along the top of its wall.
    """
    rule = width_rule(catalogue, ruleset)
    found: dict[tuple[str, str], list[Drilled]] = {}
    for hole in drilled:
        passage = hole.passage
        if hole.by_mm and _guarded_by_zone(passage) and _keeps(building, passage):
            found.setdefault((passage.room, passage.wall), []).append(hole)
    return tuple(
        _off(place, holes, rule.source if rule else None, rule.edition if rule else None)
        for place, holes in found.items()
    )


def _guarded_by_zone(passage: Passage) -> bool:
    return passage.kind == "stud" or (passage.kind == "plate" and not passage.height_mm)


def _keeps(building: Building, passage: Passage) -> bool:
    return building.room(passage.room).wall(passage.wall).frame.cable_zones == "keep"


def _off(place: tuple[str, str], holes: Sequence[Drilled], source: str | None, edition: str | None) -> Finding:
    far = max(abs(hole.by_mm) for hole in holes)
    many = "A hole is" if len(holes) == 1 else f"{len(holes)} holes are"
    words = (
        f"{many} set off from the lane or riser of the cables, by {far} mm at most, because one hole does not take them all. "
        "A cable zone in line with a point is only as wide and as high as the point: does the cable there stay in a zone, "
        "or can it be guarded mechanically?"
    )
    return Finding(OFF, "ask", f"{place[0]}, {place[1]}", words, Decimal(far), None, "mm", source, edition)
