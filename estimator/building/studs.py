"""Takes a wall's length, stud thickness, centres and openings; gives its studs and the bays between them."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from itertools import pairwise

from estimator.building.model import Stud, Wall
from estimator.job.model import Opening


def studs(length_mm: int, thickness_mm: Decimal, centres_mm: int, openings: Sequence[Opening]) -> tuple[Stud, ...]:
    """Stand the studs of one wall, ascending by their left faces (mm along).

    One at each end, one centred on every multiple of `centres_mm`, one each side of every opening. One whose
    centre lies strictly inside an opening stands above and below it only. Those that overlap or touch are one
    stud; what touches an end stud is part of it; a short one that touches a full one is part of the full one.
    """
    left = Stud(Decimal(0), thickness_mm, True, None)
    right = Stud(length_mm - thickness_mm, Decimal(length_mm), True, None)
    inner = [*_on_centres(length_mm, thickness_mm, centres_mm), *_beside(openings, thickness_mm)]
    singles = [left, right, *(_standing(low, low + thickness_mm, openings) for low in inner)]
    merged: list[Stud] = []
    for stud in sorted(singles, key=lambda stud: (stud.left_mm, stud.right_mm, not stud.end)):
        if merged and stud.left_mm <= merged[-1].right_mm:
            merged[-1] = _one(merged[-1], stud)
        else:
            merged.append(stud)
    return tuple(_within(stud, length_mm) for stud in merged)


def bays(wall: Wall, low_mm: Decimal | int, high_mm: Decimal | int) -> tuple[tuple[Decimal, Decimal], ...]:
    """The clear spaces between the studs that something from `low_mm` to `high_mm` high would meet.

    Each is (left, right) in mm along, ascending. Heights are above the floor. An opening counts as a space.
    """
    standing = [stud for stud in wall.studs if meets(stud, low_mm, high_mm)]
    return tuple((a.right_mm, b.left_mm) for a, b in pairwise(standing) if a.right_mm < b.left_mm)


def bay_at(wall: Wall, along_mm: int, height_mm: int) -> tuple[Decimal, Decimal] | None:
    """The clear space (left, right in mm along) that holds a place, between the studs of its height.

    None where the place is inside a stud; a place exactly on a stud's face is in the bay beside it.
    """
    spaces = bays(wall, height_mm, height_mm)
    return next((bay for bay in spaces if bay[0] <= along_mm <= bay[1]), None)


def meets(stud: Stud, low_mm: Decimal | int, high_mm: Decimal | int) -> bool:
    """Whether the stud exists anywhere strictly between `low_mm` and `high_mm` above the floor."""
    if stud.gap_mm is None:
        return True
    sill, head = stud.gap_mm
    return low_mm < sill or high_mm > head


def _on_centres(length_mm: int, thickness_mm: Decimal, centres_mm: int) -> Iterable[Decimal]:
    return (place - thickness_mm / 2 for place in range(centres_mm, length_mm, centres_mm))


def _beside(openings: Sequence[Opening], thickness_mm: Decimal) -> Iterable[Decimal]:
    for opening in openings:
        yield opening.along_mm - thickness_mm
        yield Decimal(opening.along_mm + opening.width_mm)


def _standing(left: Decimal, right: Decimal, openings: Sequence[Opening]) -> Stud:
    """One stud; openings one above the other cut it from the lowest sill to the highest head."""
    centre = (left + right) / 2
    cut = [o for o in openings if o.along_mm < centre < o.along_mm + o.width_mm]
    gap = (min(o.sill_mm for o in cut), max(o.head_mm for o in cut)) if cut else None
    return Stud(left, right, False, gap)


def _one(a: Stud, b: Stud) -> Stud:
    gap = None if a.gap_mm is None or b.gap_mm is None else _shorter(a.gap_mm, b.gap_mm)
    return Stud(min(a.left_mm, b.left_mm), max(a.right_mm, b.right_mm), a.end or b.end, gap)


def _shorter(a: tuple[int, int], b: tuple[int, int]) -> tuple[int, int]:
    return (max(a[0], b[0]), min(a[1], b[1]))


def _within(stud: Stud, length_mm: int) -> Stud:
    left, right = max(stud.left_mm, Decimal(0)), min(stud.right_mm, Decimal(length_mm))
    return Stud(left, right, stud.end, stud.gap_mm)
