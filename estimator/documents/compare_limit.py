"""What a limit buys: a `Comparison` goes in, what is kept and left out comes out in rows and sentences."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.compare.model import Comparison
from estimator.compare.within import LeftOut
from estimator.documents.compare_facts import lower
from estimator.documents.compare_says import first_words
from estimator.documents.compare_words import not_alone, why, within_words
from estimator.documents.words import money


@dataclass(frozen=True, slots=True)
class LeftRow:
    """A group that the plan leaves out, and what the job would come to with it."""

    name: str
    kind: str
    points: int
    priority: int
    with_it: str
    over: str


def limit_context(comparison: Comparison) -> Mapping[str, Any] | None:
    """What the page tells of the limit; None where none was asked for."""
    found, currency = comparison.within, comparison.base.job.currency
    if found is None:
        return None
    labels = group_labels(comparison)
    return {
        "title": f"Within {money(found.limit, currency)}",
        "says": (
            *first_words(comparison),
            *within_words(found, currency)[:1],
            *(f"{one.group} cannot be had by itself{why(one)}." for one in found.left_out if one.why is not None),
        ),
        "kept": tuple(f"{name} ({labels.get(name, name)})" for name in found.kept),
        "rows": tuple(_row(one, labels, found.limit, currency) for one in found.left_out),
        "tried": found.tried,
        "write": bool(found.edits),
    }


def group_labels(comparison: Comparison) -> Mapping[str, str]:
    """What the points of each group are: `double socket`."""
    points = comparison.start.catalogue.points
    return {group.name: lower(points[group.kind].label) for group in comparison.start.job.groups}


def _row(one: LeftOut, labels: Mapping[str, str], limit: Decimal, currency: str) -> LeftRow:
    if one.with_it is None:
        with_it, over = not_alone(one), ""
    else:
        with_it, over = money(one.with_it, currency), money(one.with_it - limit, currency)
    return LeftRow(one.group, labels.get(one.group, one.group), one.points, one.priority, with_it, over)
