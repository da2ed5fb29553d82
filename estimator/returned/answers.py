"""What one row answers: a row and the line of ours that it belongs to go in, an answer, problems and what is told come out."""

from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.documents.list_words import pack_words
from estimator.problems import Place, Problem
from estimator.returned.asked import AskedLine
from estimator.returned.cells import Cell, Odd, shown
from estimator.returned.figures import Figure, Per, Unfit, figure
from estimator.returned.match import Found, other_trade_name
from estimator.returned.model import Answer, Status, Told
from estimator.returned.notes import Note, note_of
from estimator.returned.settle import Offer, Settled, settle

CODE_LETTERS = frozenset("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 ./-_+")


@dataclass(frozen=True, slots=True)
class Terms:
    """What holds for a whole list: the currency, the basis of each sheet by name, and VAT rates by part."""

    currency: str
    basis: dict[str, Basis | None]
    vat_rates: dict[str, Decimal]


@dataclass(frozen=True, slots=True)
class Said:
    """What the merchant wrote to one line: figures with the cells that they stand in, what they are for, and the note."""

    unit: Figure | None
    total: Figure | None
    unit_place: Place
    total_place: Place
    heading: Per | None
    note: Note
    stock: str
    code: str
    place: Place
    basis: Basis | None


def answer_row(found: Found, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    """The answer of a row that is our line as it stands."""
    read = _read_cells(found, line, terms)
    if isinstance(read, list):
        return bare(line, "unreadable", found.row.place), read, []
    said, told = read
    other = other_trade_name(found, line)
    if other is not None:
        words = f"{other.text}, where {shown(line.trade_name)} was asked for"
        return replace(bare(line, "another", other.place), said=words), [], told
    answer, problems, more = answer_said(said, line, terms)
    return answer, problems, [*told, *more]


def _read_cells(found: Found, line: AskedLine, terms: Terms) -> tuple[Said, list[Told]] | list[Problem]:
    sheet, row, wrong, figures = found.sheet, found.row, [], {}
    for holds in ("price", "total"):
        filled = [row.cells[of.column] for of in sheet.of(holds) if of.column in row.cells]
        if len(filled) > 1:
            names = " and ".join(shown(sheet.heading_of(cell)) for cell in filled)
            wrong.append(_problem(filled[0].place, line, Unfit(f"both {names} may be the price", "leave one of them")))
        elif filled:
            taken = figure(filled[0].value, terms.currency)
            if isinstance(taken, Unfit):
                wrong.append(_problem(filled[0].place, line, taken))
            else:
                figures[holds] = (taken, filled[0])
    if wrong:
        return wrong
    unit, total = figures.get("price"), figures.get("total")
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
    )
    return said, []


def _code(cell: Cell | None, line: AskedLine) -> str:
    """Their own code, where it is one; text that a spreadsheet could run is none."""
    text = cell.text if cell is not None and not isinstance(cell.value, Odd) else ""
    good = text and len(text) <= 40 and set(text) <= CODE_LETTERS and text[0].isalnum()
    return text if good and text != line.code else ""


