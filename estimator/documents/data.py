"""estimate.json: an `Estimate` goes in, the same figures come out for programs, in the shape of version 1.

Lengths, quantities and hours are JSON numbers of at most three decimals; money and rates are text. Keys never change
their meaning; every key is always there, with null or an empty list where there is nothing to tell.
"""

import json
from typing import Any

from estimator.checks.model import Finding
from estimator.documents.data_money import (
    basket_data,
    bill_data,
    budget_data,
    cut_data,
    left_over_data,
    order_data,
    purchase_data,
)
from estimator.documents.data_numbers import number
from estimator.documents.data_routes import circuit_data, control_data, drilling_data, run_data
from estimator.documents.data_setout import board_data, noggin_data, point_data, trench_data
from estimator.result import Estimate

VERSION = 1

_ENCODE = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def render_data(estimate: Estimate) -> bytes:
    """The whole of estimate.json: UTF-8, two spaces a level, places on one line, a line end at the end."""
    return (_laid_out(estimate_data(estimate), "\n") + "\n").encode()


def _laid_out(value: Any, line: str) -> str:
    """A value as JSON, what it holds each on a line of its own but for numbers of a list; `line` is a line end and indent.

    `json` does the same with `indent`, but slowly: it hands every sign up through all the levels it stands in.
    """
    inner = f"{line}  "
    if isinstance(value, dict) and value:
        rows = [f"{_ENCODE(key)}: {_laid_out(of, inner)}" for key, of in value.items()]
        return f"{{{inner}{f',{inner}'.join(rows)}{line}}}"
    if isinstance(value, list | tuple) and not all(isinstance(of, int | float) for of in value):
        return f"[{inner}{f',{inner}'.join([_laid_out(of, inner) for of in value])}{line}]"
    return _ENCODE(value)


def estimate_data(estimate: Estimate) -> dict[str, Any]:
    """Everything, as plain values that `json` can write; sorted by name, then number, pieces in working order."""
    job, routes, order, budget = estimate.job, estimate.routes, estimate.order, estimate.budget
    given = {run.name: run for run in job.runs}
    return {
        "version": VERSION,
        "job": {"title": job.title, "currency": job.currency, "priced_on": job.priced_on.isoformat()},
        "points": [point_data(point) for point in sorted(estimate.setout.points, key=lambda of: (of.group, of.number))],
        "boards": board_data(estimate),
        "trenches": [trench_data(trench) for trench in sorted(job.trenches, key=lambda of: of.name)],
        "noggins": noggin_data(estimate.setout),
        "circuits": [circuit_data(circuit) for circuit in sorted(routes.circuits, key=lambda of: of.name)],
        "controls": [control_data(control) for control in sorted(routes.controls, key=lambda of: of.name)],
        "runs": [run_data(run, given[run.name]) for run in sorted(routes.runs, key=lambda of: of.name)],
        "drilling": [drilling_data(drilled) for drilled in routes.drilled],
        "bill": [bill_data(line) for line in budget.bill],
        "left_over": left_over_data(budget),
        "order": order_data(order),
        "baskets": [basket_data(basket) for basket in order.baskets],
        "purchase": purchase_data(order),
        "cuts": [cut_data(cut) for cut in order.cuts],
        "budget": budget_data(budget),
        "lighting": [],
        "findings": [finding_data(finding) for finding in estimate.findings],
    }


def finding_data(finding: Finding) -> dict[str, Any]:
    """One finding, as plain values that `json` can write."""
    return {
        "check": finding.check,
        "level": finding.level,
        "subject": finding.subject,
        "message": finding.message,
        "value": None if finding.value is None else number(finding.value),
        "limit": None if finding.limit is None else number(finding.limit),
        "unit": finding.unit,
        "source": finding.source,
        "edition": finding.edition,
        "change": finding.change,
    }
