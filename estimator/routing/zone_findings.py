"""Cables outside their zones: paths and plans of walls go in; one finding for each wall comes out."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.building.model import Building, Wall
from estimator.catalogue.model import Catalogue, Rule
from estimator.checks.model import Finding
from estimator.rounding import half_up
from estimator.routing.drilling import Laid
from estimator.routing.model import XYZ, Piece, WallPlan, Zone
from estimator.routing.words import as_text
from estimator.routing.zones import WIDTH, width_rule

CHECK = "cable-zone"
SHOWN = 3
"""How many stretches, and how many legs, a finding names at most."""

Span = tuple[Decimal, Decimal]
Kind = Literal["lane", "riser"]


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a route on a wall: a lane `at_mm` up or a riser `at_mm` along, from and to along or up."""

    kind: Kind
    at_mm: int
    low_mm: int
    high_mm: int


@dataclass(frozen=True, slots=True)
class Outside:
    """What of one lane or riser is outside the zones, how far from the nearest, and the legs in it."""

    kind: Kind
    at_mm: int
    spans: tuple[Span, ...]
    away_mm: Decimal
    legs: tuple[str, ...]

    @property
    def length_mm(self) -> Decimal:
        """All of it."""
        return sum((high - low for low, high in self.spans), Decimal(0))


def zone_findings(
    building: Building, catalogue: Catalogue, ruleset: str, plans: Sequence[WallPlan], laid: Sequence[Laid]
) -> tuple[Finding, ...]:
    """What lies outside the zones of its wall: an `ask` for each such wall, `unchecked` where the ruleset has no zones.

    `value` is the farthest that any of it lies from the nearest zone, mm. Cables that share a place count once.
    """
    rule = width_rule(catalogue, ruleset)
    on_walls = _on_walls(laid)
    if rule is None:
        words = f'rules.csv has no value for "{WIDTH}" in ruleset "{ruleset}": cable zones are not known'
        return (Finding(CHECK, "unchecked", "job", words),) if on_walls else ()
    told = []
    for plan in plans:
        wall = building.room(plan.room).wall(plan.wall)
        level = building.room(plan.room).room.floor_level_mm
        at = building.room(plan.room).room.at
        own = [(name, _stretch(wall, at, level, piece)) for name, piece in on_walls.get((plan.room, plan.wall), ())]
        found = tuple(_outside(plan.zones, own))
        if found:
            told.append(_told(rule, plan, found))
    return tuple(told)


def _on_walls(laid: Sequence[Laid]) -> Mapping[tuple[str, str], list[tuple[str, Piece]]]:
    found: dict[tuple[str, str], list[tuple[str, Piece]]] = {}
    for name, _, path in laid:
        for piece in path.pieces:
            if piece.wall and piece.kind in ("lane", "riser"):
                found.setdefault((piece.room, piece.wall), []).append((name, piece))
    return found


def _stretch(wall: Wall, at: tuple[int, int], level_mm: int, piece: Piece) -> Stretch:
    start, end = _along(wall, at, piece.start), _along(wall, at, piece.end)
    if piece.kind == "lane":
        return Stretch("lane", piece.start[2] - level_mm, min(start, end), max(start, end))
    low, high = sorted((piece.start[2] - level_mm, piece.end[2] - level_mm))
    return Stretch("riser", start, low, high)


def _along(wall: Wall, at: tuple[int, int], place: XYZ) -> int:
    """How far along a wall a place of the building is; on a sloping wall from a place that was rounded."""
    dx, dy = wall.end[0] - wall.start[0], wall.end[1] - wall.start[1]
    dot = dx * (place[0] - at[0] - wall.start[0]) + dy * (place[1] - at[1] - wall.start[1])
    if dx and dy:
        return half_up(dot / Decimal(dx * dx + dy * dy).sqrt())
    return dot // (abs(dx) + abs(dy))


