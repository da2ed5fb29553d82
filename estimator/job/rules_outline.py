"""Rules of an outline: a closed line of walls, clockwise seen from above, that never meets itself."""

from collections.abc import Iterator, Sequence

from estimator.job.corners import Corner, outline
from estimator.job.table import Table
from estimator.problems import Problem
from estimator.quantities import show

Side = tuple[Corner, Corner]


def check(room: Table) -> Iterator[Problem]:
    """The first thing that is wrong with a room's outline."""
    points = outline(room)
    if not points:
        return
    if len(points) < 3:
        yield room.problem("outline", f"{len(points)} corners make no room", "write at least 3 corners")
        return
    same = tuple(_same(room, points))
    meets = same or tuple(_meets(room, points))
    yield from meets or _turns(room, points)


def _same(room: Table, points: Sequence[Corner]) -> Iterator[Problem]:
    for number, point in enumerate(points):
        if point != points[number - 1]:
            continue
        if number == 0:
            spot, found = len(points) - 1, "the last corner repeats the first"
            yield room.problem(("outline", spot), found, "take it out: the last wall leads back by itself")
        else:
            yield room.problem(("outline", number), "this corner repeats the one before it", "take it out")


def _meets(room: Table, points: Sequence[Corner]) -> Iterator[Problem]:
    sides = [(point, points[(number + 1) % len(points)]) for number, point in enumerate(points)]
    for second in range(len(sides)):
        for first in range(second):
            if _clash(sides, first, second):
                found = f"wall-{second + 1} meets wall-{first + 1} where it must not"
                hint = "write the corners in the order you meet them walking round the room"
                yield room.problem(("outline", second), found, hint)
                return


def _clash(sides: Sequence[Side], number: int, later: int) -> bool:
    """Whether two sides meet otherwise than end to start."""
    first, second = sides[number], sides[later]
    if later == number + 1:
        return _folds(first, second)
    if later == len(sides) - 1 and number == 0:
        return _folds(second, first)
    turns = (
        _turn(*first, second[0]), _turn(*first, second[1]), _turn(*second, first[0]), _turn(*second, first[1])
    )  # fmt: skip
    if turns[0] * turns[1] < 0 and turns[2] * turns[3] < 0:
        return True
    ends = ((first, second[0]), (first, second[1]), (second, first[0]), (second, first[1]))
    return any(turn == 0 and _between(side[0], end, side[1]) for turn, (side, end) in zip(turns, ends, strict=True))


def _folds(side: Side, following: Side) -> bool:
    """Whether a side runs back over the one before it."""
    straight = _turn(side[0], side[1], following[1]) == 0
    return straight and not _between(side[0], side[1], following[1])


def _turn(a: Corner, b: Corner, c: Corner) -> int:
    """Above zero where the way from a by b to c turns left."""
    turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (turn > 0) - (turn < 0)


def _between(a: Corner, point: Corner, b: Corner) -> bool:
    """Whether a point on the line through a and b lies from a to b."""
    return all(min(a[axis], b[axis]) <= point[axis] <= max(a[axis], b[axis]) for axis in (0, 1))


def _turns(room: Table, points: Sequence[Corner]) -> Iterator[Problem]:
    doubled = sum(
        x * points[(number + 1) % len(points)][1] - points[(number + 1) % len(points)][0] * y
        for number, (x, y) in enumerate(points)
    )
    if doubled > 0:
        written = room.written_at("outline")
        corners = list(written) if isinstance(written, list) else []
        clockwise = ", ".join(f"[{show(x)}, {show(y)}]" for x, y in [*corners[:1], *reversed(corners[1:])])
        found = "the corners run anticlockwise seen from above"
        yield room.problem("outline", found, f"write them clockwise: outline = [{clockwise}]")
    elif doubled == 0:
        yield room.problem("outline", "all corners lie on one line", "write the corners of a room")


def holds(points: Sequence[Corner], x: int, y: int) -> bool:
    """Whether a place lies in a room of those corners, its walls counted in."""
    inside = False
    for number, a in enumerate(points):
        b = points[(number + 1) % len(points)]
        turn = _turn(a, b, (x, y))
        if turn == 0 and _between(a, (x, y), b):
            return True
        if (a[1] > y) != (b[1] > y):
            inside ^= (turn > 0) == (b[1] > a[1])
    return inside
