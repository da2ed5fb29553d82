"""The command `studbay`: it reads, calls the stages, writes, and says what it did; no rule of the trade lives here."""

import gc
import os
import sys
from pathlib import Path
from typing import Annotated

import typer

from estimator.commands.common import (
    FOUND_A_STOP,
    INTERRUPTED,
    NO_ACCESS,
    out_folder,
    tell,
    tell_left,
    worked_out,
    write,
)

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
Out = Annotated[
    Path | None,
    typer.Option("--out", "-o", metavar="FOLDER", help="Where to write; the folder out in the job's when not given."),
]


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
    """Start a job: write a commented job file, the price files you edit and a list of all codes into FOLDER.

    Example:  studbay new my-shed
    """
    from estimator.commands.starting import new as start

    start(folder)


@app.command(short_help="Work a job out and write the quote, the bill, the lists and the data.")
def estimate(
    job: JobPath,
    out: Out = None,
    as_json: Annotated[
        bool, typer.Option("--json", help="Print estimate.json instead of the names of the files.")
    ] = False,
) -> None:
    """Work a job out and write the quote, the bill of quantities, a shopping list for each merchant and the data.

    Example:  studbay estimate my-shed -o /tmp/my-shed
    """
    from estimator.documents.everything import render
    from estimator.documents.shopping import asked_for

    worked, folder = worked_out(job).estimate, out_folder(job, out)
    files = render(worked)
    made = write(folder, files, asked_for(worked, blank=False))
    if as_json:
        typer.echo(files["estimate.json"].decode(), nl=False)
    else:
        for path in made:
            typer.echo(str(path))
    tell_left(folder, files, "shopping-list-")
    tell(worked)


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

    worked = worked_out(job).estimate
    typer.echo(as_data(worked.findings) if as_json else as_text(worked.findings), nl=False)
    if any(finding.level == "stop" for finding in worked.findings):
        raise typer.Exit(FOUND_A_STOP)


@app.command("list", short_help="Write the shopping lists, to be handed over and priced.")
def list_(
    job: JobPath,
    out: Out = None,
    blank: Annotated[
        bool,
        typer.Option("--blank", help="One list of everything for each kind of counter, for asking several merchants."),
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the lines instead of the names of the files.")] = False,
) -> None:
    """Write the shopping lists: what we decided to buy at each merchant, or with --blank everything, for a price.

    A list that someone wrote into is never overwritten: it is kept under another name, and you are told.

    Example:  studbay list my-shed --blank
    """
    from estimator.documents.shopping import asked_for, list_files, lists_data

    worked, folder = worked_out(job).estimate, out_folder(job, out)
    files = list_files(worked, blank)
    made = write(folder, files, asked_for(worked, blank))
    if as_json:
        typer.echo(lists_data(worked, blank), nl=False)
    else:
        for path in made:
            typer.echo(str(path))
    tell_left(folder, files, "to-be-priced-" if blank else "shopping-list-")


@app.command(short_help="Read a list back that a merchant has priced, and say what changed.")
def prices(
    job: JobPath,
    files: Annotated[
        list[str] | None,
        typer.Argument(metavar="[NAME=]FILE...", help="Lists that came back (xlsx, csv, text); - for pasted lines."),
    ] = None,
    merchant: Annotated[str, typer.Option("--merchant", metavar="NAME", help="Whose prices they are.")] = "",
    of: Annotated[
        str,
        typer.Option("--list", metavar="LIST", help="The list that was priced, or its mark, where it does not say."),
    ] = "",
    vat: Annotated[
        str, typer.Option("--vat", metavar="ex|inc", help="Whether VAT is in, where the list does not say.")
    ] = "",
    priced_on: Annotated[
        str, typer.Option("--priced-on", metavar="DATE", help="The day of the prices, year-month-day.")
    ] = "",
    typed: Annotated[
        list[str] | None, typer.Option("--price", metavar="PART@PACK=PRICE", help="One price, as te-2.5@100=48.00.")
    ] = None,
    accept: Annotated[
        list[str] | None,
        typer.Option("--accept", metavar="LINE", help="A line whose price, note or pack is right: 7, or 3,7-9."),
    ] = None,
    write_them: Annotated[
        bool, typer.Option("--write", help="Add the new prices to prices.csv beside the job.")
    ] = False,
    as_json: Annotated[bool, typer.Option("--json", help="Print the result as JSON.")] = False,
) -> None:
    """Read a list back that a merchant has priced: what changed, what was not priced, what has to be asked.

    Several lists are compared, with the best split between the merchants. Nothing is guessed, and nothing is written
    without --write; the merchant's file is never changed. With --write a later price that is there stays, what they
    sell no more goes out, and you are told what the whole job comes to.

    Example:  studbay prices my-shed north=list-from-north.xlsx --priced-on 2026-11-02 --write
    """
    from estimator.commands.pricing import prices as read_back
    from estimator.returned.read import Wishes
    from estimator.returned.run import Options

    wishes = Wishes(merchant, of, vat, priced_on)
    read_back(job, files or (), Options(wishes, tuple(typed or ()), tuple(accept or ()), write_them), as_json)


@app.command(short_help="Price scenarios, the next one, later, and what a limit buys.")
def compare(
    job: JobPath,
    change: Annotated[
        list[str] | None, typer.Option("--change", metavar="ADDRESS=VALUE", help="A value to change; may be repeated.")
    ] = None,
    remove: Annotated[
        list[str] | None, typer.Option("--remove", metavar="ADDRESS", help="A thing to take out; may be repeated.")
    ] = None,
    each: Annotated[
        list[str] | None,
        typer.Option("--each", metavar="ADDRESS=FIRST..LAST", help="Price every whole number of a range."),
    ] = None,
    within: Annotated[
        str | None, typer.Option("--within", metavar="MONEY", help="What may be spent, inc VAT: what that buys.")
    ] = None,
    scenario: Annotated[
        list[str] | None,
        typer.Option("--scenario", metavar="NAME", help="Only this scenario of the job file; may be repeated."),
    ] = None,
    out: Out = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the comparison as JSON.")] = False,
) -> None:
    """Price changes beside the job as it stands: what each costs now, what later, and how sure the total is.

    Every [[scenario]] of the job file is priced, and what is typed here as one more. Writes compare.html and
    compare.xlsx. --within leaves out groups by their priority, 1 last.

    Example:  studbay compare my-shed --change points.B.on.back=6 --each points.B.on.back=3..8
    """
    from estimator.commands.comparing import compare as side_by_side

    side_by_side(job, change or (), remove or (), each or (), within, scenario or (), out, as_json)


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
