"""The sheets of plans: an `Estimate` goes in; drawings to scale, each with its key, come out, sized for A4 landscape.

Rooms of one floor level that stand together are one plan where that is legible, at 1:50 or larger. Else there is an
overview without points and cables, and then a plan of every room by itself. Scales are those of ISO 5455:1979.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from estimator.building.model import RoomShape
from estimator.drawings.key import keys
from estimator.drawings.plan import BAR_MM, MARGIN_MM, draw_plan
from estimator.drawings.storey import Storey, parts, storey
from estimator.drawings.svg import Drawing
from estimator.result import Estimate

LEGIBLE = 50
"""Several rooms at a smaller scale than this are drawn one by one."""
WIDEST_MM, HIGHEST_MM, BESIDE_MM = 273.0, 171.0, 188.0
KEY_MM, PART_MM = 168.0, 3.0
CHOICES = (
    (20, BESIDE_MM),
    (50, BESIDE_MM),
    (50, WIDEST_MM),
    (100, BESIDE_MM),
    (100, WIDEST_MM),
    (200, WIDEST_MM),
    (500, WIDEST_MM),
)
"""Scales and widths of paper in the order in which they are tried: beside the key, then without; the last is used whatever."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """One plan: its title, the drawing, and its key in parts (symbols, cables, other marks); an overview has no key."""

    title: str
    plan: Drawing
    key: tuple[Drawing, ...]

    @property
    def beside(self) -> bool:
        """Whether the key fits beside the plan on one sheet of A4."""
        return self.plan.width_mm <= BESIDE_MM and sum(of.height_mm + PART_MM for of in self.key) <= KEY_MM


def plans(estimate: Estimate) -> tuple[Sheet, ...]:
    """The sheets of all rooms: floor levels from the lowest up, buildings and rooms in the order of their places."""
    levels = len({shape.room.floor_level_mm for shape in estimate.building.rooms})
    found = []
    for index, (laid, word) in enumerate(_laid_out(estimate), 1):
        title = _title(laid, word, levels)
        key = keys(estimate, laid, f"key-{index}") if laid.marks or laid.cables else ()
        found.append(Sheet(title, draw_plan(laid, title, f"plan-{index}"), key))
    return tuple(found)


def _laid_out(estimate: Estimate) -> Iterator[tuple[Storey, str]]:
    """What each sheet shows, and what it is called."""
    for shapes in parts(estimate.building.rooms):
        bare = _storey(estimate, shapes, bare=True)
        if len(shapes) == 1 or bare.scale <= LEGIBLE:
            yield _storey(estimate, shapes), "Plan"
            continue
        yield bare, "Overview"
        for shape in shapes:
            laid = _storey(estimate, (shape,))
            if laid.marks or laid.cables:
                yield laid, "Plan"


def _storey(estimate: Estimate, shapes: Sequence[RoomShape], *, bare: bool = False) -> Storey:
    high = HIGHEST_MM - 2 * MARGIN_MM - BAR_MM
    choices = [(scale, width - 2 * MARGIN_MM, high) for scale, width in CHOICES]
    return storey(estimate, shapes, choices, bare=bare)


def _title(laid: Storey, word: str, levels: int) -> str:
    rooms = ", ".join(shape.room.name for shape in laid.shapes)
    return f"{word} of {rooms}" + (f", floor at {laid.shapes[0].room.floor_level_mm} mm" if levels > 1 else "")
