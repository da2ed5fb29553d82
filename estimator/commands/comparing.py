"""The command `compare`: what is typed goes in as scenarios, ranges and a limit; files and a table come out."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from estimator.commands.common import BAD_INPUT, Worked, out_folder, refuse, stop, worked_out, write

if TYPE_CHECKING:
    from decimal import Decimal

    from estimator.compare.changes import Changes
    from estimator.compare.compare import Asked
    from estimator.compare.model import Column, Comparison
    from estimator.compare.variants import Wanted
    from estimator.problems import Problem

CHANGE = "--change"
_THOUSANDS = re.compile(r"(?<=\d),(?=\d{3}(?!\d))")
"""A mark between thousands, as our own documents write them."""
TYPED = "as typed"
"""What the changes given on the command line are called together."""


def compare(
    job: Path,
    change: Sequence[str],
    remove: Sequence[str],
    ranges: Sequence[str],
    within: str | None,
    names: Sequence[str],
    out: Path | None,
    as_json: bool,
) -> None:
    """Compare, write compare.html and compare.xlsx, and print the table or the JSON."""
    from estimator.compare.compare import compare as work_out
    from estimator.documents.compare import as_text, render_comparison
    from estimator.documents.compare_data import as_data
    from estimator.problems import Refused

    worked = worked_out(job)
    asked = _asked(worked, change, remove, ranges, within, names)
    try:
        comparison = work_out(worked.tree, worked.catalogue, worked.estimate, asked)
    except Refused as refused:
        rest = work_out(worked.tree, worked.catalogue, worked.estimate, replace(asked, limit=None))
        raise refuse((*_of_scenarios(rest), *_useless(rest), *refused.problems)) from refused
    problems, useless = _of_scenarios(comparison), _useless(comparison)
    if useless or (problems and _nothing_priced(comparison)):
        raise refuse((*problems, *useless))
    made = write(out_folder(job, out), render_comparison(comparison))
    typer.echo(as_data(comparison) if as_json else as_text(comparison), nl=False)
    for path in made:
        typer.echo(str(path), err=True)
    if problems:
        for problem in problems:
            typer.echo(str(problem), err=True)
        raise stop(BAD_INPUT, _told(problems))


def _told(problems: "Sequence[Problem]") -> str:
    count = f"{len(problems)} problem{'' if len(problems) == 1 else 's'}"
    return f"{count} in the scenarios of the job file; everything else was priced and written"


def _nothing_priced(of: "Comparison") -> bool:
    return not of.swept and of.within is None and all(column.variant.estimate is None for column in of.columns)


def _typed_one(column: "Column") -> bool:
    return column.variant.changes.place.file == CHANGE


def _of_scenarios(of: "Comparison") -> "list[Problem]":
    """Why scenarios of the job file cannot be worked out, each told with its name, where it is written."""
    found = [
        _of_scenario(column.variant.changes.where, problem)
        for column in of.columns
        if not _typed_one(column)
        for problem in column.variant.problems
    ]
    return list(dict.fromkeys(found))


def _of_scenario(scenario: str, problem: "Problem") -> "Problem":
    if problem.where.startswith(scenario):
        return problem
    return replace(problem, where=f"{scenario}: {problem.where}" if problem.where else scenario)


def _useless(of: "Comparison") -> "list[Problem]":
    """Why what was typed cannot be worked out at all, each reason once.

    Some values of a range that cannot be are told in the documents, beside what can.
    """
    found = [problem for column in of.columns if _typed_one(column) for problem in column.variant.problems]
    for one in of.swept:
        if all(step.variant.estimate is None for step in one.steps):
            found += [problem for step in one.steps for problem in step.variant.problems]
    return list(dict.fromkeys(found))


def _asked(
    worked: Worked,
    change: Sequence[str],
    remove: Sequence[str],
    ranges: Sequence[str],
    within: str | None,
    names: Sequence[str],
) -> "Asked":
    from estimator.compare.compare import EACH, Asked
    from estimator.compare.each import Sweep, sweep_of
    from estimator.compare.variants import Wanted

    problems: list[Problem] = []
    scenarios = _scenarios(worked, names, problems)
    first = _typed(change, remove, problems) if change or remove else None
    if first is not None:
        scenarios.append(Wanted(_name_typed(worked), first))
    sweeps = []
    for text in ranges:
        found = sweep_of(text, EACH)
        if isinstance(found, Sweep):
            sweeps.append(found)
        else:
            problems.append(found)
    limit = None if within is None else _limit(within, worked.estimate.job.currency, problems)
    if problems:
        raise refuse(problems)
    if not scenarios and not sweeps and within is None:
        raise stop(
            BAD_INPUT,
            "there is nothing to compare: write a [[scenario]] in the job file, or try --change points.S.spread=16 "
            "(or points.S.on.back=6, as the job says it), --each points.S.spread=8..24 or --within 900",
        )
    return Asked(tuple(scenarios), tuple(sweeps), limit, first)


def _scenarios(worked: Worked, names: Sequence[str], problems: "list[Problem]") -> "list[Wanted]":
    """Scenarios of the job file: those named, or all where none is."""
    from estimator.compare.options import options_for
    from estimator.compare.variants import wanted
    from estimator.problems import Place, Problem, choose

    known = {scenario.name: scenario for scenario in worked.estimate.job.scenarios}
    for name in names:
        if name not in known:
            problems.append(Problem(Place("--scenario"), "", f'there is no scenario "{name}"', choose(name, known)))
    asked = [scenario for name, scenario in known.items() if name in names or not names]
    options = options_for(worked.estimate) if any(scenario.option for scenario in asked) else ()
    return [wanted(scenario, options) for scenario in asked]


def _name_typed(worked: Worked) -> str:
    """What the typed changes are called: as no scenario of the job is."""
    from estimator.compare.options_here import free_name

    return free_name(TYPED, [scenario.name for scenario in worked.estimate.job.scenarios], " ({})")


def _typed(change: Iterable[str], remove: Iterable[str], problems: "list[Problem]") -> "Changes":
    from estimator.compare.changes import Changes, value_of
    from estimator.problems import Place, Problem

    place, pairs = Place(CHANGE), list[tuple[str, object]]()
    for text in change:
        address, equals, value = text.partition("=")
        if not equals or not address.strip() or not value.strip():
            problems.append(
                Problem(place, "", f'"{text}" is no change', "write an address, = and a value: points.S.spread=16")
            )
        else:
            pairs.append((address.strip(), value_of(value)))
    given = tuple(dict.fromkeys(address.strip() for address in remove))
    addresses = [address for address, _ in pairs]
    for address in dict.fromkeys(addresses):
        if addresses.count(address) > 1:
            problems.append(Problem(place, address, "changed twice", "keep one of the two, or compare them one by one"))
    return Changes(change=tuple(pairs), remove=given, place=place, removed_at=Place("--remove"))


def _limit(text: str, currency: str, problems: "list[Problem]") -> "Decimal | None":
    """A sum of money as typed."""
    from estimator.job.keys import SYMBOLS
    from estimator.problems import Place, Problem
    from estimator.quantities import Wrong, money

    if text.strip().startswith("-"):
        problems.append(
            Problem(Place("--within"), "", f"{text} is below nothing", "write what may be spent, for example 900")
        )
        return None
    found = money(_THOUSANDS.sub("", text))
    if isinstance(found, Wrong):
        problems.append(Problem(Place("--within"), "", found.found, found.write))
        return None
    if found.symbol and currency not in SYMBOLS.get(found.symbol, (currency,)):
        problems.append(
            Problem(Place("--within"), "", f'"{found.symbol}" is not the sign of {currency}', f"write {found.amount}")
        )
    if found.amount <= 0:
        problems.append(
            Problem(Place("--within"), "", f"{text} buys nothing", "write what may be spent, for example 900")
        )
    return found.amount
