"""Rules between rooms: none takes up the place of another, and no storey hangs in the air."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from estimator.job import rules_outline
from estimator.job.build_building import frame_layers
from estimator.job.corners import Corner, corners, wall_names
from estimator.job.known import Known
from estimator.job.model import Section
from estimator.job.overlap import Box, box, common
from estimator.job.table import Table
from estimator.problems import Problem

FARTHEST_MM = 1500
"""More than this between a ceiling and the floor over it is no joist and no loft space that runs on (common practice)."""


@dataclass(frozen=True, slots=True)
class Body:
    """A room as it stands in the building: its corners in plan, the levels of its floor and ceiling."""

    table: Table
    corners: tuple[Corner, ...]
    floor_mm: int
    ceiling_mm: int
    stud_mm: int
    over_mm: int
    under_mm: int
    """Depth of its thinnest studs, of the joists over it and of those under it, up to whole mm; 0 where not given."""


def check(known: Known) -> Iterator[Problem]:
    """Every rule between rooms. Rooms whose shape or levels are not right in themselves are left out."""
    bodies = [body for room in known.job.tables("room") if (body := _body(known.job, room)) is not None]
    for number, body in enumerate(bodies):
        overlaps = [(other, shared) for other in bodies[:number] if (shared := _overlap(other, body))]
        for other, shared in overlaps[:1]:
            yield _one_place(other, body, shared)
    for body in bodies:
        yield from _in_the_air(body, [other for other in bodies if other is not body])


def _body(job: Table, room: Table) -> Body | None:
    found, at, height = corners(room), room.items("at", int), room.get("height", int)
    level = room.get("floor_level", int)
    shaped = room.has("size") != room.has("outline") and not any(rules_outline.check(room))
    if found is None or height is None or level is None or len(at) != 2 or not shaped:
        return None
    placed = tuple((x + at[0], y + at[1]) for x, y in found)
    depths = _stud_mm(job, room), _joist_mm(room, "ceiling"), _joist_mm(room, "floor")
    return Body(room, placed, level, level + height, *depths)


def _stud_mm(job: Table, room: Table) -> int:
    """The depth of the thinnest studs of a room."""
    found = []
    for wall in wall_names(room) or ():
        studs = [layer.get("stud", Section) for layer in frame_layers(job, room, wall) if layer.has("stud")]
        if studs and studs[-1] is not None:
            found.append(ceil(studs[-1].depth_mm))
    return min(found, default=0)


def _joist_mm(room: Table, key: str) -> int:
    void = room.get(key, Table)
    joist = void.get("joist", Section) if void is not None else None
    return ceil(joist.depth_mm) if joist is not None else 0


def _overlap(one: Body, other: Body) -> Box | None:
    level = max(one.floor_mm, other.floor_mm) < min(one.ceiling_mm, other.ceiling_mm)
    return common(one.corners, other.corners) if level else None


def _one_place(first: Body, second: Body, shared: Box) -> Problem:
    """Two rooms on one storey are to be moved apart in plan; two storeys, in level."""
    low, high = sorted((first, second), key=lambda body: body.floor_mm)
    if 2 * high.floor_mm >= low.floor_mm + low.ceiling_mm:
        found = f'its floor, at {high.floor_mm} mm, is below the ceiling of room "{low.table.name}" under it'
        least = low.ceiling_mm + max(low.over_mm, high.under_mm)
        hint = f'write floor_level = "{least} mm" or more, or another at'
        return high.table.problem("floor_level", found, hint)
    (x, y), (to_x, to_y) = shared
    found = f'it overlaps room "{first.table.name}", by {to_x - x} mm along x and {to_y - y} mm along y'
    _, (right, _) = box(first.corners)
    beside = right + min(first.stud_mm, second.stud_mm)
    own, _ = box(second.corners)
    hint = f'write where its lowest corner lies, for example at = ["{beside} mm", "{own[1]} mm"] to stand beside it'
    if not second.table.has("floor_level"):
        least = first.ceiling_mm + max(first.over_mm, second.under_mm)
        hint += f'; or, if it lies above room "{first.table.name}", floor_level = "{least} mm" or more'
    return second.table.problem("at" if second.table.has("at") else None, found, hint)


def _in_the_air(body: Body, others: list[Body]) -> Iterator[Problem]:
    """A floor far above all that could carry it, or a room far below all that it could carry."""
    room, level = body.table, body.floor_mm
    ground = room.get("ground", int)
    grounded = ground is not None and abs(ground) <= FARTHEST_MM
    over = any(other.ceiling_mm <= level and common(other.corners, body.corners) for other in others)
    # A room on a bank stands on its own ground, unless another room is under it.
    if not room.has("floor_level") or level == 0 or (grounded and not over):
        return
    hint = "write the level of its floor over the floor that heights count from"
    below = [other for other in others if other.ceiling_mm <= level]
    above = [other for other in others if other.floor_mm >= body.ceiling_mm]
    under = [other for other in below if common(other.corners, body.corners)] or below
    if level > 0 and under:
        top = max(under, key=lambda other: other.ceiling_mm)
        if level - top.ceiling_mm > FARTHEST_MM:
            found = f'its floor is {level - top.ceiling_mm} mm above the ceiling of room "{top.table.name}" below it'
            yield room.problem("floor_level", found, hint)
    elif level < 0 and above:
        foot = min(above, key=lambda other: other.floor_mm)
        if foot.floor_mm - body.ceiling_mm > FARTHEST_MM:
            found = f'its ceiling is {foot.floor_mm - body.ceiling_mm} mm below the floor of room "{foot.table.name}"'
            yield room.problem("floor_level", found, hint)
