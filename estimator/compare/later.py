"""What an extra would cost once the walls are closed: two estimates (without it, with it) go in, a range comes out.

An estimate for a decision, no quote: labour by the rows of the kit `later` in labour.csv, which the user can edit, and
materials in the smallest packs, since there is nothing else to share them with. Money inc VAT where the rows bear any.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.buying.offers import allowed, inc_vat, named_first
from estimator.catalogue.model import Catalogue, Labour
from estimator.costing.model import Range
from estimator.job.model import Job
from estimator.result import Estimate
from estimator.rounding import money
from estimator.routing.model import RunRoute
from estimator.takeoff.model import CutPiece

LATER = "later"
VISIT = "visit"
MM = Fraction(1, 1000)


@dataclass(frozen=True, slots=True)
class LaterLine:
    """One thing that has to be done or bought, how often, and what it comes to."""

    what: str
    count: Decimal
    unit: str
    cost: Range


@dataclass(frozen=True, slots=True)
class Later:
    """What an extra costs now, with the frame open and nothing set aside, and later; hours are one's own, which have no price unless the row
    gives one.

    `one_in` is the chance from which fitting it now is the cheaper choice, as "one in so many", at the likely cost:
    now < chance x later. It is None where it costs nothing now, or as much as later.
    """

    now: Decimal
    lines: tuple[LaterLine, ...]
    cost: Range
    hours: Range
    one_in: int | None


@dataclass(frozen=True, slots=True)
class Extra:
    """What one estimate has and another has not, as far as opening walls and ground goes; `feeds` where a run that feeds a
    board is new or has another cable.
    """

    points: int
    walls: int
    circuits: int
    metres: Decimal
    trench_metres: Decimal
    feeds: bool = False

    @property
    def visited(self) -> bool:
        """Whether an electrician has to come: for points, circuits, or a run that feeds a board."""
        return bool(self.points or self.circuits or self.feeds)

    @property
    def nothing(self) -> bool:
        """Whether there is nothing that would have to be opened for."""
        return not (self.points or self.metres or self.trench_metres)


def later(before: Estimate, after: Estimate) -> Later | None:
    """What it would cost to have `after` once the job is finished as `before`; None where nothing is added.

    Source of the break-even: the cost-loss model of decision analysis (act where the chance is above cost / loss).
    """
    extra = extra_of(before, after)
    if extra.nothing:
        return None
    rows = [row for row in after.catalogue.labour if row.kit == LATER]
    lines = (*_work(rows, extra), *_materials(before, after), *_sums(before, after))
    hours = _hours([row for row in rows if row.who == "self" and row.rate is None], extra)
    cost = Range(*(sum((getattr(line.cost, name) for line in lines), Decimal(0)) for name in ("low", "likely", "high")))
    now = _without_reserve(after) - _without_reserve(before)
    return Later(now, lines, cost, hours, one_in(now, cost.likely))


def _without_reserve(estimate: Estimate) -> Decimal:
    """The total inc VAT with nothing set aside: what is later has nothing set aside either."""
    reserve = estimate.budget.contingency
    return estimate.budget.total - reserve - money(reserve * estimate.job.allowances.vat)


def one_in(now: Decimal, later_cost: Decimal) -> int | None:
    """The largest whole number n for which a chance of one in n makes fitting now no dearer: n = later / now, down."""
    if now <= 0 or later_cost < now:
        return None
    return int(Fraction(later_cost) / Fraction(now))


def extra_of(before: Estimate, after: Estimate) -> Extra:
    """Points, walls they are on, circuits touched, metres of cable drawn anew, metres of trench dug again."""
    added = _points(after) - _points(before)
    more = Counter(point.group for point in after.setout.points)
    more.subtract(Counter(point.group for point in before.setout.points))
    points = sum(count for count in more.values() if count > 0)
    drawn = [run for run in _new_runs(before, after) if not run.stretches]
    return Extra(
        points=points,
        walls=min(points, len({(room, wall) for room, wall, _ in added})),
        circuits=len(_touched(before, after)),
        metres=Decimal(sum(run.length_mm for run in drawn)).scaleb(-3),
        trench_metres=Decimal(_dug(before, after)).scaleb(-3),
        feeds=bool({run.name for run in _new_runs(before, after)} & {board.fed_by for board in after.job.boards}),
    )


def _points(estimate: Estimate) -> Counter[tuple[str, str, str]]:
    """Points by room, wall or surface, and group."""
    return Counter((point.room, point.wall or point.surface, point.group) for point in estimate.setout.points)


def _touched(before: Estimate, after: Estimate) -> set[str]:
    """Circuits that are new, or have points or a cable they had not."""

    def what(estimate: Estimate) -> dict[str, tuple[object, ...]]:
        groups = Counter(point.group for point in estimate.setout.points)
        return {
            circuit.name: (
                circuit.cable,
                circuit.board,
                *sorted(
                    (group.name, groups[group.name]) for group in estimate.job.groups if group.circuit == circuit.name
                ),
            )
            for circuit in estimate.job.circuits
        }

    had = what(before)
    return {name for name, now in what(after).items() if had.get(name) != now}


def _new_runs(before: Estimate, after: Estimate) -> list[RunRoute]:
    """Runs that were not there, or had another cable."""
    had = {run.name: run.cable for run in before.routes.runs}
    return [run for run in after.routes.runs if had.get(run.name) != run.cable]


def _dug(before: Estimate, after: Estimate) -> int:
    """Millimetres of trench that new runs lie in, each trench once."""
    trenches = {trench.name for trench in after.job.trenches}
    longest: dict[str, int] = {}
    for run in _new_runs(before, after):
        for trench, length_mm in run.stretches:
            if trench in trenches:
                longest[trench] = max(longest.get(trench, 0), length_mm)
    return sum(longest.values())


def _counted(row: Labour, extra: Extra) -> Decimal:
    """How often a row comes up."""
    counts = {
        "point": Decimal(extra.points),
        "wall": Decimal(extra.walls),
        "circuit": Decimal(extra.circuits),
        "metre": extra.metres,
        "trench-metre": extra.trench_metres,
        VISIT: Decimal(extra.visited),
    }
    return counts[row.per]


def _work(rows: list[Labour], extra: Extra) -> Iterator[LaterLine]:
    """Priced work; an electrician's comes to the least charge for a visit, if that is more."""
    priced = [row for row in rows if row.rate is not None and row.per != VISIT and _counted(row, extra)]
    for row in priced:
        yield LaterLine(row.task, _counted(row, extra), row.per, _cost(row, _counted(row, extra)))
    for row in rows:
        if row.per == VISIT and row.rate is not None and extra.visited:
            own = [_cost(one, _counted(one, extra)) for one in priced if one.who == row.who]
            least, done = _cost(row, Decimal(1)), _sum(own)
            topped = Range(
                max(least.low - done.low, Decimal(0)),
                max(least.likely - done.likely, Decimal(0)),
                max(least.high - done.high, Decimal(0)),
            )
            if topped != Range(Decimal(0), Decimal(0), Decimal(0)):
                yield LaterLine(f"{row.task}: what is left of it", Decimal(1), VISIT, topped)


