"""Takes a group spread round a room or along named walls, and what is placed before it; gives its points."""

from collections.abc import Sequence

from estimator.building.model import RoomShape, Wall
from estimator.job.model import Fitted, Group, OnWalls, Spread
from estimator.problems import Problem
from estimator.rounding import ceil
from estimator.setout.bars import Span, places_in
from estimator.setout.clear import Mark
from estimator.setout.even import Even, TooMany, spread_line, spread_round
from estimator.setout.heights import above_floor_mm, no_height, off_height
from estimator.setout.legal import legal
from estimator.setout.model import Point
from estimator.setout.points import mark_of, on_wall
from estimator.setout.site import Body, Placed, Site, is_on_wall
from estimator.setout.words import address, count, in_metres


def place_spaced(site: Site, marks: Sequence[Mark]) -> Placed:
    """Place all `on` groups of walls, then all `spread` groups, each clear of what was placed before it.

    Within each: the group with fewer legal places (counted before any of its kind of placing is placed) first, then the
    lower height, then the name. A group that does not fit is a problem.
    """
    placed = Placed()
    standing = tuple(marks)
    for placing in (OnWalls, Spread):
        groups = [group for group in site.job.groups if is_on_wall(group) and isinstance(group.placing, placing)]
        keys = {group.name: _order(site, group, standing) for group in groups}
        for group in sorted(groups, key=lambda group: keys[group.name]):
            one = _place(site, group, standing)
            placed += one
            standing += tuple(mark_of(site, point) for point in one.points)
    return placed


def avoided(site: Site, group: Group) -> tuple[Fitted, ...]:
    """The fitted things of its room that the group keeps clear of, in the order of the room."""
    return tuple(thing for thing in site.shape(group.room).room.fitted if thing.name in group.avoid)


def _order(site: Site, group: Group, marks: Sequence[Mark]) -> tuple[int, int, str]:
    walls = _walls(site.shape(group.room), group)
    heights = {wall.name: _height_mm(site, group, wall) for wall in walls}
    known = [height for height in heights.values() if height is not None]
    legal_places = sum(places_in(_legal(site, group, wall, marks)) for wall in walls)
    return (legal_places, min(known, default=0), group.name)


def _place(site: Site, group: Group, marks: Sequence[Mark]) -> Placed:
    problems = _height_problems(site, group)
    if problems:
        return Placed(problems=problems)
    if isinstance(group.placing, OnWalls):
        return _on(site, group, group.placing, marks)
    assert isinstance(group.placing, Spread)
    return _round(site, group, group.placing.count, marks)


def _on(site: Site, group: Group, placing: OnWalls, marks: Sequence[Mark]) -> Placed:
    """The group's places wall by wall, clockwise from the first wall of the room."""
    shape = site.shape(group.room)
    counts = dict(placing.counts)
    points: list[Point] = []
    problems: list[Problem] = []
    for wall in _walls(shape, group):
        wanted = counts[wall.name]
        spans = _legal(site, group, wall, marks)
        row = spread_line(wall.length_mm, wanted, spans, _apart(site, group)) if wanted else None
        if isinstance(row, TooMany):
            where = address("points", group.name, "on", wall.name)
            problems.append(_too_many(site, group, where, f"on wall {wall.name}", wall, wanted, row.fits))
        elif row is not None:
            points += _points(site, group, row, [(wall, place) for place in row.places], len(points), wall.length_mm)
    return Placed(points=tuple(points), problems=tuple(problems))


def _round(site: Site, group: Group, wanted: int, marks: Sequence[Mark]) -> Placed:
    """The group's places round the room, from the first wall's left end."""
    shape = site.shape(group.room)
    if wanted == 0:
        return Placed()
    spans = [span for wall in shape.walls for span in _on_line(wall, _legal(site, group, wall, marks))]
    faces = [(wall.offset_mm, wall.offset_mm + wall.length_mm) for wall in shape.walls]
    row = spread_round(shape.perimeter_mm, wanted, spans, _apart(site, group), faces)
    if isinstance(row, TooMany):
        where = address("points", group.name, "spread")
        around = f'round "{group.room}"'
        return Placed(problems=(_too_many(site, group, where, around, shape.walls[0], wanted, row.fits),))
    found = [_on_which(shape, place) for place in row.places]
    return Placed(points=_points(site, group, row, found, 0, shape.perimeter_mm, closed=True))


