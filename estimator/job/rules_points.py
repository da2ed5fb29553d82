"""Rules of a group of points: its room, one way of placing that its surface allows, and places within the room."""

from collections.abc import Iterator

from estimator.job.corners import corners, wall_ends, wall_length_mm
from estimator.job.known import Known
from estimator.job.rules_heights import heights
from estimator.job.rules_outline import holds
from estimator.job.rules_rooms import on_wall, wall_exists
from estimator.job.table import Table
from estimator.problems import Problem, choose

FORMS = {
    "wall": ("spread", "on", "at"),
    "outside": ("spread", "on", "at"),
    "ceiling": ("rows", "at"),
    "soffit": ("spread", "at"),
    "floor": ("at",),
}
"""The ways of placing, by surface; "rows" stands for rows with columns."""

SAMPLES = {
    "spread": "spread = 12",
    "on": "on = { back = 5, left = 3 }",
    "rows": "rows = 2 with columns = 4",
    "wall": 'at = [{ wall = "back", along = "0.4 m" }]',
    "outside": 'at = [{ wall = "back", along = "0.4 m" }]',
    "ceiling": 'at = [["3 m", "2 m"]]',
    "floor": 'at = [["3 m", "2 m"]]',
    "soffit": 'wall = "front" with at = ["0.7 m"]',
}
SOFFIT_ONLY = ("wall", "centres", "out")


def check(known: Known) -> Iterator[Problem]:
    """Every rule of every group."""
    for group in known.job.tables("points"):
        room = known.find("room", group.get("room", str))
        surface = group.get("surface", str)
        yield from known.refer(group, "room", "room", group.get("room", str))
        if surface is None:
            continue
        yield from _one_form(group, surface)
        yield from _strangers(group, surface)
        if room is not None:
            yield from _walls(group, room, surface)
            yield from _places(group, room, surface)
            yield from _avoid(group, room)
            yield from heights(group, room, surface)


def _one_form(group: Table, surface: str) -> Iterator[Problem]:
    given = [form for form in ("spread", "on", "at", "rows") if _has(group, form)]
    allowed = " or ".join(_sample(form, surface) for form in FORMS[surface])
    wrong = [form for form in given if form not in FORMS[surface]]
    if not given:
        yield group.problem(None, "nothing says where the points go", f"write {allowed}")
    elif wrong:
        found = f"{wrong[0]} does not fit the surface {surface}"
        yield group.problem(_written(group, wrong[0]), found, f"write {allowed}")
    elif len(given) > 1:
        found = f"{' and '.join(given)} both say where the points go"
        yield group.problem(_written(group, given[1]), found, "keep one of them")
    elif given == ["rows"]:
        yield from _grid(group)


def _has(group: Table, form: str) -> bool:
    return group.has(form) or (form == "rows" and group.has("columns"))


def _written(group: Table, form: str) -> str:
    return form if group.has(form) else "columns"


def _sample(form: str, surface: str) -> str:
    return SAMPLES[surface] if form == "at" else SAMPLES[form]


def _grid(group: Table) -> Iterator[Problem]:
    for key, other in (("rows", "columns"), ("columns", "rows")):
        if not group.has(key):
            yield group.problem(other, f"{other} needs {key}", f"write {key} = 4 beside it")


def _strangers(group: Table, surface: str) -> Iterator[Problem]:
    """Keys that say nothing on this surface."""
    if surface != "soffit":
        for key in SOFFIT_ONLY:
            if group.has(key):
                hint = f"write {SAMPLES[surface]}" if key == "wall" else "take it out"
                yield group.problem(key, f"{key} belongs to a group on a soffit", hint)
    elif not group.has("wall"):
        yield group.problem(None, "nothing says which soffit", 'write wall = "front" (or the wall it hangs at)')
    if group.has("centres") and group.has("at"):
        yield group.problem("centres", "centres go with spread, not with at", "take it out")
    if group.has("edge") and not group.has("rows"):
        yield group.problem("edge", "edge goes with rows and columns", "take it out")
    if group.has("height") and surface in ("ceiling", "soffit", "floor"):
        yield group.problem("height", f"a point on a {surface} has no height of its own", "take it out")


def _walls(group: Table, room: Table, surface: str) -> Iterator[Problem]:
    for wall, _ in group.pairs("on"):
        yield from wall_exists(room, group, ("on", wall), wall)
    if surface == "soffit":
        yield from wall_exists(room, group, "wall", group.get("wall", str))
        yield from _soffit(group, room)


def _soffit(group: Table, room: Table) -> Iterator[Problem]:
    wall = group.get("wall", str)
    ends = wall_ends(room, wall)
    if wall is None or ends is None:
        return
    soffit = next((table for table in room.tables("soffit") if table.get("wall", str) == wall), None)
    if soffit is None:
        found = f'room "{room.name}" has no soffit at wall "{wall}"'
        yield group.problem("wall", found, f'write [[room.soffit]] with wall = "{wall}" and depth = "600 mm"')
        return
    out, depth = group.get("out", int), soffit.get("depth", int)
    if out is not None and depth is not None and out > depth:
        yield group.problem("out", f"the soffit is only {depth} mm deep", f'write at most "{depth} mm"')
    count, centres = group.get("spread", int), group.get("centres", int)
    length = wall_length_mm(ends)
    if count and centres and (count - 1) * centres > length:
        found = f'{count} points reach over {(count - 1) * centres} mm, wall "{wall}" is {length} mm long'
        yield group.problem("centres", found, "write fewer points or smaller centres")


def _places(group: Table, room: Table, surface: str) -> Iterator[Problem]:
    """Places one by one: written as their surface has them, and within the room."""
    for number, item in enumerate(group.items("at", object)):
        if surface in ("wall", "outside"):
            if isinstance(item, Table):
                yield from wall_exists(room, item, "wall", item.get("wall", str))
                yield from on_wall(item, room, item.get("wall", str), "along", item.get("along", int))
            else:
                yield _other(group, number, surface, '{ wall = "back", along = "0.4 m" }')
        elif surface == "soffit":
            if isinstance(item, int):
                yield from on_wall(group, room, group.get("wall", str), ("at", number), item)
            else:
                yield _other(group, number, surface, '"0.7 m" (along the wall)')
        elif isinstance(item, tuple):
            yield from _in_room(group, room, number, item)
        else:
            yield _other(group, number, surface, '["3 m", "2 m"] (x and y)')


def _other(group: Table, number: int, surface: str, example: str) -> Problem:
    return group.problem(("at", number), f"this is no place on a {surface} surface", f"write {example}")


def _in_room(group: Table, room: Table, number: int, pair: tuple[int, int]) -> Iterator[Problem]:
    points = corners(room)
    if points is None or holds(points, *pair):
        return
    reach = f"{max(x for x, _ in points)} by {max(y for _, y in points)} mm"
    found = f'{pair[0]}, {pair[1]} mm lies outside room "{room.name}"'
    yield group.problem(("at", number), found, f"write x and y from its lowest corner; it measures {reach}")


def _avoid(group: Table, room: Table) -> Iterator[Problem]:
    things = [table.name for table in room.tables("fitted") if table.name is not None]
    for number, name in enumerate(group.items("avoid", str)):
        if name not in things:
            found = f'nothing fitted in room "{room.name}" is called "{name}"'
            yield group.problem(("avoid", number), found, choose(name, things))
