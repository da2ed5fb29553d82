"""Plans onto sheets: how large each comes out at a scale goes in; which go together on which sheet, and at what scale, comes out.

What is on a sheet stands in rows from left to right, as the page sets it. Lengths are mm of paper.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

Box = tuple[float, float]
"""Width and height."""
GAP_MM, ROW_GAP_MM = 5.0, 4.0


@dataclass(frozen=True, slots=True)
class Paper:
    """The room that one sort of sheet has under its heading."""

    width: float
    height: float


FLAT, UPRIGHT = Paper(273.0, 169.0), Paper(180.0, 250.0)
"""A4 on its side and upright, less the margins of the page and the heading of the sheet."""
PAPERS = (FLAT, UPRIGHT)
AT_ONCE = 9
"""So many cells are looked at together when a sheet is filled."""
SCALES = (20, 50, 100, 200, 500)
"""Scales of ISO 5455:1979 that buildings are drawn at, the largest first."""


@dataclass(frozen=True, slots=True)
class Cell:
    """Something to be drawn: `size` gives its box at a scale; at scales smaller than `least` it is not legible."""

    size: Callable[[int], Box]
    least: int


@dataclass(frozen=True, slots=True)
class Packed:
    """One sheet: its scale, its paper, the numbers of what is on it, ascending, and how high that comes out."""

    scale: int
    paper: Paper
    on: tuple[int, ...]
    height: float


def height_of(boxes: Sequence[Box], width: float) -> float | None:
    """How high boxes come out in rows of a width; None where one is wider than that."""
    total, row_wide, row_high = 0.0, 0.0, 0.0
    for wide, high in boxes:
        if wide > width:
            return None
        if row_wide and row_wide + GAP_MM + wide > width:
            total += row_high + ROW_GAP_MM
            row_wide, row_high = 0.0, 0.0
        row_wide += (GAP_MM if row_wide else 0) + wide
        row_high = max(row_high, high)
    return total + row_high


def paper_for(boxes: Sequence[Box]) -> tuple[Paper, float] | None:
    """The first paper on which boxes fit, and how high they come out on it; upright where that takes half a page at most."""
    heights = {paper: height_of(boxes, paper.width) for paper in PAPERS}
    upright = heights[UPRIGHT]
    if upright is not None and upright <= UPRIGHT.height / 2:
        return UPRIGHT, upright
    return next(
        ((paper, high) for paper, high in heights.items() if high is not None and high <= paper.height),
        None,
    )


def scale_alone(cell: Cell) -> int:
    """The smallest scale at which a cell is legible, if it fits on a sheet at that, else the largest at which it does."""
    return next((scale for scale in SCALES if scale >= cell.least and paper_for([cell.size(scale)])), SCALES[-1])


def packed(cells: Sequence[Cell]) -> tuple[Packed, ...]:
    """Few sheets, each at one scale, the largest at which all of it fits; in the order of the first cell on each.

    Cells that need a large scale come first; each sheet is then filled at its first cell's scale as well as the cells that
    follow can fill it.
    """
    alone = [scale_alone(cell) for cell in cells]
    left = sorted(range(len(cells)), key=lambda of: (alone[of], of))
    sheets = []
    while left:
        boxes = {index: cells[index].size(alone[left[0]]) for index in left[:AT_ONCE]}
        on = max(_together([left[0]], list(boxes)[1:], boxes), key=lambda of: _area(of, boxes))
        sheets.append(_raised(alone[left[0]], sorted(on), cells))
        left = [index for index in left if index not in on]
    return tuple(sorted(sheets, key=lambda of: of.on))


def _together(on: list[int], others: Sequence[int], boxes: Mapping[int, Box]) -> Iterator[list[int]]:
    """Every choice of `others` that fits on one sheet with what is on it; what does not fit is not tried with more."""
    yield on
    for place, other in enumerate(others):
        if paper_for([boxes[of] for of in sorted((*on, other))]):
            yield from _together([*on, other], others[place + 1 :], boxes)


def _area(on: Sequence[int], boxes: Mapping[int, Box]) -> float:
    return round(sum(boxes[of][0] * boxes[of][1] for of in on), 3)


def _raised(scale: int, on: Sequence[int], cells: Sequence[Cell]) -> Packed:
    """A sheet at the largest scale at which all of it fits; at the smallest there is, whether it fits or not."""
    for larger in (*(of for of in SCALES if of < scale), scale):
        found = paper_for([cells[of].size(larger) for of in on])
        if found is not None:
            return Packed(larger, found[0], tuple(on), found[1])
    return Packed(scale, FLAT, tuple(on), FLAT.height)
