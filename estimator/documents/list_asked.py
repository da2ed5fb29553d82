"""What a list asks, as values that outlive the job: numbered lines go in, an `AskedList` with its mark comes out.

The mark is worked out from all that the list asks, so the same list has the same mark, and any other has another.
"""

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from hashlib import sha256

from estimator.catalogue.model import Price
from estimator.documents.list_model import ListLine
from estimator.documents.list_words import in_one
from estimator.documents.shelves import up
from estimator.documents.words import ANY, merchant_words
from estimator.result import Estimate

OPEN_LIST = "to-be-priced"
"""The name of the list that any merchant may get, as its files have it."""
UNCHOSEN = "merchant-not-chosen"
"""The name of the list of goods that no merchant has named a price for, as its file has it."""
CUT = "cut, "
"""How the pack of a length cut to order begins."""
MARK_LETTERS = "FHKLMRTWXY"
"""Told apart over the telephone, and no vowels: a mark is no word and no name of a month that a spreadsheet takes for a day."""
MARK_AT = 3
"""So many letters, then four figures."""
NONE = Decimal(0)


@dataclass(frozen=True, slots=True)
class AskedLine:
    """One line of ours. `pack` is in `unit` and None where it is left open, as `packs` is 0 then; a cut length is one pack.

    `match` is the make letter of the price that the line rests on. `paper` numbers the list that it stands on. `need` is
    what the whole job needed of the part when it was asked, in `unit`.
    """

    number: int
    part: str
    what: str
    trade_name: str
    size_finish: str
    code: str
    quantity: Decimal
    unit: str
    pack_words: str
    pack: Decimal | None
    packs: int
    cut: bool
    note: str
    match: str
    paper: int
    need: Decimal = NONE

    @property
    def in_one(self) -> str:
        """What the line says under What in a workbook, where trade name and size stand there too."""
        return in_one(self.what, self.trade_name, self.size_finish)

    @property
    def words(self) -> str:
        """How a reader is told which thing it is."""
        return self.trade_name or (f"{self.what}; {self.size_finish}" if self.size_finish else self.what)


@dataclass(frozen=True, slots=True)
class AskedList:
    """All that one merchant is asked, over its trips, or any merchant (`merchant` empty), over counters and trips.

    `handed` where it is a list as it was written and may have been handed out, and not what the job would ask now.
    """

    merchant: str
    lines: tuple[AskedLine, ...]
    title: str = ""
    mark: str = ""
    handed: bool = False

    @property
    def name(self) -> str:
        """What a user calls it by."""
        return self.merchant or OPEN_LIST

    @property
    def called(self) -> str:
        """The name in words that say what it is, as its file has it where no merchant is chosen."""
        return UNCHOSEN if self.merchant == ANY else self.name

    @property
    def to(self) -> str:
        """Whose list it is, in words."""
        return merchant_words(self.merchant) if self.merchant else "any merchant"

    def line(self, number: int) -> AskedLine | None:
        """The line of that number."""
        return next((line for line in self.lines if line.number == number), None)


def asked_list(
    estimate: Estimate, merchant: str, papers: Iterable[Sequence[ListLine]], needs: Mapping[str, Decimal]
) -> AskedList:
    """The list of a merchant ("": any), paper by paper; `needs` is what the whole job needs of each part."""
    lines = [
        _line(estimate, line, merchant, index, needs.get(line.part, NONE))
        for index, paper in enumerate(papers)
        for line in paper
    ]
    made = AskedList(merchant, tuple(sorted(lines, key=lambda line: line.number)), estimate.job.title)
    return replace(made, mark=mark_of(made))


def needs_of(estimate: Estimate) -> dict[str, Decimal]:
    """What the whole job needs of each part, waste in it, whether it is bought or in hand."""
    needs: dict[str, Decimal] = {}
    for line in estimate.budget.bill:
        needs[line.part] = needs.get(line.part, NONE) + line.with_waste
    return {part: _exactly(need, estimate.catalogue.parts[part].unit) for part, need in needs.items()}


def _exactly(need: Decimal, unit: str) -> Decimal:
    return up(need, unit) if unit == "nr" else round(need, 3).normalize()


def mark_of(of: AskedList) -> str:
    """The mark of a list: `KMR-4172`; of its job, its merchant and all that its lines say."""
    said = [of.title, of.merchant, [[line.number, line.paper, *body_of(line)] for line in of.lines]]
    number = int(sha256(json.dumps(said).encode()).hexdigest(), 16)
    figures, letters = number % 10_000, ""
    number //= 10_000
    for _ in range(MARK_AT):
        number, at = divmod(number, len(MARK_LETTERS))
        letters += MARK_LETTERS[at]
    return f"{letters}-{figures:04}"


def plain_mark(text: str) -> str:
    """A mark as somebody wrote it down, as we write it: `kmr 4172` is `KMR-4172`; other text comes back in capitals."""
    bare = "".join(sign for sign in text.upper() if sign.isascii() and sign.isalnum())
    return f"{bare[:MARK_AT]}-{bare[MARK_AT:].replace('O', '0')}" if len(bare) == MARK_AT + 4 else bare


def body_of(line: AskedLine) -> list[str | int | bool | None]:
    """What a line says but for its number and its place, as plain data; `as_line` is the way back."""
    return [
        line.part,
        line.what,
        line.trade_name,
        line.size_finish,
        line.code,
        figures_of(line.quantity),
        line.unit,
        line.pack_words,
        None if line.pack is None else figures_of(line.pack),
        line.packs,
        line.cut,
        line.note,
        line.match,
    ]


def figures_of(value: Decimal) -> str:
    """An exact number as text, the same for equal ones."""
    return f"{value.normalize():f}"


def _line(estimate: Estimate, line: ListLine, merchant: str, paper: int, need: Decimal) -> AskedLine:
    return AskedLine(
        number=line.number,
        part=line.part,
        what=line.words,
        trade_name=line.trade_name,
        size_finish=line.size_finish,
        code=line.code,
        quantity=line.quantity,
        unit=line.unit,
        pack_words=line.pack,
        pack=line.pack_size,
        packs=line.packs,
        cut=line.pack.startswith(CUT),
        note=line.note,
        match=match_of(estimate, line.part, merchant),
        paper=paper,
        need=need,
    )


def match_of(estimate: Estimate, part: str, merchant: str) -> str:
    """The make letter under which the order buys a part; that of its first price where the order does not say."""
    bought = {
        (line.part, line.merchant, line.pack): None
        for line in estimate.order.lines
        if line.part == part and merchant in ("", line.merchant)
    }
    rows: dict[tuple[str, str, Decimal], Price] = {
        (price.part, price.merchant, price.pack): price for price in estimate.catalogue.prices if price.part == part
    }
    known = [rows[key] for key in bought if key in rows] or list(rows.values())
    return known[0].match if known else ""
