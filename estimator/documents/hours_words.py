"""Hours of work as rows of text: a `Budget` goes in; what each task takes, who does it and when come out."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.costing.model import Budget, Range
from estimator.documents import words

WHOSE = {"self": "your own", "electrician": "the electrician's"}
"""Whose work it is, as it is told."""


@dataclass(frozen=True, slots=True)
class HoursRow:
    """One line: what is done, by whom and at which stage (empty for all of them), and how long it takes."""

    work: str
    whose: str
    stage: str
    low: str
    likely: str
    high: str


def task_rows(budget: Budget) -> tuple[HoursRow, ...]:
    """Every task, in the order of the budget."""
    return tuple(_row(of.work, whose(of.who), words.stage(of.stage), of.hours) for of in budget.tasks)


def whole_rows(budget: Budget) -> tuple[HoursRow, ...]:
    """All of one's own hours, and all of the electrician's."""
    return (
        _row("Your own, all of it", "", "", budget.hours_self),
        _row("The electrician's, all of it", "", "", budget.hours_electrician),
    )


def whose(who: str) -> str:
    """Whose work it is; somebody else's by the name that the catalogue has."""
    return WHOSE.get(who, who)


def _row(work: str, owner: str, stage: str, hours: Range) -> HoursRow:
    return HoursRow(work, owner, stage, *(_hours(value) for value in (hours.low, hours.likely, hours.high)))


def _hours(value: Decimal) -> str:
    """To a tenth; less than one to a hundredth, so that a short task is not told as nought."""
    return words.number(value, 1 if value >= 1 else 2)
