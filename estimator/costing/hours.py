"""Hours of work: tasks with their minutes go in; ranges in hours, in all and by task, come out."""

from collections.abc import Iterable
from decimal import Decimal

from estimator.costing.model import Range, TaskHours
from estimator.job.model import Stage
from estimator.takeoff.model import Task

WHO = ("self", "electrician")
STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")
_ENDS = ("low_minutes", "likely_minutes", "high_minutes")


def hours_of(tasks: Iterable[Task]) -> Range:
    """All that these tasks take, each end for itself."""
    every = tuple(tasks)
    return Range(*(sum((getattr(task, end) for task in every), Decimal(0)) / 60 for end in _ENDS))


def hours_by_task(tasks: Iterable[Task]) -> tuple[TaskHours, ...]:
    """The same work for whatever it is done as one: by stage, one's own first, then by name."""
    found: dict[tuple[int, int, str, str, Stage], list[Task]] = {}
    for task in tasks:
        who = WHO.index(task.who) if task.who in WHO else len(WHO)
        found.setdefault((STAGES.index(task.stage), who, task.work, task.who, task.stage), []).append(task)
    return tuple(
        TaskHours(work, who, stage, hours_of(mine)) for (_, _, work, who, stage), mine in sorted(found.items())
    )
