"""The command `prices`: files, or lines typed or pasted, go in; what changed is printed, and written when asked."""

import os
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from estimator.commands.common import BAD_INPUT, NO_ACCESS, out_folder, stop, worked_out, write

if TYPE_CHECKING:
    from collections.abc import Mapping

    from estimator.documents.list_asked import AskedList
    from estimator.result import Estimate
    from estimator.returned.read import Given
    from estimator.returned.run import Options

STDIN = "-"
BESIDE = ("prices.csv", "merchants.csv")


def prices(job: Path, arguments: Sequence[str], options: "Options", as_json: bool) -> None:
    """Read the lists, print what they say, and write the new prices beside the job where the options ask for it."""
    from estimator.documents.returned import as_text
    from estimator.documents.returned_data import as_data
    from estimator.returned.prices import returned_before
    from estimator.returned.run import run

    if not arguments and not options.typed:
        raise stop(BAD_INPUT, "name the list that came back, - for pasted lines, or --price te-2.5@100=48.00")
    worked = worked_out(job).estimate
    folder = job if job.is_dir() else job.parent
    # The one place that looks at the calendar: a day of prices that is still to come is told.
    options = replace(options, wishes=replace(options.wishes, today=date.today()))
    given = [_given(argument) for argument in arguments]
    issued = _handed_out(out_folder(job, None), [one.file for one in given])
    outcome = run(worked, given, options, _beside(folder), issued)
    typer.echo(as_data(outcome) if as_json else as_text(outcome), nl=False)
    for problem in outcome.problems:
        typer.echo(str(problem), err=True)
    if outcome.problems:
        count = len(outcome.problems)
        raise stop(BAD_INPUT, f"{count} problem{'s' if count != 1 else ''}; nothing was written")
    if options.write:
        if not outcome.files:
            typer.echo("There was nothing to write: prices.csv is as it was.", err=True)
            return
        total = _what_it_comes_to(job, worked, outcome.files)
        for path in write(folder, outcome.files):
            typer.echo(str(path), err=True)
        now = {one.returned.merchant for one in outcome.lists}
        before = {row.merchant for row in worked.catalogue.prices if returned_before(row)}
        typer.echo(total, err=True)
        _what_next(worked.job.buying.merchants, sorted((now | before) - {""}))


def _what_it_comes_to(job: Path, before: "Estimate", files: "Mapping[str, bytes]") -> str:
    """What the whole job comes to with the new price files, beside what it came to: worked out before they are written."""
    from estimator.catalogue.read import read_catalogue
    from estimator.documents.compare_words import signed
    from estimator.documents.words import money
    from estimator.estimate import estimate
    from estimator.job.crosscheck import crosscheck
    from estimator.job.read import job_tree, read_tree
    from estimator.problems import Refused

    currency, was = before.job.currency, before.budget.total
    try:
        catalogue = read_catalogue(job if job.is_dir() else job.parent, files)
        tree, measured = job_tree(job)
        again, _ = read_tree(tree, catalogue, measured)
        wrong = list(crosscheck(again, catalogue))
        now = None if wrong else estimate(again, catalogue).budget.total
    except Refused as refused:
        wrong, now = list(refused.problems), None
    if now is None:
        return f"With these prices the job cannot be worked out any more: {wrong[0].found}; {wrong[0].write}"
    told = (
        f"The job comes to {money(now, currency)} inc VAT with these prices, and came to {money(was, currency)} before"
    )
    if now == was:
        return f"{told}."
    return (
        f"{told} ({signed(now - was, currency)}). That is not the sum of the differences above: packs, merchants and deliveries are "
        "chosen anew, and a price that no merchant has given counts only where no merchant has one."
    )


def _what_next(buys_at: Sequence[str], merchants: Sequence[str]) -> None:
    """What to mind once prices are kept: what counts from now on."""
    from estimator.buying.offers import ANY

    if ANY in buys_at and merchants:
        typer.echo(
            f"From now on the prices of {' and '.join(merchants)} count; a price without a merchant only fills what is left.",
            err=True,
        )


def _given(argument: str) -> "Given":
    from estimator.returned.read import Given
    from estimator.returned.run import MOST_BYTES, parted

    merchant, file = parted(argument, os.path.exists)
    if file == STDIN:
        return Given(file, sys.stdin.buffer.read(MOST_BYTES + 1), merchant)
    try:
        with Path(file).open("rb") as stream:
            return Given(file, stream.read(MOST_BYTES + 1), merchant)
    except OSError as error:
        raise stop(NO_ACCESS, f"{file}: cannot be read ({error.strerror})") from error


def _handed_out(out: Path, files: Sequence[str]) -> "list[AskedList]":
    """Lists as they were written: into the folder of each file that came back, and last into the job's own.

    What is wrong with a record is told, and it is left out.
    """
    from estimator.documents.list_issues import read

    own = out.resolve()
    others = dict.fromkeys(Path(file).resolve().parent for file in files if file != STDIN)
    issued: list[AskedList] = []
    for folder in (*(other for other in others if other != own), own):
        found = read(folder)
        issued += found.lists
        if found.amiss:
            typer.echo(found.amiss, err=True)
    return issued


def _beside(folder: Path) -> dict[str, bytes]:
    """The price files that the user has beside the job."""
    try:
        return {name: (folder / name).read_bytes() for name in BESIDE if (folder / name).is_file()}
    except OSError as error:
        raise stop(NO_ACCESS, f"{error.filename}: cannot be read ({error.strerror})") from error
