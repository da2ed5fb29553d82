"""The corners and walls of a room, from its `size` or `outline` as read: whole millimetres, exact, no checks."""

from estimator.job.table import Table

Corner = tuple[int, int]
RECTANGLE = ("back", "right", "front", "left")


def corners(room: Table) -> tuple[Corner, ...] | None:
    """The corners from the room's own lowest x and y, in the order of its walls; None where they are not given."""
    size = room.items("size", int)
    if len(size) == 2:
        x, y = size
        return ((0, y), (x, y), (x, 0), (0, 0))
    written = outline(room)
    if not written:
        return None
    low_x, low_y = min(x for x, _ in written), min(y for _, y in written)
    return tuple((x - low_x, y - low_y) for x, y in written)


def outline(room: Table) -> tuple[Corner, ...]:
    """The corners of an outline as written."""
    return tuple((pair[0], pair[1]) for pair in room.items("outline", tuple))


def wall_names(room: Table) -> tuple[str, ...] | None:
    """The names of the walls, each from its corner to the next; None where the room's shape is not given."""
    found = corners(room)
    if found is None:
        return None
    return RECTANGLE if room.items("size", int) else tuple(f"wall-{number}" for number in range(1, len(found) + 1))


def wall_ends(room: Table, wall: str | None) -> tuple[Corner, Corner] | None:
    """The two corners of a wall, left and right as seen from inside; None where there is no such wall."""
    found, names = corners(room), wall_names(room)
    if found is None or names is None or wall not in names:
        return None
    number = names.index(wall)
    return found[number], found[(number + 1) % len(found)]


def within(along_mm: int, ends: tuple[Corner, Corner]) -> bool:
    """Whether a distance from the left end of a wall lies on it."""
    (ax, ay), (bx, by) = ends
    return along_mm**2 <= (bx - ax) ** 2 + (by - ay) ** 2


def wall_length_mm(ends: tuple[Corner, Corner]) -> int:
    """The length of a wall, down to whole millimetres where it runs askew."""
    from math import isqrt

    (ax, ay), (bx, by) = ends
    return isqrt((bx - ax) ** 2 + (by - ay) ** 2)
