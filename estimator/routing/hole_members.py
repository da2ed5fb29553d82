"""Members as a drill meets them: a passage and the building go in; where along that member holes may be comes out.

Along a stud is up from the floor of the room, along a plate or a wall from the wall's left end, along a joist by the
building's x or y. Whole mm, but for faces and ends of timber, which are exact.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from estimator.building.model import Building, RoomShape, Wall
from estimator.routing.model import XYZ, Passage
from estimator.routing.places import bounds, is_rectangle, place_on
from estimator.routing.stretches import Stretch, inside, off
from estimator.routing.words import as_text


@dataclass(frozen=True, slots=True)
class Extent:
    """Where on a member a hole may lie whole: `near` the place, else `anywhere` that is clear, else somewhere on the `whole`.

    A stud or a joist is one piece. A plate or a wall is clear between the studs, and near is the bay of the place.
    """

    near: tuple[Stretch, ...]
    anywhere: tuple[Stretch, ...]
    whole: Stretch


def member_of(passage: Passage) -> tuple[str, ...]:
    """What tells a member from all others: a stud or joist by where it stands, a plate by its height, a wall by itself."""
    kind, room, face = passage.key[:3]
    more = {"stud": passage.key[3:4], "joist": passage.key[3:4], "plate": passage.key[4:5]}
    return (kind, room, face, *more.get(kind, ()))


def along_member(passage: Passage) -> int:
    """How far along its member a passage is."""
    if passage.kind == "joist":
        return passage.at[_axis(passage)]
    return int(passage.along_mm if passage.kind in ("plate", "wall") else passage.height_mm or 0)


def across_member(passage: Passage) -> int:
    """How high up a wall it is gone through; 0 in timber, where all holes are on one line."""
    return int(passage.height_mm or 0) if passage.kind == "wall" else 0


def moved(building: Building, passage: Passage, by_mm: int) -> XYZ:
    """The building coordinates of a place so far along the member from the passage."""
    x, y, z = passage.at
    if not by_mm:
        return passage.at
    if passage.kind == "stud":
        return x, y, z + by_mm
    if passage.kind == "joist":
        return (x + by_mm, y, z) if _axis(passage) == 0 else (x, y + by_mm, z)
    shape = building.room(passage.room)
    return (*place_on(shape, shape.wall(passage.wall), along_member(passage) + by_mm), z)


def extent(building: Building, passage: Passage, wide_mm: Fraction) -> Extent:
    """Where along the member of a passage a hole `wide_mm` wide may be."""
    shape = building.room(passage.room)
    if passage.kind == "joist":
        piece = _joist(shape, passage)
        return Extent((piece,), (piece,), piece)
    wall = shape.wall(passage.wall)
    if passage.kind == "stud":
        piece = _stud(shape, wall, passage)
        return Extent((piece,), (piece,), piece)
    whole = Fraction(0), Fraction(wall.length_mm)
    bays = [bay for bay in _bays(wall, int(passage.height_mm or 0)) if bay[1] - bay[0] >= wide_mm]
    least = min((off(bay, along_member(passage)) for bay in bays), default=None)
    near = tuple(bay for bay in bays if off(bay, along_member(passage)) == least)
    return Extent(near, tuple(bays), whole)


def _axis(passage: Passage) -> int:
    """The axis along which the joist of a passage lies: 0 for x, 1 for y."""
    return 1 if passage.joist_axis == "x" else 0


def _joist(shape: RoomShape, passage: Passage) -> Stretch:
    """From end to end in the room."""
    axis, at = _axis(passage), passage.at
    low, high = bounds(shape)
    ends = Fraction(low[axis]), Fraction(high[axis])
    if is_rectangle(shape):
        return ends
    corners = [(x + shape.room.at[0], y + shape.room.at[1]) for x, y in shape.room.corners]
    stretches = inside(corners, 1 - axis, at[1 - axis])
    return min(stretches, key=lambda stretch: (off(stretch, at[axis]), stretch), default=ends)


def _stud(shape: RoomShape, wall: Wall, passage: Passage) -> Stretch:
    """From floor to ceiling; of a stud that an opening cuts the part that the lane passes."""
    height = along_member(passage)
    top = shape.room.height_mm
    gaps = (stud.gap_mm for stud in wall.studs if stud.gap_mm and as_text(stud.centre_mm) == passage.key[3])
    sill, head = next(gaps, (top, top))
    return (Fraction(0), Fraction(sill)) if height <= sill else (Fraction(head), Fraction(top))


def _bays(wall: Wall, height_mm: int) -> list[Stretch]:
    """What is free between the studs that stand at a height, from left to right."""
    studs = [stud for stud in wall.studs if stud.gap_mm is None or not stud.gap_mm[0] < height_mm < stud.gap_mm[1]]
    return _between(Fraction(wall.length_mm), [(Fraction(stud.left_mm), Fraction(stud.right_mm)) for stud in studs])


def _between(end: Fraction, taken: Sequence[Stretch]) -> list[Stretch]:
    free: list[Stretch] = []
    start = Fraction(0)
    for low, high in _and_end(sorted(taken), end):
        if low > start:
            free.append((start, low))
        start = max(start, high)
    return free


def _and_end(taken: Iterable[Stretch], end: Fraction) -> list[Stretch]:
    return [*taken, (end, end)]
