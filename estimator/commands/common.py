"""What every command needs: a path goes in, the job worked out comes out, or the command ends with every problem told."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from estimator.catalogue.model import Catalogue
    from estimator.documents.list_asked import AskedList
    from estimator.job.tree import Tree
    from estimator.problems import Problem
    from estimator.result import Estimate

DONE, FOUND_A_STOP, BAD_INPUT, NO_ACCESS, INTERRUPTED = 0, 1, 2, 3, 130


@dataclass(frozen=True, slots=True)
class Worked:
    """A job as it stands in its file, the catalogue with the user's own rows, and the estimate of the two."""

    tree: "Tree"
    catalogue: "Catalogue"
    estimate: "Estimate"


def worked_out(path: Path) -> Worked:
    """The job at `path`, worked out; ends the command with every problem told where it cannot be."""
    from estimator.problems import Refused

    problems: list[Problem] = []
    try:
        found = _attempt(path, problems)
        if found is not None:
            return found
    except Refused as refused:
        problems += refused.problems
    except OSError as error:
        raise stop(NO_ACCESS, _what_happened(path, error)) from error
    raise refuse(problems)


def _attempt(path: Path, problems: "list[Problem]") -> Worked | None:
    """The job worked out, or None with the problems of both the catalogue and the job added to `problems`."""
    from estimator.catalogue.read import read_catalogue
    from estimator.estimate import estimate
    from estimator.job.crosscheck import crosscheck
    from estimator.job.read import job_tree, read_tree
    from estimator.problems import Refused

    tree = job = catalogue = None
    try:
        catalogue = read_catalogue(path if path.is_dir() else path.parent)
    except Refused as refused:
        problems += refused.problems
    try:
        tree, measured = job_tree(path)
        job, notes = read_tree(tree, catalogue, measured)
        for note in notes:
            typer.echo(str(note), err=True)
    except Refused as refused:
        problems[:0] = refused.problems
    if job is None or catalogue is None or tree is None:
        return None
    problems += crosscheck(job, catalogue)
    return None if problems else Worked(tree, catalogue, estimate(job, catalogue))


def refuse(problems: "Iterable[Problem]") -> typer.Exit:
    """Tell every problem, and give the end to raise."""
    told = list(problems)
    for problem in told:
        typer.echo(str(problem), err=True)
    return stop(BAD_INPUT, f"{len(told)} problem{'s' if len(told) != 1 else ''}; nothing was written")


def write(folder: Path, files: Mapping[str, bytes], asked: "Sequence[AskedList]" = ()) -> tuple[Path, ...]:
    """Write every file whole or none, and say where a list that someone wrote into was put aside.

    `asked` is what the lists among them ask.
    """
    from estimator.documents.files import write_all

    def kept(old: Path, aside: Path) -> None:
        typer.echo(f"{old}: changed since Studbay wrote it; kept as {aside}", err=True)

    try:
        return write_all(folder, files, kept, asked)
    except OSError as error:
        raise stop(NO_ACCESS, str(error)) from error


def tell_left(folder: Path, files: Iterable[str], start: str) -> None:
    """Name lists of an earlier time that are not among `files`."""
    from estimator.documents.files import left_from_before

    for path in left_from_before(folder, files, start):
        typer.echo(
            f"{path}: from an earlier time, not part of this estimate; delete it when you are done with it", err=True
        )


def out_folder(job: Path, out: Path | None) -> Path:
    """Where the files go: where the user said, or the folder `out` in the job's."""
    return out if out is not None else (job if job.is_dir() else job.parent) / "out"


def tell(worked: "Estimate") -> None:
    """The total and how many findings there are, on stderr."""
    from estimator.documents.words import LEVEL_TITLES, money

    budget = worked.budget
    head = "Materials only: electrician, fees and hire not in" if budget.materials_only else "Total"
    typer.echo(f"{head}: {money(budget.total, worked.job.currency)} inc VAT", err=True)
    for level, title in LEVEL_TITLES.items():
        count = sum(finding.level == level for finding in worked.findings)
        if count:
            typer.echo(f"{title}: {count}", err=True)


def stop(code: int, message: str) -> typer.Exit:
    """Say why the command ends, and give the end to raise."""
    typer.echo(f"studbay: {message}", err=True)
    return typer.Exit(code)


def _what_happened(path: Path, error: OSError) -> str:
    """A sentence for a file that cannot be read: the error's own where it has one of ours, else plain words."""
    if error.strerror is None:
        return str(error)
    return f"{error.filename or path}: cannot be read ({error.strerror})"
