"""How rooms meet: the building and the rule for walls back to back go in; openings named on one face only, walls with no
room for their studs and floors with no room for their joists come out as findings.
"""

from collections.abc import Iterator
from decimal import Decimal

from estimator.building.adjoining import BACK_TO_BACK, SharedWall, shared_walls
from estimator.building.model import Building, RoomShape, Wall
from estimator.building.openings import Through, openings_through
from estimator.catalogue.model import Catalogue, Rule
from estimator.checks.model import Finding
from estimator.job.model import Job, Opening
from estimator.job.overlap import common
from estimator.routing.adjoining import next_above
from estimator.setout.words import in_mm

APART = "shared-opening-apart"
"""The rule of rules.csv: how far apart the edges of one opening may be as two rooms measure them."""
COMMON_PRACTICE = "common practice"


def meetings(job: Job, catalogue: Catalogue, building: Building) -> tuple[Finding, ...]:
    """Every finding about two rooms: shared openings, the wall between them, the floor between them."""
    rule = catalogue.rules.get((job.ruleset, BACK_TO_BACK))
    limit = rule.value if rule and rule.value is not None else Decimal(0)
    shared = shared_walls(building, limit)
    return (
        *_openings(openings_through(building, limit) if rule else (), catalogue.rules.get((job.ruleset, APART))),
        *(finding for of in shared if (finding := _between(building, of))),
        *(finding for low, high in next_above(building) if (finding := _over(low, high))),
    )


def _openings(through: tuple[Through, ...], same: Rule | None) -> Iterator[Finding]:
    told: set[frozenset[tuple[str, Opening]]] = set()
    for of in through:
        if of.own is None:
            yield _named_once(of)
            continue
        pair = frozenset(((of.wall.room, of.named), (of.far.room, of.own)))
        apart = _apart_mm(of.seen, of.own)
        if same is not None and same.value is not None and apart > same.value and pair not in told:
            told.add(pair)
            yield _unlike(of, of.own, apart, same)


def _named_once(of: Through) -> Finding:
    seen = of.seen
    return Finding(
        "opening-both-faces",
        "note",
        subject(of.far),
        f"The {_where(of.named, of.wall)} goes through {called(of.far)} of {of.far.room} too, {_span(seen)} along "
        f"there; it is counted as an opening of both. If it is none there, move the rooms apart; if it is, write it in "
        f'{of.far.room} as well: kind = "{seen.kind}", wall = "{seen.wall}", along = "{seen.along_mm} mm", width = '
        f'"{seen.width_mm} mm", sill = "{seen.sill_mm} mm", head = "{seen.head_mm} mm".',
        source=COMMON_PRACTICE,
    )


def _unlike(of: Through, own: Opening, apart_mm: int, rule: Rule) -> Finding:
    return Finding(
        "opening-both-faces",
        "ask",
        subject(of.far),
        f"The {_where(of.named, of.wall)} and the {_where(own, of.far)} lie back to back, and an edge of one is "
        f"{apart_mm} mm from that of the other: are they one opening? Seen from {of.far.room} the first is {_span(of.seen)} "
        f"along, {_heights(of.seen)} up; the second is {_heights(own)} up. Measure both again; no box is kept clear of what "
        "its own room does not name.",
        Decimal(apart_mm),
        rule.value,
        "mm",
        rule.source,
        rule.edition or None,
    )


def _apart_mm(one: Opening, other: Opening) -> int:
    return max(abs(a - b) for a, b in zip(_edges(one), _edges(other), strict=True))


def _edges(opening: Opening) -> tuple[int, int, int, int]:
    return opening.along_mm, opening.along_mm + opening.width_mm, opening.sill_mm, opening.head_mm


def subject(wall: Wall) -> str:
    """What a finding about a wall is filed under: `hall, left`."""
    return f"{wall.room}, {wall.name}"


