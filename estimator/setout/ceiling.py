"""Takes groups on ceilings and floors; gives their points: rows moved off the joists, given places with findings."""

from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from estimator.building.model import Joists, RoomShape
from estimator.checks.model import Finding
from estimator.job.model import At, FlatPlace, Grid, Group
from estimator.problems import NOWHERE, Problem
from estimator.rounding import half_up
from estimator.setout.bars import Bar, nearest_open, open_spans
from estimator.setout.model import Point
from estimator.setout.outline import has_room, holds
from estimator.setout.points import on_flat
from estimator.setout.site import Placed, Site
from estimator.setout.words import address, id_list, in_metres, in_mm

XY = tuple[int, int]


def place_flat(site: Site, group: Group) -> Placed:
    """Place a group of a ceiling or floor: by `at` (never moved), or by rows with columns (moved off joists)."""
    placed = _rows(site, group, group.placing) if isinstance(group.placing, Grid) else _given(site, group)
    if placed.problems:
        return placed
    return placed + Placed(findings=_unchecked(site, group))


def joists_of(shape: RoomShape, group: Group) -> Joists | None:
    """The joists that a group's holes could meet."""
    return shape.ceiling if group.surface == "ceiling" else shape.floor


def _given(site: Site, group: Group) -> Placed:
    shape = site.shape(group.room)
    where = address("points", group.name)
    placed = Placed()
    assert isinstance(group.placing, At)
    for number, given in enumerate(group.placing.places, start=1):
        assert isinstance(given, FlatPlace)
        place = group.place if given.place == NOWHERE else given.place
        if not holds(shape.room.corners, given.x_mm, given.y_mm):
            found = f"{in_metres(given.x_mm)}, {in_metres(given.y_mm)} is not inside the room"
            write = "write x and y from the room's lowest corner, inside its walls"
            placed += Placed(problems=(Problem(place, f"{where}.at.{number}", found, write),))
            continue
        point = on_flat(group, number, shape.room, given.x_mm, given.y_mm, place=place)
        placed += Placed(points=(point,), findings=_check(site, group, point))
    return placed


def _check(site: Site, group: Group, point: Point) -> tuple[Finding, ...]:
    """What a given place breaks: a joist in the way (`stop`), or a wall nearer than half its hole (`ask`)."""
    shape = site.shape(group.room)
    cut = site.cut_mm(group.kind)
    joists = joists_of(shape, group)
    x, y, _ = point.at
    said = f"{point.id} at {in_metres(x)}, {in_metres(y)}"
    hit = [bar for bar in _bars(joists, cut) if joists and bar.holds(_square_to(joists, (x, y)))]
    if hit and joists:
        moved = _clear(shape, joists, [(x, y)], cut)
        hint = "no clear place square to the joist" if moved is None else f"nearest clear place {_said(moved[0])}"
        message = f"{said}: the cut-out of {in_mm(cut)} meets {hit[0].of}; {hint}"
        distance = max(bar.distance_mm(_square_to(joists, (x, y))) for bar in hit)
        return (site.finding("cut-out-to-joist", "stop", point.id, message, distance, Decimal(0)),)
    if not has_room(shape.room.corners, x, y, cut):
        message = f"{said}: the cut-out of {in_mm(cut)} reaches past a wall"
        return (site.finding("cut-out-to-wall", "ask", point.id, message),)
    return ()


def _rows(site: Site, group: Group, grid: Grid) -> Placed:
    """Rows from the lowest y, each from the lowest x; a place whose hole meets a joist moves square to it."""
    shape = site.shape(group.room)
    if grid.rows == 0 or grid.columns == 0:
        return Placed()
    problems = _grid_problems(site, group, grid)
    if problems:
        return Placed(problems=problems)
    xs, ys = (_centres(*line) for line in _lines(shape, grid))
    even = [[(x, y) for x in xs] for y in ys]
    cut = site.cut_mm(group.kind)
    joists = joists_of(shape, group)
    parts = [part for row in even for part in _together(row, joists)]
    moved = [place for part in parts for place in _off_joists(shape, joists, part, cut)]
    flat = zip((place for row in even for place in row), moved, strict=True)
    points = tuple(
        on_flat(group, number, shape.room, *now, abs(now[0] - was[0]) + abs(now[1] - was[1]))
        for number, (was, now) in enumerate(flat, start=1)
    )
    return Placed(points=points, findings=_stuck(site, group, points))


def _lines(shape: RoomShape, grid: Grid) -> tuple[tuple[int, int, int | None], tuple[int, int, int | None]]:
    """For x and for y: the room's extent, how many centres, and the edge at both ends (None: half a spacing)."""
    width = max(x for x, _ in shape.room.corners)
    depth = max(y for _, y in shape.room.corners)
    edges = grid.edge_mm or (None, None)
    return (width, grid.columns, edges[0]), (depth, grid.rows, edges[1])


def _centres(extent_mm: int, many: int, edge_mm: int | None) -> list[int]:
    """Equal centres over an extent, half up: half a spacing at the ends, or `edge_mm`; a single one in the middle."""
    if edge_mm is None or many == 1:
        return [half_up(Fraction((2 * k + 1) * extent_mm, 2 * many)) for k in range(many)]
    return [edge_mm + half_up(Fraction(k * (extent_mm - 2 * edge_mm), many - 1)) for k in range(many)]


