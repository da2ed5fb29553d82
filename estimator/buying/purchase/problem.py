"""The purchase laid out: a job, price lists and a take-off in; a `Task` in whole numbers, findings and problems out."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import lcm

from estimator.buying.offers import ANY, allowed, filling, inc_vat, named_alone
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.lacking import no_make, no_whole_make, sold_by_nobody, too_long
from estimator.buying.purchase.model import Block, Task, Till, Want, Way
from estimator.buying.purchase.nameless import of_make, of_merchant, of_part, places_of
from estimator.buying.purchase.needs import Need, needs_of
from estimator.catalogue.model import Basis, Catalogue, Merchant, Price
from estimator.checks.model import Finding
from estimator.job.model import Job
from estimator.memory import NOTHING, Memory, Same
from estimator.problems import Problem
from estimator.takeoff.model import TakeOff

Amounts = tuple[tuple[Fraction, Fraction], ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """What is needed, the purchase in whole numbers, and what is told beside it.

    `not_chosen` is 1 where something is bought of nobody yet: that is no merchant of `max_merchants`, but one of the task.
    """

    needs: tuple[Need, ...]
    task: Task
    not_chosen: int
    findings: tuple[Finding, ...]
    problems: tuple[Problem, ...]


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
        self.trips = job.buying.trips
        self.names = tuple(sorted(allowed(job, catalogue)))
        priced = memory.recall(("priced", Same(catalogue), self.names), self._priced)
        rows = {need.part: priced.get(need.part, ()) for need in needs}
        self.places = places_of(job, catalogue, needs, rows, self.names, memory)
        self.merchants = tuple(sorted(self.names, key=lambda name: self.places[of_merchant(name)]))
        self.rows = {name: tuple(sorted(of, key=self._place)) for name, of in rows.items()}
        self.amounts = {part: self._amounts_of(part) for part in self.rows}
        self.scale = self._scale()
        self.number = 0
        self.problems: list[Problem] = []
        self.failed: list[tuple[str, str, Need]] = []
        self.findings: list[Finding] = []

    def _priced(self) -> dict[str, tuple[Price, ...]]:
        """All rows of the merchants by part."""
        found: dict[str, list[Price]] = {}
        names = frozenset(self.names)
        for row in self.catalogue.prices:
            if row.merchant in names:
                found.setdefault(row.part, []).append(row)
        return {part: tuple(rows) for part, rows in found.items()}

    def _place(self, row: Price) -> tuple[int, Decimal]:
        """What orders the prices of a part."""
        return self.places[of_merchant(row.merchant)], row.pack

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
        # Where nobody named sells something it is bought of nobody yet in every purchase, which lets one more in.
        not_chosen = int(any(self._of_nobody(want) for block in blocks for wants in block.makes for want in wants))
        every = len(self.merchants)
        most = min((self.job.buying.max_merchants or every) + not_chosen, every)
        task = Task(self.merchants, self.trips, most, tills, blocks, self.scale)
        findings = sorted(self.findings, key=lambda finding: finding.subject)
        return Laid(self.needs, task, not_chosen, tuple(findings), (*self.problems, *self._too_long()))

    def _of_nobody(self, want: Want) -> bool:
        return any(way.price.merchant == ANY for way in want.ways)

    def _till(self, number: int, trip: int) -> Till:
        merchant = self.catalogue.merchants[self.merchants[number]]
        fee = worth(merchant.delivery, merchant.vat, merchant.vat_rate, "inc")
        free = None if merchant.free_over is None else int(merchant.free_over * self.scale)
        return Till(number, trip, int(fee * self.scale), free, int((merchant.minimum or 0) * self.scale))

    def _blocks(self) -> Iterator[Block]:
        groups: dict[str, list[Need]] = {}
        unsold = []
        for need in self.needs:
            part = self.catalogue.parts[need.part]
            if self.rows[need.part]:
                groups.setdefault(part.match_group or f"part {need.part}", []).append(need)
            elif self._want(need, None)[1] is not None:
                # All of it is in hand.
                groups[f"part {need.part}"] = [need]
            else:
                unsold.append(need)
        if unsold:
            self.problems += sold_by_nobody(self.job, self.catalogue, unsold, self.names)
        by_place = {group: sorted(members, key=self._place_of) for group, members in groups.items()}
        for group, members in sorted(by_place.items(), key=lambda item: self._place_of(item[1][0])):
            yield from self._group(group, members)

    def _place_of(self, need: Need) -> int:
        return self.places[of_part(need.part)]

    def _group(self, group: str, members: list[Need]) -> Iterator[Block]:
        if group.startswith("part "):
            yield from self._block(group, members, [None])
            return
        by_name = sorted(members, key=lambda need: need.part)
        makes = self._makes(group, (self.rows[need.part] for need in members))
        if not makes:
            self.findings.append(no_make(group, by_name, self.rows))
            for need in members:
                yield from self._block(group, [need], [None])
            return
        if not self._makes(group, (named_alone(self.rows[need.part]) for need in members)):
            self.findings += no_whole_make(group, by_name, self.rows)
        yield from self._block(group, members, makes)

    def _makes(self, group: str, rows: Iterable[tuple[Price, ...]]) -> list[str]:
        """The makes in which every member of a group is for sale; `rows` are the prices of each."""
        found = frozenset.intersection(*(frozenset(row.match for row in of) for of in rows))
        return sorted(found, key=lambda letter: self.places[of_make(group, letter)])

    def _block(self, group: str, members: list[Need], makes: Sequence[str | None]) -> Iterator[Block]:
        """The block of all makes that can be had, of those with the fewest gaps; where there is none, what fails is kept."""
        possible: list[tuple[int, tuple[Want, ...]]] = []
        failed: list[tuple[str, str, Need]] = []
        for make in makes:
            found = [self._want(need, make) for need in members]
            lacking = [need for need, (_, want) in zip(members, found, strict=True) if want is None]
            wants = tuple(want for _, want in found if want is not None)
            if not lacking:
                possible.append((sum(gap for gap, _ in found), wants))
            failed += [(group, make or "", need) for need in lacking]
        if possible:
            fewest = min(gaps for gaps, _ in possible)
            yield Block(tuple(wants for gaps, wants in possible if gaps == fewest))
        else:
            self.failed += failed

    def _too_long(self) -> list[Problem]:
        """What cannot be had since nothing is long enough, by name."""
        failed = sorted(self.failed, key=lambda of: (of[0], of[1], of[2].part))
        return [too_long(self.catalogue, need) for _, _, need in failed]

    def _want(self, need: Need, make: str | None) -> tuple[bool, Want | None]:
        """Whether no named merchant can supply the part (in that make), and how it is bought; None where it cannot be had."""
        part = self.catalogue.parts[need.part]
        rows = [row for row in self.rows[need.part] if make is None or row.match == make]
        named = named_alone(rows)
        unnamed = tuple(row for row in rows if row.merchant == ANY)
        for gap in (False, True):
            sold = (*named, *filling(named, unnamed, part.sold_as == "length")) if gap else named
            want = self._want_of(need, sold)
            if self.cheapest.of(want, (1 << len(self.merchants)) - 1) is not None:
                return gap, want
        return True, None

    def _want_of(self, need: Need, rows: tuple[Price, ...]) -> Want:
        part = self.catalogue.parts[need.part]
        count = tuple((row.merchant, row.pack) for row in rows)
        key = ("ways", Same(self.catalogue), self.merchants, self.scale, need.part, count)
        ways = self.memory.recall(key, lambda: tuple(self._ways(need.part, frozenset(count))))
        held = tuple(of for of in self.job.buying.in_hand if of.part == need.part)
        taken = Decimal(0)
        if part.sold_as == "piece":
            # A pack in hand is taken to be of the smallest size on the price list, of whatever make: it grows with none.
            smallest = min((row.pack for row in self.rows[need.part]), default=Decimal(1))
            taken = min(sum((of.units(smallest) for of in held), Decimal(0)), need.with_waste)
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

    def _ways(self, part: str, count: frozenset[tuple[str, Decimal]]) -> Iterator[Way]:
        for row, (money, value) in zip(self.rows[part], self.amounts[part], strict=True):
            if (row.merchant, row.pack) in count:
                seller = self.merchants.index(row.merchant)
                yield Way(
                    f"{seller:04}|{row.pack.normalize():f}",
                    seller,
                    row.pack,
                    int(money * self.scale),
                    int(value * self.scale),
                    row,
                )
