"""One cell of a price column: a number or a text goes in, exact money with what it is for comes out, or what is wrong."""

import re
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.returned.cells import Odd, Value, as_text, shown
from estimator.returned.model import Status
from estimator.returned.pers import Per, basis_words, per_words

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
    "out of stock",
    "o/s",
    "nla",
    "n/s",
    "no longer available",
    "no longer made",
    "no longer stocked",
    "not kept",
    "dont stock",
    "we don't stock",
    "we do not stock",
    "don't do",
    "don't do these",
    "we don't do these",
    "don't keep",
    "nil",
    "discontinued",
    "obsolete",
)
ON_ASKING = (
    "poa",
    "p.o.a.",
    "p.o.a",
    "price on application",
    "price tbc",
    "price to be confirmed",
    "price to follow",
    "phone",
    "please call",
    "please ring",
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

_NUMBER = r"\.\d+|\d[\d.,']*\d|\d"
_SIGN = r"£|€|\$|gbp|eur|usd"
_FIGURE = re.compile(
    rf"(?:@ ?)?(?P<before>{_SIGN})? ?(?P<number>{_NUMBER}) ?(?P<pence>p(?![\w/]))? ?(?P<after>{_SIGN})?(?P<tail>.*)",
    re.I | re.A,
)
_IDLE = re.compile(r"\b(?:nett?|only|trade)\b(?! ?of)", re.I | re.A)
"""Words beside a price that change nothing."""
_COUNT_FOR = re.compile(
    r"(?P<count>[1-9]\d{0,3}) ?(?P<mark>for|@) ?(?P<rest>[£€$]? ?(?:\d+\.\d\d?|\d{1,3})(?!\d|[.,]\d).*)", re.I | re.A
)
_PLAIN = re.compile(r"\d{1,9}(\.\d+)?|\.\d+", re.A)
_THOUSANDS = re.compile(r"\d{1,3}(,\d{3})+\.\d+|\d{1,3}(,\d{3}){2,}", re.A)


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


def _so_many_for(text: str, currency: str) -> Figure | Unfit | None:
    """So many pieces for a sum, as in "2 for 1.10"; None where the first figure is no count of pieces."""
    found = _COUNT_FOR.fullmatch(text)
    if found is None:
        return None
    count, rest = Decimal(found["count"]), found["rest"]
    if found["mark"] == "@":
        return Unfit(
            f"{shown(text)}: is {rest} for one, or for {count}?", f'write "{rest} each", or "{rest} for {count}"'
        )
    if not re.search(r"[£€$]|\d\.\d", rest):
        both = (
            f"{shown(text)} may be read in two ways: {count} pieces for {rest}, or {count} in money for {rest} pieces"
        )
        return Unfit(both, f'write the price with its pence, as in "{count} for {rest}.00", or "{count}.00 per {rest}"')
    money = _read(rest, currency)
    if isinstance(money, Unfit) or money.per is not None:
        return money if isinstance(money, Unfit) else Unfit(f"{shown(text)} says more than a price", ALONE)
    return Figure(money.money, Per("units", count, f"for {count}"), money.basis, "priced", text)


def _read(text: str, currency: str) -> Figure | Unfit:
    several = _so_many_for(text, currency)
    if several is not None:
        return several
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


def _tail(text: str) -> tuple[Per | None, Basis | None] | None:
    """What stands after a number; None where it is more than that."""
    rest = _IDLE.sub("", text.strip(" .,;:()")).strip(" .,;:()")
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
