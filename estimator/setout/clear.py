"""Takes what is placed on the faces of rooms; gives what its plates close to others, and which plates crowd each other.

Plates bind where, grown by the air between two plates, they overlap in both directions: less than the air apart
sideways and up and down.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations, groupby

from estimator.setout.bars import Bar

Face = tuple[str, str, str]
"""Room, surface, and wall (empty on ceilings and floors)."""


@dataclass(frozen=True, slots=True)
class Mark:
    """A plate in its place on a face: its middle, in mm (along and height, or x and y), and its size.

    `group` and `number` name a point; a board has the number 0.
    """

    face: Face
    group: str
    number: int
    across_mm: int
    up_mm: int
    width_mm: Decimal
    height_mm: Decimal

    @property
    def id(self) -> str:
        """The name it has for the user."""
        return f"{self.group}{self.number}" if self.number else self.group


def plate_bars(
    marks: Iterable[Mark], face: Face, up_mm: int, width_mm: Decimal, height_mm: Decimal, air_mm: Decimal
) -> Iterator[Bar]:
    """What plates already on a face close to a plate of the given size and height, in the order of the marks."""
    for mark in marks:
        if mark.face == face and abs(mark.up_mm - up_mm) < (mark.height_mm + height_mm) / 2 + air_mm:
            reach = (mark.width_mm + width_mm) / 2 + air_mm
            yield Bar(mark.across_mm - reach, mark.across_mm + reach, "plate-air", air_mm, mark.id)


def crowded(marks: Iterable[Mark], air_mm: Decimal) -> tuple[tuple[Mark, Mark], ...]:
    """Pairs of plates on one face that bind each other, by name and number."""
    ordered = sorted(marks, key=lambda mark: (mark.face, mark.group, mark.number))
    faces = [tuple(of_one) for _, of_one in groupby(ordered, key=lambda mark: mark.face)]
    return tuple((a, b) for of_one in faces for a, b in combinations(of_one, 2) if _bind(a, b, air_mm))


def _bind(a: Mark, b: Mark, air_mm: Decimal) -> bool:
    return (
        abs(a.across_mm - b.across_mm) < (a.width_mm + b.width_mm) / 2 + air_mm
        and abs(a.up_mm - b.up_mm) < (a.height_mm + b.height_mm) / 2 + air_mm
    )
