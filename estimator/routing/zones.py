"""Cable zones of a wall: what is fixed on it and the rules go in; rectangles where cables may lie, with the reason, come out.

The zones are those of BS 7671 522.6.202 (i), for the inside face of a wall: along its top, beside each angle with the
next wall, and in line with every point and board on that face, level and upright, as wide as its plate. There is none
along the floor. A thin wall has the zones of what is on its other face too, where one can tell from this face what is
there. Openings are not taken out of the rectangles. Where cables are guarded mechanically the whole wall is one zone.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.adjoining import BACK_TO_BACK, SharedWall, shared_walls
from estimator.building.model import Building, RoomShape, Wall
from estimator.catalogue.model import Catalogue, Rule
from estimator.routing.model import Zone
from estimator.routing.words import as_text
from estimator.setout.model import PlacedBoard, Point, SetOut

WIDTH = "zone-width"
REVERSE = "zone-reverse-thickness"


@dataclass(frozen=True, slots=True)
class Mark:
    """Something on a wall that shows where cables are: its middle, the size of its plate, and where it can be seen from.

    `other_face_mm` is the thickness of the wall where the thing is on its other face, None on this one.
    """

    name: str
    along_mm: int
    up_mm: int
    wide_mm: Decimal
    high_mm: Decimal
    other_face_mm: Decimal | None = None


Marks = dict[tuple[str, str], list[Mark]]
"""What is on every wall, by names of room and wall."""


def width_rule(catalogue: Catalogue, ruleset: str) -> Rule | None:
    """The rule that says how wide zones along tops and corners are; None where the ruleset has none with a value."""
    rule = catalogue.rules.get((ruleset, WIDTH))
    return rule if rule is not None and rule.value is not None else None


def zones_of(shape: RoomShape, wall: Wall, marks: Sequence[Mark], width_mm: Decimal) -> tuple[Zone, ...]:
    """The zones of a wall: top, left corner, right corner, then level and upright for each mark, as `marks` come."""
    length, height = Decimal(wall.length_mm), Decimal(shape.room.height_mm)
    whole = Zone(Decimal(0), length, Decimal(0), height, "cables in this wall are guarded mechanically")
    if wall.frame.cable_zones == "protected":
        return (whole,)
    found = [(Decimal(0), length, height - width_mm, height, f"within {as_text(width_mm)} mm of the top")]
    for other, low, high in _corners(shape, wall, width_mm):
        found.append(
            (low, high, Decimal(0), height, f'within {as_text(width_mm)} mm of the corner with wall "{other}"')
        )
    for mark in marks:
        wide, high = mark.wide_mm / 2, mark.high_mm / 2
        found.append((Decimal(0), length, mark.up_mm - high, mark.up_mm + high, f"level with {_words(mark)}"))
        found.append((mark.along_mm - wide, mark.along_mm + wide, Decimal(0), height, f"in line with {_words(mark)}"))
    return tuple(
        Zone(max(low, Decimal(0)), min(high, length), max(foot, Decimal(0)), min(head, height), reason)
        for low, high, foot, head, reason in found
    )


def _corners(shape: RoomShape, wall: Wall, width_mm: Decimal) -> Iterator[tuple[str, Decimal, Decimal]]:
    """The walls that make an angle with this one, and the alongs of the zone there."""
    before = shape.walls[wall.index - 1]
    after = shape.walls[(wall.index + 1) % len(shape.walls)]
    if _angle(before, wall):
        yield before.name, Decimal(0), width_mm
    if _angle(wall, after):
        yield after.name, wall.length_mm - width_mm, Decimal(wall.length_mm)


def _angle(one: Wall, other: Wall) -> bool:
    """Whether two walls do not go straight on."""
    dx, dy = one.end[0] - one.start[0], one.end[1] - one.start[1]
    return dx * (other.end[1] - other.start[1]) != dy * (other.end[0] - other.start[0])


def _words(mark: Mark) -> str:
    if mark.other_face_mm is None:
        return mark.name
    return f"{mark.name} on the other face of a wall {as_text(mark.other_face_mm)} mm thick"


def marks_by_wall(building: Building, setout: SetOut, catalogue: Catalogue, ruleset: str) -> Marks:
    """What is on each wall, by along, height and name; things on the other face of thin walls among them."""
    rule = catalogue.rules.get((ruleset, REVERSE))
    thin_mm = rule.value if rule is not None and rule.value is not None else Decimal(0)
    marks: Marks = {}
    outside: list[tuple[Point, Mark]] = []
    for point in setout.points:
        if point.wall is None or point.along_mm is None or point.height_mm is None:
            continue
        kind = catalogue.points[point.kind]
        mark = Mark(point.id, point.along_mm, point.height_mm, kind.plate_width_mm, kind.plate_height_mm)
        if point.surface == "outside":
            outside.append((point, mark))
        else:
            marks.setdefault((point.room, point.wall), []).append(mark)
    for board in setout.boards:
        marks.setdefault((board.room, board.wall), []).append(_board(catalogue, board))
    behind = [*_from_outside(building, outside, thin_mm), *_from_beside(building, marks, catalogue, ruleset, thin_mm)]
    for place, mark in behind:
        marks.setdefault(place, []).append(mark)
    return {place: sorted(own, key=lambda mark: (mark.along_mm, mark.up_mm, mark.name)) for place, own in marks.items()}


def _board(catalogue: Catalogue, board: PlacedBoard) -> Mark:
    kind = catalogue.boards[board.kind]
    return Mark(board.name, board.along_mm, board.height_mm, kind.width_mm, kind.height_mm)


Behind = Iterator[tuple[tuple[str, str], Mark]]


def _from_outside(building: Building, outside: Sequence[tuple[Point, Mark]], thin_mm: Decimal) -> Behind:
    """Points outside a wall thin enough for their zones to hold on its inside face too."""
    for point, mark in outside:
        frame = building.room(point.room).wall(point.wall or "").frame
        thick_mm = frame.thickness_mm + frame.gap_mm + frame.inside_mm
        if thick_mm <= thin_mm:
            yield (point.room, point.wall or ""), _seen_through(mark, mark.along_mm, mark.up_mm, thick_mm)


def _from_beside(building: Building, marks: Marks, catalogue: Catalogue, ruleset: str, thin_mm: Decimal) -> Behind:
    """What is on the other face of a thin wall between two rooms; `marks` are those of each face itself."""
    if not any(_least_mm(wall) <= thin_mm for shape in building.rooms for wall in shape.walls):
        return
    rule = catalogue.rules.get((ruleset, BACK_TO_BACK))
    for shared in shared_walls(building, rule.value or Decimal(0)) if rule else ():
        thick_mm = _between_mm(shared)
        if thick_mm > thin_mm:
            continue
        one, other = building.rooms[shared.first], building.rooms[shared.second]
        sides = ((one, shared.one, other, shared.other), (other, shared.other, one, shared.one))
        for shape, wall, beyond, far in sides:
            rise = shape.room.floor_level_mm - beyond.room.floor_level_mm
            for mark in marks.get((shape.room.name, wall.name), ()):
                along, up = shared.across(mark.along_mm), mark.up_mm + rise
                if 0 <= along <= far.length_mm and 0 <= up <= beyond.room.height_mm:
                    yield (beyond.room.name, far.name), _seen_through(mark, along, up, thick_mm)


def _least_mm(wall: Wall) -> Decimal:
    """What a wall between two rooms measures at least."""
    return wall.frame.stud.depth_mm + wall.frame.gap_mm + wall.frame.inside_mm


def _between_mm(shared: SharedWall) -> Decimal:
    """The thickness of a wall between two rooms, with what covers both of its faces."""
    frames = shared.one.frame, shared.other.frame
    timber = max(Decimal(shared.gap_mm), *(frame.stud.depth_mm for frame in frames))
    return timber + sum((frame.gap_mm + frame.inside_mm for frame in frames), Decimal(0))


def _seen_through(mark: Mark, along_mm: int, up_mm: int, thick_mm: Decimal) -> Mark:
    return Mark(mark.name, along_mm, up_mm, mark.wide_mm, mark.high_mm, thick_mm)
