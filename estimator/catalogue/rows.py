"""One CSV text to rows with their places; every fault of the file is a problem with its row and column."""

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from io import StringIO
from typing import Any

from estimator.catalogue.cells import Unfit
from estimator.catalogue.columns import Column, Table
from estimator.problems import Place, Problem, nearest


@dataclass(frozen=True, slots=True)
class Source:
    """A file as it was found: its name as the user would type it, and its bytes."""

    name: str
    data: bytes


@dataclass(frozen=True, slots=True)
class TakenOut:
    """A row that takes out those with its key; an empty last cell of the key stands for all."""

    key: tuple[str, ...]
    place: Place

    def means(self, key: tuple[str, ...]) -> bool:
        """Whether a row with that key is taken out."""
        return all(own in ("", cell) for own, cell in zip(self.key, key, strict=True))


NOT_FOR_SALE = ("", "n/a")


def rows_of(table: Table, source: Source) -> tuple[dict[tuple[str, ...], Any], list[Problem]]:
    """Rows of one file by key (`TakenOut` for one that takes out what stands elsewhere), and what is wrong with it."""
    try:
        text = source.data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = source.data.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{source.data[error.start]:02X} is not UTF-8"
        return {}, [Problem(Place(source.name, line), "", found, 'save the file again as "CSV UTF-8"')]
    reader = csv.reader(StringIO(text, newline=""), strict=True)
    lines: list[tuple[int, list[str]]] = []
    before = 0
    try:
        for cells in reader:
            lines.append((before + 1, cells))
            before = reader.line_num  # the last line of a row that spans several
    except csv.Error as error:
        return {}, [
            Problem(
                Place(source.name, before + 1),
                "",
                f"the quotes do not match ({error})",
                'put a text with a comma or quote in quotes, and write "" for a quote inside',
            )
        ]
    return _read(table, source.name, lines)


def _read(
    table: Table, name: str, lines: list[tuple[int, list[str]]]
) -> tuple[dict[tuple[str, ...], Any], list[Problem]]:
    if not lines:
        return {}, [Problem(Place(name), "", "the file is empty", f"write a header row: {_header(table)}")]
    header = [cell.strip() for cell in lines[0][1]]
    problems = _header_problems(table, name, header)
    if problems:
        return {}, problems
    rows: dict[tuple[str, ...], Any] = {}
    for line, cells in lines[1:]:
        if not any(cell.strip() for cell in cells):
            continue
        place = Place(name, line)
        if len(cells) > len(header) and any(cell.strip() for cell in cells[len(header) :]):
            problems.append(
                Problem(
                    place,
                    "",
                    f"{len(cells)} cells under {len(header)} headings",
                    "put a text that holds a comma in quotes",
                )
            )
            continue
        values = dict(zip(header, (cell.strip() for cell in cells), strict=False))
        _add_row(table, place, values, rows, problems)
    return rows, problems


def _add_row(
    table: Table, place: Place, values: dict[str, str], rows: dict[tuple[str, ...], Any], problems: list[Problem]
) -> None:
    fields: dict[str, Any] = {}
    good = True
    out = bool(table.out) and values.get(table.out, "").casefold() in NOT_FOR_SALE
    for column in _key_columns(table, values) if out else table.columns:
        try:
            fields[column.attribute] = _cell(column, values.get(column.name, ""))
        except Unfit as unfit:
            found = values.get(column.name, "")
            problems.append(Problem(place, column.name, f'"{found}"' if found else "nothing written", str(unfit)))
            good = False
    if not good:
        return
    key = tuple(_told(fields.get(column)) for column in table.key)
    if key in rows:
        first = rows[key].place
        problems.append(
            Problem(
                place,
                ", ".join(table.key),
                f"{', '.join(key)} stands in row {first.line} already",
                "keep one of the two rows",
            )
        )
        return
    rows[key] = TakenOut(key, place) if out else table.row(**fields, place=place)


def _key_columns(table: Table, values: dict[str, str]) -> Iterator[Column]:
    """The columns that say what is taken out: those of the key, the last only where it is filled."""
    for column in table.columns:
        if column.name in table.key and (column.name != table.key[-1] or values.get(column.name, "")):
            yield column


def _told(value: Any) -> str:
    """A cell of a key as text: numbers in one form, nothing as nothing."""
    if value is None:
        return ""
    return f"{value.normalize():f}" if isinstance(value, Decimal) else str(value)


def _cell(column: Column, cell: str) -> Any:
    if cell:
        return column.parse(cell)
    if column.needed:
        raise Unfit(f"fill in {column.name}")
    return column.empty


def _header(table: Table) -> str:
    return ",".join(column.name for column in table.columns)


def _header_problems(table: Table, name: str, header: list[str]) -> list[Problem]:
    place = Place(name, 1)
    for mark, word in ((";", "semicolons"), ("\t", "tabs")):
        if len(header) == 1 and mark in header[0]:
            return [Problem(place, "", f"the columns are parted by {word}", "save the file again as CSV with commas")]
    problems = [
        Problem(place, heading, "this heading stands twice", "keep one of the two columns")
        for heading in dict.fromkeys(header)
        if heading and header.count(heading) > 1
    ]
    for column in table.columns:
        if column.needed and column.name not in header:
            strangers = [heading for heading in header if heading not in {known.name for known in table.columns}]
            near = nearest(column.name, strangers)
            hint = f'; the heading "{near}" may be meant for it' if near else ""
            problems.append(Problem(place, column.name, f"this column is missing{hint}", f"write: {_header(table)}"))
    return problems
