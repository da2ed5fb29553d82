"""Measured lengths beside the job: a filled-in `as-built.csv` goes in, its rows join the `[[as_built]]` of the tree.

The file has the columns from, to, circuit, run and length, in any order, under one header row; circuit and run may be
left out, and other columns are for the user's own notes. It is read as the job is: a length has its unit, and what is
wrong is told with the file's name and row. A row whose length is empty has not been measured and says nothing, so that
a list of all legs can be printed, filled in as the cable goes in, and read at any time. Its rows come after those of
the job file; a leg that stands in both is a leg measured twice.
"""

import csv
from collections.abc import Sequence
from io import StringIO
from pathlib import Path

from estimator.job.tree import Path as Way
from estimator.job.tree import Tree
from estimator.problems import Place, Problem

FILE_NAME = "as-built.csv"
KEY = "as_built"
COLUMNS = ("from", "to", "circuit", "run", "length")
NEEDED = ("from", "to", "length")
HEADER = f"write a header row: {','.join(COLUMNS)}"

Row = tuple[int, list[str]]
"""The line a row begins in, and its cells."""


def with_measured(tree: Tree, file: Path) -> tuple[Tree, tuple[Problem, ...]]:
    """The tree with the rows of `file` (where there is such a file), and what is wrong with the file as a whole.

    Raises OSError where the file is there and cannot be read.
    """
    given = tree.data.get(KEY, [])
    if not file.is_file() or not isinstance(given, list):
        return tree, ()
    rows, problems = _rows(file.read_bytes(), str(file))
    if problems:
        return tree, problems
    places: dict[Way, Place] = {}
    items: list[dict[str, str]] = []
    for line, cells in rows:
        way, place = (KEY, len(given) + len(items)), Place(str(file), line)
        places[way] = place
        places.update(((*way, column), place) for column in cells)
        items.append(cells)
    data = {**tree.data, KEY: [*given, *items]} if items else tree.data
    return Tree(data, tree.file, {**tree.places, **places}, {**tree.key_places, **places}), ()


def _rows(data: bytes, name: str) -> tuple[list[tuple[int, dict[str, str]]], tuple[Problem, ...]]:
    """The measured rows, each with its line, by column."""
    lines, problems = _lines(data, name)
    if problems:
        return [], problems
    if not lines:
        return [], (Problem(Place(name), "", "the file is empty", HEADER),)
    header = [cell.strip() for cell in lines[0][1]]
    problems = _header_problems(header, name) or _too_many(lines, header, name)
    rows = [(line, _by_column(header, cells)) for line, cells in lines[1:]]
    return [(line, cells) for line, cells in rows if "length" in cells], problems


def _lines(data: bytes, name: str) -> tuple[list[Row], tuple[Problem, ...]]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"the byte {data[error.start]:#04x} is not UTF-8"
        return [], (Problem(Place(name, line), "", found, 'save the file again as "CSV UTF-8"'),)
    reader = csv.reader(StringIO(text, newline=""), strict=True)
    lines: list[Row] = []
    before = 0
    try:
        for cells in reader:
            lines.append((before + 1, cells))
            before = reader.line_num
    except csv.Error as error:
        found = f"the quotes do not match ({error})"
        return [], (Problem(Place(name, before + 1), "", found, 'write "" for a quote inside a quoted text'),)
    return lines, ()


def _header_problems(header: Sequence[str], name: str) -> tuple[Problem, ...]:
    place = Place(name, 1)
    for mark, word in ((";", "semicolons"), ("\t", "tabs")):
        if len(header) == 1 and mark in header[0]:
            found = f"the columns are parted by {word}"
            return (Problem(place, "", found, "save the file again as CSV with commas"),)
    twice = [heading for heading in dict.fromkeys(header) if heading in COLUMNS and header.count(heading) > 1]
    missing = [column for column in NEEDED if column not in header]
    return (
        *(Problem(place, column, "this heading stands twice", "keep one of the two columns") for column in twice),
        *(Problem(place, column, "this column is missing", HEADER) for column in missing),
    )


def _too_many(lines: Sequence[Row], header: Sequence[str], name: str) -> tuple[Problem, ...]:
    return tuple(
        Problem(
            Place(name, line),
            "",
            f"{len(cells)} cells under {len(header)} headings",
            "put a text that holds a comma in quotes",
        )
        for line, cells in lines[1:]
        if any(cell.strip() for cell in cells[len(header) :])
    )


def _by_column(header: Sequence[str], cells: Sequence[str]) -> dict[str, str]:
    pairs = zip(header, (cell.strip() for cell in cells), strict=False)
    return {column: cell for column, cell in pairs if column in COLUMNS and cell}
