"""Which list of ours came back, and which line of it a row answers: rows and our lists go in, pairs and differences come out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.problems import Problem
from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.cells import Cell, Odd, Row, as_text, plain, shown
from estimator.returned.headings import Headed
from estimator.returned.notes import note_of

FEW = 5
"""So many differences are told one by one; of more, the rest is counted."""
HAND_OVER = "write the prices on the list as it is now: studbay list makes it"
AS_HANDED = "put back what our list said, and write what is other under Note"


@dataclass(frozen=True, slots=True)
class Found:
    """A row with the number that stands on it."""

    sheet: Headed
    row: Row
    number: int


@dataclass(frozen=True, slots=True)
class Difference:
    """Where a row says something else than our line: the cell, what it should say, and under which heading."""

    cell: Cell
    ours: str
    heading: str
    column: str


def numbered(sheet: Headed) -> Iterator[Found]:
    """Rows that have the number of a line."""
    for row in sheet.below:
        cell = sheet.cell(row, "line")
        number = _whole(cell) if cell is not None else None
        if number is not None:
            yield Found(sheet, row, number)


def _whole(cell: Cell) -> int | None:
    if isinstance(cell.value, Decimal):
        return int(cell.value) if cell.value == cell.value.to_integral_value() and 0 < cell.value < 100_000 else None
    text = cell.text.rstrip(".)")
    return (
        int(text) if isinstance(cell.value, str) and text.isascii() and text.isdigit() and 0 < len(text) < 6 else None
    )


def choose(lists: Sequence[AskedList], found: Sequence[Found], to: str) -> AskedList:
    """The list that most rows agree with; of equal ones that which `to` names, then the first.

    Of one merchant's lists that agree equally the one that stands first counts.
    """
    best: dict[str, tuple[int, AskedList]] = {}
    for of in lists:
        agree = agreeing(of, found)
        if of.merchant not in best or agree > best[of.merchant][0]:
            best[of.merchant] = (agree, of)
    named, each = plain(to), list(best.values())
    ranked = [
        (agree, bool(named) and plain(of.to) == named, -len(of.lines), -index, of)
        for index, (agree, of) in enumerate(each)
    ]
    return max(ranked, key=lambda one: one[:4])[4]


def agreeing(of: AskedList, found: Sequence[Found]) -> int:
    """How many rows are as the list has them."""
    lines = ((one, of.line(one.number)) for one in found)
    return sum(line is not None and not differences(one, line) for one, line in lines)


def differences(found: Found, line: AskedLine) -> tuple[Difference, ...]:
    """Cells that say something else than our line; empty ones say nothing.

    The trade name may be another, and where the merchant tells its pack so may the pack: that is an answer.
    """
    sheet, row = found.sheet, found.row
    wanted = [
        *_unlike(sheet, row, line),
        ("size", line.size_finish),
        ("quantity", as_text(line.quantity)),
        ("unit", line.unit),
    ]
    note = note_of(sheet, row, line)
    if line.pack is not None and note.offer.pack is None:
        wanted += [("pack", line.pack_words), ("packs", str(line.packs))]
    return tuple(_different(sheet, row, wanted))


def _unlike(sheet: Headed, row: Row, line: AskedLine) -> list[tuple[str, str]]:
    """What a thing should be called where it is called neither as our table nor as our workbook has it.

    The table says what it is, and its trade name and size in columns of their own; the workbook says all in one.
    """
    cell = sheet.cell(row, "what")
    if cell is None or same(cell, line.what) or same(cell, line.in_one):
        return []
    return [("what", line.what if sheet.of("trade") else line.in_one)]


def other_trade_name(found: Found, line: AskedLine) -> Cell | None:
    """The cell in which a merchant wrote another trade name than ours."""
    other = next(_different(found.sheet, found.row, [("trade", line.trade_name)]), None)
    return other.cell if other is not None and line.trade_name else None


def _different(sheet: Headed, row: Row, wanted: Sequence[tuple[str, str]]) -> Iterator[Difference]:
    for column, ours in wanted:
        cell = sheet.cell(row, column)
        if cell is not None and not same(cell, ours):
            yield Difference(cell, ours, sheet.heading_of(cell), column)


def same(cell: Cell, ours: str) -> bool:
    """Whether a cell says what we wrote; blanks, small and capital letters, and how a number is written do not count."""
    if isinstance(cell.value, Odd):
        return False
    if plain(cell.text) == plain(ours):
        return True
    try:
        return Decimal(cell.text.replace(",", "")) == Decimal(ours.replace(",", ""))
    except ArithmeticError:
        return False


def problems_of(found: Sequence[Found], asked: AskedList, job: str) -> list[Problem]:
    """Rows that are not lines of ours, as they were handed out where that is on record, else as they now stand."""
    wrong = [problem for one in found for problem in _row_problems(one, asked, job)]
    if len(wrong) <= FEW:
        return wrong
    rest = len(wrong) - FEW
    cells = "1 more cell is not as" if rest == 1 else f"{rest} more cells are not as"
    had = f"your list for {job} has {'it' if rest == 1 else 'them'} now"
    more = Problem(wrong[FEW].place, "", f"{cells} {'it was handed out' if asked.handed else had}", _mend(asked))
    return [*wrong[:FEW], more]


def _mend(asked: AskedList) -> str:
    return AS_HANDED if asked.handed else HAND_OVER


def _row_problems(one: Found, asked: AskedList, job: str) -> Iterator[Problem]:
    line = asked.line(one.number)
    if line is None:
        cell = one.sheet.cell(one.row, "line")
        place = cell.place if cell is not None else one.row.place
        lines = ", ".join(str(of.number) for of in asked.lines[-1:])
        whose = f"the list handed out ({asked.mark})" if asked.handed else "your list"
        yield Problem(
            place, f"line {one.number}", f"{whose} has no such line; its last is {lines or 'none'}", _mend(asked)
        )
        return
    for of in differences(one, line)[:1]:
        whose = f"the list handed out ({asked.mark})" if asked.handed else f"your list for {job} now"
        found = f"{shown(of.cell.text)} under {shown(of.heading)}, where {whose} says {shown(of.ours)}"
        hint = (
            'write another pack or article under Note, as in "alt: 2 x 50 m"'
            if of.column in ("pack", "packs")
            else _mend(asked)
        )
        yield Problem(of.cell.place, f"line {one.number}", found, hint)