def _outside(zones: Sequence[Zone], own: Sequence[tuple[str, Stretch]]) -> Iterator[Outside]:
    """What lies outside, lanes before risers, upwards and from left to right."""
    lines: dict[tuple[Kind, int], list[tuple[str, Stretch]]] = {}
    for name, stretch in own:
        lines.setdefault((stretch.kind, stretch.at_mm), []).append((name, stretch))
    for kind, at_mm in sorted(lines):
        covers = _covers(zones, kind, at_mm)
        spans: list[Span] = []
        legs: list[str] = []
        for name, stretch in lines[kind, at_mm]:
            left = _less((Decimal(stretch.low_mm), Decimal(stretch.high_mm)), covers)
            spans += left
            legs += [name] if left else []
        if spans:
            united = tuple(_united(spans))
            yield Outside(kind, at_mm, united, _away(zones, kind, at_mm, united), tuple(dict.fromkeys(legs)))


def _covers(zones: Sequence[Zone], kind: Kind, at_mm: int) -> list[Span]:
    """Where zones lie along a lane, or up a riser."""
    if kind == "lane":
        return [(zone.low_along_mm, zone.high_along_mm) for zone in zones if zone.low_mm <= at_mm <= zone.high_mm]
    return [(zone.low_mm, zone.high_mm) for zone in zones if zone.low_along_mm <= at_mm <= zone.high_along_mm]


def _less(span: Span, covers: Sequence[Span]) -> list[Span]:
    """What is left of a stretch outside its covers."""
    left: list[Span] = []
    start, end = span
    for low, high in sorted(covers):
        if low > start:
            left.append((start, min(low, end)))
        start = max(start, high)
        if start >= end:
            return left
    return [*left, (start, end)]


def _united(spans: Sequence[Span]) -> Iterator[Span]:
    """Stretches that touch or overlap made one, ascending."""
    whole: Span | None = None
    for low, high in sorted(spans):
        if whole is not None and low <= whole[1]:
            whole = whole[0], max(high, whole[1])
            continue
        if whole is not None:
            yield whole
        whole = low, high
    if whole is not None:
        yield whole


def _away(zones: Sequence[Zone], kind: Kind, at_mm: int, spans: Sequence[Span]) -> Decimal:
    """How far a lane or riser would have to move to lie in one zone: of those as long as what is outside, the nearest."""
    low, high = spans[0][0], spans[-1][1]
    if kind == "lane":
        beside = [(z.low_mm, z.high_mm) for z in zones if z.low_along_mm <= low and high <= z.high_along_mm]
    else:
        beside = [(z.low_along_mm, z.high_along_mm) for z in zones if z.low_mm <= low and high <= z.high_mm]
    return min(max(foot - at_mm, at_mm - head, Decimal(0)) for foot, head in beside)


def _told(rule: Rule, plan: WallPlan, found: Sequence[Outside]) -> Finding:
    length = sum((one.length_mm for one in found), Decimal(0))
    shown = "; ".join(_place(one) for one in found[:SHOWN])
    more = f"; and {len(found) - SHOWN} more" if len(found) > SHOWN else ""
    words = (
        f"{as_text(length)} mm of cable lie outside the cable zones of wall {plan.wall}: {shown}{more}. "
        "Can it go another way, or be guarded mechanically?"
    )
    away = max(one.away_mm for one in found)
    subject = f"{plan.room}, {plan.wall}"
    return Finding(CHECK, "ask", subject, words, away, Decimal(0), "mm", rule.source, rule.edition)


def _place(one: Outside) -> str:
    spans = ", ".join(f"{as_text(low)} to {as_text(high)}" for low, high in one.spans)
    where = (
        f"the lane {one.at_mm} mm up, {spans} mm along"
        if one.kind == "lane"
        else f"the riser {one.at_mm} mm along, {spans} mm up"
    )
    legs = ", ".join(one.legs[:SHOWN]) + (" ..." if len(one.legs) > SHOWN else "")
    return f"{where}, {as_text(one.away_mm)} mm from the nearest zone ({legs})"
