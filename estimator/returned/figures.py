"""One cell of a price column: a number or a text goes in, exact money with what it is for comes out, or what is wrong."""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Literal

from estimator.catalogue.model import Basis
from estimator.returned.cells import Odd, Value, as_text, one_line, shown
from estimator.returned.model import Status

ALONE = "write the price alone, as in 12.40, and anything else in the note"
TAIL = 40
"""What a price is for, and ex or inc, are said in fewer letters."""
PLACES, FIGURES = 6, 12
"""More decimals than any price has, and more figures than prices.csv takes."""
SIGNS = {"£": "GBP", "€": "EUR", "$": "USD", "gbp": "GBP", "eur": "EUR", "usd": "USD"}
NOT_SOLD = (
    "n/a",
    "na",
    "n.a.",
    "n.a",
    "no",
    "none",
    "not sold",
    "not stocked",
    "not available",
    "not avail",
    "unavailable",
    "cannot supply",
    "can't supply",
    "do not stock",
    "don't stock",
    "no stock",
    "discontinued",
    "obsolete",
)
ON_ASKING = (
    "poa",
    "p.o.a.",
    "p.o.a",
    "price on application",
    "on application",
    "on request",
    "price on request",
    "ask",
    "please ask",
    "call",
    "ring",
    "tbc",
    "tba",
    "to be confirmed",
)
NOTHING = ("-", "--", "–", "—", ".", "?", "x")
ANOTHER = re.compile(
    r"\b(alt|alternative(ly)?|instead|substitut\w*|subst?|equiv\w*|in lieu|replace[ds]?|replacement|similar|swap\w*|offered|offering|(we|can) offer)\b",
    re.I | re.A,
)

_NUMBER = r"\.\d+|\d[\d.,' ]*\d|\d"
_SIGN = r"£|€|\$|gbp|eur|usd"
_FIGURE = re.compile(
    rf"(?P<before>{_SIGN})? ?(?P<number>{_NUMBER}) ?(?P<pence>p(?![\w/]))? ?(?P<after>{_SIGN})?(?P<tail>.*)",
    re.I | re.A,
)
_PLAIN = re.compile(r"\d{1,9}(\.\d+)?|\.\d+", re.A)
_THOUSANDS = re.compile(r"\d{1,3}(,\d{3})+\.\d+|\d{1,3}(,\d{3}){2,}", re.A)

PerKind = Literal["pack", "each", "piece", "measure", "units"]


@dataclass(frozen=True, slots=True)
class Per:
    """What a price is for: a pack (of `units`, where told), each, one piece, one `measure` (m, m2, kg), or so many `units`.

    `said` is as written.
    """

    kind: PerKind
    units: Decimal | None
    said: str
    measure: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """What stands in a price cell: `money` (None where words stand there), what for, on which basis, or an answer in words."""

    money: Decimal | None
    per: Per | None
    basis: Basis | None
    status: Status
    said: str
    pence: bool = False


@dataclass(frozen=True, slots=True)
class Unfit:
    """Why a cell is not taken: what was found, and what to write."""

    found: str
    write: str


def figure(value: Value, currency: str) -> Figure | Unfit:
    """The price in a cell; nothing is guessed."""
    if isinstance(value, Odd):
        return Unfit(_odd(value), "write the price as a plain number, or n/a")
    if isinstance(value, date):
        return Unfit(
            f"a date, {value.isoformat()}, where a price belongs",
            "spreadsheets make dates of figures: write the price again",
        )
    if isinstance(value, Decimal):
        return _worth(Figure(value, None, None, "priced", as_text(value)), as_text(value))
    text = as_text(value)
    answer = words(text)
    return answer if answer is not None else _read(text, currency)


def words(text: str) -> Figure | None:
    """An answer in words: n/a, POA, something else offered; None where the text is none of these."""
    low = text.casefold().strip(" .!")
    if low in NOT_SOLD or text.casefold() in NOT_SOLD:
        return Figure(None, None, None, "not-sold", text)
    if low in ON_ASKING or text.casefold() in ON_ASKING:
        return Figure(None, None, None, "on-asking", text)
    if text in NOTHING:
        return Figure(None, None, None, "no-price", text)
    if ANOTHER.search(text):
        return Figure(None, None, None, "another", text)
    return None


def _odd(value: Odd) -> str:
    return f"{value.what} ({shown(value.text)[1:-1]})" if value.text else value.what


def _read(text: str, currency: str) -> Figure | Unfit:
    found = _FIGURE.fullmatch(text)
    if not found:
        if re.match(r"[-−–(]", text) and re.search(r"\d", text):
            return Unfit(f"{shown(text)} is below nothing", "write the price, or n/a")
        return Unfit(f"{shown(text)} is no price", "write the price, n/a or POA")
    signs = [SIGNS[sign.casefold()] for sign in (found["before"], found["after"]) if sign]
    other = next((sign for sign in signs if sign != currency), None)
    if other is not None:
        return Unfit(f"{shown(text)} is in {other}", f"write the price in {currency}")
    number = _number(found["number"].strip(), text)
    if isinstance(number, Unfit):
        return number
    tail = _tail(found["tail"])
    if tail is None:
        return Unfit(f"{shown(text)} says more than a price", ALONE)
    per, basis = tail
    pence = found["pence"] is not None
    if pence and signs:
        return Unfit(f"{shown(text)} has two signs of money", ALONE)
    return _worth(Figure(number.scaleb(-2) if pence else number, per, basis, "priced", text, pence), text)


