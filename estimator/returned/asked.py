"""What we asked for: an `Estimate` goes in, the lines of every list that it makes come out, as a reader matches them."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Price
from estimator.documents.list_model import ListLine
from estimator.documents.list_papers import Paper, papers
from estimator.documents.words import merchant_words
from estimator.result import Estimate

OPEN_LIST = "to-be-priced"
"""The name of the list that any merchant may get, as its files have it."""
CUT = "cut, "
"""How the pack of a length cut to order begins."""


@dataclass(frozen=True, slots=True)
class AskedLine:
    """One line of ours. `pack` is in `unit` and None where it is left open, as `packs` is 0 then; a cut length is one pack.

    `match` is the make letter of the price that the line rests on. `paper` numbers the list that it stands on.
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

    @property
    def words(self) -> str:
        """How a reader is told which thing it is."""
        return self.trade_name or (f"{self.what}; {self.size_finish}" if self.size_finish else self.what)


@dataclass(frozen=True, slots=True)
class AskedList:
    """All that one merchant is asked, over its trips, or any merchant (`merchant` empty), over counters and trips."""

    merchant: str
    lines: tuple[AskedLine, ...]

    @property
    def name(self) -> str:
        """What a user calls it by."""
        return self.merchant or OPEN_LIST

    @property
    def to(self) -> str:
        """Whose list it is, in words."""
        return merchant_words(self.merchant) if self.merchant else "any merchant"

    def line(self, number: int) -> AskedLine | None:
        """The line of that number."""
        return next((line for line in self.lines if line.number == number), None)


def asked_lists(estimate: Estimate) -> tuple[AskedList, ...]:
    """The lists of every merchant that we buy from, by name; last what any merchant may be asked."""
    chosen = papers(estimate, blank=False)
    names = dict.fromkeys(paper.merchant for paper in chosen)
    own = [AskedList(name, _lines(estimate, (of for of in chosen if of.merchant == name))) for name in names]
    return (*own, AskedList("", _lines(estimate, papers(estimate, blank=True))))


def _lines(estimate: Estimate, of: Iterable[Paper]) -> tuple[AskedLine, ...]:
    lines = [_line(estimate, line, paper.merchant, index) for index, paper in enumerate(of) for line in paper.lines]
    return tuple(sorted(lines, key=lambda line: line.number))


def _line(estimate: Estimate, line: ListLine, merchant: str, paper: int) -> AskedLine:
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
    )


def match_of(estimate: Estimate, part: str, merchant: str) -> str:
    """The make letter under which the order buys a part; that of its first price where the order does not say."""
    bought = [line for line in estimate.order.lines if line.part == part and merchant in ("", line.merchant)]
    keys = [(line.part, line.merchant, line.pack) for line in bought]
    prices: dict[tuple[str, str, Decimal], Price] = {
        (price.part, price.merchant, price.pack): price for price in estimate.catalogue.prices
    }
    known = [prices[key] for key in keys if key in prices]
    known += [price for price in estimate.catalogue.prices if price.part == part and not known]
    return known[0].match if known else ""
