"""What is worth knowing of a returned list: its sheets and head go in, remarks with their places come out."""

from collections.abc import Iterable, Sequence
from datetime import date

from estimator.documents.list_model import SHELVES
from estimator.returned.cells import Cell, plain
from estimator.returned.head import Labelled, day_of
from estimator.returned.headings import Headed
from estimator.returned.match import numbered
from estimator.returned.model import Told

NOTES_TOLD = 10


def of_head(head: Iterable[Labelled], ours: date) -> list[Told]:
    """Who priced the list, and that it is of another day than the job now is."""
    told = []
    for of in head:
        if of.label == "by":
            told.append(Told(of.cell.place, f"priced by {of.cell.text}"))
        day = day_of(of.value) if of.label == "date" else None
        if isinstance(day, date) and day != ours:
            told.append(
                Told(
                    of.cell.place,
                    f"the list is of {day.isoformat()}, and the job now of {ours.isoformat()}",
                )
            )
    return list({one.text: one for one in reversed(told)}.values())[::-1]


def of_formulas(sheets: Iterable[Headed]) -> list[Told]:
    """Figures that were worked out by a formula: told once for each column."""
    told = []
    for sheet in sheets:
        for holds in ("price", "total"):
            cells = [cell for row in sheet.below if (cell := sheet.cell(row, holds)) is not None and cell.formula]
            if cells:
                told.append(Told(cells[0].place, _formula_words(cells)))
    return told


def _formula_words(cells: Sequence[Cell]) -> str:
    if len(cells) == 1:
        return f"a formula; the value stored beside it, {cells[0].text}, is taken"
    return f"a formula, as are {len(cells) - 1} more below it; the values stored beside them are taken"


def of_extras(sheets: Iterable[Headed]) -> list[Told]:
    """Rows that are no lines: what stands in them is told, and never taken for a price."""
    ours = {plain(shelf) for shelf in SHELVES}
    told = []
    for sheet in sheets:
        headings = {plain(of.text) for of in sheet.headings}
        lines = {found.row.number for found in numbered(sheet)}
        for row in sheet.below:
            texts = [row.cells[at].text for at in sorted(row.cells)]
            known = {plain(text) for text in texts}
            if row.number in lines or known <= ours or known <= headings:
                continue
            told.append(Told(row.place, f"no line of the list, not taken: {' '.join(texts)[:120]}"))
    return (
        told
        if len(told) <= NOTES_TOLD
        else [
            *told[:NOTES_TOLD],
            Told(told[NOTES_TOLD].place, f"and {len(told) - NOTES_TOLD} more rows that are no lines"),
        ]
    )