def _number(text: str, whole: str) -> Decimal | Unfit:
    if _PLAIN.fullmatch(text):
        return Decimal(text)
    if _THOUSANDS.fullmatch(text):
        return Decimal(text.replace(",", ""))
    ambiguous = f"{shown(whole)} may be read in two ways"
    if re.fullmatch(r"\d{1,3},\d{3}", text):
        return Unfit(ambiguous, f"write {text.replace(',', '')} or {text.replace(',', '.')}")
    if re.fullmatch(r"\d+,\d+", text):
        return Unfit(ambiguous, f"write a decimal point, as in {text.replace(',', '.')}")
    if re.fullmatch(r"\d{1,3}(\.\d{3})+,\d+", text):
        return Unfit(ambiguous, f"write it with a decimal point alone, as in {text.replace('.', '').replace(',', '.')}")
    return Unfit(f"{shown(whole)} is no single number", ALONE)


def _worth(of: Figure, text: str) -> Figure | Unfit:
    """The figure, if it can be a price."""
    money = of.money
    if money is None:
        return of
    if money < 0:
        return Unfit(f"{text} is below nothing", "write the price, or n/a")
    if money == 0:
        return Unfit(f"{text}: is it free?", "write n/a if it is not sold, or the price")
    exact = money.normalize()
    if (
        -int(exact.as_tuple().exponent) > PLACES
        or len(exact.as_tuple().digits) > FIGURES
        or exact.adjusted() >= FIGURES - 3
    ):
        return Unfit(f"{text} has more figures than a price", "write it to the penny, or to four places at most")
    return of


_UNITS = r"m|metres?|meters?|mtrs?|m2|m²|sq\.? ?m|kg|kilos?|pcs?|pieces?|nr|no|off"
_PACK = r"packs?|pks?|pkts?|packets?|drums?|coils?|box(?:es)?|bags?|rolls?|reels?|lengths?|lgths?|tubs?|tubes?|sheets?|bundles?"
_LEAD = r"(?:per|/|@|for|a|p/)"
_PERS: tuple[tuple[PerKind, re.Pattern[str]], ...] = (
    ("pack", re.compile(rf"{_LEAD}? ?(?:an? )?(?:{_PACK}) of (?P<n>\d+(?:\.\d+)?) ?(?:{_UNITS})?", re.I | re.A)),
    ("pack", re.compile(rf"{_LEAD} ?(?P<n>\d+(?:\.\d+)?) ?(?:{_UNITS})? (?:{_PACK})", re.I | re.A)),
    ("pack", re.compile(rf"{_LEAD}? ?(?:{_PACK})", re.I | re.A)),
    (
        "measure",
        re.compile(r"(?:per|/|a|p/) ?(?:lin(?:ear)?\.? )?(?P<m>m|metre|meter|mtr|lm)|(?P<pm>p/?m)", re.I | re.A),
    ),
    ("measure", re.compile(r"(?:per|/|a) ?(?P<m2>m2|m²|sq\.? ?m|square metre)", re.I | re.A)),
    ("measure", re.compile(r"(?:per|/|a) ?(?P<kg>kg|kilo)", re.I | re.A)),
    ("piece", re.compile(r"(?:per|/|a) ?(?:pc|pce|piece)", re.I | re.A)),
    ("each", re.compile(r"(?:per |/ ?)?(?:each|ea)|e/a|(?:per|/) ?(?:item|unit|nr|no)", re.I | re.A)),
    ("units", re.compile(rf"(?:per|/|p/) ?(?P<n>\d+(?:\.\d+)?) ?(?:{_UNITS})?", re.I | re.A)),
)
_WORDED = {"hundred": "100", "thousand": "1000"}
_BASES: tuple[tuple[Basis, re.Pattern[str]], ...] = (
    (
        "ex",
        re.compile(
            r"(?:\+|plus|before|without|less) ?vat|ex(?:c|cl|cluding|clusive)?\.?(?: of)?(?: vat)?|vat ex(?:c|cl|cluded)?\.?",
            re.I | re.A,
        ),
    ),
    (
        "inc",
        re.compile(
            r"(?:with)? ?inc(?:l|luding|lusive)?\.?(?: of)?(?: vat)?|with vat|vat inc(?:l|luded)?\.?", re.I | re.A
        ),
    ),
)


def per_words(text: str) -> Per | None:
    """What a whole text says a price is for, as in "per 100", "/m", "each", "per drum of 50 m"; None for any other text."""
    said = one_line(text).strip(" .,;:()")
    low = said.casefold()
    for word, digits in _WORDED.items():
        low = re.sub(rf"\b{word}\b", digits, low)
    for kind, pattern in _PERS:
        match = pattern.fullmatch(low)
        if match:
            groups = match.groupdict()
            units = groups.get("n")
            if units is not None and not Decimal(units):
                return None
            measure = next((name.removeprefix("p") for name, of in groups.items() if of and name != "n"), "")
            return Per(kind, Decimal(units) if units else None, said, measure)
    return None


def basis_words(text: str) -> Basis | None:
    """Ex or inc VAT, as a whole text says it; None for any other text."""
    said = one_line(text).strip(" .,;:()")
    return next((basis for basis, pattern in _BASES if pattern.fullmatch(said)), None)


def _tail(text: str) -> tuple[Per | None, Basis | None] | None:
    """What stands after a number; None where it is more than that."""
    rest = text.strip(" .,;:()")
    if not rest:
        return None, None
    if len(rest) > TAIL:
        return None
    whole = per_words(rest)
    if whole is not None:
        return whole, None
    for at in (index for index in range(len(rest) + 1) if index in (0, len(rest)) or rest[index] in " +,;("):
        first, second = rest[:at], rest[at:]
        for one, other in ((first, second), (second, first)):
            per, basis = per_words(one) if one.strip() else None, basis_words(other)
            if basis is not None and (per is not None or not one.strip(" .,;:()")):
                return per, basis
    return None
