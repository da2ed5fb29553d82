"""Places on walls in the building's plan: a wall and a distance along it go in, whole mm of x and y come out."""

from estimator.building.model import RoomShape, Wall

XY = tuple[int, int]


def place_on(shape: RoomShape, wall: Wall, along_mm: int) -> XY:
    """Building x and y of a place on the inside face of a wall."""
    (x, y), (to_x, to_y), at = wall.start, wall.end, shape.room.at
    if x == to_x:
        return x + at[0], (y + along_mm if to_y > y else y - along_mm) + at[1]
    if y == to_y:
        return (x + along_mm if to_x > x else x - along_mm) + at[0], y + at[1]
    x, y = wall.point_at(along_mm)
    return x + at[0], y + at[1]


def is_rectangle(shape: RoomShape) -> bool:
    """Whether all walls lie along x or y and there are four of them."""
    level = [wall.start[0] == wall.end[0] or wall.start[1] == wall.end[1] for wall in shape.walls]
    return len(level) == 4 and all(level)


def bounds(shape: RoomShape) -> tuple[XY, XY]:
    """The lowest and the highest x and y of a room in the building."""
    xs, ys = zip(*shape.room.corners, strict=True)
    x, y = shape.room.at
    return (x + min(xs), y + min(ys)), (x + max(xs), y + max(ys))
