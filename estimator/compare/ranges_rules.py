"""How far things may go from what is counted, by the rows of rules.csv: a job and a catalogue in, shares out.

The likely figure is always the one that the job counts, so rows give the low and the high end alone, in per cent. Users
change them in their own rules.csv.
"""

from dataclasses import dataclass
from fractions import Fraction

from estimator.catalogue.model import Catalogue, Rule
from estimator.job.model import Job
from estimator.problems import Problem, Refused

WHOLE = Fraction(1)
CABLE, DRIFT, INVENTED, WASTE = "cable-range", "price-drift", "price-invented", "waste-range"


@dataclass(frozen=True, slots=True)
class Shares:
    """From how much less to how much more, as ratios, and the rows that say so with their source."""

    low: Fraction
    high: Fraction
    source: str


@dataclass(frozen=True, slots=True)
class Ranges:
    """The four ranges of rules.csv; None where the ruleset has none, and then `unstated` names the row it lacks."""

    cable: Shares | None
    drift: Shares | None
    invented: Shares | None
    waste: Shares | None
    unstated: tuple[str, ...]


def stated_ranges(job: Job, catalogue: Catalogue) -> Ranges:
    """What the job's ruleset says.

    Raises:
        Refused: a row in another unit than %, a low end above nothing, or a high end below it; all at once.
    """
    problems: list[Problem] = []
    unstated: list[str] = []

    def shares(name: str) -> Shares | None:
        low, high = (_row(job, catalogue, f"{name}-{end}", unstated) for end in ("low", "high"))
        if low is None or high is None:
            return None
        problems.extend((*_faults(low, "low", name), *_faults(high, "high", name)))
        return Shares(_share(low), _share(high), _source(low, high))

    cable, drift, invented, waste = (shares(name) for name in (CABLE, DRIFT, INVENTED, WASTE))
    if problems:
        raise Refused(problems)
    return Ranges(cable, drift, invented, waste, tuple(unstated))


def _row(job: Job, catalogue: Catalogue, name: str, unstated: list[str]) -> Rule | None:
    """The row, if it has a number; else its name joins what is not stated."""
    row = catalogue.rules.get((job.ruleset, name))
    if row is None or row.value is None:
        unstated.append(name)
        return None
    return row


def _share(row: Rule) -> Fraction:
    return Fraction(row.value or 0) / 100


def _source(low: Rule, high: Rule) -> str:
    same = low.source if low.source == high.source else f"{low.source}; {high.source}"
    return f"{low.rule}, {high.rule}: {same}"


def _faults(row: Rule, end: str, name: str) -> list[Problem]:
    share = _share(row)
    if row.unit != "%":
        return [Problem(row.place, "unit", f'{row.rule} is in "{row.unit}"', "write % and the value as a percentage")]
    if end == "high" and share < 0:
        return [Problem(row.place, "value", f"{row.rule} is below 0", "write 0 or more: the likely figure is 0")]
    if end == "low" and name == WASTE and share < 0:
        return [Problem(row.place, "value", f"{row.rule} is below 0", "write 0 or more: pieces lost at the least")]
    if end == "low" and name != WASTE and not -WHOLE <= share <= 0:
        return [Problem(row.place, "value", f"{row.rule} is not from -100 to 0", "write 0, or how much less, as in -5")]
    return []
