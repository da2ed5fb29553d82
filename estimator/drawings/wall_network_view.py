"""What a drawing of a wall shows: an `Estimate` goes in; for each wall its zones, lanes, risers, boxes and cables come out.

Zones with one outline are one here. Zones, lanes and risers are numbered as they are read: what lies level upwards, what
stands upright from left to right. Drawing and table share the numbers. Places are mm along from the left end of the wall,
as seen from inside, and mm up from the floor of the room.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from estimator.building.adjoining import BACK_TO_BACK, SharedWall, shared_walls
from estimator.building.model import Wall
from estimator.drawings.wall_network_behind import Behind, behind_walls
from estimator.drawings.wall_network_things import Key, Thing, things_by_wall
from estimator.result import Estimate
from estimator.routing.drilling import Laid
from estimator.routing.model import Drilled, Line, Zone
from estimator.routing.zone_distance import Kind
from estimator.routing.zone_findings import Stretch, stretches_by_wall

Spot = tuple[Kind, int]
BETWEEN = "a way between this room and the next, in line with what it leads to there"


@dataclass(frozen=True, slots=True)
class Band:
    """One cable zone of a wall, with every reason for it; `level` where it runs the whole length of the wall."""

    number: int
    zone: Zone
    level: bool
    reasons: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Way:
    """A lane or riser of a wall, and the legs and runs (ids) that follow it; number 0 where its plan has none there."""

    number: int
    line: Line
    cables: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """A hole that is set off from the lane, riser or line of its cables, with where it is."""

    hole: Drilled
    along_mm: float
    up_mm: float


@dataclass(frozen=True, slots=True)
class View:
    """One wall as it is drawn."""

    wall: Wall
    height_mm: int
    bands: tuple[Band, ...]
    ways: tuple[Way, ...]
    things: tuple[Thing, ...]
    stretches: tuple[Stretch, ...]
    beside: tuple[Beside, ...] = ()
    behind: tuple[Behind, ...] = ()

    @property
    def bare(self) -> bool:
        """Whether nothing leads along it, nothing is in the wall behind it, and nothing there makes a zone: risers at its ends
        do not count.
        """
        lanes = any(way.line.kind == "lane" for way in self.ways)
        return not (lanes or self.things or self.stretches or self.behind or sum(band.level for band in self.bands) > 1)


def wall_views(estimate: Estimate) -> tuple[View, ...]:
    """Every wall, in the order of `Routes.walls`."""
    shapes = {shape.room.name: shape for shape in estimate.building.rooms}
    walls = {(room, wall.name): wall for room, shape in shapes.items() for wall in shape.walls}
    things, stretches = things_by_wall(estimate), stretches_by_wall(estimate.building, _laid(estimate))
    beside = _beside(estimate)
    behind = behind_walls(estimate.building, _shared(estimate), things, stretches)
    found = []
    for plan in estimate.routes.walls:
        key = plan.room, plan.wall
        own = stretches.get(key, ())
        united = tuple(dict.fromkeys(stretch for _, stretch in own))
        height = shapes[plan.room].room.height_mm
        wall = walls[key]
        bands, ways = tuple(_bands(plan.zones, wall.length_mm)), tuple(_ways(plan.lines, own))
        own_things, off = tuple(things.get(key, ())), tuple(beside.get(key, ()))
        found.append(View(wall, height, bands, ways, own_things, united, off, tuple(behind.get(key, ()))))
    return tuple(found)


def _shared(estimate: Estimate) -> Sequence[SharedWall]:
    rule = estimate.catalogue.rules.get((estimate.job.ruleset, BACK_TO_BACK))
    return shared_walls(estimate.building, rule.value) if rule and rule.value is not None else ()


def _laid(estimate: Estimate) -> Iterator[Laid]:
    for leg in estimate.routes.legs:
        yield leg.id, leg.cable, leg.path
    for run in estimate.routes.runs:
        if run.path is not None:
            yield run.id, run.cable, run.path


def _beside(estimate: Estimate) -> Mapping[Key, list[Beside]]:
    """Holes in walls that are not where their lane or riser is, wall by wall in walking order."""
    found: dict[Key, list[Beside]] = {}
    for hole in estimate.routes.drilled:
        wall, height = hole.passage.wall, hole.height_mm
        if wall and hole.by_mm and height is not None:
            found.setdefault((hole.passage.room, wall), []).append(Beside(hole, float(hole.along_mm), float(height)))
    return found


def _bands(zones: Sequence[Zone], length_mm: int) -> Iterator[Band]:
    """Level ones upwards, then upright ones from left to right, each outline once."""
    outlines: dict[tuple[object, ...], list[Zone]] = {}
    for zone in zones:
        outlines.setdefault((zone.low_along_mm, zone.high_along_mm, zone.low_mm, zone.high_mm), []).append(zone)

    def read(alike: Sequence[Zone]) -> tuple[object, ...]:
        zone = alike[0]
        if _level(zone, length_mm):
            return 0, zone.low_mm + zone.high_mm, zone.low_mm
        return 1, zone.low_along_mm + zone.high_along_mm, zone.low_along_mm

    for number, alike in enumerate(sorted(outlines.values(), key=read), 1):
        yield Band(number, alike[0], _level(alike[0], length_mm), tuple(zone.reason for zone in alike))


def _level(zone: Zone, length_mm: int) -> bool:
    return zone.low_along_mm <= 0 and zone.high_along_mm >= length_mm


def _ways(lines: Sequence[Line], own: Sequence[tuple[str, Stretch]]) -> Iterator[Way]:
    """Lanes and risers of the plan, then what cables follow beside them, such as a rise from a lower ceiling next door."""
    of_line: dict[Spot, dict[str, None]] = {(line.kind, line.at_mm): {} for line in lines}
    beside: dict[Stretch, dict[str, None]] = {}
    for name, stretch in own:
        spot = next((spot for spot in _spots(stretch) if spot in of_line), None)
        (beside.setdefault(stretch, {}) if spot is None else of_line[spot])[name] = None
    counts = {"lane": 0, "riser": 0}
    for line in lines:
        counts[line.kind] += 1
        yield Way(counts[line.kind], line, tuple(of_line[line.kind, line.at_mm]))
    for stretch in sorted(beside, key=lambda one: (one.kind, one.at_mm, one.low_mm, one.high_mm)):
        line = Line(stretch.kind, stretch.at_mm, ((stretch.low_mm, stretch.high_mm),), BETWEEN)
        yield Way(0, line, tuple(beside[stretch]))


def _spots(stretch: Stretch) -> Iterator[Spot]:
    """Where the line is that a stretch follows: on a wall askew the place of a riser was rounded once more."""
    yield stretch.kind, stretch.at_mm
    if stretch.kind == "riser":
        yield stretch.kind, stretch.at_mm - 1
        yield stretch.kind, stretch.at_mm + 1
