"""A name for every drum and length, and where each is cut: an order goes in, one entry for each part comes out."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.buying.model import Cut, Order
from estimator.buying.offers import CUT_UNIT
from estimator.catalogue.model import Catalogue
from estimator.job.model import Job

Sort = Literal["drum", "length", "cut length", "off-cut in hand"]
Packs = Counter[tuple[str, str, Decimal]]
"""Packs that are bought, by part, merchant and length in mm."""
ZERO = Decimal(0)


@dataclass(frozen=True, slots=True)
class Pull:
    """One piece that comes off a drum: what it is for, how long it is, and the drum after its cut.

    `mark_mm`: from the first end to this cut, saw cuts before it counted. `left_mm`: what is then still to come.
    """

    of: str
    length_mm: Decimal
    mark_mm: Decimal
    left_mm: Decimal


@dataclass(frozen=True, slots=True)
class Drum:
    """One drum or length, number `number` of the `count` of its part, with its pieces in the order to pull them.

    `sort`: `drum` of a cable, `length` of anything else, `cut length` bought to order, `off-cut in hand`; `merchant` is
    empty for the last. The order is that of the cutting list: the longest piece first and equal ones in working order,
    so that what stays till the end are short pieces, which a slip leaves enough for or another drum may still hold.
    """

    part: str
    number: int
    count: int
    sort: Sort
    merchant: str
    stock_mm: Decimal
    pulls: tuple[Pull, ...]

    @property
    def label(self) -> str:
        """What tells it from the others of its part: `drum 1`."""
        return f"{self.sort} {self.number}"

    @property
    def name(self) -> str:
        """What is written on it: `te-2.5 drum 1 of 3`."""
        return f"{self.part} {self.label} of {self.count}"

    @property
    def left_mm(self) -> Decimal:
        """What stays when all its pieces are cut."""
        return self.pulls[-1].left_mm if self.pulls else self.stock_mm


@dataclass(frozen=True, slots=True)
class PartDrums:
    """All drums and lengths of one part, by number; `kerf_mm` is what a saw takes between two pieces, else 0."""

    part: str
    kerf_mm: Decimal
    drums: tuple[Drum, ...]

    @property
    def pieces(self) -> int:
        """How many are cut."""
        return sum(len(drum.pulls) for drum in self.drums)

    @property
    def cut_mm(self) -> Decimal:
        """All pieces together."""
        return sum((pull.length_mm for drum in self.drums for pull in drum.pulls), ZERO)

    @property
    def left_mm(self) -> Decimal:
        """What stays of all of them together."""
        return sum((drum.left_mm for drum in self.drums), ZERO)

    @property
    def most_left(self) -> Drum:
        """The one with the longest rest; of equal ones the first."""
        return max(self.drums, key=lambda drum: (drum.left_mm, -drum.number))


def drums(job: Job, catalogue: Catalogue, order: Order) -> tuple[PartDrums, ...]:
    """Every drum and length of the order by name; parts, and drums within a part, as the order has them.

    One count runs through all of a part, so that part and number alone tell any two apart.
    """
    packs = Packs()
    for line in order.lines:
        packs[line.part, line.merchant, line.pack * 1000] += line.packs
    cables = frozenset(cable.part for cable in catalogue.cables.values())
    by_part: dict[str, list[Cut]] = {}
    for cut in order.cuts:
        by_part.setdefault(cut.part, []).append(cut)
    return tuple(_of_part(job, catalogue, part, cuts, packs, part in cables) for part, cuts in by_part.items())


def _of_part(job: Job, catalogue: Catalogue, part: str, cuts: Sequence[Cut], packs: Packs, is_cable: bool) -> PartDrums:
    kerf = job.allowances.kerf_mm if catalogue.parts[part].counter == "timber" else ZERO
    made = []
    for number, cut in enumerate(cuts, 1):
        sort = _sort(cut, packs, is_cable)
        made.append(Drum(part, number, len(cuts), sort, cut.merchant, cut.stock_mm, _pulls(cut, kerf)))
    return PartDrums(part, kerf, tuple(made))


def _sort(cut: Cut, packs: Packs, is_cable: bool) -> Sort:
    """Takes one of the packs of that very length where there is one; what is left without was bought by the metre."""
    if not cut.merchant:
        return "off-cut in hand"
    key = (cut.part, cut.merchant, cut.stock_mm)
    if packs[key] and cut.stock_mm != CUT_UNIT * 1000:
        packs[key] -= 1
        return "drum" if is_cable else "length"
    return "cut length"


def _pulls(cut: Cut, kerf_mm: Decimal) -> tuple[Pull, ...]:
    pulls: list[Pull] = []
    mark = ZERO
    for of, length_mm in cut.pieces:
        mark += length_mm + (kerf_mm if pulls else ZERO)
        pulls.append(Pull(of, length_mm, mark, cut.stock_mm - mark))
    return tuple(pulls)
