"""What the values of a job say to each other: tables that are right key by key -> problems between them."""

from collections.abc import Iterator

from estimator.job import (
    rules_circuits,
    rules_ground,
    rules_legs,
    rules_measured,
    rules_money,
    rules_names,
    rules_points,
    rules_rooms,
    rules_storeys,
    rules_supply,
)
from estimator.job.known import known
from estimator.job.table import Table
from estimator.problems import Problem

RULES = (
    rules_names.check,
    rules_rooms.check,
    rules_storeys.check,
    rules_points.check,
    rules_circuits.check,
    rules_legs.check,
    rules_supply.check,
    rules_ground.check,
    rules_measured.check,
    rules_money.check,
)


def check(job: Table) -> Iterator[Problem]:
    """Every rule; the order of problems is that of the rules, and the caller sorts by place."""
    names = known(job)
    for rule in RULES:
        yield from rule(names)


def notes(job: Table) -> Iterator[Problem]:
    """What is taken for granted, and the user may want to say."""
    yield from rules_rooms.notes(known(job))
