"""The command `studbay`: it reads, calls the stages, writes, and says what it did; no rule of the trade lives here."""

import gc
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from estimator.problems import Problem
    from estimator.result import Estimate

DONE, FOUND_A_STOP, BAD_INPUT, NO_ACCESS, INTERRUPTED = 0, 1, 2, 3, 130

app = typer.Typer(
    name="studbay",
    no_args_is_help=True,
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Plan, count, price and buy the first fix of the electrics in a timber frame.\n\n"
    "Start with:  studbay new my-shed   then   studbay estimate my-shed\n\n"
    "For budgeting and buying only: a qualified electrician designs, inspects, tests and certifies.",
)

JobPath = Annotated[Path, typer.Argument(metavar="JOB", help="The folder of the job, or its job.toml.")]


def _version(wanted: bool) -> None:
    if wanted:
        from estimator import __version__

        typer.echo(f"studbay {__version__}")
        raise typer.Exit


@app.callback()
def _root(
    version: Annotated[
        bool, typer.Option("--version", "-V", is_eager=True, callback=_version, help="Print the version and stop.")
    ] = False,
) -> None:
    """Options that come before the command."""


@app.command(short_help="Start a job: a commented job file and the price files to edit.")
def new(
    folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="A folder that does not exist yet, or is empty.")],
) -> None:
    """Start a job: write a commented job file and the price files you edit into FOLDER.

    Example:  studbay new my-shed
    """
    from estimator.job.starter import starter_files

    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise _stop(BAD_INPUT, f"{folder}: there is something already; name a folder that is empty or not there yet")
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in starter_files().items():
            (folder / name).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise _stop(NO_ACCESS, f"{folder}: cannot be written ({error.strerror})") from error
    for name in starter_files():
        typer.echo(str(folder / name))
    typer.echo(f"Open {folder / 'job.toml'} in a text editor, then run:  studbay estimate {folder}", err=True)


@app.command(short_help="Work a job out and write the quote, the bill, the lists and the data.")
def estimate(
    job: JobPath,
    out: Annotated[
        Path | None,
        typer.Option(
            "--out", "-o", metavar="FOLDER", help="Where to write; the folder out in the job's when not given."
        ),
    ] = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print estimate.json instead of the names of the files.")
    ] = False,
) -> None:
    """Work a job out and write the quote, the bill of quantities, a shopping list for each merchant and the data.

    Example:  studbay estimate my-shed -o /tmp/my-shed
    """
    from estimator.documents.everything import render
    from estimator.documents.files import left_from_before, write_all

    worked = _worked_out(job)
    files = render(worked)
    folder = out if out is not None else (job if job.is_dir() else job.parent) / "out"
    try:
        made = write_all(folder, files)
    except OSError as error:
        raise _stop(NO_ACCESS, str(error)) from error
    if as_json:
        typer.echo(files["estimate.json"].decode(), nl=False)
    else:
        for path in made:
            typer.echo(str(path))
    for path in left_from_before(folder, files):
        typer.echo(
            f"{path}: from an earlier time, not part of this estimate; delete it when you are done with it", err=True
        )
    _tell(worked)


@app.command(short_help="Work a job out and print what there is to settle or to ask.")
def check(
    job: JobPath,
    as_json: Annotated[bool, typer.Option("--json", help="Print the findings as JSON.")] = False,
) -> None:
    """Work a job out and print its findings: what to settle before buying, what to ask, notes, what was not checked.

    Ends with 1 where something has to be settled before buying, else with 0.

    Example:  studbay check my-shed
    """
    from estimator.documents.findings import as_data, as_text

    worked = _worked_out(job)
    typer.echo(as_data(worked.findings) if as_json else as_text(worked.findings), nl=False)
    if any(finding.level == "stop" for finding in worked.findings):
        raise typer.Exit(FOUND_A_STOP)


def _worked_out(path: Path) -> "Estimate":
    """The estimate of the job at `path`; ends the command with every problem told where it cannot be worked out."""
    from estimator.catalogue.read import read_catalogue
    from estimator.estimate import estimate as work_out
    from estimator.job.crosscheck import crosscheck
    from estimator.job.read import read_job
    from estimator.problems import Refused

    problems: list[Problem] = []
    job = catalogue = None
    try:
        try:
            catalogue = read_catalogue(path if path.is_dir() else path.parent)
        except Refused as refused:
            problems += refused.problems
        try:
            job, notes = read_job(path, catalogue)
            for note in notes:
                typer.echo(str(note), err=True)
        except Refused as refused:
            problems = [*refused.problems, *problems]
        if job is not None and catalogue is not None:
            problems += crosscheck(job, catalogue)
            if not problems:
                return work_out(job, catalogue)
    except Refused as refused:
        problems += refused.problems
    except OSError as error:
        raise _stop(NO_ACCESS, _what_happened(path, error)) from error
    for problem in problems:
        typer.echo(str(problem), err=True)
    raise _stop(BAD_INPUT, f"{len(problems)} problem{'s' if len(problems) != 1 else ''}; nothing was written")


def _what_happened(path: Path, error: OSError) -> str:
    """A sentence for a file that cannot be read: the error's own where it has one of ours, else plain words."""
    if error.strerror is None:
        return str(error)
    return f"{error.filename or path}: cannot be read ({error.strerror})"


def _tell(worked: "Estimate") -> None:
    from estimator.documents.words import LEVEL_TITLES, money

    budget = worked.budget
    head = "Materials only: electrician, fees and hire not in" if budget.materials_only else "Total"
    typer.echo(f"{head}: {money(budget.total, worked.job.currency)} inc VAT", err=True)
    for level, title in LEVEL_TITLES.items():
        count = sum(finding.level == level for finding in worked.findings)
        if count:
            typer.echo(f"{title}: {count}", err=True)


def _stop(code: int, message: str) -> typer.Exit:
    """Say why the command ends, and give the end to raise."""
    typer.echo(f"studbay: {message}", err=True)
    return typer.Exit(code)


def main() -> None:
    """Run the command; Ctrl-C ends it with 130, a closed pipe quietly."""
    gc.disable()  # a short run makes little garbage in rings, and looking for it costs a tenth of its time
    try:
        app()
    except KeyboardInterrupt:
        sys.exit(INTERRUPTED)
    except BrokenPipeError:
        sys.stderr.close()
        sys.exit(NO_ACCESS)
    except OSError as error:
        typer.echo(f"studbay: the result could not be written out ({error.strerror})", err=True)
        sys.stdout = open(os.devnull, "w")  # noqa: PTH123, SIM115  # what is left in its buffer has nowhere to go
        sys.exit(NO_ACCESS)
    finally:
        gc.freeze()  # the system takes all memory back at the end; another tenth goes if rings are sought and taken apart
