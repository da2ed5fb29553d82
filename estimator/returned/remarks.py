"""What is worth knowing of a returned list: its sheets and head go in, remarks with their places come out."""

from collections.abc import Container, Iterable, Sequence
from datetime import date

from estimator.documents.list_model import SHELVES
from estimator.returned.cells import Cell, Odd, plain, shown
from estimator.returned.extra_rows import extra_words
from estimator.returned.head import Labelled, day_of
from estimator.returned.headings import Headed, address_of
from estimator.returned.match import Found, numbered
from estimator.returned.model import Told

NOTES_TOLD, FORMULAS_TOLD = 10, 5
"""So many rows, and so many formulas, are told one by one; of more, the rest is counted."""
UNSAVED = "the column {} holds formulas whose results were not saved: passed over where a price of one pack stands"


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
    """Figures that were worked out by a formula: told once for each column. One without a figure is a problem of its line."""
    told = []
    for sheet in sheets:
        for holds in ("price", "total"):
            cells = [cell for row in sheet.below if (cell := sheet.cell(row, holds)) is not None and cell.formula]
            saved = [cell for cell in cells if not isinstance(cell.value, Odd)]
            if saved:
                told.append(Told(saved[0].place, _formula_words(saved)))
            if holds == "total" and len(saved) < len(cells):
                told.append(Told(sheet.row.place, UNSAVED.format(sheet.named(sheet.of("total")[0]))))
    return told


def _formula_words(cells: Sequence[Cell]) -> str:
    """The same for one or many: the figure that was saved is taken, since the formula is not worked out here."""
    if len(cells) == 1:
        return f"a formula; the figure saved with it, {cells[0].text}, is taken. If it is not right, type the price over it"
    few = ", ".join(f"{cell.text} in {cell.address}" for cell in cells[:FORMULAS_TOLD])
    more = f" and {len(cells) - FORMULAS_TOLD} more" if len(cells) > FORMULAS_TOLD else ""
    return f"formulas; the figures saved with them are taken: {few}{more}. If one is not right, type the price over it"


def of_columns(sheets: Iterable[Headed]) -> list[Told]:
    """Columns that were filled in on lines and are not read, with the addresses of their headings."""
    told = []
    for sheet in sheets:
        odd: dict[int, Cell] = {}
        for found in numbered(sheet):
            for cell in sheet.unread(found.row):
                odd.setdefault(cell.column, cell)
        heads = [
            f"{shown(sheet.row.cells[at].text)} ({sheet.row.cells[at].address})" for at in odd if at in sheet.row.cells
        ]
        if heads:
            told.append(
                Told(sheet.row.place, f"not read: the column{'s' if len(heads) > 1 else ''} {', '.join(heads)}")
            )
        bare = [cell for at, cell in odd.items() if at not in sheet.row.cells]
        if bare:
            every = [
                cell
                for found in numbered(sheet)
                for cell in sheet.unread(found.row)
                if cell.column not in sheet.row.cells
            ]
            few = ", ".join(f"{cell.text} in {_spot(cell)}" for cell in every[:FORMULAS_TOLD])
            cells = few + (f" and {len(every) - FORMULAS_TOLD} more" if len(every) > FORMULAS_TOLD else "")
            above = address_of(sheet.row, bare[0])
            do = f'if they are prices, write "Price of one pack" above them, {above}'
            told.append(Told(bare[0].place, f"not read: figures in a column without a heading: {cells}; {do}"))
        told += _passed_over(sheet)
    return told


def _spot(cell: Cell) -> str:
    """A cell's address; in a text file, its row."""
    return f"row {cell.place.line}" if cell.place.line else cell.address


def _passed_over(sheet: Headed) -> list[Told]:
    """Columns of money that are not taken, since another counts."""
    words = {
        "list": "before discount, not taken",
        "inc": "inc VAT, not taken: the one ex VAT is",
    }
    taken = {of.holds for of in sheet.headings}
    return [
        Told(sheet.row.cells[of.column].place, f"the column {sheet.named(of)} is {words[of.holds]}")
        for of in sheet.headings
        if of.holds in words and taken & {"price", "total"}
    ]


def of_extras(sheets: Iterable[Headed], lines: Container[int] = ()) -> list[Told]:
    """Rows that are no lines: what stands in them is told, with what to do, and never taken for a price.

    `lines` are the numbers that the list has: a row with another number is told only where it is carriage or the like.
    """
    ours = {plain(shelf) for shelf in SHELVES}
    told: list[Told] = []
    money: list[Told] = []
    for sheet in sheets:
        headings = {plain(of.text) for of in sheet.headings}
        known_rows = {found.row.number for found in numbered(sheet) if not is_extra(found, lines)}
        for row in sheet.below:
            texts = [row.cells[at].text for at in sorted(row.cells)]
            known = {plain(text) for text in texts}
            if row.number in known_rows or known <= ours or known <= headings:
                continue
            said = " ".join(texts)
            write = extra_words(said)
            one = Told(row.place, f"no line of the list, not taken: {said[:120]}{f'; {write}' if write else ''}")
            (money if write else told).append(one)
    rest = len(told) - NOTES_TOLD
    few = (
        told
        if rest <= 0
        else [*told[:NOTES_TOLD], Told(told[NOTES_TOLD].place, f"and {rest} more rows that are no lines")]
    )
    return [*money, *few]


def is_extra(found: Found, lines: Container[int]) -> bool:
    """Whether a row with a number is none of ours, but carriage, a discount, VAT or a total that the merchant numbered."""
    if found.number in lines:
        return False
    return extra_words(" ".join(found.row.cells[at].text for at in sorted(found.row.cells))) is not None
