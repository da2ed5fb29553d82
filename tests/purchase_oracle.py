"""What is to be bought, put as a question, and the least money it can cost, by CP-SAT in whole numbers.

In goes a question (job, catalogue, take-off); out comes the exact optimum. Nothing here shares code with the buying
that it checks.
"""

from collections import Counter
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from math import ceil, lcm
from typing import Any

from estimator.catalogue.model import Basis, Catalogue, Price
from estimator.job.model import Job, Stage
from estimator.takeoff.model import CutPiece, TakeOff

D = Decimal
STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")
CUT_TO_ORDER_M = 1
"""A pack of this many metres means: any number of whole metres, as one length."""
SECONDS = 30
Till = tuple[str, int]
"""A merchant on a trip."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is to be bought."""

    job: Job
    catalogue: Catalogue
    takeoff: TakeOff

    def parts(self) -> list[str]:
        """What the take-off names, in its order."""
        return list(dict.fromkeys(of.part for of in self.takeoff.quantities))

    def pieces(self, part: str) -> list[CutPiece]:
        """The pieces to be cut of one part."""
        return [piece for piece in self.takeoff.pieces if piece.part == part]

    def rows(self) -> list[Price]:
        """The prices that may be used."""
        names = self.job.buying.merchants
        needed = set(self.parts())
        return [
            row for row in self.catalogue.prices if row.part in needed and ("any" in names or row.merchant in names)
        ]

    def trip(self, part: str) -> int:
        """1, or 2 where there are two trips and second fix is the first to need the part."""
        first = min(STAGES.index(of.stage) for of in self.takeoff.quantities if of.part == part)
        return 2 if self.job.buying.trips == 2 and STAGES[first] == "second-fix" else 1

    def to_cover(self, part: str) -> Fraction:
        """Units of a part sold by the piece that have to be bought, after what is in hand (0 where that is enough)."""
        need = sum((Fraction(of.with_waste) for of in self.takeoff.quantities if of.part == part), Fraction(0))
        smallest = min((row.pack for row in self.rows() if row.part == part), default=D(0))
        there = sum(Fraction(of.packs or 0) * Fraction(smallest) for of in self.job.buying.in_hand if of.part == part)
        return max(Fraction(0), need - there)

    def off_cuts(self, part: str) -> list[int]:
        """Lengths in hand, mm, one by one."""
        return [
            of.length_mm for of in self.job.buying.in_hand if of.part == part and of.length_mm for _ in range(of.count)
        ]

    def kerf_mm(self, part: str) -> Fraction:
        """What the saw takes between neighbours: of timber alone."""
        return Fraction(self.job.allowances.kerf_mm) if self.catalogue.parts[part].counter == "timber" else Fraction(0)

    def paid(self, row: Price) -> Fraction:
        """One pack at the till, inc VAT."""
        return in_basis(row.price, row.vat, self.catalogue.parts[row.part].vat_rate, "inc")

    def value(self, row: Price) -> Fraction:
        """One pack as the merchant counts it towards its limits."""
        return in_basis(
            row.price, row.vat, self.catalogue.parts[row.part].vat_rate, self.catalogue.merchants[row.merchant].vat
        )

    def fee(self, merchant: str) -> Fraction:
        """A delivery, inc VAT."""
        of = self.catalogue.merchants[merchant]
        return in_basis(of.delivery, of.vat, of.vat_rate, "inc")

    def makes(self) -> dict[str, list[str]]:
        """Of every match group, the letters that all its parts are sold with (none: then nothing is asked of it)."""
        letters: dict[str, dict[str, set[str]]] = {}
        for row in self.rows():
            group = self.catalogue.parts[row.part].match_group
            if group:
                letters.setdefault(group, {}).setdefault(row.part, set()).add(row.match)
        return {group: sorted(set.intersection(*of.values())) for group, of in letters.items()}

    def till(self, row: Price) -> Till:
        """Where and when a row is paid."""
        return row.merchant, self.trip(row.part)


