"""What an extra would cost once the walls are closed: two estimates (without it, with it) go in, a range comes out.

An estimate for a decision, no quote: labour by the rows of the kit `later` in labour.csv, which the user can edit, and
materials in the smallest packs, since there is nothing else to share them with. Money inc VAT where the rows bear any.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction

from estimator.catalogue.model import Labour
from estimator.compare.later_things import materials, sums
from estimator.costing.model import Range
from estimator.result import Estimate
from estimator.rounding import money
from estimator.routing.model import RunRoute

LATER = "later"
VISIT = "visit"
EXACT_TO = 12


@dataclass(frozen=True, slots=True)
class LaterLine:
    """One thing that has to be done or bought, how often, and what it comes to.

    `of` are the things that this line holds together, where none of them has a price of its own.
    """

    what: str
    count: Decimal
    unit: str
    cost: Range
    of: tuple["LaterLine", ...] = ()


@dataclass(frozen=True, slots=True)
class Later:
    """What an extra costs now, with the frame open and nothing set aside, and later; hours are one's own, which have no price unless the row
    gives one.

    `chance` is that from which fitting it now is the cheaper choice, at the likely cost: now < chance x later. `one_in` is the
    same as people say it, "one in so many", no finer than anyone can know it. Both are None where it costs nothing now, or more
    than later. `saved` is what taking other things out saves by itself, which is no part of `now`; `netted` where something is
    taken out as well and `now` is the difference of the two, since they cannot be told apart.
    """

    now: Decimal
    lines: tuple[LaterLine, ...]
    cost: Range
    hours: Range
    one_in: int | None
    chance: Fraction | None = None
    saved: Decimal = Decimal(0)
    netted: bool = False


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
    own = after.job.allowances.vat
    rows = [_with_vat(row, own) for row in after.catalogue.labour if row.kit == LATER]
    lines = (*_work(rows, extra), *_bought(before, after))
    hours = _hours([row for row in rows if row.who == "self" and row.rate is None], extra)
    cost = _sum([line.cost for line in lines])
    now = without_reserve(after) - without_reserve(before)
    most = one_in(now, cost.likely)
    chance = None if most is None else Fraction(now) / Fraction(cost.likely)
    return Later(now, lines, cost, hours, None if most is None else as_said(most), chance)


def without_reserve(estimate: Estimate) -> Decimal:
    """The total inc VAT with nothing set aside: what is later has nothing set aside either."""
    reserve = estimate.budget.contingency
    return estimate.budget.total - reserve - money(reserve * estimate.job.allowances.vat)


def one_in(now: Decimal, later_cost: Decimal) -> int | None:
    """The largest whole number n for which a chance of one in n makes fitting now no dearer: n = later / now, down."""
    if now <= 0 or later_cost < now:
        return None
    return int(Fraction(later_cost) / Fraction(now))


def as_said(number: int) -> int:
    """One in so many as people say it: up to twelve as it is, above that rounded down to one figure."""
    if number <= EXACT_TO:
        return number
    unit = int(f"1{'0' * (len(str(number)) - 1)}")
    return number // unit * unit


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
    """Priced work, row by row; of someone with a least charge for a visit that is more at any end, in one line that holds it."""
    priced = [row for row in rows if row.rate is not None and row.per != VISIT and _counted(row, extra)]
    visits = [row for row in rows if row.rate is not None and row.per == VISIT and extra.visited]
    held: set[str] = set()
    together = []
    for visit in visits:
        own = [_line(row, extra) for row in priced if row.who == visit.who]
        done, least = _sum([line.cost for line in own]), _cost(visit, Decimal(1))
        whole = Range(max(least.low, done.low), max(least.likely, done.likely), max(least.high, done.high))
        if whole != done:
            held.add(visit.who)
            together.append(LaterLine(visit.task, Decimal(1), VISIT, whole, tuple(own)))
    yield from (_line(row, extra) for row in priced if row.who not in held)
    yield from together


def _with_vat(row: Labour, own: Decimal) -> Labour:
    """The row with the VAT that its rate bears."""
    return row if row.vat_rate is not None else replace(row, vat_rate=own)


def _line(row: Labour, extra: Extra) -> LaterLine:
    count = _counted(row, extra)
    return LaterLine(row.task, count, row.per, _cost(row, count))


def _sum(ranges: list[Range]) -> Range:
    zero = Decimal(0)
    return Range(
        sum((one.low for one in ranges), zero),
        sum((one.likely for one in ranges), zero),
        sum((one.high for one in ranges), zero),
    )


def _cost(row: Labour, count: Decimal) -> Range:
    """Money of so many of a row's minutes, inc VAT, each to the penny."""
    rate = Fraction(row.rate or 0) * (1 + Fraction(row.vat_rate or 0)) / 60
    return Range(*(money(Fraction(minutes) * Fraction(count) * rate) for minutes in (row.low, row.likely, row.high)))


def _hours(rows: list[Labour], extra: Extra) -> Range:
    """Hours of one's own without a price."""
    zero = Decimal(0)
    return Range(
        sum((row.low * _counted(row, extra) / 60 for row in rows), zero),
        sum((row.likely * _counted(row, extra) / 60 for row in rows), zero),
        sum((row.high * _counted(row, extra) / 60 for row in rows), zero),
    )


def _bought(before: Estimate, after: Estimate) -> Iterator[LaterLine]:
    """One line for all materials, and one for each sum that is added."""
    costs = [("Materials, in the smallest packs", materials(before, after)), *sums(before, after)]
    yield from (LaterLine(what, Decimal(1), "item", Range(cost, cost, cost)) for what, cost in costs if cost)
