"""The command `prices`: files, or lines typed or pasted, go in; what changed is printed, and written when asked."""

import os
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from estimator.commands.common import BAD_INPUT, NO_ACCESS, stop, worked_out, write

if TYPE_CHECKING:
    from estimator.returned.read import Given
    from estimator.returned.run import Options

STDIN = "-"
BESIDE = ("prices.csv", "merchants.csv")


def prices(job: Path, arguments: Sequence[str], options: "Options", as_json: bool) -> None:
    """Read the lists, print what they say, and write the new prices beside the job where the options ask for it."""
    from estimator.documents.returned import as_text
    from estimator.documents.returned_data import as_data
    from estimator.returned.run import run

    if not arguments and not options.typed:
        raise stop(BAD_INPUT, "name the list that came back, - for pasted lines, or --price te-2.5@100=48.00")
    worked = worked_out(job).estimate
    folder = job if job.is_dir() else job.parent
    # The one place that looks at the calendar: a day of prices that is still to come is told.
    options = replace(options, wishes=replace(options.wishes, today=date.today()))
    outcome = run(worked, [_given(argument) for argument in arguments], options, _beside(folder))
    typer.echo(as_data(outcome) if as_json else as_text(outcome), nl=False)
    for problem in outcome.problems:
        typer.echo(str(problem), err=True)
    if outcome.problems:
        count = len(outcome.problems)
        raise stop(BAD_INPUT, f"{count} problem{'s' if count != 1 else ''}; nothing was written")
    if options.write:
        for path in write(folder, outcome.files):
            typer.echo(str(path), err=True)
        _what_next(
            worked.job.buying.merchants,
            sorted({one.returned.merchant for one in outcome.lists if one.returned.merchant}),
        )


def _what_next(buys_at: Sequence[str], merchants: Sequence[str]) -> None:
    """What to mind once prices are kept: who is bought from, and lists that are still out."""
    from estimator.buying.offers import ANY

    if ANY in buys_at and merchants:
        names = ", ".join(f'"{name}"' for name in merchants)
        typer.echo(
            "Your job buys wherever it is cheapest, at invented prices too. To leave those out, write under [buying] "
            f"in the job file merchants = [{names}], and whoever sells the rest.",
            err=True,
        )
    typer.echo(
        "Lists handed out before may not match the job any more, now that prices have changed. Read all that came back in "
        "one go (prices JOB north=FILE south=FILE --write), or hand out new ones.",
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


def _beside(folder: Path) -> dict[str, bytes]:
    """The price files that the user has beside the job."""
    try:
        return {name: (folder / name).read_bytes() for name in BESIDE if (folder / name).is_file()}
    except OSError as error:
        raise stop(NO_ACCESS, f"{error.filename}: cannot be read ({error.strerror})") from error