def in_basis(amount: Decimal, of: Basis, rate: Decimal, wanted: Basis) -> Fraction:
    """The amount with VAT put on or taken off, exactly."""
    if of == wanted:
        return Fraction(amount)
    return Fraction(amount) * (1 + Fraction(rate)) if wanted == "inc" else Fraction(amount) / (1 + Fraction(rate))


def half_up(amount: Fraction) -> Decimal:
    """Rounded half up to the penny."""
    return D(int(amount * 100 + Fraction(1, 2))) / 100


# --- the optimum ---


@dataclass(frozen=True, slots=True)
class Best:
    """The least exact money inc VAT, the fewest merchants it can be had from, and whether smallest orders were kept.

    `low` is below `cost` where the solver ran out of time: the optimum lies between them, `merchants` is not known.
    """

    low: Fraction
    cost: Fraction
    merchants: int
    minimums: bool

    @property
    def known(self) -> bool:
        """Whether the optimum is known, and not only where it lies."""
        return self.low == self.cost


def best(question: Question, seconds: float = SECONDS) -> Best | None:
    """The optimum; None where nothing can be bought under any reading. Smallest orders are dropped where none meets them."""
    for minimums in (True, False):
        found = _Model(question, minimums).solve(seconds)
        if found is not None:
            return Best(*found, minimums)
    return None