def _points(
    site: Site,
    group: Group,
    row: Even,
    found: Sequence[tuple[Wall, int]],
    before: int,
    line_mm: int,
    closed: bool = False,
) -> tuple[Point, ...]:
    room = site.shape(group.room).room
    points = []
    pairs = zip(row.places, row.evens, found, strict=True)
    for number, (place, even, (wall, along)) in enumerate(pairs, start=before + 1):
        moved = abs(place - even)
        height = _height_mm(site, group, wall)
        assert height is not None, "a wall without a height has no legal place"
        short_way = min(moved, line_mm - moved) if closed else moved
        points.append(on_wall(group, number, room, wall, along, height, short_way))
    return tuple(points)


def _walls(shape: RoomShape, group: Group) -> tuple[Wall, ...]:
    if isinstance(group.placing, OnWalls):
        named = dict(group.placing.counts)
        return tuple(wall for wall in shape.walls if wall.name in named)
    return shape.walls


def _legal(site: Site, group: Group, wall: Wall, marks: Sequence[Mark]) -> tuple[Span, ...]:
    height = _height_mm(site, group, wall)
    if height is None:
        return ()
    return legal(wall, _body(site, group), height, site.limits, marks, avoided(site, group))


def _on_line(wall: Wall, spans: Sequence[Span]) -> list[Span]:
    """Spans along the wall as spans of the room's closed line, where a wall's last end is the next one's first."""
    last = wall.length_mm - 1
    return [(wall.offset_mm + low, wall.offset_mm + min(high, last)) for low, high in spans if low <= last]


def _on_which(shape: RoomShape, place: int) -> tuple[Wall, int]:
    wall = max((wall for wall in shape.walls if wall.offset_mm <= place), key=lambda wall: wall.offset_mm)
    return wall, place - wall.offset_mm


def _height_mm(site: Site, group: Group, wall: Wall) -> int | None:
    return above_floor_mm(site.shape(group.room).room, wall.name, group.height)


def _height_problems(site: Site, group: Group) -> tuple[Problem, ...]:
    """Heights not known or not on the wall; round a room, a wall without the fitted thing is left out instead."""
    shape = site.shape(group.room)
    where = address("points", group.name, "height")
    walls = _walls(shape, group)
    heights = [(wall, _height_mm(site, group, wall)) for wall in walls]
    missing = [wall for wall, height in heights if height is None]
    if missing and (isinstance(group.placing, OnWalls) or len(missing) == len(walls)):
        return tuple(no_height(shape.room, wall.name, group.height, where, group.place) for wall in missing[:1])
    outside = group.surface == "outside"
    off = [off_height(shape.room, outside, height, where, group.place) for _, height in heights if height is not None]
    return tuple(dict.fromkeys(problem for problem in off if problem is not None))


def _body(site: Site, group: Group) -> Body:
    return site.body(group.kind, group.surface)


def _apart(site: Site, group: Group) -> int:
    return ceil(_body(site, group).plate_width_mm + site.limits.air_mm)


def _too_many(site: Site, group: Group, where: str, on: str, wall: Wall, wanted: int, fits: int) -> Problem:
    height = _height_mm(site, group, wall)
    tall = f" at {in_metres(height)}" if height is not None else ""
    keep = "clear of studs, corners, openings and what is placed before"
    wished = count(wanted, "place does", "places do")
    found = f"{wished} not fit {on}{tall}, {keep}: {fits} {'fits' if fits == 1 else 'fit'}"
    fewer = f"{fits} or fewer, " if fits else ""
    return Problem(group.place, where, found, f"write {fewer}another height, or places one by one with at")