def _grid_problems(site: Site, group: Group, grid: Grid) -> tuple[Problem, ...]:
    """Why a grid does not fit: too many across, edges that meet, or places that are not wholly in the room."""
    shape = site.shape(group.room)
    body = site.body(group.kind, group.surface)
    sizes = (body.plate_width_mm, body.plate_height_mm)
    cut = site.cut_mm(group.kind)
    lines = _lines(shape, grid)
    for key, line, size in zip(("columns", "rows"), lines, sizes, strict=True):
        # What hangs on the surface may be turned round, so only holes refuse a grid; plates that crowd are a finding.
        pitch = max(size, cut) + site.limits.air_mm if cut else Decimal(1)
        fits = _fits(line, pitch)
        if line[1] > fits:
            edge = f" with {in_metres(line[2])} at the ends" if line[2] else ""
            apart = f"at {in_mm(pitch)} or more apart"
            most = f"{fits} {'does' if fits == 1 else 'do'}"
            found = f"{line[1]} {key} in {in_metres(line[0])}{edge} do not fit {apart}: {most}"
            write = f"write {fits} or fewer" if fits else "write a smaller edge"
            return (Problem(group.place, address("points", group.name, key), found, write),)
    places = [(x, y) for y in _centres(*lines[1]) for x in _centres(*lines[0])]
    inside = sum(has_room(shape.room.corners, x, y, cut) for x, y in places)
    if inside == len(places):
        return ()
    found = f"of {len(places)} places {inside} lie wholly in the room"
    write = "write other rows, columns or edges, or places one by one with at"
    return (Problem(group.place, address("points", group.name), found, write),)


def _fits(line: tuple[int, int, int | None], pitch_mm: Decimal) -> int:
    """The most equal centres in a line that lie at least `pitch_mm` apart."""
    extent, _, edge = line
    if edge is None:
        return max(1, int(extent // pitch_mm))
    between = extent - 2 * edge
    if between < 0:
        return 1 if edge <= extent else 0
    return int(between // pitch_mm) + 1


def _together(row: Sequence[XY], joists: Joists | None) -> list[list[XY]]:
    """The places of a row that move as one: the whole row where it lies along the joists, else each alone."""
    if joists is not None and joists.along == "x":
        return [list(row)]
    return [[place] for place in row]


def _off_joists(shape: RoomShape, joists: Joists | None, places: list[XY], cut: Decimal) -> list[XY]:
    """The nearest clear places; the places as they are where there is nothing to move from, or nowhere to move to."""
    if joists is None:
        return places
    return _clear(shape, joists, places, cut) or places


def _clear(shape: RoomShape, joists: Joists, places: list[XY], cut: Decimal) -> list[XY] | None:
    """Places moved as one, square to the joists, to the nearest clear line (of two, the lower); None: there is none."""
    axis = 0 if joists.along == "y" else 1
    line = places[0][axis]
    extent = max(corner[axis] for corner in shape.room.corners)
    spans = list(open_spans(_bars(joists, cut), 0, extent))
    while spans:
        nearest = nearest_open(line, spans)
        assert nearest is not None
        moved = [(nearest, y) if axis == 0 else (x, nearest) for x, y in places]
        if all(has_room(shape.room.corners, x, y, cut) for x, y in moved):
            return moved
        spans = [span for span in spans if not span[0] <= nearest <= span[1]]
    return None


def _bars(joists: Joists | None, cut: Decimal) -> list[Bar]:
    """What joists close to the middle of a hole, square to them; nothing to something without a hole."""
    if joists is None or cut == 0:
        return []
    reach = (cut + joists.section.thickness_mm) / 2
    return [
        Bar(place - reach, place + reach, "cut-out-to-joist", Decimal(0), f"the joist at {in_metres(place)}")
        for place in joists.places_mm
    ]


def _square_to(joists: Joists, place: XY) -> int:
    return place[0] if joists.along == "y" else place[1]


def _said(place: XY) -> str:
    return f"{in_metres(place[0])}, {in_metres(place[1])}"


def _stuck(site: Site, group: Group, points: Sequence[Point]) -> tuple[Finding, ...]:
    """A finding for places of rows that still meet a joist: nothing square to it is clear."""
    found = [finding for point in points for finding in _check(site, group, point)]
    if not found:
        return ()
    hit = {finding.subject for finding in found}
    ids = id_list((point.group, point.number) for point in points if point.id in hit)
    cut = site.cut_mm(group.kind)
    said = "finds no clear place between the joists: move the rows, or take a smaller light?"
    message = f"{ids}: the cut-out of {in_mm(cut)} {said}"
    return (replace(found[0], subject=group.name, message=message),)


def _unchecked(site: Site, group: Group) -> tuple[Finding, ...]:
    """Told where holes may meet joists that nobody described."""
    shape = site.shape(group.room)
    void = shape.room.ceiling if group.surface == "ceiling" else shape.room.floor
    known = joists_of(shape, group) is not None
    if known or site.cut_mm(group.kind) == 0 or (group.surface == "floor" and not void.void):
        return ()
    joists = f'the joists of the {group.surface} of "{group.room}" are not given'
    message = f"{group.name}: {joists}, so nothing says whether a cut-out meets one"
    return (site.finding("cut-out-to-joist", "unchecked", group.name, message),)