class _Model:
    """Counts of packs, lengths and what is cut from them, merchants used, and limits reached or not."""

    def __init__(self, question: Question, minimums: bool) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model
        self.question, self.minimums = question, minimums
        self.rows = question.rows()
        self.model = cp_model.CpModel()
        self.count = [self.model.new_int_var(0, self._most(row), "") for row in self.rows]
        self.scale = lcm(1, *(self.question.paid(row).denominator for row in self.rows))
        self.scale = lcm(self.scale, *(question.fee(name).denominator for name in question.catalogue.merchants))
        for part in question.parts():
            if question.catalogue.parts[part].sold_as == "piece":
                self._cover(part)
            else:
                self._cut(part)
        self._match()
        self.charges = self._tills()

    def _of(self, part: str) -> list[int]:
        return [place for place, row in enumerate(self.rows) if row.part == part]

    def _most(self, row: Price) -> int:
        """More packs than this never pay: one fewer would still cover, and still reach every limit."""
        part, of = row.part, self.question.catalogue.merchants[row.merchant]
        limit = max(of.free_over or D(0), of.minimum or D(0))
        value = self.question.value(row)
        extra = ceil(Fraction(limit) / value) if value else 0
        if self.question.catalogue.parts[part].sold_as == "piece":
            return ceil(self.question.to_cover(part) / Fraction(row.pack)) + extra + 1
        metres = sum(ceil((piece.length_mm + 100) / 1000) for piece in self.question.pieces(part))
        return max(metres, len(self.question.pieces(part))) + extra + 1

    def _cover(self, part: str) -> None:
        need, here = self.question.to_cover(part), self._of(part)
        scale = lcm(need.denominator, *(Fraction(self.rows[place].pack).denominator for place in here))
        units = sum(int(Fraction(self.rows[place].pack) * scale) * self.count[place] for place in here)
        self.model.add(units >= int(need * scale))

    def _cut(self, part: str) -> None:
        """Every piece lies in one set that is cut from one length: a pack, an off-cut, or whole metres of a cut sale."""
        pieces, here, kerf = self.question.pieces(part), self._of(part), self.question.kerf_mm(part)
        cuts: list[list[Any]] = [[] for _ in pieces]
        taken: dict[int, list[Any]] = {place: [] for place in here}
        spare = Counter(self.question.off_cuts(part))
        used_spare: dict[int, list[Any]] = {length: [] for length in spare}
        for chosen in (of for size in range(1, len(pieces) + 1) for of in combinations(range(len(pieces)), size)):
            load = sum(Fraction(pieces[of].length_mm) for of in chosen) + kerf * (len(chosen) - 1)
            for place in here:
                metres = self.rows[place].pack == CUT_TO_ORDER_M
                if metres or load <= Fraction(self.rows[place].pack) * 1000:
                    cut = self._one(chosen, cuts)
                    taken[place].append((ceil(load / 1000) if metres else 1) * cut)
            for length in spare:
                if load <= length:
                    used_spare[length].append(self._one(chosen, cuts))
        for each in cuts:
            self.model.add_exactly_one(each)
        for place, packs in taken.items():
            self.model.add(sum(packs) <= self.count[place])
        for length, ones in used_spare.items():
            self.model.add(sum(ones) <= spare[length])

    def _one(self, chosen: tuple[int, ...], cuts: list[list[Any]]) -> Any:
        cut = self.model.new_bool_var("")
        for of in chosen:
            cuts[of].append(cut)
        return cut

    def _match(self) -> None:
        for group, letters in self.question.makes().items():
            if not letters:
                continue
            one = {letter: self.model.new_bool_var("") for letter in letters}
            self.model.add_exactly_one(one.values())
            for place, row in enumerate(self.rows):
                if self.question.catalogue.parts[row.part].match_group == group:
                    if row.match in one:
                        self.model.add(self.count[place] == 0).only_enforce_if(~one[row.match])
                    else:
                        self.model.add(self.count[place] == 0)

    def _tills(self) -> list[Any]:
        """What is paid for delivery, scaled; merchants used are counted and limited."""
        tills: dict[Till, list[int]] = {}
        for place, row in enumerate(self.rows):
            tills.setdefault(self.question.till(row), []).append(place)
        charges, used = [], {name: self.model.new_bool_var("") for name in dict.fromkeys(till[0] for till in tills)}
        for (name, _), places in tills.items():
            of = self.question.catalogue.merchants[name]
            here, pays = self.model.new_bool_var(""), self.model.new_bool_var("")
            for place in places:
                self.model.add(self.count[place] == 0).only_enforce_if(~here)
            self.model.add_implication(here, used[name])
            if of.free_over is None:
                self.model.add_implication(here, pays)
            else:
                self._reaches(places, of.free_over, [here, ~pays])
            if self.minimums and of.minimum is not None:
                self._reaches(places, of.minimum, [here])
            charges.append(int(self.question.fee(name) * self.scale) * pays)
        self.used = list(used.values())
        if self.question.job.buying.max_merchants is not None:
            self.model.add(sum(self.used) <= self.question.job.buying.max_merchants)
        return charges

    def _reaches(self, places: list[int], limit: Decimal, where: list[Any]) -> None:
        values = [self.question.value(self.rows[place]) for place in places]
        scale = lcm(Fraction(limit).denominator, *(value.denominator for value in values))
        total = sum(int(value * scale) * self.count[place] for value, place in zip(values, places, strict=True))
        self.model.add(total >= int(limit * scale)).only_enforce_if(where)

    def solve(self, seconds: float) -> tuple[Fraction, Fraction, int] | None:
        """Bound and exact money, and the number of merchants: money first."""
        paid = sum(
            int(self.question.paid(row) * self.scale) * of for row, of in zip(self.rows, self.count, strict=True)
        )
        cost = paid + sum(self.charges)
        weight = len(self.used) + 1
        self.model.minimize(weight * cost + sum(self.used))
        solver = self.cp.CpSolver()
        solver.parameters.num_workers = 1
        solver.parameters.max_deterministic_time = seconds  # the same on every machine
        status = solver.solve(self.model)
        if status == self.cp.INFEASIBLE:
            return None
        if status not in (self.cp.OPTIMAL, self.cp.FEASIBLE):
            raise TimeoutError(solver.status_name(status))
        top = Fraction(int(solver.value(cost)), self.scale)
        low = Fraction(int(solver.best_objective_bound) // weight, self.scale)
        return (
            top if status == self.cp.OPTIMAL else min(top, low),
            top,
            int(solver.value(sum(self.used))) if self.used else 0,
        )
