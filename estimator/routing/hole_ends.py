"""Where along its joist a hole is: placed holes go in; they come out with what to ask first, and findings, one a void.

A joist is as long as the room is, from wall to wall, as the rules have it for its clear span. All figures are exact.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.rounding import ceil, floor
from estimator.routing.hole_limits import ZONES, Limits, diameter_mm, face
from estimator.routing.hole_members import along_member, extent
from estimator.routing.hole_places import zones_along
from estimator.routing.model import AskFirst, Drilled
from estimator.routing.stretches import Stretch, off
from estimator.routing.words import as_text

CHECK = "hole-zone"
FROM, TO = ZONES["joist"]
AT_THE_END = "at the very end, at the wall, where none can be drilled"


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole in a joist: how far from the nearer end, the joist, its drilling zones (none known: empty), what to ask."""

    drilled: Drilled
    from_end_mm: Fraction
    length_mm: Fraction
    off_mm: Fraction
    ask: AskFirst


def ask_first(
    building: Building, catalogue: Catalogue, ruleset: str, limits: Limits, drilled: Sequence[Drilled]
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    """The same holes in their order, those in joists marked where they are to be asked about; and an `ask` for each void.

    `end`: the hole does not lie whole between the ends of its joist. `zone`: its centre is outside both drilling zones of
    the rules. The finding tells how many of each, and the hole that is farthest from a zone, of equals the first on the
    walk. Where the ruleset has no zone that is `unchecked`, and ends are told all the same.
    """
    holes = [_hole(building, catalogue, limits, one) if one.passage.kind == "joist" else None for one in drilled]
    joists = [hole for hole in holes if hole is not None]
    voids: dict[tuple[str, str], list[Hole]] = {}
    for hole in joists:
        voids.setdefault((hole.drilled.passage.room, face(hole.drilled.passage)), []).append(hole)
    known = not joists or all(limits.value(name) is not None for name in (FROM, TO))
    told = (_told(limits, place, of) for place, of in voids.items() if any(hole.ask for hole in of))
    return (
        tuple(one if hole is None else hole.drilled for one, hole in zip(drilled, holes, strict=True)),
        (*(() if known else (_not_known(limits, ruleset),)), *told),
    )


def _hole(building: Building, catalogue: Catalogue, limits: Limits, drilled: Drilled) -> Hole:
    passage = drilled.passage
    low, high = extent(building, passage, Fraction(0)).whole
    at = along_member(passage) + drilled.by_mm
    from_end = min(at - low, high - at)
    zones: Sequence[Stretch] = zones_along(limits, passage.kind, (low, high))
    off_mm = min((off(zone, at) for zone in zones), default=Fraction(0))
    ask: AskFirst = "zone" if off_mm else ""
    if from_end * 2 < Fraction(diameter_mm(limits, catalogue, drilled) or 0) or from_end <= 0:
        ask = "end"
    return Hole(replace(drilled, ask_first=ask) if ask else drilled, from_end, high - low, off_mm, ask)


def _not_known(limits: Limits, ruleset: str) -> Finding:
    missing = " and ".join(f'"{name}"' for name in (FROM, TO) if limits.value(name) is None)
    words = (
        f'rules.csv has no value for {missing} in ruleset "{ruleset}": where along a joist holes belong is not known'
    )
    return Finding(CHECK, "unchecked", "job", words)


def _told(limits: Limits, place: tuple[str, str], holes: Sequence[Hole]) -> Finding:
    """One void: how many holes to ask about, and the one that is farthest from where holes belong."""
    worst = max((hole for hole in holes if hole.ask), key=lambda hole: hole.off_mm)  # the first of equals
    passage = worst.drilled.passage
    where = (
        f"the joist at {passage.joist_axis} = {as_text(passage.along_mm)} mm, {worst.drilled.on_member_mm} mm along it"
    )
    ends = sum(hole.ask == "end" for hole in holes)
    near, far = limits.value(FROM), limits.value(TO)
    subject = f"{place[0]}, {place[1]}"
    if near is None or far is None:
        return Finding(CHECK, "ask", subject, f"{_ends(ends, len(holes))}: {where}. {_question(ends)}")
    asked = sum(bool(hole.ask) for hole in holes)
    value, length = floor(worst.from_end_mm), floor(worst.length_mm)
    low, high = ceil(Fraction(near) * worst.length_mm), floor(Fraction(far) * worst.length_mm)
    words = (
        f"{asked} of {_many(len(holes))} in joists {'lies' if asked == 1 else 'lie'} outside the part where holes belong, "
        f"{as_text(near)} to {as_text(far)} of the length from either end{_of_them(ends)}. "
        f"{'It is' if asked == 1 else 'Farthest off is'} {where}: here holes belong {low} to {high} mm from either end "
        f"({length} mm from wall to wall). {_question(ends)}"
    )
    rule = limits.rules[FROM if value < low else TO]
    limit = Decimal(low if value < low else high)
    return Finding(CHECK, "ask", subject, words, Decimal(value), limit, "mm", rule.source, rule.edition)


def _ends(ends: int, of: int) -> str:
    return f"{ends} of {_many(of)} {'is' if ends == 1 else 'are'} {AT_THE_END}"


def _of_them(ends: int) -> str:
    return f"; {ends} of them {'is' if ends == 1 else 'are'} {AT_THE_END}" if ends else ""


def _many(holes: int) -> str:
    return "1 hole" if holes == 1 else f"{holes} holes"


def _question(ends: int) -> str:
    if ends:
        return "Where else may these cables cross, and what does the frame's designer say?"
    return "Can these cables cross elsewhere, or does the frame's designer agree?"
