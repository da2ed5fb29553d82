"""Takes the points in their places; gives what there is to tell about whole groups: moves, corners, crowded plates."""

from collections.abc import Iterable, Sequence
from decimal import Decimal

from estimator.checks.model import Finding
from estimator.job.model import Group
from estimator.setout.clear import Mark, crowded
from estimator.setout.model import Point
from estimator.setout.site import Site
from estimator.setout.words import count, id_list, in_metres, in_mm


def group_notes(site: Site, points: Sequence[Point]) -> tuple[Finding, ...]:
    """At most one of each sort for each group, by name: places moved, boxes near corners, boxes past the floor."""
    found: list[Finding] = []
    for group in sorted(site.job.groups, key=lambda group: group.name):
        own = [point for point in points if point.group == group.name]
        found += [note for note in (_moved(site, own), _corners(site, group, own), _heights(site, group, own)) if note]
    return tuple(found)


def crowding(site: Site, marks: Iterable[Mark]) -> tuple[Finding, ...]:
    """One finding for each two groups whose plates stand too near each other on a ceiling, floor or soffit."""
    pairs: dict[tuple[str, str], list[tuple[Mark, Mark]]] = {}
    flat = [mark for mark in marks if mark.face[1] in ("ceiling", "floor", "soffit")]
    for a, b in crowded(flat, site.limits.air_mm):
        pairs.setdefault((a.group, b.group), []).append((a, b))
    return tuple(_crowd(site, near) for near in pairs.values())


def _moved(site: Site, points: Sequence[Point]) -> Finding | None:
    moved = [point for point in points if point.moved_mm]
    if not moved:
        return None
    most = max(moved, key=lambda point: (point.moved_mm, -point.number))
    furthest = f"{in_mm(most.moved_mm)} ({most.id})"
    places = count(len(points), "place", "places")
    said = f"{len(moved)} of {places} moved off the even spacing, at most {furthest}"
    return site.finding("moved", "note", most.group, said, Decimal(most.moved_mm))


def _corners(site: Site, group: Group, points: Sequence[Point]) -> Finding | None:
    """Boxes in the wall that stand nearer to a corner than is handy."""
    limit = site.limits.corner_note_mm
    measured = ((_to_corner(site, point), point) for point in points)
    near = [(distance, point) for distance, point in measured if distance is not None and distance < limit]
    if not near:
        return None
    least = min(distance for distance, _ in near)
    ids = id_list((point.group, point.number) for _, point in near)
    said = f"{ids}: nearer than {in_mm(limit)} to a corner, {in_mm(least)} at the least"
    return site.finding("box-to-corner-note", "note", group.name, said, least, limit)


def _to_corner(site: Site, point: Point) -> Decimal | None:
    """From the box's edge to the nearer end of its wall; None for what is not in a wall."""
    if point.surface != "wall" or point.wall is None or point.along_mm is None:
        return None
    body = site.body(point.kind, point.surface)
    if body.manner != "bay":
        return None
    length = site.shape(point.room).wall(point.wall).length_mm
    return min(point.along_mm, length - point.along_mm) - body.width_mm / 2


def _heights(site: Site, group: Group, points: Sequence[Point]) -> Finding | None:
    """Boxes and plates on inside walls that reach past the floor or the ceiling."""
    if group.surface != "wall":
        return None
    half = site.body(group.kind, group.surface).height_mm / 2
    top = site.shape(group.room).room.height_mm
    past = [p for p in points if p.height_mm is not None and not half <= p.height_mm <= top - half]
    if not past:
        return None
    first = past[0]
    ids = id_list((point.group, point.number) for point in past)
    end = "floor" if (first.height_mm or 0) < half else "ceiling"
    middle = in_metres(first.height_mm or 0)
    said = f"{ids}: {in_mm(half * 2)} high with the middle at {middle}, it reaches past the {end}"
    return site.finding("box-height", "ask", group.name, said, Decimal(first.height_mm or 0))


def _crowd(site: Site, pairs: Sequence[tuple[Mark, Mark]]) -> Finding:
    a, b = pairs[0]
    more = f" (and {len(pairs) - 1} more)" if len(pairs) > 1 else ""
    said = f"{a.id} and {b.id}{more} on the {a.face[1]}: their plates are less than {in_mm(site.limits.air_mm)} apart"
    return site.finding("plate-air", "ask", a.id, said, None, site.limits.air_mm)
