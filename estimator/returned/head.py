"""What the head of a returned list says: rows above the headings, or columns that repeat it, go in; labelled cells come out."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from estimator.catalogue.model import Basis
from estimator.returned.cells import Cell, Odd, Row, Value, as_text, plain, shown
from estimator.returned.figures import Unfit
from estimator.returned.headings import Headed
from estimator.returned.pers import basis_words

_LABELS: tuple[tuple[str, str], ...] = (
    ("mark", r"(list|our) mark|mark( of (the )?list)?"),
    ("job", r"job( name| title)?|for|project"),
    ("to", r"to|merchant"),
    ("date", r"date( of (the )?list)?|list date"),
    ("vat", r"prices? (are )?ex or inc( vat)?|ex or inc( vat)?|vat( ex or inc| basis)?"),
    ("good", r"prices? (good|valid|held) until|(good|valid) until|validity"),
    ("priced", r"priced on|date (priced|of (prices|quote|quotation))|(quote|quotation) date"),
    ("by", r"priced by( name( and)? telephone)?|from( name telephone)?|supplier|quoted by"),
    (
        "other",
        r"our reference|reference|wanted by|collect or deliver|access( for the delivery)?|contact( name telephone)?|weight|account or cash|please|trip",
    ),
)
_SENTENCE = re.compile(r"(?:To: (?P<to>.*?)\. )?For: (?P<job>.+)\. Date: (?P<date>\d{4}-\d\d-\d\d)\.?")
_ALL_PRICES = re.compile(
    r"\bprices?\b.*?\b(?P<said>(?:ex|exc|excl|excluding|exclusive|plus|inc|incl|including|inclusive)\b\.?(?: of)? ?vat)\b",
    re.I,
)
_MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
SENTENCE = 200
"""A longer text is not looked through for a sentence."""
REPEATED = ("mark", "job", "to", "date", "vat", "good", "priced")
"""What a table without a head says in columns of its own."""


@dataclass(frozen=True, slots=True)
class Labelled:
    """A value with its label, and the cell that it stands in."""

    label: str
    cell: Cell
    value: Value


def head_of(sheet: Headed) -> tuple[Labelled, ...]:
    """All that the head says, in the order of the sheet; from columns, each different value once."""
    found = [labelled for row in sheet.above for labelled in _of_row(row)]
    for holds in REPEATED:
        seen: dict[str, None] = {}
        for row in sheet.below:
            cell = sheet.cell(row, holds) if sheet.cell(row, "line") is not None else None
            if cell is not None and cell.text not in seen:
                seen[cell.text] = None
                found.append(Labelled(holds, cell, cell.value))
    return (*found, *_sentences((*sheet.above, *_unnumbered(sheet))))


def _unnumbered(sheet: Headed) -> Iterable[Row]:
    return (row for row in sheet.below if sheet.cell(row, "line") is None)


def label_of(text: str) -> str | None:
    """What a text is the label of; None for one that is no label."""
    words = plain(text)
    return next((label for label, pattern in _LABELS if re.fullmatch(pattern, words)), None)


def _of_row(row: Row) -> list[Labelled]:
    cells = [row.cells[at] for at in sorted(row.cells)]
    found = []
    for index, cell in enumerate(cells):
        if not isinstance(cell.value, str):
            continue
        sentence = _SENTENCE.fullmatch(cell.text)
        if sentence:
            found += [Labelled(label, cell, text) for label, text in sentence.groupdict().items() if text]
            continue
        label = label_of(cell.text)
        if label is not None and index + 1 < len(cells) and label_of(cells[index + 1].text) is None:
            found.append(Labelled(label, cells[index + 1], cells[index + 1].value))
        elif label is None and ":" in cell.text:
            before, _, after = cell.text.partition(":")
            inside = label_of(before)
            if inside is not None and after.strip():
                found.append(Labelled(inside, cell, after.strip()))
    return [one for one in found if one.label != "other"]


def said_vat(text: str) -> str | None:
    """Ex or inc VAT as a sentence has it, such as "All prices exclude VAT" or "VAT extra"; None for any other text."""
    if len(text) > SENTENCE:
        return None
    said = _ALL_PRICES.search(re.sub(r"exclud(es?|ed)", "excluding", re.sub(r"includ(es?|ed)", "including", text)))
    if said:
        return said["said"]
    alone = re.sub(r"^all (prices )?(are )?", "", text, flags=re.I)
    return alone if basis_words(alone) else None


def _sentences(rows: Iterable[Row]) -> list[Labelled]:
    """Sentences such as "All prices exclude VAT" or "prices plus VAT", anywhere outside the lines."""
    found = []
    for cell in (row.cells[at] for row in rows for at in sorted(row.cells)):
        said = said_vat(cell.text) if isinstance(cell.value, str) else None
        if said is not None and label_of(cell.text) is None and ":" not in cell.text:
            found.append(Labelled("vat", cell, said))
    return found


def basis_of(value: Value) -> Basis | Unfit:
    """Ex or inc VAT, from what was filled in."""
    text = as_text(value)
    said = re.sub(r"^(all )?prices?( are)? ", "", text, flags=re.I)
    return basis_words(said) or Unfit(f"{shown(text)} says neither ex nor inc VAT", "write ex or inc")


def day_of(value: Value) -> date | Unfit:
    """A day: as a spreadsheet keeps it, year first, or with the month in letters; 5/10/2026 may be read in two ways."""
    if isinstance(value, date):
        return value
    text = as_text(value)
    wrong = Unfit(f"{shown(text)} is no date", "write it year first, as in 2026-10-31")
    if isinstance(value, Odd):
        return wrong
    year_first = re.fullmatch(r"(\d{4})-(\d\d)-(\d\d)", text)
    worded = re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th)? ([A-Za-z]{3})[a-z]* (\d{4})", text)
    figures = re.fullmatch(r"(\d{1,2})[/.-](\d{1,2})[/.-](\d{4})", text)
    if year_first:
        parts = (int(year_first[1]), int(year_first[2]), int(year_first[3]))
    elif worded and worded[2].casefold() in _MONTHS:
        parts = (int(worded[3]), _MONTHS.index(worded[2].casefold()) + 1, int(worded[1]))
    elif figures:
        day, month, year = int(figures[1]), int(figures[2]), int(figures[3])
        if day <= 12 and month != day:
            return Unfit(
                f"{shown(text)} may be read in two ways", f"write it year first, as in {year}-{month:02}-{day:02}"
            )
        parts = (year, month, day)
    else:
        return wrong
    try:
        return date(*parts)
    except ValueError:
        return wrong
