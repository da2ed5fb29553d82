"""How sure a total is: an `Estimate` goes in; low, likely and high, what moves it most and what to set aside come out.

All of it is about the total inc VAT *without anything set aside*: what the job comes to before contingency. Lines vary
each on its own, a longer cable counts at the price as printed; what would move several at once is not in it.
"""

from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal
from fractions import Fraction

from estimator.compare.ranges import Kind, Line, hours, sums
from estimator.compare.ranges_measured import cables, pieces
from estimator.compare.ranges_prices import prices
from estimator.compare.ranges_rules import stated_ranges
from estimator.compare.spread_of import Spread, deviation_of, mean_of, spread_of
from estimator.costing.model import Range
from estimator.result import Estimate
from estimator.rounding import PENNY, money

LOW, MIDDLE, HIGH = Fraction(1, 10), Fraction(1, 2), Fraction(9, 10)
"""Chances that the total comes to no more than `low`, `likely` and `high`."""
HOLDS = Fraction(4, 5)
"""Jobs in which the total with the suggested contingency is enough."""
HALF = Fraction(1, 2)
SHARE = Decimal("0.0001")


@dataclass(frozen=True, slots=True)
class Mover:
    """One line that varies: what the total moves by as it goes to its low and its high end, all others likely; inc VAT.

    `comes_to` is what the line itself comes to, inc VAT; `share` its part of the variance of the total (0 to 1, exact to
    four places); `why` and `source` say where the ends are from.
    """

    name: str
    low: Decimal
    high: Decimal
    kind: Kind
    comes_to: Range
    share: Decimal
    why: str
    source: str

    @property
    def swing(self) -> Decimal:
        """From low to high."""
        return self.high - self.low


@dataclass(frozen=True, slots=True)
class Sureness:
    """How sure the total is. Money inc VAT without anything set aside, but for what is said to be ex VAT.

    One job in ten comes to less than `low`, half to less than `likely` (the median), one in ten to more than `high`.
    `counted` is the total with every line at its likely end, as the budget has it; `least` and `most` have all lines at
    their low and high ends. `spread` is the standard deviation. `error` is how far low, likely, high and the suggestion may
    be off 19 times in 20, since draws are only so many: 0 and `draws` 0 where it is `exact`. `movers` by swing, the
    largest first, then by name and kind; `main` are the fewest that make half of the variance.

    `suggested` is the contingency ex VAT with which the total holds in four jobs of five; `own` is the job's; both shares
    are of the sum ex VAT before contingency. `own_holds` is the chance that the job's own is enough. `unstated` names rules
    that the ruleset lacks, so that what they are about was taken not to vary.
    """

    low: Decimal
    likely: Decimal
    high: Decimal
    counted: Decimal
    least: Decimal
    most: Decimal
    mean: Decimal
    spread: Decimal
    error: Decimal
    draws: int
    seed: int
    movers: tuple[Mover, ...]
    main: tuple[Mover, ...]
    suggested: Decimal
    suggested_share: Decimal
    own: Decimal
    own_share: Decimal
    own_holds: Decimal
    exact: bool
    unstated: tuple[str, ...] = ()


def how_sure(estimate: Estimate, draws: int = 20_000, seed: int = 1) -> Sureness:
    """Low, likely and high of the total, exact where one line varies or none, else from seeded draws.

    Raises:
        Refused: the ranges of rules.csv are no ranges.
        ValueError: fewer than 1,000 draws, or a seed below 0.
    """
    stated = stated_ranges(estimate.job, estimate.catalogue)
    every = (
        *sums(estimate.job),
        *hours(estimate),
        *prices(estimate, stated),
        *cables(estimate, stated),
        *pieces(estimate, stated),
    )
    lines = [line for line in every if line.low != line.high]
    changes = [line.change for line in lines]
    spread = spread_of(changes, draws, seed)
    counted = estimate.budget.total - with_vat(estimate.budget.contingency, estimate)
    movers = _movers(lines)
    suggested = _enough(spread.quantile(HOLDS), estimate)
    return Sureness(
        low=money(counted + spread.quantile(LOW)),
        likely=money(counted + spread.quantile(MIDDLE)),
        high=money(counted + spread.quantile(HIGH)),
        counted=counted,
        least=money(Fraction(counted) + sum(change.low for change in changes)),
        most=money(Fraction(counted) + sum(change.high for change in changes)),
        mean=money(Fraction(counted) + mean_of(changes)),
        spread=money(deviation_of(changes)),
        error=_error(spread),
        draws=spread.draws,
        seed=seed,
        movers=movers,
        main=_main(movers),
        suggested=suggested,
        suggested_share=_share_of_sum(suggested, estimate),
        own=estimate.budget.contingency,
        own_share=estimate.job.allowances.contingency,
        own_holds=spread.chance_within(estimate.budget.total - counted),
        exact=not spread.draws,
        unstated=stated.unstated,
    )


def with_vat(contingency: Decimal, estimate: Estimate) -> Decimal:
    """A contingency with its VAT, as the budget adds it."""
    return contingency + money(estimate.job.allowances.vat * contingency)


def _error(spread: Spread) -> Decimal:
    worst = max(spread.error(chance) for chance in (LOW, MIDDLE, HOLDS, HIGH))
    return worst.quantize(PENNY, rounding=ROUND_CEILING)


def _enough(needed: Decimal, estimate: Estimate) -> Decimal:
    """The least contingency ex VAT, to the penny, that with its VAT is as much as `needed`; never below nothing."""
    if needed <= 0:
        return Decimal(0)
    least = (needed / (1 + estimate.job.allowances.vat)).quantize(PENNY, rounding=ROUND_FLOOR)
    while with_vat(least, estimate) < needed:
        least += PENNY
    return least


def _share_of_sum(amount: Decimal, estimate: Estimate) -> Decimal:
    before = estimate.budget.ex_vat - estimate.budget.contingency
    return (amount / before).quantize(SHARE) if before else Decimal(0)


def _movers(lines: list[Line]) -> tuple[Mover, ...]:
    """Lines by swing, the largest first; each with its part of the variance, which for independent lines adds up."""
    whole = sum((line.change.variance for line in lines), Fraction(0))
    return tuple(
        Mover(
            line.name,
            money(line.low - line.likely),
            money(line.high - line.likely),
            line.kind,
            Range(money(line.low), money(line.likely), money(line.high)),
            money(line.change.variance / whole * 100).scaleb(-2),
            line.why,
            line.source,
        )
        for line in sorted(lines, key=lambda line: (line.low - line.high, line.name, line.kind))
    )


def _main(movers: tuple[Mover, ...]) -> tuple[Mover, ...]:
    """The fewest movers whose shares come to half, the largest share first; of equal ones those that come first."""
    taken: list[Mover] = []
    for mover in sorted(movers, key=lambda one: -one.share):
        if sum(one.share for one in taken) >= HALF:
            break
        taken.append(mover)
    return tuple(taken)
