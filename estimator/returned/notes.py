"""What a merchant wrote beside a price: the note and what it says of packs, in pieces; our own words in it are taken out."""

import re
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.returned.asked import AskedLine
from estimator.returned.cells import Row, one_line, plain
from estimator.returned.figures import ANOTHER, Figure, Per, basis_words, per_words, words
from estimator.returned.headings import Headed
from estimator.returned.settle import Offer

_UNIT = r"(?:m|metres?|meters?|mtrs?|m2|m²|sq\.? ?m|kg|kilos?|pcs?|pieces?|nr|no|off)"
_WORD = r"(?:packs?|pks?|pkts?|packets?|drums?|coils?|box(?:es)?|bags?|rolls?|reels?|lengths?|lgths?|tubs?|tubes?|sheets?|bundles?)"
_PACKS = (
    re.compile(rf"(?:(?P<count>\d+) ?x ?)(?P<size>\d+(?:\.\d+)?) ?{_UNIT}?(?: {_WORD})?", re.I | re.A),
    re.compile(rf"(?:(?P<count>\d+) )?(?:{_WORD}) of (?P<size>\d+(?:\.\d+)?) ?{_UNIT}?", re.I | re.A),
    re.compile(rf"(?:(?P<count>\d+) ?x ?)?(?P<size>\d+(?:\.\d+)?) ?{_UNIT}? {_WORD}", re.I | re.A),
    re.compile(rf"(?P<count>)(?P<size>\d+(?:\.\d+)?) (?:in|per|to) (?:a |the |one )?{_WORD}", re.I | re.A),
    re.compile(rf"(?P<count>)(?P<size>\d+(?:\.\d+)?) ?{_UNIT}?", re.I | re.A),
)
_CUT = re.compile(r"cut(?: to (?:length|order))?|cut lengths?", re.I | re.A)


@dataclass(frozen=True, slots=True)
class Note:
    """The merchant's words on a row, what they say a price is for and of the pack, and an answer in words, if any.

    `another`: it offers something else.
    """

    text: str
    per: Per | None
    basis: Basis | None
    offer: Offer
    answer: Figure | None
    another: bool


def note_of(sheet: Headed, row: Row, line: AskedLine) -> Note:
    """What stands in the columns for notes, without what we had written there."""
    texts = [row.cells[of.column].text for of in sheet.of("note") if of.column in row.cells]
    note = read_note("; ".join(theirs for text in texts if (theirs := without_ours(text, line.note))), line)
    return Note(note.text, note.per, note.basis, _with_counted(note.offer, sheet, row, line), note.answer, note.another)


def read_note(text: str, line: AskedLine | None) -> Note:
    """A note of the merchant's, piece by piece."""
    pieces = [piece for of in re.split(r"[;\n]|, |\. ", text) if (piece := of.strip(" .,;:"))]
    pers = (per_words(re.sub(r"^prices?( is| are)? ", "", piece, flags=re.I)) for piece in pieces)
    bases = (basis_words(piece) for piece in pieces)
    answers = (words(piece) for piece in pieces)
    another = bool(ANOTHER.search(text))
    open_pack = line is not None and (line.pack is None or line.cut)
    offers = () if another else (_offer(piece, open_pack) for piece in pieces)
    return Note(
        text,
        next((per for per in pers if per is not None), None),
        next((basis for basis in bases if basis is not None), None),
        next((offer for offer in offers if offer is not None), Offer()),
        next((answer for answer in answers if answer is not None and answer.status != "another"), None),
        another,
    )


def without_ours(text: str, ours: str) -> str:
    """A note without the words that we had put there, whole or piece by piece."""
    theirs, mine = one_line(text), one_line(ours)
    if mine and mine in theirs:
        theirs = theirs.replace(mine, ";", 1)
    own = {plain(piece) for piece in mine.split(";")}
    return "; ".join(piece for of in theirs.split(";") if plain(piece := of.strip(" .,;")) and plain(piece) not in own)


def _offer(piece: str, open_pack: bool) -> Offer | None:
    """A pack that the merchant names: "drum of 50 m", "2 x 50 m", and where we left it open also "50 m" or "cut"."""
    if open_pack and _CUT.fullmatch(piece):
        return Offer(None, 0, True)
    for pattern in _PACKS[: len(_PACKS) if open_pack else -1]:
        found = pattern.fullmatch(piece)
        if found and Decimal(found["size"]):
            return Offer(Decimal(found["size"]), int(found["count"] or 0))
    return None


def _with_counted(offer: Offer, sheet: Headed, row: Row, line: AskedLine) -> Offer:
    """The offer with the number of packs that the merchant filled in, and the pack where it wrote over ours."""
    size, packs = offer.pack, offer.packs
    written = sheet.cell(row, "pack")
    if line.pack is None and size is None and written is not None and plain(written.text) != plain(line.pack_words):
        told = _offer(written.text.strip(), True)
        size, packs = (told.pack, told.packs or packs) if told is not None else (size, packs)
    cell = sheet.cell(row, "packs")
    count = int(cell.text) if cell is not None and re.fullmatch(r"[1-9]\d{0,5}", cell.text, re.A) else 0
    if line.pack is None:
        return Offer(size, packs or count, offer.cut)
    counted = size is not None and count not in (0, line.packs)
    return Offer(size, count if counted else packs, offer.cut, counted)