def called(wall: Wall) -> str:
    """`the left wall`, `wall-2`."""
    return wall.name if wall.name.startswith("wall") else f"the {wall.name} wall"


def _where(opening: Opening, wall: Wall) -> str:
    return f"{opening.kind} in {called(wall)} of {wall.room}, {_span(opening)} along,"


def _span(opening: Opening) -> str:
    return f"{opening.along_mm} to {opening.along_mm + opening.width_mm} mm"


def _heights(opening: Opening) -> str:
    return f"{opening.sill_mm} to {opening.head_mm} mm"


def _between(building: Building, shared: SharedWall) -> Finding | None:
    """A `stop` for two walls nearer to each other than the thinner of their studs is deep."""
    one, other = building.rooms[shared.first], building.rooms[shared.second]
    depth = min(shared.one.frame.stud.depth_mm, shared.other.frame.stud.depth_mm)
    if shared.gap_mm >= depth or not beside(one, other):
        return None
    far = other.room.name
    return Finding(
        "wall-between-rooms",
        "stop",
        subject(shared.other),
        f"In {far}, {called(shared.other)} is {shared.gap_mm} mm from {called(shared.one)} of {one.room.name}, "
        f"and the studs between them are {in_mm(depth)} deep. Sizes are between the inside faces of the frame: "
        f"{stand_apart(shared, other, depth)}. If there is no wall, write the two as one room with an outline.",
        Decimal(shared.gap_mm),
        depth,
        "mm",
        COMMON_PRACTICE,
    )


def beside(one: RoomShape, other: RoomShape) -> bool:
    """Whether the two stand at one level, some of their walls at least."""
    low, high = one.room.floor_level_mm, other.room.floor_level_mm
    return max(low, high) < min(low + one.room.height_mm, high + other.room.height_mm)


def stand_apart(shared: SharedWall, other: RoomShape, depth_mm: Decimal) -> str:
    """What to write so that the second room stands a stud away from the first."""
    (x, y), (to_x, to_y) = shared.one.start, shared.one.end
    move = int(depth_mm.to_integral_value("ROUND_CEILING")) - shared.gap_mm
    if x != to_x and y != to_y:
        return f"move {other.room.name} {move} mm further away"
    # Outwards of a wall is to the left of its direction.
    out_x, out_y = (0, (to_x > x) - (to_x < x)) if y == to_y else ((to_y < y) - (to_y > y), 0)
    at = other.room.at
    return f'write at = ["{at[0] + out_x * move} mm", "{at[1] + out_y * move} mm"] for {other.room.name}'


def _over(low: RoomShape, high: RoomShape) -> Finding | None:
    """A `stop` for a floor nearer to the ceiling under it than the joists between them are deep."""
    room, under = high.room, low.room
    top = under.floor_level_mm + under.height_mm
    depths = [void.joist.depth_mm for void in (under.ceiling, room.floor) if void.joist is not None]
    rise = room.floor_level_mm - top
    if rise >= max(depths, default=Decimal(1)) or not common(_corners(low), _corners(high)):
        return None
    joists = f"the joists between them are {in_mm(max(depths))} deep" if depths else "nothing is left for joists"
    least = top + int(max(depths).to_integral_value("ROUND_CEILING")) if depths else None
    write = f'write floor_level = "{least} mm" or more' if least else "write a higher floor_level"
    return Finding(
        "floor-between-rooms",
        "stop",
        room.name,
        f"The floor of {room.name} is {rise} mm above the ceiling of {under.name}, and {joists}: {write}, with the boards "
        "of the floor on top.",
        Decimal(rise),
        max(depths, default=None),
        "mm",
        COMMON_PRACTICE,
    )


def _corners(shape: RoomShape) -> tuple[tuple[int, int], ...]:
    """The corners of a room in the building's plan."""
    x, y = shape.room.at
    return tuple((x + own_x, y + own_y) for own_x, own_y in shape.room.corners)