def _sum(ranges: list[Range]) -> Range:
    zero = Decimal(0)
    return Range(
        sum((one.low for one in ranges), zero),
        sum((one.likely for one in ranges), zero),
        sum((one.high for one in ranges), zero),
    )


def _cost(row: Labour, count: Decimal) -> Range:
    """Money of so many of a row's minutes, inc VAT, each to the penny."""
    rate = Fraction(row.rate or 0) * (1 + Fraction(row.vat_rate)) / 60
    return Range(*(money(Fraction(minutes) * Fraction(count) * rate) for minutes in (row.low, row.likely, row.high)))


def _hours(rows: list[Labour], extra: Extra) -> Range:
    """Hours of one's own without a price."""
    zero = Decimal(0)
    return Range(
        sum((row.low * _counted(row, extra) / 60 for row in rows), zero),
        sum((row.likely * _counted(row, extra) / 60 for row in rows), zero),
        sum((row.high * _counted(row, extra) / 60 for row in rows), zero),
    )


def _materials(before: Estimate, after: Estimate) -> Iterator[LaterLine]:
    """One line: all that is added, each part in the smallest packs that hold it."""
    total = Fraction(0)
    for part, units in _added(before, after).items():
        total += _alone(after.job, after.catalogue, part, units)
    for piece in _pieces(before, after):
        total += _alone(after.job, after.catalogue, piece.part, Fraction(piece.length_mm) * MM)
    cost = money(total)
    if cost:
        yield LaterLine("Materials, in the smallest packs", Decimal(1), "item", Range(cost, cost, cost))


def _sums(before: Estimate, after: Estimate) -> Iterator[LaterLine]:
    """Sums that are added cost as much later as now: nobody has said otherwise."""
    had = {line.sum.name for line in before.budget.sums}
    for line in after.budget.sums:
        if line.sum.name not in had:
            cost = line.net + (money(line.net * after.job.allowances.vat) if line.sum.vat == "ex" else line.vat)
            yield LaterLine(line.sum.name, Decimal(1), "item", Range(cost, cost, cost))


def _added(before: Estimate, after: Estimate) -> dict[str, Fraction]:
    """Units more of every part that is sold by the piece."""
    parts = after.catalogue.parts
    more: dict[str, Fraction] = {}
    for sign, estimate in ((1, after), (-1, before)):
        for line in estimate.takeoff.quantities:
            if parts[line.part].sold_as == "piece":
                more[line.part] = more.get(line.part, Fraction(0)) + sign * Fraction(line.with_waste)
    return {part: units for part, units in sorted(more.items()) if units > 0}


def _pieces(before: Estimate, after: Estimate) -> list[CutPiece]:
    """So many of the longest pieces of each part as there are more of them: which leg is new is not to be known."""
    had = Counter(piece.part for piece in before.takeoff.pieces)
    by_part: dict[str, list[CutPiece]] = {}
    for piece in after.takeoff.pieces:
        by_part.setdefault(piece.part, []).append(piece)
    added = []
    for part, pieces in sorted(by_part.items()):
        pieces.sort(key=lambda piece: (-piece.length_mm, piece.of))
        added += pieces[: max(0, len(pieces) - had[part])]
    return added


def _alone(job: Job, catalogue: Catalogue, part: str, units: Fraction) -> Fraction:
    """Money inc VAT for so many units bought by themselves, in the cheapest one pack size; nothing where nobody sells it."""
    merchants = allowed(job, catalogue)
    rate = catalogue.parts[part].vat_rate
    sold = [
        row
        for row in catalogue.prices
        if row.part == part
        and row.merchant in merchants
        and (catalogue.parts[part].sold_as == "piece" or _holds(row.pack, units))
    ]
    costs = [inc_vat(row, rate) * -(-units // Fraction(row.pack)) for row in named_first(sold)]
    return min(costs, default=Fraction(0))


def _holds(pack: Decimal, units: Fraction) -> bool:
    """Whether a piece of that length can be had out of one pack: cut to order, or no longer than it."""
    return pack == 1 or Fraction(pack) >= units
