"""Rules of a room: its shape, its frames and joists, and all that stands in or at its walls."""

from collections.abc import Iterator

from estimator.job import rules_outline
from estimator.job.build_building import frame_layers
from estimator.job.corners import corners, wall_ends, wall_length_mm, wall_names, within
from estimator.job.known import Known
from estimator.job.model import Section
from estimator.job.phrases import Hole
from estimator.job.table import Spot, Table
from estimator.problems import Problem, choose

LEAST_ROOM_MM = 300
"""Nobody can fix or reach anything in a room less wide than this (common practice)."""
LARGER = f'check the unit; write at least "{LEAST_ROOM_MM} mm"'
SHAPE = 'write size = ["6.0 m", "4.0 m"] (along x and along y)'


def check(known: Known) -> Iterator[Problem]:
    """Every rule of every room."""
    for room in known.job.tables("room"):
        yield from _shape(room)
        yield from _frames(known.job, room)
        yield from _joists(room, "ceiling")
        yield from _joists(room, "floor")
        for opening in room.tables("opening"):
            yield from _opening(room, opening)
        yield from _overlaps(room)
        for fitted in room.tables("fitted"):
            yield from _fitted(room, fitted)
        yield from _twice(room, "fitted", ("wall", "name"))
        for key, wall in (("soffit", "wall"), ("wall", "name")):
            for table in room.tables(key):
                yield from wall_exists(room, table, wall, table.get(wall, str))
            yield from _twice(room, key, (wall,))


def notes(known: Known) -> Iterator[Problem]:
    """What is taken for granted about a room, and the user may want to say."""
    for room in known.job.tables("room"):
        layers = [layer for wall in wall_names(room) or () for layer in frame_layers(known.job, room, wall)]
        if layers and not any(layer.has("inside") for layer in layers):
            found = "nothing says what closes the frame inside, boxes are set out as if nothing did"
            yield room.problem(None, found, 'write inside = ["12.5 mm plasterboard"] in [frame], or inside = "none"')


def _shape(room: Table) -> Iterator[Problem]:
    if room.has("size") and room.has("outline"):
        yield room.problem("outline", "size and outline are both given", "keep one of them")
    elif not room.has("size") and not room.has("outline"):
        yield room.problem(None, "size is missing", SHAPE)
    else:
        wrong = tuple(rules_outline.check(room))
        yield from wrong or _small(room)


def _small(room: Table) -> Iterator[Problem]:
    """An outline too small for anyone to work in has the wrong unit; sizes and heights have limits in the table of keys."""
    found = corners(room)
    if found is None or not room.has("outline"):
        return
    for axis, way in enumerate(("along x", "along y")):
        places = [corner[axis] for corner in found]
        across = max(places) - min(places)
        if across < LEAST_ROOM_MM:
            yield room.problem("outline", f"the room is only {across} mm wide {way}", LARGER)


def wall_exists(room: Table, table: Table, spot: str | Spot, wall: str | None) -> Iterator[Problem]:
    """A problem where `table` names a wall that its room has not."""
    names = wall_names(room)
    if wall is not None and names is not None and wall not in names:
        yield table.problem(spot, f'room "{room.name}" has no wall "{wall}"', choose(wall, names))


def on_wall(table: Table, room: Table, wall: str | None, spot: str | Spot, along_mm: int | None) -> Iterator[Problem]:
    """A problem where a place lies beyond the end of its wall."""
    ends = wall_ends(room, wall)
    if ends is not None and along_mm is not None and along_mm > (length := wall_length_mm(ends)):
        yield table.problem(spot, f'wall "{wall}" is only {length} mm long', f'write at most "{length} mm"')


def _frames(job: Table, room: Table) -> Iterator[Problem]:
    told: list[str] = []
    unread = any(table.has("frame") and table.get("frame", Table) is None for table in (job, room))
    for wall in () if unread else wall_names(room) or ():
        layers = frame_layers(job, room, wall)
        for key, example in (("stud", '"38 x 89 mm"'), ("centres", '"600 mm"')):
            if not any(layer.has(key) for layer in layers) and key not in told:
                told.append(key)
                found = f"nothing says the {key} of its frame"
                yield room.problem(None, found, f"write {key} = {example} in [frame]")
        yield from _hole(layers)


def _hole(layers: tuple[Table, ...]) -> Iterator[Problem]:
    holes = [layer for layer in layers if layer.has("hole")]
    studs = [layer for layer in layers if layer.has("stud")]
    hole = holes[-1].get("hole", Hole) if holes else None
    stud = studs[-1].get("stud", Section) if studs else None
    if hole and stud and hole.from_back_mm is not None and hole.from_back_mm >= stud.depth_mm:
        found = f"the stud is only {stud.depth_mm} mm deep"
        yield holes[-1].problem("hole", found, f'write less than "{stud.depth_mm} mm from back", or "centre"')


