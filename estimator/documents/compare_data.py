"""A comparison as data for programs: a `Comparison` goes in, JSON comes out; money is text, as in estimate.json."""

import json
from typing import Any

from estimator.compare.differences import Differences, HoursRow, PackRow, Row
from estimator.compare.edits import Edit
from estimator.compare.later import Later, LaterLine
from estimator.compare.model import Column, Comparison, Swept
from estimator.compare.options_model import Option
from estimator.compare.puts import Put
from estimator.compare.within import Within
from estimator.costing.model import Range
from estimator.documents.compare_says import changes_words
from estimator.documents.data import finding_data
from estimator.documents.data_numbers import metres, money, number
from estimator.documents.sure_data import sure_data
from estimator.problems import Problem

VERSION = 1
PLACES = 6
"""How many decimals of a chance are told."""


def as_data(comparison: Comparison) -> str:
    """The whole comparison: UTF-8 text, two spaces a level, a line end at the end."""
    base = comparison.base
    data = {
        "version": VERSION,
        "job": {"title": base.job.title, "currency": base.job.currency, "priced_on": base.job.priced_on.isoformat()},
        "total": money(base.budget.total),
        "sure": sure_data(comparison.sure),
        "scenarios": [_column(column) for column in comparison.columns],
        "starts_from": {
            "changes": None if comparison.first is None else list(changes_words(comparison.first)),
            "total": money(comparison.start.budget.total),
        },
        "each": [_swept(swept) for swept in comparison.swept],
        "within": None if comparison.within is None else _within(comparison.within),
    }
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def _column(column: Column) -> dict[str, Any]:
    one = column.variant
    return {
        "name": one.name,
        "option": None if column.option is None else _option(column.option),
        "total": None if one.estimate is None else money(one.estimate.budget.total),
        "differences": None if column.differences is None else _differences(column.differences),
        "later": None if column.later is None else _later(column.later),
        "placed": [_put(put) for put in column.puts],
        "write": [_edit(edit) for edit in column.edits],
        "problems": _problems(one.problems),
    }


def _option(option: Option) -> dict[str, Any]:
    return {
        "option": option.name,
        "title": option.title,
        "why": option.why,
        "does": option.does or None,
        "reason": option.reason or None,
    }


def _put(put: Put) -> dict[str, Any]:
    return {
        "point": put.point,
        "kind": put.kind,
        "room": put.room,
        "surface": put.surface,
        "wall": put.wall,
        "along_m": None if put.along_mm is None else metres(put.along_mm),
        "height_m": None if put.height_mm is None else metres(put.height_mm),
        "from_corner_m": None if put.from_corner_mm is None else [metres(one) for one in put.from_corner_mm],
    }


def _edit(edit: Edit) -> dict[str, Any]:
    """`line` is None at the end of the file."""
    return {
        "do": edit.does,
        "file": edit.place.file,
        "line": edit.place.line or None,
        "table": edit.table or None,
        "old": edit.old or None,
        "lines": list(edit.lines),
    }


def _problems(problems: tuple[Problem, ...]) -> list[dict[str, Any]]:
    return [
        {
            "file": problem.place.file,
            "line": problem.place.line or None,
            "where": problem.where,
            "found": problem.found,
            "write": problem.write,
        }
        for problem in problems
    ]


def _differences(found: Differences) -> dict[str, Any]:
    return {
        "money": [_money(row) for row in found.money],
        "packs": [_pack(row) for row in found.packs],
        "metres": [_row(row) for row in found.metres],
        "points": [_row(row) for row in found.points],
        "holes": [_row(row) for row in found.holes],
        "hours": [_hours(row) for row in found.hours],
        "appear": [finding_data(finding) for finding in found.appear],
        "gone": [finding_data(finding) for finding in found.gone],
        "reworded": [{"before": finding_data(a), "after": finding_data(b)} for a, b in found.reworded],
    }


def _money(row: Row) -> dict[str, Any]:
    return {"name": row.name, "before": money(row.before), "after": money(row.after), "more": money(row.more)}


def _row(row: Row) -> dict[str, Any]:
    return {"name": row.name, "before": number(row.before), "after": number(row.after), "more": number(row.more)}


def _pack(row: PackRow) -> dict[str, Any]:
    return {
        "part": row.part,
        "merchant": row.merchant,
        "pack": number(row.pack),
        "before": row.before,
        "after": row.after,
    }


def _hours(row: HoursRow) -> dict[str, Any]:
    return {"who": row.who, "before": _range(row.before), "after": _range(row.after)}


def _range(span: Range) -> dict[str, Any]:
    return {"low": number(span.low), "likely": number(span.likely), "high": number(span.high)}


def _money_range(span: Range) -> dict[str, Any]:
    return {"low": money(span.low), "likely": money(span.likely), "high": money(span.high)}


def _later(later: Later) -> dict[str, Any]:
    return {
        "now": money(later.now),
        "later": _money_range(later.cost),
        "hours": _range(later.hours),
        "one_in": later.one_in,
        "chance": None if later.chance is None else float(round(later.chance, PLACES)),
        "saved": money(later.saved),
        "netted": later.netted,
        "lines": [{**_line(line), "of": [_line(one) for one in line.of]} for line in later.lines],
    }


def _line(line: LaterLine) -> dict[str, Any]:
    return {"what": line.what, "count": number(line.count), "unit": line.unit, **_money_range(line.cost)}


def _swept(swept: Swept) -> dict[str, Any]:
    return {
        "address": swept.sweep.address,
        "steps": [
            {
                "value": step.value,
                "total": None if step.total is None else money(step.total),
                "price": None if step.price is None else money(step.price),
                "packs": [] if step.since is None else [_pack(row) for row in step.since.packs],
                "problems": _problems(step.variant.problems),
            }
            for step in swept.steps
        ],
    }


def _within(found: Within) -> dict[str, Any]:
    plan = found.plan.estimate if found.plan is not None else None
    return {
        "limit": money(found.limit),
        "total": None if plan is None else money(plan.budget.total),
        "kept": list(found.kept),
        "left_out": [
            {
                "group": one.group,
                "priority": one.priority,
                "points": one.points,
                "with_it": None if one.with_it is None else money(one.with_it),
                "needs": list(one.needs),
                "why": None if one.why is None else f"{one.why.where}: {one.why.found}; {one.why.write}",
            }
            for one in found.left_out
        ],
        "least": None if found.least is None else money(found.least),
        "proven": found.proven,
        "tried": found.tried,
        "write": [_edit(edit) for edit in found.edits],
    }
