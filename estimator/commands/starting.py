"""The command `new`: a folder goes in, the files of a new job come out in it."""

import shlex
from pathlib import Path

import typer

from estimator.commands.common import BAD_INPUT, NO_ACCESS, stop


def new_files() -> dict[str, str]:
    """The text of every file of a new job, by its name: what the user edits, and a list of all codes to look up."""
    from estimator.catalogue.codes import CODES, codes_text
    from estimator.catalogue.read import read_catalogue
    from estimator.job.starter import starter_files

    return starter_files() | {CODES: codes_text(read_catalogue(None))}


def new(folder: Path) -> None:
    """Write the files and say what comes next; a folder with anything in it is left alone."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise stop(BAD_INPUT, f"{folder}: there is something already; name a folder that is empty or not there yet")
    files = new_files()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, text in files.items():
            (folder / name).write_text(text, encoding="utf-8", newline="")
    except OSError as error:
        raise stop(NO_ACCESS, f"{folder}: cannot be written ({error.strerror})") from error
    for name in files:
        typer.echo(str(folder / name))
    typer.echo(
        f"Open {folder / 'job.toml'} in a text editor, then run:  studbay estimate {shlex.quote(str(folder))}", err=True
    )
