"""What a merchant wrote beside a price: the note, what it says of packs, and what nobody can be sure of, in pieces.

Our own words in it are taken out. What is not understood is never passed over: it may change the goods.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal
from typing import TypeVar

from estimator.catalogue.model import Basis
from estimator.returned.asked import AskedLine
from estimator.returned.asked_pack import Offer, in_lengths, wound
from estimator.returned.cells import Row, one_line, plain
from estimator.returned.figures import ANOTHER, SIGNS, Figure, figure, words
from estimator.returned.harmless import left_of, repeats
from estimator.returned.headings import Headed
from estimator.returned.pers import PACKS, UNITS, Per, basis_words, per_words, unit_of

Of = TypeVar("Of")
_UNIT = rf"(?P<unit>{UNITS})"
_WORD = rf"(?:{PACKS})"
_SIZE = r"(?P<size>\d+(?:\.\d+)?)"
_PACKS = (
    re.compile(rf"(?:(?P<count>\d+) ?x ?){_SIZE} ?{_UNIT}?(?: {_WORD})?", re.I | re.A),
    re.compile(rf"(?:(?P<count>\d+) ?(?:x ?)?)?(?:{_WORD})(?: of |/| ){_SIZE} ?{_UNIT}?", re.I | re.A),
    re.compile(rf"(?:(?P<count>\d+) ?x ?)?{_SIZE} ?{_UNIT}? ?{_WORD}", re.I | re.A),
    re.compile(rf"(?P<count>){_SIZE} ?(?:in |per |to |/ ?)(?:a |the |one )?(?P<unit>){_WORD}", re.I | re.A),
    re.compile(rf"(?P<count>)in {_SIZE}(?P<unit>)'?s", re.I | re.A),
    re.compile(rf"(?P<count>){_SIZE} ?(?P<unit>m2|m²|sq\.? ?m|m|metres?|meters?|mtrs?|kg|kilos?|pcs?|pieces?)?", re.I | re.A),
)  # fmt: skip
_MEASURE = re.compile(rf"{_SIZE} ?(?P<unit>m2|m²|sq\.? ?m|m|metres?|meters?|mtrs?|kg|kilos?)", re.I | re.A)
_NAME = r"[^\W\d_][\w&.'+-]*(?: [\w&.'+-]+){0,2}"
_MAKE = re.compile(
    rf"(?:the )?(?:make|brand|maker|manufacturer)(?:'s)?(?: is|s)?[ :=-]+(?P<after>{_NAME})|(?P<before>{_NAME}) (?:make|brand)",
    re.I,
)
_NO_NAMES = frozenset(
    ("own", "other", "another", "different", "same", "our", "your", "any", "cheaper", "one", "new", "old", "not", "no", "or", "in",
     "to", "the", "a", "all", "only", "type", "same", "best", "good", "unknown", "tbc", "tba", "as", "of", "up", "sure", "which")
)  # fmt: skip
"""Words that are no part of a maker's name, so that "different make" and "make to order" name none."""
_PACKED = re.compile(rf"\b(?:{_WORD})\b|{_MEASURE.pattern}$", re.I | re.A)
"""A pack by its word, or a measure: a number alone is no pack where other words follow it."""
_CUT = re.compile(r"cut(?: to (?:length|order))?|cut lengths?", re.I | re.A)
_COUNTED = re.compile(
    r"(?:qty:? ?)?(?:x ?)?(?P<n>\d+(?:\.\d+)?) ?(?:x|off|no|nr|pcs?|m|kg)?(?: in total| total| in all)?", re.I
)
_NUMBERS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
_STOCK = re.compile(
    r"(?P<count>\d{1,6})(?: ?(?:\+|m|off|no|nr|pcs?))?|y(?:es)?|n|no|none|nil|-|✓|✔|x|stk|stock|ok|"
    r"\d{1,3} ?(?:-|to|/) ?\d{1,3}|(?:no|out of|not in|low|limited) stock|o/s|oos",
    re.I,
)


@dataclass(frozen=True, slots=True)
class Note:
    """The merchant's words on a row, what they say a price is for and of the pack, and an answer in words, if any.

    `another`: it offers something else. `figures` are prices that stand in it; `doubt` is what is not understood.
    """

    text: str
    per: Per | None
    basis: Basis | None
    offer: Offer
    answer: Figure | None
    another: bool
    figures: tuple[Figure, ...] = ()
    doubt: str = ""
    make: str = ""


@dataclass(frozen=True, slots=True)
class _Piece:
    """What one piece of a note is: as a rule one of these, or none of them for harmless words."""

    per: Per | None = None
    basis: Basis | None = None
    answer: Figure | None = None
    offer: Offer | None = None
    figure: Figure | None = None
    doubt: str = ""
    make: str = ""


