"""What changes between two estimates: money, packs, metres, holes, hours, findings; two `Estimate`s in, rows out."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import TypeVar

from estimator.checks.model import Finding
from estimator.costing.model import Budget, Range
from estimator.result import Estimate
from estimator.routing.model import Member

NOTHING = Decimal(0)
TENTH = Decimal("0.1")
Key = TypeVar("Key")


@dataclass(frozen=True, slots=True)
class Row:
    """One figure before and after; `name` says what it is."""

    name: str
    before: Decimal
    after: Decimal

    @property
    def more(self) -> Decimal:
        """After less before."""
        return self.after - self.before


@dataclass(frozen=True, slots=True)
class PackRow:
    """So many packs of a part at a merchant, before and after; `pack` is in the part's unit."""

    part: str
    merchant: str
    pack: Decimal
    before: int
    after: int


@dataclass(frozen=True, slots=True)
class HoursRow:
    """Hours of one's own, or of the electrician, before and after."""

    who: str
    before: Range
    after: Range


@dataclass(frozen=True, slots=True)
class Differences:
    """What `after` has that `before` has not, in the order of the documents; rows that stay the same are left out, but
    for the money, which is told whole.
    """

    money: tuple[Row, ...]
    packs: tuple[PackRow, ...]
    metres: tuple[Row, ...]
    points: tuple[Row, ...]
    holes: tuple[Row, ...]
    hours: tuple[HoursRow, ...]
    appear: tuple[Finding, ...]
    gone: tuple[Finding, ...]
    reworded: tuple[tuple[Finding, Finding], ...]

    @property
    def total(self) -> Decimal:
        """How much more the total is, inc VAT."""
        return self.money[-1].more


def differences(before: Estimate, after: Estimate) -> Differences:
    """Compare two estimates of one job."""
    appear, gone, reworded = _findings(before.findings, after.findings)
    return Differences(
        money=tuple(Row(name, of(before.budget), of(after.budget)) for name, of in MONEY),
        packs=_packs(before, after),
        metres=_rows(_metres(before), _metres(after)),
        points=_rows(_points(before), _points(after)),
        holes=_rows(_holes(before), _holes(after)),
        hours=tuple(_hours(before.budget, after.budget)),
        appear=appear,
        gone=gone,
        reworded=reworded,
    )


def _vat(budget: Budget) -> Decimal:
    return sum((line.amount for line in budget.vat), NOTHING)


MONEY: tuple[tuple[str, Callable[[Budget], Decimal]], ...] = (
    ("materials", lambda budget: budget.materials),
    ("delivery", lambda budget: budget.delivery),
    ("labour", lambda budget: budget.labour),
    ("sums", lambda budget: budget.sums_total),
    ("contingency", lambda budget: budget.contingency),
    ("VAT", _vat),
    ("total", lambda budget: budget.total),
)
"""In the order of adding up; materials hold what is left over in packs."""


def _packs(before: Estimate, after: Estimate) -> tuple[PackRow, ...]:
    one, other = _bought(before), _bought(after)
    return tuple(
        PackRow(*key, one.get(key, 0), other.get(key, 0))
        for key in sorted({**one, **other})
        if one.get(key, 0) != other.get(key, 0)
    )


def _bought(estimate: Estimate) -> dict[tuple[str, str, Decimal], int]:
    counts: Counter[tuple[str, str, Decimal]] = Counter()
    for line in estimate.order.lines:
        counts[line.part, line.merchant, line.pack] += line.packs
    return counts


def _rows(before: Mapping[str, Decimal], after: Mapping[str, Decimal]) -> tuple[Row, ...]:
    names = sorted({**before, **after})
    rows = (Row(name, before.get(name, NOTHING), after.get(name, NOTHING)) for name in names)
    return tuple(row for row in rows if row.more)


def _metres(estimate: Estimate) -> dict[str, Decimal]:
    """Metres of each part that is cut from lengths, as cut."""
    metres: dict[str, Decimal] = {}
    for piece in estimate.takeoff.pieces:
        metres[piece.part] = metres.get(piece.part, NOTHING) + piece.length_mm.scaleb(-3)
    return metres


def _points(estimate: Estimate) -> dict[str, Decimal]:
    counts = Counter(point.kind for point in estimate.setout.points)
    return {kind: Decimal(count) for kind, count in counts.items()}


def _holes(estimate: Estimate) -> dict[str, Decimal]:
    counts: Counter[Member] = Counter(hole.passage.kind for hole in estimate.routes.drilled)
    return {kind: Decimal(count) for kind, count in counts.items()}


def _hours(before: Budget, after: Budget) -> Iterable[HoursRow]:
    for who, one, other in (
        ("self", before.hours_self, after.hours_self),
        ("electrician", before.hours_electrician, after.hours_electrician),
    ):
        if _seen(one) != _seen(other):
            yield HoursRow(who, one, other)


def _seen(hours: Range) -> tuple[Decimal, ...]:
    """Hours as far as anyone sees or knows them: to a tenth."""
    return tuple(end.quantize(TENTH, ROUND_HALF_UP) for end in (hours.low, hours.likely, hours.high))


Told = tuple[tuple[Finding, ...], tuple[Finding, ...], tuple[tuple[Finding, Finding], ...]]


def _findings(before: Iterable[Finding], after: Iterable[Finding]) -> Told:
    """New ones, ones that are gone, and ones on the same thing with other figures."""
    old, new = list(before), list(after)
    same = [finding for finding in old if finding in new]
    gone = [finding for finding in old if finding not in same]
    appear = [finding for finding in new if finding not in same]
    reworded = []
    for finding in tuple(gone):
        match = next((one for one in appear if _about(one) == _about(finding)), None)
        if match is not None:
            reworded.append((finding, match))
            gone.remove(finding)
            appear.remove(match)
    return tuple(appear), tuple(gone), tuple(reworded)


def _about(finding: Finding) -> tuple[str, str, str]:
    return (finding.check, finding.level, finding.subject)
