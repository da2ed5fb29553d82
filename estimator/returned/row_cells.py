"""The cells of one row: a row and the line of ours that it belongs to go in, what was written there comes out, or why not."""

from decimal import Decimal

from estimator.problems import Problem
from estimator.returned.asked import AskedLine
from estimator.returned.asked_pack import coins
from estimator.returned.cells import Cell, Odd, as_text
from estimator.returned.figures import SIGNS, Figure, Unfit, figure
from estimator.returned.headings import Headed
from estimator.returned.match import Found
from estimator.returned.model import Told
from estimator.returned.notes import note_of
from estimator.returned.said import Said, Terms, problem_of

CODE_LETTERS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 ./-_+")

FORMULA_LETTERS = 30
"""So much of a formula is quoted."""


def read_cells(found: Found, line: AskedLine, terms: Terms) -> tuple[Said, list[Told]] | list[Problem]:
    """What stands in a row for its line; every problem of it where there is one."""
    sheet, row, wrong, figures = found.sheet, found.row, [], {}
    for holds in ("price", "total"):
        filled = [row.cells[of.column] for of in sheet.of(holds) if of.column in row.cells]
        if len(filled) > 1:
            wrong.append(_both(sheet, filled))
        elif filled and not (holds == "total" and "price" in figures and unsaved(filled[0])):
            taken = _figure(filled[0], terms.currency)
            if isinstance(taken, Unfit):
                wrong.append(problem_of(filled[0].place, line, taken))
            else:
                figures[holds] = (taken, filled[0])
    unit, total = figures.get("price"), figures.get("total")
    discount = _discount(found, unit[1] if unit else None)
    if discount is not None and unit is not None and not wrong:
        wrong.append(problem_of(unit[1].place, line, discount))
    if wrong:
        return wrong
    heading = next((of.per for of in sheet.of("price") if unit is not None and of.column == unit[1].column), None)
    stock, code = sheet.cell(row, "stock"), sheet.cell(row, "code")
    said = Said(
        unit[0] if unit else None,
        total[0] if total else None,
        unit[1].place if unit else row.place,
        total[1].place if total else row.place,
        heading,
        note_of(sheet, row, line),
        stock.text if stock is not None else "",
        _code(code, line),
        row.place,
        terms.basis.get(sheet.sheet.name),
        sheet.overwritten(row),
    )
    return said, []


def _figure(cell: Cell, currency: str) -> Figure | Unfit:
    if unsaved(cell):
        formula = cell.formula if len(cell.formula) <= FORMULA_LETTERS else f"{cell.formula[:FORMULA_LETTERS]}…"
        return Unfit(
            f"a formula ({formula}) whose result was not saved",
            "type the price, or save the list in a spreadsheet program and give it again",
        )
    if cell.sign and SIGNS[cell.sign] != currency:
        return Unfit(f"{_shown(cell)} is shown in {SIGNS[cell.sign]}", f"write the price in {currency}")
    return figure(cell.value, currency)


def unsaved(cell: Cell) -> bool:
    """Whether a cell holds a formula, and nobody kept what came of it."""
    return bool(cell.formula) and isinstance(cell.value, Odd)


def _both(sheet: Headed, filled: list[Cell]) -> Problem:
    """Two columns that may hold the price: asked once for the sheet, by the cells of their headings."""
    names = " and ".join(sheet.named(of) for cell in filled for of in sheet.headings if of.column == cell.column)
    found = f"both {names} may be the price"
    return Problem(sheet.row.place, "", found, "leave the one that counts, and delete the other column")


def _discount(found: Found, unit: Cell | None) -> Unfit | None:
    """Why a price is not taken where a discount stands in its row, and its heading does not say that it is off."""
    sheet = found.sheet
    cell = sheet.cell(found.row, "discount")
    heading = next((of for of in sheet.of("price") if unit is not None and of.column == unit.column), None)
    if cell is None or heading is None or heading.net or cell.text in ("0", "-", "0%", "0 %", "nil", "nett", "net"):
        return None
    text = f"{as_text(cell.value * 100)} %" if isinstance(cell.value, Decimal) and cell.value < 1 else cell.text
    before = _shown(unit) if unit is not None else ""
    return Unfit(
        f"a discount of {text} stands in {cell.address}: is {before} before or after it?",
        'write the price after it, and call its column "Net price"',
    )


def _shown(cell: Cell) -> str:
    return coins(cell.value) if isinstance(cell.value, Decimal) else cell.text


def _code(cell: Cell | None, line: AskedLine) -> str:
    """Their own code, where it is one; text that a spreadsheet could run is none."""
    text = cell.text if cell is not None and not isinstance(cell.value, Odd) else ""
    good = text and len(text) <= 40 and set(text) <= CODE_LETTERS and text[0].isalnum()
    return text if good and text != line.code else ""
