"""The sheets of plans: an `Estimate` goes in; plans to scale, several to a sheet of A4, and the key to them all come out.

Rooms of one floor level that stand together are one plan where that is legible, at 1:50 or larger. Else there is an
overview without points and cables, and a plan of every room by itself, as large as its cables need and a sheet allows.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache

from estimator.building.model import RoomShape
from estimator.drawings.dimensions import bar
from estimator.drawings.key import KeyPart, keys
from estimator.drawings.notes import Notes, notes
from estimator.drawings.packing import FLAT, SCALES, UPRIGHT, Box, Cell, Packed, packed, scale_alone
from estimator.drawings.plan import MARGIN_MM, draw_plan
from estimator.drawings.site import Site, site
from estimator.drawings.storey import Part, Storey, part, parts, storey
from estimator.drawings.svg import Drawing
from estimator.result import Estimate

LEGIBLE = 50
"""Several rooms at a smaller scale than this are drawn one by one."""
CROWDED = 0.35
"""Where lines of cables and the air between them take more than this share of a floor, it is drawn larger."""
NARROW_MM, NAME_MM = 60.0, 5.0
"""The words under a plan have at least this width; which floor an overview shows stands over it."""
BESIDE_MM, KEY_MM = 188.0, 169.0
"""A single plan has its key beside it where it is no wider, and the key no higher."""
LARGEST, OVERVIEW = SCALES[0], 100


@dataclass(frozen=True, slots=True)
class Plan:
    """One drawing on a sheet: the name over it (of an overview: which floor), and the words under it."""

    name: str
    drawing: Drawing
    notes: Notes

    @property
    def width_mm(self) -> float:
        """The width that it and its words have on the sheet."""
        return max(self.drawing.width_mm, NARROW_MM)


@dataclass(frozen=True, slots=True)
class Sheet:
    """One sheet at one scale: its plans in rows, a bar to check the print by, and the key where it stands beside its plan."""

    title: str
    scale: int
    upright: bool
    plans: tuple[Plan, ...]
    bar: Drawing
    key: tuple[KeyPart, ...]


@dataclass(frozen=True, slots=True)
class Plans:
    """All sheets in the order in which they are read, and the key to them where it is on none of them."""

    sheets: tuple[Sheet, ...]
    key: tuple[KeyPart, ...]


@dataclass(frozen=True, slots=True)
class _Shown:
    """What one drawing shows, before its scale is known: an overview (`bare`), or a plan with points and cables."""

    part: Part
    notes: Notes
    bare: bool

    def size(self, scale: int) -> Box:
        """Its width and height on paper, with its name and words."""
        width, height = self.drawn(scale)
        width = max(width, NARROW_MM)
        return width, height + (NAME_MM if self.bare else 0) + self.notes.height(width)

    def drawn(self, scale: int) -> Box:
        """Its width and height on paper, alone."""
        left, low, right, high = self.part.extent(scale)
        return (right - left) / scale + 2 * MARGIN_MM, (high - low) / scale + 2 * MARGIN_MM

    @property
    def least(self) -> int:
        """The smallest scale at which it can be read."""
        if self.bare:
            return OVERVIEW
        return LARGEST if self.part.filled * LEGIBLE > CROWDED else LEGIBLE

    @property
    def level(self) -> str:
        """The level of its floor, in words."""
        return f"Floor at {self.part.shapes[0].room.floor_level_mm} mm"


def plans(estimate: Estimate) -> Plans:
    """The sheets of all rooms: overviews, then the others in the order of the rooms, those that leave half a page last."""
    shown, groups = _shown(site(estimate))
    if len(shown) == 1:
        found = _beside(shown[0])
        if found is not None:
            return found
    sheets = sorted((sheet for group in groups for sheet in _packed(shown, group)), key=lambda of: _turn(of, shown))
    laid = {
        index: storey(shown[index].part, sheet.scale, bare=shown[index].bare) for sheet in sheets for index in sheet.on
    }
    return Plans(
        tuple(_sheet(sheet, shown, laid) for sheet in sheets), keys(estimate, [laid[index] for index in sorted(laid)])
    )


def _shown(of: Site) -> tuple[list[_Shown], list[list[int]]]:
    """All drawings of a job, and the numbers of those that may share sheets: overviews, then the rooms of each part."""
    shown: list[_Shown] = []
    groups: list[list[int]] = [[]]
    for shapes in parts(of.estimate.building.rooms):
        together = _plan(of, shapes)
        if len(shapes) == 1 or (scale_alone(_cell(together)) <= LEGIBLE and together.least >= LEGIBLE):
            groups.append([len(shown)])
            shown.append(together)
            continue
        groups[0].append(len(shown))
        shown.append(_Shown(part(of, shapes, bare=True), Notes(), bare=True))
        rooms = [_plan(of, (shape,)) for shape in shapes]
        rooms = [room for room in rooms if room.notes.points or room.part.chains]
        groups.append(list(range(len(shown), len(shown) + len(rooms))))
        shown += rooms
    return shown, groups


def _plan(of: Site, shapes: Sequence[RoomShape]) -> _Shown:
    found = part(of, shapes)
    return _Shown(found, notes(found), bare=False)


def _cell(of: _Shown) -> Cell:
    return Cell(cache(of.size), of.least)


def _packed(shown: Sequence[_Shown], group: Sequence[int]) -> Iterator[Packed]:
    """The sheets of one group, with the numbers that its drawings have among all."""
    for sheet in packed([_cell(shown[index]) for index in group]):
        yield replace(sheet, on=tuple(group[of] for of in sheet.on))


def _turn(sheet: Packed, shown: Sequence[_Shown]) -> tuple[int, tuple[int, ...]]:
    """Overviews first; sheets that leave room for something else on their page last, so that what follows can use it."""
    if shown[sheet.on[0]].bare:
        return 0, sheet.on
    return 2 if sheet.paper == UPRIGHT and sheet.height <= UPRIGHT.height / 2 else 1, sheet.on


def _sheet(sheet: Packed, shown: Sequence[_Shown], laid: Mapping[int, Storey]) -> Sheet:
    mine = [shown[index] for index in sheet.on]
    drawings = [
        Plan(
            one.level if one.bare else "",
            draw_plan(laid[index], _title((one,)), f"plan-{index + 1}"),
            one.notes,
        )
        for index, one in zip(sheet.on, mine, strict=True)
    ]
    marked = bar(sheet.scale, f"bar-{sheet.on[0] + 1}")
    return Sheet(_title(mine), sheet.scale, sheet.paper == UPRIGHT, tuple(drawings), marked, ())


def _title(shown: Sequence[_Shown]) -> str:
    """What a sheet is called: the floor level is told where the job has several; all but overviews are of one."""
    shapes = [shape for one in shown for shape in one.part.shapes]
    mine = list(dict.fromkeys(shape.room.floor_level_mm for shape in shapes))
    if shown[0].bare and len(shown) > 1:
        return f"Overviews, floors at {', '.join(f'{level} mm' for level in mine)}"
    word = "Overview" if shown[0].bare else "Plans" if len(shown) > 1 else "Plan"
    title = f"{word} of {', '.join(shape.room.name for shape in shapes)}"
    levels = {shape.room.floor_level_mm for shape in shown[0].part.of.estimate.building.rooms}
    return f"{title}, floor at {mine[0]} mm" if len(levels) > 1 else title


def _beside(only: _Shown) -> Plans | None:
    """The sheet of a job that has a single plan, with the key beside it; None where that makes it smaller, or cannot be."""
    words = Notes(fitted=only.notes.fitted)
    scale = next((of for of in SCALES if _fits_beside(only.drawn(of), words)), None)
    if scale is None or scale > _raised_alone(only):
        return None
    laid = storey(only.part, scale)
    key = keys(only.part.of.estimate, [laid])
    if sum(of.height_mm for of in key) > KEY_MM:
        return None
    title = _title((only,))
    plan = Plan("", draw_plan(laid, title, "plan-1"), words)
    return Plans((Sheet(title, scale, False, (plan,), bar(scale, "bar-1"), key),), ())


def _fits_beside(size: Box, words: Notes) -> bool:
    return size[0] <= BESIDE_MM and size[1] + words.height(max(size[0], NARROW_MM)) <= FLAT.height


def _raised_alone(only: _Shown) -> int:
    """The scale that a plan would have without the key beside it."""
    return packed([_cell(only)])[0].scale
