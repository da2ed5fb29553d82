"""A small case settled exactly: a table of the least money for every value that can be come to; wants and ways in, packs out.

Want after want is taken in, pack by pack: a row for every number of units covered, or for every set of pieces cut. Values
above those asked count as these.
"""

from collections import Counter
from math import gcd, prod
from typing import TYPE_CHECKING

from estimator.buying.purchase.case import Case
from estimator.buying.purchase.choices import Packs
from estimator.buying.purchase.model import Extra, Want, Way
from estimator.buying.purchase.steps import Step, cut_steps, free_masks, unit_steps

if TYPE_CHECKING:
    from numpy import int32
    from numpy.typing import NDArray

MOST_PIECES = 6
MOST_CELLS = 24_000_000
"""Of one want's rows together."""
IMPOSSIBLE = 1 << 30
"""Money counts in grains, with so many at most."""

Cell = tuple[int, ...]


class Table:
    """The table of one case."""

    def __init__(self, case: Case) -> None:
        self.case = case
        self.units = [self._unit(at) for at in case.places]
        self.shape = tuple(case.asked.values[at] // unit + 1 for at, unit in zip(case.places, self.units, strict=True))
        self.cells = prod(self.shape)
        self.fixed = 0
        self.moving: list[tuple[Want, list[Step], int]] = []
        money = min(case.ceiling, 4 * case.bound) // case.grain
        self.fits = self.cells < MOST_CELLS and money < IMPOSSIBLE // 4 and self._laid_out()
        self.before: list[NDArray[int32]] = []
        self.reached = False

    @property
    def work(self) -> int:
        """Cells to be looked at."""
        steps = sum(len(steps) for _, steps, _ in self.moving)
        coins = sum(max(self.shape).bit_length() for at in self.case.places for _ in self.case.coins[at])
        return self.cells * (steps + coins)

    def _unit(self, at: int) -> int:
        values = [way.value for ways in self.case.ways for way in ways if self._place(at, way)]
        return gcd(*values, self.case.asked.values[at]) or 1

    def _place(self, at: int, way: Way) -> bool:
        return self.case.task.tills[at].merchant == way.seller

    def _laid_out(self) -> bool:
        """Whether the steps of all wants could be laid out."""
        sellers = {self.case.task.tills[at].merchant for at in self.case.places}
        for want, ways in zip(self.case.wants, self.case.ways, strict=True):
            if not any(way.seller in sellers for way in ways):
                bundle = self.case.cheapest.of(want, self.case.task.sellers(self.case.asked.may, want.trip))
                if bundle is None or bundle.bound != bundle.cost:
                    return False
                self.fixed += bundle.cost
                continue
            if want.by_length and len(want.pieces) > MOST_PIECES:
                return False
            steps, last = cut_steps(want, ways) if want.by_length else unit_steps(want, ways)
            if (last + 1) * self.cells > MOST_CELLS:
                return False
            self.moving.append((want, steps, last))
        return True

    def least(self) -> int:
        """The least money for all goods; where the values cannot be come to, or not for money that counts, more than that."""
        import numpy as np

        now = np.full(self.shape, IMPOSSIBLE, dtype=np.int32)
        now[(0,) * len(self.shape)] = 0
        self.before = []
        for want, steps, last in self.moving:
            self.before.append(now)
            now = self._rows(want, steps, last, now)[last]
        self.before.append(now)
        self.after = self._with_more(now)
        found = int(self.after[self._end])
        self.reached = found < IMPOSSIBLE // 2
        return found * self.case.grain + self.fixed

    @property
    def _end(self) -> Cell:
        return tuple(most - 1 for most in self.shape)

    def _rows(self, want: Want, steps: list[Step], last: int, start: "NDArray[int32]") -> "list[NDArray[int32]]":
        """The rows of one want, each at least what it is with a pack fewer and that pack."""
        import numpy as np

        rows = [start, *(np.full(self.shape, IMPOSSIBLE, dtype=np.int32) for _ in range(last))]
        filled = {0}
        for mask in free_masks(want) if want.by_length else ():
            rows[mask] = start.copy()
            filled.add(mask)
        for source, target, packs in steps:
            if source in filled:
                np.minimum(rows[target], self._moved(rows[source], packs), out=rows[target])
                filled.add(target)
        return rows

    def _by(self, axis: int, packs: Packs) -> int:
        """How far packs move a cell along an axis: to its end at most."""
        at = self.case.places[axis]
        value = sum(way.value * count for way, count in packs if self._place(at, way))
        return min(value // self.units[axis], self.shape[axis] - 1)

    def _money(self, packs: Packs) -> int:
        return min(IMPOSSIBLE // 2, sum(way.money * count for way, count in packs) // self.case.grain)

    def _moved(self, row: "NDArray[int32]", packs: Packs) -> "NDArray[int32]":
        """A row with packs added."""
        import numpy as np

        for axis, size in enumerate(self.shape):
            by = self._by(axis, packs)
            if by:
                moved = np.full(row.shape, IMPOSSIBLE, dtype=np.int32)
                here, there = np.moveaxis(row, axis, 0), np.moveaxis(moved, axis, 0)
                there[by:] = here[: size - by]
                there[-1] = here[size - 1 - by :].min(axis=0)
                row = moved
        return row + np.int32(self._money(packs))

    def _with_more(self, now: "NDArray[int32]") -> "NDArray[int32]":
        """The table with any packs beyond the need."""
        import numpy as np

        for at in self.case.places:
            for _, way in self.case.coins[at]:
                count = 1
                while (count - 1) * way.value < self.case.asked.values[at]:
                    now = np.minimum(now, self._moved(now, ((way, count),)))
                    count *= 2
        return now

    def bought(self) -> tuple[list[tuple[Want, Packs]], list[Extra]]:
        """What the least money buys, in so many packs of each way."""
        cell, extras = self._back_more(self._end)
        picks = []
        for place in range(len(self.moving) - 1, -1, -1):
            want, steps, last = self.moving[place]
            counts: Counter[Way] = Counter()
            rows = self._rows(want, steps, last, self.before[place])
            free = set(free_masks(want)) if want.by_length else {0}
            row = last
            while row not in free or rows[row][cell] != self.before[place][cell]:
                row, cell, packs = self._back(rows, steps, row, cell)
                counts.update(dict(packs))
            picks.append((want, tuple(sorted(counts.items(), key=lambda item: item[0].key))))
        return picks[::-1], extras

    def _back(self, rows: "list[NDArray[int32]]", steps: list[Step], row: int, cell: Cell) -> tuple[int, Cell, Packs]:
        """A row and cell from which a step leads to this one."""
        for source, target, packs in steps:
            if target == row:
                found = self._from(rows[source], cell, packs, int(rows[row][cell]))
                if found is not None:
                    return source, found, packs
        raise AssertionError("a cell that nothing leads to")

    def _back_more(self, cell: Cell) -> tuple[Cell, list[Extra]]:
        """The cell before packs were bought beyond the need, and these."""
        extras: list[Extra] = []
        while self.after[cell] != self.before[-1][cell]:
            for want, way in (coin for at in self.case.places for coin in self.case.coins[at]):
                found = self._from(self.after, cell, ((way, 1),), int(self.after[cell]))
                if found is not None:
                    extras.append(Extra(want, way, 1))
                    cell = found
                    break
            else:
                raise AssertionError("a cell that nothing leads to")
        return cell, extras

    def _from(self, row: "NDArray[int32]", cell: Cell, packs: Packs, money: int) -> Cell | None:
        """The cell of a row from which packs lead to a cell of so much money."""
        import numpy as np

        spans = []
        for axis, size in enumerate(self.shape):
            by = self._by(axis, packs)
            spans.append(slice(max(0, cell[axis] - by), cell[axis] - by + 1 if cell[axis] < size - 1 else size))
        here = np.argwhere(row[tuple(spans)] + self._money(packs) == money)
        if not len(here):
            return None
        return tuple(int(at) + span.start for at, span in zip(here[0], spans, strict=True))