def note_of(sheet: Headed, row: Row, line: AskedLine) -> Note:
    """What stands in the columns for notes, and beside the table, without what we had written there."""
    filled = [of for of in sheet.of("note") if of.column in row.cells]
    texts = [_under(of.text, theirs) for of in filled if (theirs := without_ours(row.cells[of.column].text, line.note))]
    note = read_note("; ".join([*(of for of in texts if of), *sheet.scribbled(row)]), line)
    return replace(note, offer=_with_counted(note.offer, sheet, row, line))


def _under(heading: str, text: str) -> str:
    """A note with what its heading says of it: under "Alternative" stands something else, unless it says there is none."""
    if not ANOTHER.search(heading):
        return text
    answer = words(text)
    return "" if answer is not None and answer.status in ("not-sold", "no-price") else f"{heading}: {text}"


def read_note(text: str, line: AskedLine | None) -> Note:
    """A note of the merchant's, piece by piece; of two pieces that say different things the second is in doubt."""
    said = _pieces(text)
    packs = {of: offer for of in said if (offer := _pack_instead(of, line)) is not None}
    another = any(ANOTHER.search(of) for of in said if of not in packs)
    pieces = [
        (of, _Piece(offer=packs[of], doubt=of) if of in packs and not another else _piece(of, line, another))
        for of in said
    ]
    pers = sorted(_told(of.per for _, of in pieces), key=lambda per: per.kind == "pack" and per.units is None)
    bases: list[Basis] = _told(of.basis for _, of in pieces)
    offers = _told(of.offer for _, of in pieces)
    answers = _told(of.answer for _, of in pieces)
    doubts = [of.doubt for _, of in pieces if of.doubt]
    if len({_meaning(per) for per in pers}) > 1 or len(bases) > 1 or len({(of.pack, of.cut) for of in offers}) > 1:
        doubts += [said for said, of in pieces if of.per or of.basis or of.offer]
    return Note(
        text,
        pers[0] if pers else None,
        bases[0] if bases else None,
        offers[0] if offers and not another else Offer(),
        answers[0] if answers else None,
        another,
        tuple(of.figure for _, of in pieces if of.figure is not None),
        "; ".join(dict.fromkeys(doubts)),
        next((of.make for _, of in pieces if of.make), ""),
    )


def _pack_instead(piece: str, line: AskedLine | None) -> Offer | None:
    """The pack that is offered instead, where nothing else is: "alt: pack of 25", "2 x 50 m instead"."""
    if not ANOTHER.search(piece):
        return None
    rest = " ".join(ANOTHER.sub(" ", piece).split()).strip(" .,;:()-–")
    return _offer(rest, line, False) or _bare_size(rest, line)


def _bare_size(piece: str, line: AskedLine | None) -> Offer | None:
    """A measure alone, "25 m", which names another pack than the one that was asked for."""
    found = _MEASURE.fullmatch(piece)
    if found is None or line is None or not Decimal(found["size"]) or unit_of(found["unit"]) != line.unit:
        return None
    return Offer(Decimal(found["size"]))


def _told(of: Iterable[Of | None]) -> list[Of]:
    return list(dict.fromkeys(one for one in of if one is not None))


def _meaning(per: Per) -> tuple[str, Decimal | None, str]:
    """What tells two words for the same thing from two things; a pack without a number may be any."""
    return (per.kind, per.units if per.kind != "pack" else None, per.measure)


def _pieces(text: str) -> list[str]:
    return [
        piece
        for of in re.split(
            r"[;\n]|, |(?<!\bno)(?<!\bapprox)(?<!\binc)(?<!\bincl)(?<!\bex)(?<!\bexc)(?<!\bexcl)\. ", text, flags=re.I
        )
        if (piece := of.strip(" .,;:"))
    ]


def _piece(piece: str, line: AskedLine | None, another: bool) -> _Piece:
    """One piece: as it stands, then without harmless words in it."""
    if "?" in piece:
        return _Piece(doubt=piece)
    said = re.sub(r"^(all )?(prices?( is| are)?|priced|sold|all) ", "", piece, flags=re.I)
    found = _known(said, line, another)
    if found is not None:
        return found
    rest = left_of(said)
    make = _make(said) if line is not None and (line.match or "one make" in line.note) else ""
    if make:
        return _Piece(make=make)
    if not rest or (line is not None and (repeats(piece, line) or repeats(rest, line) or _same_count(rest, line))):
        return _Piece()
    return _known(rest, line, another) or _pack_first(said, line, another) or _Piece(doubt=piece)


def _make(said: str) -> str:
    """The maker's name where a piece says nothing else: "make Zed", "brand: Zed", "Zed make"."""
    found = _MAKE.fullmatch(said)
    name = (found["after"] or found["before"]).strip(" .") if found else ""
    return "" if {word.casefold() for word in name.split()} & _NO_NAMES else name


