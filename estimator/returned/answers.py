"""What one row answers: a row and the line of ours that it belongs to go in, an answer, problems and what is told come out."""

from dataclasses import replace
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.documents.list_words import pack_words
from estimator.problems import Place, Problem
from estimator.returned.asked import AskedLine
from estimator.returned.asked_pack import Offer, Settled
from estimator.returned.cells import as_text, shown
from estimator.returned.figures import Figure, Unfit
from estimator.returned.match import Found, other_trade_name
from estimator.returned.model import Answer, Status, Told
from estimator.returned.notes import stock_doubt
from estimator.returned.pers import Per
from estimator.returned.row_cells import read_cells
from estimator.returned.said import Said, Terms, problem_of
from estimator.returned.settle import settle


def answer_row(found: Found, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    """The answer of a row that is our line as it stands."""
    read = read_cells(found, line, terms)
    if isinstance(read, list):
        return bare(line, "unreadable", found.row.place), read, []
    said, told = read
    other = other_trade_name(found, line)
    if other is not None:
        words = f"{other.text}, where {shown(line.trade_name)} was asked for"
        return replace(bare(line, "another", other.place), said=words), [], told
    answer, problems, more = answer_said(said, line, terms)
    return answer, problems, [*told, *more]


def answer_said(said: Said, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    """The answer in figures, or in words, to one line."""
    figures = [of for of in (said.unit, said.total) if of is not None]
    priced = [of for of in figures if of.money is not None]
    worded = [of for of in figures if of.money is None and of.status != "no-price"]
    if said.note.another or any(of.status == "another" for of in worded):
        return replace(bare(line, "another", said.place), said=_all_said(said)), [], []
    if priced and worded:
        both = Unfit(f"{shown(worded[0].said)} and {shown(priced[0].said)} stand side by side", "leave one of them")
        return bare(line, "unreadable", said.place), [problem_of(said.unit_place, line, both)], []
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
    per = _per(said)
    if isinstance(per, Unfit):
        return unread, [problem_of(place, line, per)], []
    basis = _basis(said)
    if isinstance(basis, Unfit):
        return unread, [problem_of(place, line, basis)], []
    shorter = _shorter(said.note.offer, line)
    if shorter and per is not None and per.kind in ("each", "pack", "piece"):
        size, length = as_text(said.note.offer.pack or Decimal(0)), as_text(line.pack or Decimal(0))
        unclear = Unfit(
            f"{shown(per.said)} beside {shown(said.note.text)}: is the price for {size} m, or for all {length} m?",
            'write the price of all of it, or "per metre" beside the price',
        )
        return unread, [problem_of(place, line, unclear)], []
    # Shorter lengths are no answer to one length: the price is that of what was asked for, and the line is held.
    offer = Offer() if shorter else said.note.offer
    settled = settle(line, _money(said.unit), _money(said.total), per, offer, terms.vat_rates[line.part])
    if isinstance(settled, Unfit):
        return unread, [problem_of(place, line, settled)], []
    other = settled.pack != line.pack and line.pack is not None and not line.cut
    doubt = _doubt(said, line, other and not _pack_is_sure(said, settled))
    held = bool(doubt) and str(line.number) not in terms.accepted
    if held and line.cut and line.pack is not None and settled.pack == 1:
        # Nothing is kept of it yet, so it is told as it was asked for: one length.
        settled = replace(settled, pack=line.pack, packs=line.packs, price=settled.price * line.pack, told="")
    answer = Answer(
        line.number,
        line.part,
        line.words,
        line.pack_words if settled.pack == line.pack or line.cut else pack_words(settled.pack, line.unit),
        line.quantity,
        "held" if held else "priced",
        settled.pack,
        settled.packs,
        settled.price,
        basis,
        doubt if held else "; ".join(of for of in (said.note.text, said.stock) if of),
        said.code,
        line.match,
        place,
        line.packs if line.cut else 0,
        line.pack_words if other else "",
        said.note.make,
        "" if held else doubt,
    )
    return answer, [], [] if held and other else _told(said, line, settled, place)


def _doubt(said: Said, line: AskedLine, other_pack: bool) -> str:
    """What the merchant wrote beside a price that may change the goods, or the price; "" where all of it is understood."""
    noted = said.note.text if other_pack or _another_count(said, line) else said.note.doubt
    doubts = [noted, stock_doubt(said.stock, line), said.other]
    if said.note.answer is not None:
        doubts.append(said.note.answer.said)
    prices = [of.money for of in (said.unit, said.total) if of is not None and of.money is not None]
    doubts += [of.said for of in said.note.figures if of.money not in prices]
    if _shorter(said.note.offer, line):
        doubts.append(said.note.text)
    return "; ".join(dict.fromkeys(of for of in doubts if of))


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


def _shorter(offer: Offer, line: AskedLine) -> bool:
    """Whether lengths are offered that are shorter than the one that is to be cut."""
    return line.cut and line.pack is not None and offer.pack is not None and offer.pack < line.pack


def _another_count(said: Said, line: AskedLine) -> bool:
    """Whether the note names another number of our packs, and no line price says whether the price is for one of them."""
    offer = said.note.offer
    other = line.pack is not None and offer.pack == line.pack and offer.packs not in (0, 1, line.packs)
    return other and not line.cut and not offer.counted and (said.total is None or said.total.money is None)


def _pack_is_sure(said: Said, settled: Settled) -> bool:
    """Whether another pack than ours stands beside the price itself, or the merchant wrote how many under Packs too."""
    beside = said.unit.per if said.unit is not None else None
    return said.note.offer.counted or (beside is not None and beside.kind == "pack" and beside.units == settled.pack)


def _money(of: Figure | None) -> Figure | None:
    return of if of is not None and of.money is not None else None


def _per(said: Said) -> Per | Unfit | None:
    """What the unit price is for: beside the price, in the note, or by the heading, in that order; two that differ are asked."""
    if said.total is not None and said.total.per is not None and said.total.money is not None:
        return Unfit(
            f"{shown(said.total.said)} under the line price", "write the price of all packs there, and nothing else"
        )
    beside = said.unit.per if said.unit is not None else None
    noted = said.note.per or next(
        (of.per for of in said.note.figures if of.per and of.money == _unit_money(said)), None
    )
    if (
        beside is not None
        and noted is not None
        and (beside.kind, beside.units, beside.measure) != (noted.kind, noted.units, noted.measure)
    ):
        return Unfit(f"{shown(beside.said)} beside the price, and {shown(noted.said)} in the note", "leave one of them")
    return beside or noted or said.heading


def _unit_money(said: Said) -> Decimal | None:
    return said.unit.money if said.unit is not None else None


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
