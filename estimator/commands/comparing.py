"""The command `compare`: what is typed goes in as scenarios, ranges and a limit; files and a table come out."""

import re
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from estimator.commands.common import BAD_INPUT, Worked, out_folder, refuse, stop, worked_out, write

if TYPE_CHECKING:
    from decimal import Decimal

    from estimator.compare.changes import Changes
    from estimator.compare.compare import Asked
    from estimator.compare.model import Comparison
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
        raise refuse(refused.problems) from refused
    problems = _useless(comparison)
    if problems:
        raise refuse(problems)
    made = write(out_folder(job, out), render_comparison(comparison))
    typer.echo(as_data(comparison) if as_json else as_text(comparison), nl=False)
    for path in made:
        typer.echo(str(path), err=True)


def _useless(comparison: "Comparison") -> "list[Problem]":
    """Why what was typed cannot be worked out at all, or, where nothing can be, why not; each reason once.

    A scenario of the job file, or some values of a range, that cannot be are told in the documents beside what can.
    """
    columns, swept = comparison.columns, comparison.swept
    any_column = any(column.variant.estimate is not None for column in columns)
    alone = not any_column and not swept and comparison.within is None
    variants = [column.variant for column in columns if alone or column.variant.changes.place.file == CHANGE]
    for one in swept:
        if all(step.variant.estimate is None for step in one.steps):
            variants += [step.variant for step in one.steps]
    found = (problem for one in variants if one.estimate is None for problem in one.problems)
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

    problems: list[Problem] = []
    scenarios = _scenarios(worked, names, problems)
    if change or remove:
        scenarios.append((TYPED, _typed(change, remove, problems)))
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
            "there is nothing to compare: write a [[scenario]] in the job file, or try --change points.S.spread=16, "
            "--each points.S.spread=8..24 or --within 900",
        )
    return Asked(tuple(scenarios), tuple(sweeps), limit)


def _scenarios(worked: Worked, names: Sequence[str], problems: "list[Problem]") -> "list[tuple[str, Changes]]":
    """Scenarios of the job file: those named, or all where none is."""
    from estimator.compare.options import options_for
    from estimator.compare.variants import changes_of
    from estimator.problems import Place, Problem, Refused, choose

    known = {scenario.name: scenario for scenario in worked.estimate.job.scenarios}
    for name in names:
        if name not in known:
            problems.append(Problem(Place("--scenario"), "", f'there is no scenario "{name}"', choose(name, known)))
    asked = [scenario for name, scenario in known.items() if name in names or not names]
    options = options_for(worked.estimate) if any(scenario.option for scenario in asked) else ()
    found: list[tuple[str, Changes]] = []
    for scenario in asked:
        try:
            found.append((scenario.name, changes_of(scenario, options)))
        except Refused as refused:
            problems += refused.problems
    return found


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
