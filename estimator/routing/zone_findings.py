"""Cables outside their zones: paths and plans of walls go in; one finding for each wall comes out."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.model import Building, Wall
from estimator.catalogue.model import Catalogue, Rule
from estimator.checks.model import Finding
from estimator.job.model import Opening
from estimator.rounding import half_up
from estimator.routing.drilling import Laid
from estimator.routing.model import XYZ, Piece, WallPlan, Zone
from estimator.routing.words import as_text
from estimator.routing.zone_distance import Kind, Span, farthest_mm
from estimator.routing.zones import WIDTH, width_rule

CHECK = "cable-zone"
SHOWN = 3
"""How many stretches, and how many legs, a finding names at most."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A piece of a route on a wall: a lane `at_mm` up or a riser `at_mm` along, from and to along or up."""

    kind: Kind
    at_mm: int
    low_mm: int
    high_mm: int


@dataclass(frozen=True, slots=True)
class Outside:
    """What of one lane or riser is outside the zones, how far from the nearest at most, and the legs in it."""

    kind: Kind
    at_mm: int
    spans: tuple[Span, ...]
    away_mm: int
    legs: tuple[str, ...]

    @property
    def length_mm(self) -> Decimal:
        """All of it."""
        return sum((high - low for low, high in self.spans), Decimal(0))


def zone_findings(
    building: Building, catalogue: Catalogue, ruleset: str, plans: Sequence[WallPlan], laid: Sequence[Laid]
) -> tuple[Finding, ...]:
    """What lies outside the zones of its wall: an `ask` for each such wall, `unchecked` where the ruleset has no zones.

    `value` is the farthest that any of it lies from the zone nearest to that place, whole mm half up, at least 1. Cables
    that share a place count once.
    """
    rule = width_rule(catalogue, ruleset)
    on_walls = stretches_by_wall(building, laid)
    if rule is None:
        words = f'rules.csv has no value for "{WIDTH}" in ruleset "{ruleset}": cable zones are not known'
        return (Finding(CHECK, "unchecked", "job", words),) if on_walls else ()
    told = []
    for plan in plans:
        own = on_walls.get((plan.room, plan.wall), ())
        openings = building.room(plan.room).wall(plan.wall).openings
        found = tuple(_outside(plan.zones, openings, own))
        if found:
            told.append(_told(rule, plan, found))
    return tuple(told)


def stretches_by_wall(
    building: Building, laid: Iterable[Laid]
) -> Mapping[tuple[str, str], Sequence[tuple[str, Stretch]]]:
    """By names of room and wall: every stretch of cable along or up it, with the id of its leg or run, as `laid` comes."""
    walls = {(shape.room.name, wall.name): (shape.room, wall) for shape in building.rooms for wall in shape.walls}
    found: dict[tuple[str, str], list[tuple[str, Stretch]]] = {}
    for name, _, path in laid:
        for piece in path.pieces:
            key = piece.room, piece.wall
            if piece.kind in ("lane", "riser") and key in walls:
                room, wall = walls[key]
                found.setdefault(key, []).append((name, _stretch(wall, room.at, room.floor_level_mm, piece)))
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


def _outside(
    zones: Sequence[Zone], openings: Sequence[Opening], own: Sequence[tuple[str, Stretch]]
) -> Iterator[Outside]:
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
            away = farthest_mm(zones, openings, kind, at_mm, united)
            yield Outside(kind, at_mm, united, away, tuple(dict.fromkeys(legs)))


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


def _told(rule: Rule, plan: WallPlan, found: Sequence[Outside]) -> Finding:
    length = sum((one.length_mm for one in found), Decimal(0))
    shown = "; ".join(_place(one) for one in found[:SHOWN])
    more = f"; and {len(found) - SHOWN} more" if len(found) > SHOWN else ""
    words = (
        f"{as_text(length)} mm of cable lie outside the cable zones of wall {plan.wall}: {shown}{more}. "
        "Can it go another way, or be guarded mechanically?"
    )
    away = Decimal(max(one.away_mm for one in found))
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
    return f"{where}, up to {one.away_mm} mm from the nearest zone ({legs})"
