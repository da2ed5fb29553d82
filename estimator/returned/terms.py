"""What holds for a whole list: labelled cells of its head and the user's wishes go in; basis, day and merchant come out."""

from collections.abc import Iterable, Sequence
from datetime import date

from estimator.catalogue.model import Basis
from estimator.documents.words import ANY
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.asked import AskedList
from estimator.returned.cells import one_line, shown
from estimator.returned.figures import Unfit
from estimator.returned.head import Labelled, basis_of, day_of
from estimator.returned.headings import Headed

NAME_LETTERS = 60


def basis_by_sheet(
    names: Sequence[str], said: Sequence[tuple[str, Labelled]], sheets: Sequence[Headed], wish: str
) -> tuple[dict[str, Basis | None], list[Problem]]:
    """Ex or inc for every sheet: what it says itself; else what all others say; else what the user says.

    A user who says otherwise than the list is asked.
    """
    problems: list[Problem] = []
    by_sheet: dict[str, Basis | None] = dict.fromkeys(names)
    for name, of in said:
        basis = basis_of(of.value)
        if isinstance(basis, Unfit):
            problems.append(Problem(of.cell.place, "VAT", basis.found, f"{basis.write}, or give --vat ex or --vat inc"))
            continue
        before = by_sheet[name]
        if before is not None and before != basis:
            problems.append(
                Problem(
                    of.cell.place, "VAT", f"{basis} VAT here, {before} VAT elsewhere on the sheet", "leave one of them"
                )
            )
        by_sheet[name] = basis
        if wish and basis != wish:
            problems.append(
                Problem(
                    of.cell.place,
                    "VAT",
                    f"the list says {basis} VAT, and you say {wish}",
                    "leave out --vat, or ask the merchant",
                )
            )
    for sheet in sheets:
        if by_sheet[sheet.sheet.name] is None:
            by_sheet[sheet.sheet.name] = _of_heading(sheet)
    told = {basis for basis in by_sheet.values() if basis is not None}
    common: Basis | None = told.pop() if len(told) == 1 else None
    wished: Basis | None = "ex" if wish == "ex" else "inc" if wish == "inc" else None
    return {name: basis or common or wished for name, basis in by_sheet.items()}, problems


def _of_heading(sheet: Headed) -> Basis | None:
    return next((of.basis for of in sheet.of("price") if of.basis is not None), None)


def good_until(head: Iterable[Labelled]) -> str:
    """Until when the prices hold, in the merchant's words; a date is written year first."""
    texts = []
    for of in head:
        if of.label == "good":
            day = day_of(of.value)
            texts.append(day.isoformat() if isinstance(day, date) else one_line(str(of.value))[:80])
    return "; ".join(dict.fromkeys(texts))


def priced_on(head: Iterable[Labelled], wish: str, file: str) -> tuple[date | None, list[Problem]]:
    """The day of the prices: as the list says, else as the user does; a list and a user that differ are asked."""
    problems: list[Problem] = []
    wished = day_of(wish) if wish else None
    if isinstance(wished, Unfit):
        problems.append(Problem(Place(file), "--priced-on", wished.found, wished.write))
        wished = None
    days: dict[date, Labelled] = {}
    for of in head:
        if of.label == "priced":
            day = day_of(of.value)
            if isinstance(day, Unfit):
                problems.append(Problem(of.cell.place, "priced on", day.found, day.write))
            else:
                days.setdefault(day, of)
    for day, of in days.items():
        if wished is not None and day != wished:
            found = f"the list says {day.isoformat()}, and you say {wished.isoformat()}"
            problems.append(Problem(of.cell.place, "priced on", found, "leave out --priced-on, or ask the merchant"))
    if len(days) > 1:
        both = " and ".join(day.isoformat() for day in days)
        problems.append(Problem(Place(file), "priced on", f"the list says {both}", "leave one of them"))
    return next(iter(days), wished), problems


def still_to_come(
    day: date | None, head: Iterable[Labelled], file: str, ours: date, today: date | None
) -> list[Problem]:
    """The problem of prices of a day that is still to come: later than today and than the job's own day.

    The job's own day counts too, for whoever works ahead of the calendar on purpose; without `today` nothing is said.
    """
    if day is None or today is None or day <= max(ours, today):
        return []
    where = next((of.cell.place for of in head if of.label == "priced"), Place(file))
    found = f"{day.isoformat()} is still to come: today is {today.isoformat()}"
    return [Problem(where, "priced on", found, "give the day on which these prices were given, year first")]


def merchant_of(estimate: Estimate, named: str, asked: AskedList) -> tuple[str, list[tuple[str, str]]]:
    """Whose prices they are: whom the user names, else whose list it was; "" where that is nobody's."""
    if not one_line(named):
        return ("" if asked.merchant in ("", ANY) else asked.merchant), []
    return merchant_named(estimate, named)


def merchant_named(estimate: Estimate, named: str) -> tuple[str, list[tuple[str, str]]]:
    """A merchant's name as the catalogue has it, or as it was given; "" with what is wrong where it is none."""
    name = one_line(named)
    if name.casefold() == ANY:
        return "", [(f"{shown(name)} is no merchant", 'write the merchant\'s name, as in --merchant "North Yard"')]
    if len(name) > NAME_LETTERS:
        return "", [(f"{shown(name)} is too long for a name", f"write at most {NAME_LETTERS} letters")]
    known = {of.casefold(): of for of in estimate.catalogue.merchants}
    return known.get(name.casefold(), name), []