def _pack_first(said: str, line: AskedLine | None, another: bool) -> _Piece | None:
    """A pack, and after it words that may change the goods: "pack of 5 cool white"."""
    words_of = said.split()
    for at in range(len(words_of) - 1, 0, -1):
        first = " ".join(words_of[:at])
        found = _known(first, line, another) if _PACKED.search(first) else None
        if found is not None and found.offer is not None:
            return replace(found, doubt=said)
    return None


def _known(said: str, line: AskedLine | None, another: bool) -> _Piece | None:
    per, basis = per_words(said), basis_words(said)
    open_pack = line is not None and (line.pack is None or line.cut)
    if per is not None and not (line is not None and per.kind == "piece" and repeats(said, line)):
        # A pack that the merchant names is an offer too: "drum of 50 m".
        return _Piece(per=per, offer=None if another else _offer(said, line, open_pack))
    if per is not None:
        return _Piece(per=Per("each", None, per.said))
    if basis is not None:
        return _Piece(basis=basis)
    answer = words(said)
    if answer is not None and answer.status not in ("another", "no-price"):
        return _Piece(answer=answer)
    if answer is not None:
        return _Piece()
    offer = None if another else _offer(said, line, open_pack)
    if offer is None and not another and line is not None and not repeats(said, line):
        offer = _bare_size(said, line)
    if offer is not None:
        return _Piece(offer=offer)
    return _money(said)


def _money(said: str) -> _Piece | None:
    """A price that stands in the note with a sign of money, or with what it is for."""
    marked = any(sign in said.casefold() for sign in SIGNS)
    currency = next((SIGNS[sign] for sign in SIGNS if sign in said.casefold()), "")
    read = figure(said, currency) if re.match(r"[£€$]?\s?\.?\d", said) else None
    if not isinstance(read, Figure) or read.money is None or not (marked or read.per is not None or "." in said):
        return None
    return _Piece(figure=read)


def _same_count(rest: str, line: AskedLine) -> bool:
    """Whether a piece only counts what was asked for, as in "6 off"."""
    found = _COUNTED.fullmatch(rest)
    return found is not None and Decimal(found["n"]) in (line.quantity, line.packs, line.pack)


def stock_doubt(text: str, line: AskedLine) -> str:
    """What is not understood of the cell for stock or days; numbers and yes or no are."""
    if not text or _STOCK.fullmatch(text.strip()):
        return ""
    doubts = [
        piece for piece in _pieces(text) if not _STOCK.fullmatch(piece) and _piece(piece, line, False) != _Piece()
    ]
    return "; ".join(doubts)


def without_ours(text: str, ours: str) -> str:
    """A note without the words that we had put there, whole or piece by piece."""
    theirs, mine = one_line(text), one_line(ours)
    if mine and mine in theirs:
        theirs = theirs.replace(mine, ";", 1)
    own = {plain(piece) for piece in mine.split(";")}
    pieces = (of.strip(" .,;") for of in theirs.split(";"))
    return "; ".join(of for of in pieces if (plain(of) or "?" in of) and plain(of) not in own)


def _offer(piece: str, line: AskedLine | None, open_pack: bool) -> Offer | None:
    """A pack that the merchant names: "drum of 50 m", "2 x 50 m", and where we left it open also "50 m" or "cut"."""
    if open_pack and _CUT.fullmatch(piece):
        return Offer(None, 0, True)
    for number, word in enumerate(_NUMBERS, 1):
        piece = re.sub(rf"^{word} (?={_WORD}|x )", f"{number} ", piece, flags=re.I)
    for pattern in _PACKS[: len(_PACKS) if open_pack else -1]:
        found = pattern.fullmatch(piece)
        if found and Decimal(found["size"]):
            unit = unit_of(found["unit"] or "")
            if line is not None and ((unit and unit != line.unit) or (wound(piece) and in_lengths(line))):
                return None
            return Offer(Decimal(found["size"]), int(found["count"] or 0))
    return None


def _with_counted(offer: Offer, sheet: Headed, row: Row, line: AskedLine) -> Offer:
    """The offer with the number of packs that the merchant filled in, and the pack where it wrote over ours."""
    size, packs = offer.pack, offer.packs
    written = sheet.cell(row, "pack")
    if line.pack is None and size is None and written is not None and plain(written.text) != plain(line.pack_words):
        told = _offer(written.text.strip(), line, True)
        size, packs = (told.pack, told.packs or packs) if told is not None else (size, packs)
    cell = sheet.cell(row, "packs")
    count = int(cell.text) if cell is not None and re.fullmatch(r"[1-9]\d{0,5}", cell.text, re.A) else 0
    if line.pack is None:
        return Offer(size, packs or count, offer.cut)
    counted = size is not None and count not in (0, line.packs)
    return Offer(size, count if counted else packs, offer.cut, counted)
