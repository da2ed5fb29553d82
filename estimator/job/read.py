"""The door to the job: a file, a text or a tree of values -> the frozen `Job` and notes, or every problem at once.

A reader of another kind of file makes a `Tree` and hands it to `read_tree`: all checks are behind that.
"""

from pathlib import Path

from estimator.catalogue.model import Catalogue
from estimator.job import rules
from estimator.job.build import build
from estimator.job.form import check_form
from estimator.job.measured import FILE_NAME as MEASURED
from estimator.job.measured import with_measured
from estimator.job.model import Job
from estimator.job.names import unknown_names
from estimator.job.text import read_bytes, read_text
from estimator.job.tree import Tree
from estimator.memory import NOTHING, Memory
from estimator.problems import Problem, Refused

FILE_NAME = "job.toml"


class Unreadable(OSError):
    """There is no job file to be read; says in plain words where it was looked for."""


def read_job(path: Path, catalogue: Catalogue | None = None) -> tuple[Job, tuple[Problem, ...]]:
    """The job in a folder, or in a file, and notes on keys that have no effect yet; `as-built.csv` beside it joins in.

    With a catalogue, the names that the job takes from it are looked up as well.

    Raises Refused with every problem of the files, in their order, and Unreadable where there is no file to read.
    """
    tree, problems = job_tree(path)
    return _read(tree, problems, catalogue, NOTHING)


def job_tree(path: Path) -> tuple[Tree, tuple[Problem, ...]]:
    """The plain values of the job in a folder, or in a file, and what is wrong with the file of measured lengths.

    Raises Refused where the file is no TOML, and Unreadable where there is no file to read.
    """
    file = path / FILE_NAME if path.is_dir() else path
    try:
        data = file.read_bytes()
    except FileNotFoundError as error:
        raise Unreadable(f"{file}: there is no such file; studbay new FOLDER makes a folder with one") from error
    except OSError as error:
        raise Unreadable(f"{file}: cannot be read: {error.strerror}") from error
    tree = read_bytes(data, str(file))
    beside = file.parent / MEASURED
    try:
        return with_measured(tree, beside)
    except OSError as error:
        raise Unreadable(f"{beside}: cannot be read: {error.strerror}") from error


def parse_job(text: str, name: str = FILE_NAME, catalogue: Catalogue | None = None) -> tuple[Job, tuple[Problem, ...]]:
    """The job that a text describes, as `read_job` gives it; `name` stands for the file in messages."""
    return read_tree(read_text(text, name), catalogue)


def read_tree(
    tree: Tree, catalogue: Catalogue | None = None, found: tuple[Problem, ...] = (), memory: Memory = NOTHING
) -> tuple[Job, tuple[Problem, ...]]:
    """The job in a tree of plain values; raises Refused with every problem, those `found` before among them.

    Trees that come of one another by changes share rows by a `memory`.
    """
    return _read(tree, found, catalogue, memory)


def _read(
    tree: Tree, found: tuple[Problem, ...], catalogue: Catalogue | None, memory: Memory
) -> tuple[Job, tuple[Problem, ...]]:
    form = check_form(tree)
    names = unknown_names(form.table, catalogue) if catalogue is not None else ()
    problems = (*found, *form.problems, *rules.check(form.table), *names)
    if problems:
        raise Refused(problems)
    notes = (*form.notes, *rules.notes(form.table))
    return build(form.table, memory), tuple(sorted(notes, key=lambda note: note.place))
