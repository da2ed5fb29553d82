"""Prices that age: what is older than the job allows on its day of prices is told, merchant by merchant."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from estimator.checks.prices import aged
from estimator.job.model import Age
from tests.estimates import worked_example

D = Decimal


def told(day: date, age: Age) -> list[tuple[str, Decimal | None, str]]:
    """The findings for the worked example (all prices of 1 October 2026) when it is priced on `day`."""
    estimate = worked_example()
    job = replace(estimate.job, priced_on=day, buying=replace(estimate.job.buying, price_age=age))
    return [(one.subject, one.value, one.message) for one in aged(job, estimate.catalogue, estimate.order)]


def test_old_prices_are_told_for_each_merchant_with_the_oldest() -> None:
    found = told(date(2027, 5, 1), Age(6, "month"))
    # hand: six months before 1 May 2027 is 1 November 2026; A sells two lines of the order, B two
    assert ["A", "B"] == [subject for subject, _, _ in found]
    assert [D(2), D(2)] == [value for _, value, _ in found]
    assert found[0][2].startswith(
        "2 of 2 prices at A are older than 6 months on 2027-05-01; the oldest is of 2026-10-01 ("
    )


@pytest.mark.parametrize(
    ("day", "age", "old"),
    [
        (date(2027, 4, 1), Age(6, "month"), False),  # hand: just six months old
        (date(2027, 4, 2), Age(6, "month"), True),
        (date(2026, 10, 31), Age(30, "day"), False),  # hand: 31 October less 30 days is 1 October
        (date(2026, 11, 1), Age(30, "day"), True),
        (date(2026, 10, 1), Age(1, "day"), False),
    ],
)
def test_a_price_of_just_that_age_is_not_too_old(day: date, age: Age, old: bool) -> None:
    assert old == bool(told(day, age))