def answer_said(said: Said, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    """The answer in figures, or in words, to one line."""
    figures = [of for of in (said.unit, said.total) if of is not None]
    priced = [of for of in figures if of.money is not None]
    worded = [of for of in figures if of.money is None and of.status != "no-price"]
    if said.note.another or any(of.status == "another" for of in worded):
        return replace(bare(line, "another", said.place), said=_all_said(said)), [], []
    if priced and worded:
        both = Unfit(f"{shown(worded[0].said)} and {shown(priced[0].said)} stand side by side", "leave one of them")
        return bare(line, "unreadable", said.place), [_problem(said.unit_place, line, both)], []
    if not priced:
        return _in_words(said, line, worded), [], []
    return _priced(said, line, terms)


def _all_said(said: Said) -> str:
    """All that the merchant wrote to a line, prices and note."""
    figures = (of.said for of in (said.unit, said.total) if of is not None)
    return "; ".join(words for words in (*figures, said.note.text) if words)


def _in_words(said: Said, line: AskedLine, worded: list[Figure]) -> Answer:
    answer = worded[0] if worded else said.note.answer
    status: Status = answer.status if answer is not None else "no-price"
    words = "; ".join(of for of in (answer.said if answer else "", said.note.text, said.stock) if of)
    return replace(bare(line, status, said.place), said="; ".join(dict.fromkeys(words.split("; "))))


def _priced(said: Said, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    place = said.unit_place if said.unit is not None and said.unit.money is not None else said.total_place
    unread = bare(line, "unreadable", place)
    if _other_pack(said.note.offer, line):
        return replace(bare(line, "another", place), said=_all_said(said)), [], []
    per = _per(said)
    if isinstance(per, Unfit):
        return unread, [_problem(place, line, per)], []
    basis = _basis(said)
    if isinstance(basis, Unfit):
        return unread, [_problem(place, line, basis)], []
    settled = settle(line, _money(said.unit), _money(said.total), per, said.note.offer, terms.vat_rates[line.part])
    if isinstance(settled, Unfit):
        return unread, [_problem(place, line, settled)], []
    answer = Answer(
        line.number,
        line.part,
        line.words,
        line.pack_words if settled.pack == line.pack or line.cut else pack_words(settled.pack, line.unit),
        line.quantity,
        "priced",
        settled.pack,
        settled.packs,
        settled.price,
        basis,
        "; ".join(of for of in (said.note.text, said.stock) if of),
        said.code,
        line.match,
        place,
    )
    return answer, [], _told(said, line, settled, place)


def _told(said: Said, line: AskedLine, settled: Settled, place: Place) -> list[Told]:
    notes = [settled.told] if settled.told else []
    if line.pack is not None and not line.cut and settled.pack != line.pack:
        notes.append(f"in packs of {settled.pack.normalize():f}, where {shown(line.pack_words)} was asked for")
    held = settled.pack * settled.packs
    ours = line.cut or (settled.pack, settled.packs) == (line.pack, line.packs)
    if settled.packs and held < line.quantity and not ours:
        short = f"{settled.packs} x {settled.pack.normalize():f} is {held.normalize():f} {line.unit}"
        notes.append(f"{short}, less than the {line.quantity.normalize():f} asked for")
    if said.unit is not None and said.unit.pence:
        notes.append(f"{shown(said.unit.said)} is read as pence")
    return [Told(place, f"line {line.number}: {note}") for note in notes]


def _other_pack(offer: Offer, line: AskedLine) -> bool:
    """Whether the note names another pack than ours and nothing says that the price is for that one."""
    if line.pack is None or line.cut or offer.pack in (None, line.pack):
        return False
    return not offer.counted


def _money(of: Figure | None) -> Figure | None:
    return of if of is not None and of.money is not None else None


def _per(said: Said) -> Per | Unfit | None:
    """What the unit price is for: beside the price, in the note, or by the heading, in that order; two that differ are asked."""
    if said.total is not None and said.total.per is not None and said.total.money is not None:
        return Unfit(
            f"{shown(said.total.said)} under the line price", "write the price of all packs there, and nothing else"
        )
    beside, noted = (said.unit.per if said.unit is not None else None), said.note.per
    if (
        beside is not None
        and noted is not None
        and (beside.kind, beside.units, beside.measure) != (noted.kind, noted.units, noted.measure)
    ):
        return Unfit(f"{shown(beside.said)} beside the price, and {shown(noted.said)} in the note", "leave one of them")
    return beside or noted or said.heading


def _basis(said: Said) -> Basis | Unfit | None:
    """Ex or inc: beside the price, in the note, or as the list has it."""
    own = list(
        dict.fromkeys(
            of for of in (said.unit and said.unit.basis, said.total and said.total.basis, said.note.basis) if of
        )
    )
    if len(own) > 1:
        return Unfit("both ex and inc VAT are written beside it", "write both prices ex VAT, or both inc VAT")
    return own[0] if own else said.basis


def bare(line: AskedLine, status: Status, place: Place) -> Answer:
    """An answer without a price."""
    pack = line.pack or Decimal(1)
    return Answer(
        line.number,
        line.part,
        line.words,
        line.pack_words,
        line.quantity,
        status,
        pack,
        line.packs,
        None,
        None,
        "",
        "",
        line.match,
        place,
    )


def _problem(place: Place, line: AskedLine, unfit: Unfit) -> Problem:
    return Problem(place, f"line {line.number}", unfit.found, unfit.write)
