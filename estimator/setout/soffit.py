"""Takes a group under an overhang; gives its points along the wall, at the height of the ceiling."""

from decimal import Decimal
from fractions import Fraction

from estimator.building.model import RoomShape, Wall
from estimator.job.model import At, Group, Spread, WallPlace
from estimator.problems import Problem
from estimator.rounding import half_up
from estimator.setout.given import off_wall
from estimator.setout.points import on_soffit
from estimator.setout.site import Placed, Site
from estimator.setout.words import address, count, in_metres, in_mm


def place_soffit(site: Site, group: Group) -> Placed:
    """Place a group under a soffit: by `at`, evenly (half a spacing at the ends), or at `centres`, centred on the wall.

    `out` is measured from the outer face of the wall; without it, half of the soffit's depth, half up.
    """
    shape = site.shape(group.room)
    if isinstance(group.placing, At):
        return _given(site, group, shape, group.placing)
    assert isinstance(group.placing, Spread)
    wall_name = group.placing.wall
    assert wall_name is not None, "the reader asks for the wall of a soffit"
    wall = shape.wall(wall_name)
    problems = (*_row_problems(site, group, wall, group.placing), *_out_problems(group, shape, wall))
    if problems or group.placing.count == 0:
        return Placed(problems=problems)
    out = _out_mm(group, shape, wall)
    row = _row(wall.length_mm, group.placing.count, group.placing.centres_mm)
    return Placed(
        points=tuple(on_soffit(group, n, shape.room, wall, along, out) for n, along in enumerate(row, start=1))
    )


def _row(length_mm: int, many: int, centres_mm: int | None) -> list[int]:
    """Places along a wall, half up: `centres_mm` apart about its middle, or evenly over its length."""
    if centres_mm is None:
        return [half_up(Fraction((2 * k + 1) * length_mm, 2 * many)) for k in range(many)]
    return [half_up(Fraction(length_mm + (2 * k + 1 - many) * centres_mm, 2)) for k in range(many)]


def _given(site: Site, group: Group, shape: RoomShape, placing: At) -> Placed:
    placed = Placed()
    for number, given in enumerate(placing.places, start=1):
        assert isinstance(given, WallPlace)
        wall = shape.wall(given.wall)
        where = f"{address('points', group.name)}.at.{number}"
        off = off_wall(wall, given.along_mm, where, given.place if given.place.file else group.place)
        problems = (*((off,) if off else ()), *_out_problems(group, shape, wall))
        if problems:
            placed += Placed(problems=problems)
            continue
        out = _out_mm(group, shape, wall)
        placed += Placed(points=(on_soffit(group, number, shape.room, wall, given.along_mm, out, given.place),))
    return placed


def _row_problems(site: Site, group: Group, wall: Wall, spread: Spread) -> tuple[Problem, ...]:
    """A row longer than its wall, or places nearer than their plates allow, with how many fit."""
    body = site.body(group.kind, group.surface)
    pitch = max(body.plate_width_mm, site.cut_mm(group.kind), Decimal(1)) + site.limits.air_mm
    where = address("points", group.name, "spread")
    if spread.centres_mm is None:
        fits = max(1, int(wall.length_mm // pitch))
        if spread.count <= fits:
            return ()
        found = f"{count(spread.count, 'place does', 'places do')} not fit under the soffit of {wall.name}: {fits} fit"
        return (Problem(group.place, where, found, f"write {fits} or fewer"),)
    if spread.centres_mm < pitch and spread.count > 1:
        where = address("points", group.name, "centres")
        found = f"{in_metres(spread.centres_mm)} between fittings that need {in_mm(pitch)}"
        return (Problem(group.place, where, found, f"write {in_mm(pitch)} or more"),)
    return _too_long(group, wall, spread.count, spread.centres_mm, where)


def _too_long(group: Group, wall: Wall, many: int, centres_mm: int, where: str) -> tuple[Problem, ...]:
    length = (many - 1) * centres_mm
    if length <= wall.length_mm:
        return ()
    fits = wall.length_mm // centres_mm + 1
    found = (
        f"{many} places {in_metres(centres_mm)} apart are {in_metres(length)} from first to last, "
        f"and {wall.name} is {in_metres(wall.length_mm)} long: {fits} fit"
    )
    return (Problem(group.place, where, found, f"write {fits} or fewer, or nearer centres"),)


def _out_mm(group: Group, shape: RoomShape, wall: Wall) -> int:
    if group.out_mm is not None:
        return group.out_mm
    return half_up(Decimal(_depth_mm(shape, wall) or 0) / 2)


def _depth_mm(shape: RoomShape, wall: Wall) -> int | None:
    """The depth of the wall's soffit; of several, the deepest."""
    return max((soffit.depth_mm for soffit in shape.room.soffits if soffit.wall == wall.name), default=None)


def _out_problems(group: Group, shape: RoomShape, wall: Wall) -> tuple[Problem, ...]:
    depth = _depth_mm(shape, wall)
    if depth is None:
        found = f'room "{group.room}" has no soffit on wall {wall.name}'
        write = "write [[room.soffit]] with wall and depth, or another wall"
        return (Problem(group.place, address("points", group.name), found, write),)
    if group.out_mm is None or 0 <= group.out_mm <= depth:
        return ()
    found = f"{in_metres(group.out_mm)} out from the wall, under a soffit {in_metres(depth)} deep"
    return (Problem(group.place, address("points", group.name, "out"), found, "write a place under the soffit"),)
