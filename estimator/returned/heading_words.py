"""Words over a column: a heading as it was found goes in; what the column holds, and what a price in it is for, comes out."""

import re
from collections.abc import Mapping
from types import MappingProxyType

from estimator.catalogue.model import Basis
from estimator.returned.cells import plain
from estimator.returned.pers import Per, per_words

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
        "one length": "ours",
        "same kind accepted": "ours",
        "job": "job",
        "list mark": "mark",
        "date": "date",
        "prices good until": "good",
        "prices ex or inc vat": "vat",
        "priced on": "priced",
        "prices of": "priced",
    }
)
IDLE = frozenset(
    ("counter", "shelf", "to", "trip", "reference", "wanted by", "collect or deliver", "contact", "please", "weight")
)
"""Columns of our own tables that say nothing of a price."""
_WHOSE = (
    "our|your|my|net|nett|unit|pack|selling|sell|trade|quoted|quote|quotation|special|buying|buy|discounted|customer|"
    "account|contract|counter|best|tendered|offered|offer|final|current|new|item|goods|piece|pcs|single"
)
_PRICE = "price|prices|pricing|cost|costs|rate|rates|charge"
_EACH = r"each|ea|e a|m|m2|mtr|metre|kg|unit|pcs?|pk|pack|\d+|per .+|a pack|(?:of|for) (?:a|one|each)(?: pack)?"
_SUM = r"totals?|amount|amt|value|sum|ext(?:d|n|ended|ension)?"
_CLOSE: tuple[tuple[str, str], ...] = (
    ("line", r"line (no|nr|number|#|item)|no|nr|#|ln|item( (no|nr|number|#))?|pos|position"),
    (
        "what",
        r"(item |product |goods |full )?(description|desc|descr)|article|goods|product( name)?|details?|what it is|material",
    ),
    ("trade", r"trade (description|words|name)|trade"),
    ("size", r"size|finish|size (or|and|,)? ?(finish|colou?r)|finish or colou?r|colou?r"),
    (
        "code",
        r"(our|their|product|stock|order|part|item|supplier|cat(alogue)?) ?(code|nr|number|ref)|(part|product|stock|cat) no|code|sku",
    ),
    ("quantity", r"(total |order |your )?(qty|quantity)( needed| wanted| required| reqd| req)?|amount needed"),
    ("unit", r"uom|u o m|unit of measure|units"),
    ("pack", r"pack( size)?|pack (asked|offered|sold|priced)|your pack|sold (as|in)"),
    ("packs", r"(nr|no|number) of packs|packs (wanted|needed|offered)|your packs"),
    (
        "stock",
        r"(qty |quantity |nr |no )?(in |on )?(stock|hand)( qty| level| status| y n| availability)?|(qty |quantity )?(avail|available|availability)( now)?|"
        r"lead( ?time)?( in)?( days| weeks| wks)?|days|del(ivery)?( time| days| date)?|eta|when",
    ),
    (
        "note",
        r"((your|our|merchant|supplier|s|and|or|other|any|merchants|suppliers) )*(notes?|remarks?|comments?|observations?|info|information)"
        r"( (and|or))?( (notes?|remarks?|comments?))*",
    ),
    (
        "note",
        r"(suggested |our )?(alternatives?|substitutions?|substitutes?|alt)( (offered|product|item|article|goods))?",
    ),
    ("good", r"(price |prices )?(valid|good) until|validity|price good until|prices held until"),
    ("vat", r"ex or inc( vat)?|ex inc( vat)?|vat (ex or inc|basis)|prices? (are )?ex or inc"),
    ("priced", r"priced (on|at)|date (priced|of (prices|quote|quotation))|(quote|quotation) date"),
    ("tax", r"vat( (rate|amount|code|amt))?( %)?|% vat|tax( rate)?"),
    ("discount", r"(trade )?(disc|discount)s?( %| rate| given)?|% (disc|discount)|less( %)?"),
)
_LIST = rf"(trade )?(list|retail|rrp|book|catalogue|gross|before discount|full)( ({_PRICE}))?( ({_EACH}))?"
_PRICES = rf"(({_WHOSE}) )*({_PRICE})( ({_WHOSE}))?( ({_EACH}))?|(({_WHOSE}) )*(each|ea)"
_TOTALS = (
    rf"((line|net|nett|goods|order|sub|grand) )*({_SUM})( ({_PRICE}|{_SUM}|net|nett|goods))?|line ({_PRICE}|{_SUM})|"
    r"price of (the )?line|(price|cost) (for )?(all|total)|subtotal"
)
_BY_SIGN = rf"({_WHOSE})|(({_WHOSE}) )*({_EACH})"
_SIGNS = r"[£$€]|\b(?:gbp|eur|usd)\b"
_VAT = r"\b(?:ex|exc|excl|excluding|plus|inc|incl|including)\b(?: of)?(?: vat\b)?|\bvat\b"
_BASIS = re.compile(
    r"\b(ex|exc|excl|excluding|plus|inc|incl|including)\b\.?(?: of)? ?vat|\b(exc?|inc)l?\b(?! or)", re.I
)


def held_by(text: str) -> str | None:
    """What a column holds by its heading; `list` is a price before discount, `tax` and `discount` are no prices; None
    for a heading that is not known.
    """
    words = plain(text)
    return OURS.get(words) or _close(words) or _money(words)


def _close(words: str) -> str | None:
    return next((of for of, close in _CLOSE if re.fullmatch(close, words)), None)


def _money(words: str) -> str | None:
    """What a heading says besides signs of money, ex and inc VAT; a sign alone, or before "unit", is the price."""
    signed = re.search(_SIGNS, words) is not None
    rest = " ".join(re.sub(_SIGNS, " ", words).split())
    if signed and re.fullmatch(r"(vat|tax)( (amount|amt))?", rest):
        return "tax"
    bare = " ".join(re.sub(_VAT, " ", rest).split())
    if not bare:
        return "price" if signed else None
    for holds, pattern in (("list", _LIST), ("total", _TOTALS), ("price", _PRICES)):
        if re.fullmatch(pattern, bare):
            return holds
    return "price" if signed and re.fullmatch(_BY_SIGN, bare) else None


def per_said(text: str) -> Per | None:
    """What a price is for by its heading: "per 100", "per metre"; "each" and "unit" leave the pack as asked."""
    found = re.search(r"(?:\bper\b|/) ?.+$", text, re.I)
    per = per_words(re.sub(r"[£$€()]|(?:ex|inc)[a-z]*\.? vat", "", found[0], flags=re.I)) if found else None
    return per if per is not None and per.kind in ("measure", "units", "piece", "mark") else None


def basis_said(text: str) -> Basis | None:
    """Ex or inc VAT by a heading; None where it does not say."""
    found = _BASIS.search(text)
    if not found:
        return None
    return "inc" if (found[1] or found[2]).casefold().startswith("inc") else "ex"


def is_net(text: str) -> bool:
    """Whether a heading says that its price is after any discount."""
    return re.search(r"\b(nett?|after|discounted|your|final|special)\b", text, re.I) is not None