def _joists(room: Table, key: str) -> Iterator[Problem]:
    table = room.get(key, Table)
    if table is None:
        return
    given = [name for name in ("joist", "centres", "span") if table.has(name)]
    missing = [name for name in ("joist", "centres", "span") if not table.has(name)]
    wanted = given or (key == "floor" and table.get("void", bool))
    if missing and wanted:
        found = f"{' and '.join(missing)} {'is' if len(missing) == 1 else 'are'} missing"
        hint = f'write {key} = {{ joist = "47 x 145 mm", centres = "400 mm", span = "along y" }}'
        yield room.problem(key, found, hint if key == "ceiling" else hint.replace("{ ", "{ void = true, "))


def _opening(room: Table, opening: Table) -> Iterator[Problem]:
    kind, sill, head = opening.get("kind", str), opening.get("sill", int), opening.get("head", int)
    yield from wall_exists(room, opening, "wall", opening.get("wall", str))
    yield from _fits(room, opening)
    if kind == "window" and not opening.has("sill"):
        yield opening.problem(None, "sill is missing", 'write sill = "0.9 m" (its lower edge above the floor)')
    if head is not None and head <= (sill or 0):
        yield opening.problem("head", f"the head is not above the sill ({sill or 0} mm)", "write a higher head")
    yield from _below_ceiling(room, opening, "head", head)


def _fitted(room: Table, fitted: Table) -> Iterator[Problem]:
    low, high = fitted.get("from", int), fitted.get("to", int)
    yield from wall_exists(room, fitted, "wall", fitted.get("wall", str))
    yield from _fits(room, fitted)
    if low is not None and high is not None and high <= low:
        yield fitted.problem("to", f"its upper edge is not above its lower edge ({low} mm)", "write a higher to")
    yield from _below_ceiling(room, fitted, "to", high)


def _fits(room: Table, table: Table) -> Iterator[Problem]:
    """Whether something with `along` and `width` ends on its wall."""
    wall = table.get("wall", str)
    ends = wall_ends(room, wall)
    along, width = table.get("along", int), table.get("width", int)
    if ends is None or along is None or width is None or within(along + width, ends):
        return
    length = wall_length_mm(ends)
    if width > length:
        yield table.problem("width", f'wall "{wall}" is only {length} mm long', "write a smaller width")
    else:
        found = f'it would end at {along + width} mm, wall "{wall}" is {length} mm long'
        yield table.problem("along", found, f'write at most "{length - width} mm"')


def _below_ceiling(room: Table, table: Table, key: str, top_mm: int | None) -> Iterator[Problem]:
    height = room.get("height", int)
    if height is not None and top_mm is not None and top_mm > height:
        yield table.problem(key, f"the room is only {height} mm high", f'write at most "{height} mm"')


def _overlaps(room: Table) -> Iterator[Problem]:
    openings = room.tables("opening")
    for number, second in enumerate(openings):
        for first in openings[:number]:
            if _overlap(first, second):
                found = f"it overlaps the {first.get('kind', str) or 'opening'} in line {first.place().line}"
                yield second.problem(None, found, "write another along, or a smaller width")


def _overlap(first: Table, second: Table) -> bool:
    if first.get("wall", str) is None or first.get("wall", str) != second.get("wall", str):
        return False
    return _cross(_span(first, "along", "width"), _span(second, "along", "width")) and _cross(
        _edges(first), _edges(second)
    )


def _span(table: Table, start: str, extent: str) -> tuple[int, int]:
    low = table.get(start, int) or 0
    return low, low + (table.get(extent, int) or 0)


def _edges(table: Table) -> tuple[int, int]:
    return table.get("sill", int) or 0, table.get("head", int) or 0


def _cross(first: tuple[int, int], second: tuple[int, int]) -> bool:
    return max(first[0], second[0]) < min(first[1], second[1])


def _twice(room: Table, key: str, by: tuple[str, ...]) -> Iterator[Problem]:
    """A second table of a room about the same wall (and the same thing)."""
    seen: dict[tuple[str | None, ...], Table] = {}
    for table in room.tables(key):
        same = tuple(table.get(name, str) for name in by)
        if None not in same and same in seen:
            found = f"line {seen[same].place().line} says the same thing already"
            yield table.problem(by[-1], found, "keep one of the two, or name another")
        seen.setdefault(same, table)
