"""The purchase laid out: a job, price lists and a take-off in; a `Task` in whole numbers, findings and problems out."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm

from estimator.buying.offers import allowed, inc_vat
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Block, Task, Till, Want, Way
from estimator.catalogue.model import Basis, Catalogue, Merchant, Price
from estimator.checks.model import Finding
from estimator.job.model import Job, Stage
from estimator.memory import NOTHING, Memory, Same
from estimator.problems import Place, Problem
from estimator.takeoff.model import CutPiece, Quantity, TakeOff

Amounts = tuple[tuple[Fraction, Fraction], ...]
STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")


@dataclass(frozen=True, slots=True)
class Need:
    """All of one part that the job needs, at every stage; `stage` is the first that needs it."""

    part: str
    stage: Stage
    with_waste: Decimal
    place: Place
    pieces: tuple[CutPiece, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """What is needed, the purchase in whole numbers, and what is told beside it."""

    needs: tuple[Need, ...]
    task: Task
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]


def needs_of(takeoff: TakeOff) -> tuple[Need, ...]:
    """What must be bought, by part."""
    by_part: dict[str, list[Quantity]] = {}
    for quantity in takeoff.quantities:
        if quantity.with_waste:
            by_part.setdefault(quantity.part, []).append(quantity)
    return tuple(
        Need(
            part,
            min((row.stage for row in rows), key=STAGES.index),
            sum((row.with_waste for row in rows), Decimal(0)),
            next((place for row in rows for place in row.source), Place("")),
            tuple(piece for piece in takeoff.pieces if piece.part == part),
        )
        for part, rows in sorted(by_part.items())
    )


def lay_out(job: Job, catalogue: Catalogue, takeoff: TakeOff, cheapest: Cheapest, memory: Memory = NOTHING) -> Laid:
    """The purchase as one task. With problems the task holds only what can be bought."""
    return _Layer(job, catalogue, needs_of(takeoff), cheapest, memory).laid()


def worth(amount: Decimal, basis: Basis, vat_rate: Decimal, wanted: Basis) -> Fraction:
    """Money of one basis in another, exact."""
    if basis == wanted:
        return Fraction(amount)
    rate = 1 + Fraction(vat_rate)
    return Fraction(amount) * rate if wanted == "inc" else Fraction(amount) / rate


class _Layer:
    """Lays out one purchase."""

    def __init__(
        self, job: Job, catalogue: Catalogue, needs: tuple[Need, ...], cheapest: Cheapest, memory: Memory
    ) -> None:
        self.job = job
        self.memory = memory
        self.cheapest = cheapest
        self.catalogue = catalogue
        self.needs = needs
        self.merchants = tuple(sorted(allowed(job, catalogue)))
        self.trips = job.buying.trips
        priced = memory.recall(("priced", Same(catalogue), self.merchants), self._priced)
        self.rows = {need.part: priced.get(need.part, ()) for need in needs}
        self.amounts = {part: self._amounts_of(part) for part in self.rows}
        self.scale = self._scale()
        self.number = 0
        self.problems: list[Problem] = []
        self.findings: list[Finding] = []

    def _priced(self) -> dict[str, tuple[Price, ...]]:
        """All rows of the merchants by part."""
        found: dict[str, list[Price]] = {}
        names = frozenset(self.merchants)
        for row in self.catalogue.prices:
            if row.merchant in names:
                found.setdefault(row.part, []).append(row)
        return {
            part: tuple(sorted(rows, key=lambda row: (row.merchant, row.pack, row.match)))
            for part, rows in found.items()
        }

    def _scale(self) -> int:
        """A whole number that makes all money and all values whole."""
        known = [of for amounts in self.amounts.values() for pair in amounts for of in pair]
        for name in self.merchants:
            known += self._terms(self.catalogue.merchants[name])
        return lcm(*{of.denominator for of in known})

    def _amounts_of(self, part: str) -> Amounts:
        """Money inc VAT and value at its merchant, of every row of a part."""
        key = ("amounts", Same(self.catalogue), self.merchants, part)
        return self.memory.recall(key, lambda: tuple(self._amounts(part, row) for row in self.rows[part]))

    def _amounts(self, part: str, row: Price) -> tuple[Fraction, Fraction]:
        rate = self.catalogue.parts[part].vat_rate
        return inc_vat(row, rate), worth(row.price, row.vat, rate, self.catalogue.merchants[row.merchant].vat)

    def _terms(self, merchant: Merchant) -> list[Fraction]:
        limits = [Fraction(limit) for limit in (merchant.free_over, merchant.minimum) if limit is not None]
        return [worth(merchant.delivery, merchant.vat, merchant.vat_rate, "inc"), *limits]

    def laid(self) -> Laid:
        # What is sold by length comes last: it takes the most work, which a search may be spared.
        blocks = tuple(sorted(self._blocks(), key=lambda block: any(want.by_length for want in block.makes[0])))
        tills = tuple(self._till(number, trip) for trip in range(self.trips) for number in range(len(self.merchants)))
        most = min(self.job.buying.max_merchants or len(self.merchants), len(self.merchants))
        task = Task(self.merchants, self.trips, most, tills, blocks, self.scale)
        return Laid(self.needs, task, tuple(self.findings), tuple(self.problems))

    def _till(self, number: int, trip: int) -> Till:
        merchant = self.catalogue.merchants[self.merchants[number]]
        fee = worth(merchant.delivery, merchant.vat, merchant.vat_rate, "inc")
        free = None if merchant.free_over is None else int(merchant.free_over * self.scale)
        return Till(number, trip, int(fee * self.scale), free, int((merchant.minimum or 0) * self.scale))

    def _blocks(self) -> Iterator[Block]:
        groups: dict[str, list[Need]] = {}
        for need in self.needs:
            if not self.rows[need.part]:
                self.problems.append(unsold(self.catalogue, need, self.merchants))
            else:
                groups.setdefault(self.catalogue.parts[need.part].match_group or f"part {need.part}", []).append(need)
        for group, members in sorted(groups.items()):
            yield from self._group(group, members)

    def _group(self, group: str, members: list[Need]) -> Iterator[Block]:
        letters = [frozenset(row.match for row in self.rows[need.part]) for need in members]
        makes = sorted(frozenset.intersection(*letters))
        if group.startswith("part ") or not makes:
            if not makes:
                self.findings.append(no_make(group, members))
            for need in members:
                yield from self._block([need], [None])
        else:
            yield from self._block(members, makes)

    def _block(self, members: list[Need], makes: Sequence[str | None]) -> Iterator[Block]:
        """The block of all makes that can be had; where there is none, problems."""
        possible, failed = [], []
        everyone = (1 << len(self.merchants)) - 1
        for make in makes:
            wants = tuple(self._want(need, make) for need in members)
            lacking = [
                need for need, want in zip(members, wants, strict=True) if self.cheapest.of(want, everyone) is None
            ]
            if not lacking:
                possible.append(wants)
            failed += lacking
        if possible:
            yield Block(tuple(possible))
        else:
            self.problems += [too_long(self.catalogue, need) for need in failed]

    def _want(self, need: Need, make: str | None) -> Want:
        part = self.catalogue.parts[need.part]
        key = ("ways", Same(self.catalogue), self.merchants, self.scale, need.part, make)
        ways = self.memory.recall(key, lambda: tuple(self._ways(need.part, make)))
        held = tuple(of for of in self.job.buying.in_hand if of.part == need.part)
        taken = Decimal(0)
        if part.sold_as == "piece":
            # A pack in hand is taken to be of the smallest size that is sold, of whatever make: it grows with none.
            smallest = min(row.pack for row in self.rows[need.part])
            taken = min(sum((of.packs * smallest for of in held if of.packs is not None), Decimal(0)), need.with_waste)
        self.number += 1
        sellers = 0
        for way in ways:
            sellers |= 1 << way.seller
        return Want(
            self.number,
            need.part,
            1 if self.trips == 2 and need.stage == "second-fix" else 0,
            part.sold_as == "length",
            need.with_waste,
            need.with_waste - taken,
            taken,
            ways,
            sellers,
            need.pieces if part.sold_as == "length" else (),
            held,
            self.job.allowances.kerf_mm if part.counter == "timber" else Decimal(0),
            part.vat_rate,
        )

    def _ways(self, part: str, make: str | None) -> Iterator[Way]:
        for row, (money, value) in zip(self.rows[part], self.amounts[part], strict=True):
            if make is None or row.match == make:
                yield Way(
                    f"{row.merchant}|{row.pack.normalize():f}",
                    self.merchants.index(row.merchant),
                    row.pack,
                    int(money * self.scale),
                    int(value * self.scale),
                    row,
                )


def unsold(catalogue: Catalogue, need: Need, merchants: Iterable[str]) -> Problem:
    """Nobody sells it."""
    return Problem(
        need.place,
        "",
        f'nobody sells "{need.part}" ({catalogue.parts[need.part].description})',
        f"add a price for it to prices.csv at one of: {', '.join(merchants)}",
    )


def too_long(catalogue: Catalogue, need: Need) -> Problem:
    """Nothing for sale is long enough for a piece."""
    longest = max(need.pieces, key=lambda piece: (piece.length_mm, piece.of))
    metres = f"{longest.length_mm.scaleb(-3).normalize():f} m"
    return Problem(
        need.place,
        "",
        f'"{longest.of}" wants {metres} of {catalogue.parts[need.part].description} in one length, and '
        "nothing that long is for sale",
        f"add a drum or length of {metres} or more to prices.csv, or split the run",
    )


def no_make(group: str, needs: Iterable[Need]) -> Finding:
    """No make covers a whole group."""
    parts = ", ".join(need.part for need in needs)
    return Finding(
        "one-make",
        "ask",
        group,
        f"No one make on the price list covers all of: {parts}. Parts of one board must be "
        "of one make: ask your electrician which, and price that make whole.",
        source="common practice",
    )
