"""Which row of a sheet holds the headings, and what each column is: rows go in, columns by what they hold come out.

Our own words count first, then words that a merchant puts in their place.
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from estimator.returned.cells import Cell, Row, Sheet, plain
from estimator.returned.figures import Per, per_words

LOOKED_AT = 80
"""Rows that may stand above the headings, less one."""
OURS: Mapping[str, str] = MappingProxyType(
    {
        "line": "line",
        "what": "what",
        "trade name": "trade",
        "size finish": "size",
        "size and finish": "size",
        "your code": "code",
        "quantity": "quantity",
        "unit": "unit",
        "pack wanted": "pack",
        "packs": "packs",
        "price of one pack": "price",
        "line price": "total",
        "in stock or days": "stock",
        "note": "note",
        "job": "job",
        "list mark": "mark",
        "date": "date",
        "prices good until": "good",
        "prices ex or inc vat": "vat",
        "priced on": "priced",
        "prices of": "priced",
    }
)
_CLOSE: tuple[tuple[str, str], ...] = (
    ("line", r"line (no|nr|number|#)|no|nr|#|item( (no|nr|number))?|line item|pos|position"),
    ("what", r"description|article|item description|goods|product|details?|what it is"),
    ("trade", r"trade (description|words)|trade"),
    ("size", r"size|finish|size (or|and|,)? ?(finish|colou?r)|finish or colou?r|colou?r"),
    ("code", r"(our|their|product|stock|order|part|cat(alogue)?) ?(code|no|nr|number|ref)|code|sku"),
    ("quantity", r"qty|quantity (needed|wanted)|amount needed"),
    ("unit", r"uom|unit of measure|units"),
    ("pack", r"pack( size)?|pack (asked|offered|sold|priced)|your pack|sold (as|in)"),
    ("packs", r"(nr|no|number) of packs|packs (wanted|needed|offered)|your packs"),
    (
        "total",
        r"((line|net|ext(ended)?|goods) )?(total|amount|value|sum)|(ext(ended)?|total) (price|cost)|line (cost|value)|price of (the )?line",
    ),
    (
        "price",
        r"((our|your|net|unit|pack|selling|trade|quoted) )*(price|cost|rate)s?( (each|ea|per .+|a pack|(of|for) (a|one|each)( pack)?))?|each",
    ),
    ("stock", r"(in )?stock|availability|available|lead time|days|delivery( time)?"),
    ("note", r"notes|remarks?|comments?"),
    ("good", r"(price |prices )?(valid|good) until|validity|price good until|prices held until"),
    ("vat", r"ex or inc( vat)?|ex inc( vat)?|vat (ex or inc|basis)|prices? (are )?ex or inc"),
    ("priced", r"priced (on|at)|date (priced|of (prices|quote|quotation))|(quote|quotation) date"),
)
NEEDED = (("line",), ("price", "total"), ("what", "trade"))
"""A row of headings has one of each."""


@dataclass(frozen=True, slots=True)
class Heading:
    """One column: its number, what it holds, its heading as found, and what a price under it is for, if the heading says."""

    column: int
    holds: str
    text: str
    per: Per | None = None


@dataclass(frozen=True, slots=True)
class Headed:
    """A sheet with its headings: rows above them, rows below, and columns that may hold the price besides the one taken."""

    sheet: Sheet
    above: tuple[Row, ...]
    row: Row
    below: tuple[Row, ...]
    headings: tuple[Heading, ...]

    def of(self, holds: str) -> tuple[Heading, ...]:
        """The columns that hold that."""
        return tuple(heading for heading in self.headings if heading.holds == holds)

    def cell(self, row: Row, holds: str) -> Cell | None:
        """The cell of a row in the first such column that is filled there."""
        return next((row.cells[of.column] for of in self.of(holds) if of.column in row.cells), None)

    def heading_of(self, cell: Cell) -> str:
        """The heading that a cell stands under."""
        return next((of.text for of in self.headings if of.column == cell.column), "")


def headed(sheet: Sheet) -> Headed | None:
    """The sheet with the row of headings that says most; None where no row has the headings needed."""
    best: tuple[int, int, tuple[Heading, ...]] | None = None
    for index, row in enumerate(sheet.rows[:LOOKED_AT]):
        found = _headings(row.cells.values())
        kinds = {heading.holds for heading in found}
        if all(kinds & set(of) for of in NEEDED) and (best is None or len(kinds) > best[0]):
            best = (len(kinds), index, found)
    if best is None:
        return None
    _, at, headings = best
    return Headed(sheet, sheet.rows[:at], sheet.rows[at], sheet.rows[at + 1 :], headings)


def _headings(cells: Iterable[Cell]) -> tuple[Heading, ...]:
    return tuple(heading for cell in cells if isinstance(cell.value, str) and (heading := heading_of(cell)) is not None)


def heading_of(cell: Cell) -> Heading | None:
    """What a heading says its column holds; None for a heading that is not known."""
    text = cell.text
    words = plain(text)
    holds = OURS.get(words) or _close(words) or _money(words)
    if holds is None:
        return None
    return Heading(cell.column, holds, text, _per(text) if holds == "price" else None)


def _close(words: str) -> str | None:
    return next((of for of, close in _CLOSE if re.fullmatch(close, words)), None)


def _money(words: str) -> str | None:
    """What a heading with a sign of money or ex and inc VAT in it says without them; the sign alone is the price."""
    bare = " ".join(re.sub(r"[£$€]|\b(gbp|eur|usd|vat|exc?|excl|excluding|incl?|including|plus)\b", " ", words).split())
    if not bare:
        return "price" if re.search(r"[£$€]", words) else None
    holds = _close(bare)
    return holds if holds in ("price", "total") else None


def _per(text: str) -> Per | None:
    """What a price is for by its heading: "per 100", "per metre"; "each" and "unit" leave the pack as asked."""
    found = re.search(r"(?:per|/) ?.+$", text, re.I)
    per = per_words(re.sub(r"[£$€()]", "", found[0])) if found else None
    return per if per is not None and per.kind in ("measure", "units", "piece") else None
