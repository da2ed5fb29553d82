"""Text files as sheets of cells: bytes of a CSV file in any usual writing go in, rows with their lines come out."""

import csv
from io import StringIO
from types import MappingProxyType

from estimator.problems import Place, Problem
from estimator.returned.cells import Cell, Row, Sheet, one_line
from estimator.returned.model import Told

MARKS = ((",", "commas"), (";", "semicolons"), ("\t", "tabs"))
FILE_BYTES = 5_000_000
SAVE_AGAIN = 'save the list as .xlsx or as "CSV UTF-8", and give that file'


def read_text(name: str, data: bytes) -> tuple[str, tuple[Told, ...], tuple[Problem, ...]]:
    """The text of a file, and in which writing it was if that is not UTF-8.

    A file without a mark that is no UTF-8 is taken for Windows-1252, as spreadsheets of western Europe write it.
    """
    place = Place(name)
    if len(data) > FILE_BYTES:
        found = f"the file has {-(-len(data) // 1_000_000):,} MB, and a list has less than one"
        return "", (), (Problem(place, "", found, SAVE_AGAIN),)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        tried: tuple[tuple[str, str], ...] = (("utf-16", ""),)
    elif b"\0" in data:
        return "", (), (Problem(place, "", "this is neither text nor a workbook", SAVE_AGAIN),)
    else:
        tried = (("utf-8-sig", ""), ("cp1252", "read as Windows-1252 text; look whether names and signs came through"))
    for writing, note in tried:
        try:
            text = data.decode(writing)
        except UnicodeDecodeError:
            continue
        return text, (Told(place, note),) if note else (), ()
    return "", (), (Problem(place, "", "this text is in no writing that is known here", SAVE_AGAIN),)


def read_table(name: str, text: str, mark: str) -> Sheet | Problem:
    """Rows of cells parted by `mark`; a row's number is the line that it starts on."""
    body, skipped = text, 0
    if text[:4].lower() == "sep=":  # a spreadsheet's note to itself
        _, _, body = text.partition("\n")
        skipped = 1
    reader = csv.reader(StringIO(body, newline=""), delimiter=mark, strict=True)
    rows, before = [], skipped
    try:
        for texts in reader:
            line, before = before + 1, reader.line_num + skipped
            cells = {at: Cell(Place(name, line), at, of) for at, of in enumerate(texts, 1) if one_line(of)}
            if cells:
                rows.append(Row(Place(name, line), line, MappingProxyType(cells)))
    except csv.Error as error:
        found = f"the quotes do not match ({error})"
        return Problem(
            Place(name, before + 1), "", found, 'put a text with a comma in quotes, and write "" for a quote'
        )
    return Sheet("", Place(name), tuple(rows))
