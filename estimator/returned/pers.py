"""What a price is for, and ex or inc VAT: words such as "per 100", "/m", "25 kg bag" go in, what they mean comes out."""

import re
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.catalogue.model import Basis
from estimator.returned.cells import one_line

PerKind = Literal["pack", "each", "piece", "measure", "units", "mark"]


@dataclass(frozen=True, slots=True)
class Per:
    """What a price is for: a pack (of `units`, where told), each, one piece, one `measure` (m, m2, kg), or so many `units`.

    `mark` is an old trade mark (`measure` holds %, C or M) that has to be asked about. `unit` is the unit that stands
    with `units`, "" where none does; `said` is as written.
    """

    kind: PerKind
    units: Decimal | None
    said: str
    measure: str = ""
    unit: str = ""


UNITS = r"m2|m²|sq\.? ?m|m|metres?|meters?|mtrs?|kg|kilos?|pcs?|pieces?|nr|no|off"
PACKS = (
    r"packs?|pks?|pkts?|packets?|drums?|coils?|box(?:es)?|bxs?|bags?|rolls?|reels?|lengths?|lgths?|tubs?|tubes?|"
    r"sheets?|bundles?|cartons?|ctns?"
)
COMMON = ("1", "5", "10", "12", "20", "25", "50", "100", "144", "200", "250", "500", "1000")
"""Numbers that stand after a stroke for so many pieces; any other might be a second price."""
_LEAD = r"(?:per|/|@|for|a|p/)"
_N = r"(?P<n>\d+(?:\.\d+)?)"
_UNIT = rf"(?P<u>{UNITS})"
_PERS: tuple[tuple[PerKind, re.Pattern[str]], ...] = (
    ("pack", re.compile(rf"{_LEAD}? ?(?:an? )?(?:{PACKS})(?: of |/| |-)?{_N} ?{_UNIT}?", re.I | re.A)),
    ("pack", re.compile(rf"{_LEAD}? ?{_N} ?{_UNIT}? ?(?:{PACKS})", re.I | re.A)),
    ("pack", re.compile(rf"{_LEAD}? ?(?:full )?(?:{PACKS})", re.I | re.A)),
    ("pack", re.compile(rf"{_N} ?/ ?(?:{PACKS})", re.I | re.A)),
    ("pack", re.compile(rf"{_N} ?(?P<u>m2|m²|m|metres?|meters?|mtrs?|kg|kilos?) (?:each|ea)\.?", re.I | re.A)),
    (
        "measure",
        re.compile(r"(?:per ?|/ ?|a |p/ ?)(?:lin(?:ear)?\.? )?(?P<m>m|metre|meter|mtrs?|lm)|(?P<pm>p/?m)", re.I | re.A),
    ),
    ("measure", re.compile(r"(?:per ?|/ ?|a )(?P<m2>m2|m²|sq\.? ?m|square metre)", re.I | re.A)),
    ("measure", re.compile(r"(?:per ?|/ ?|a )(?P<kg>kg|kilo)", re.I | re.A)),
    (
        "piece",
        re.compile(
            r"(?:per ?|/ ?|a )(?:pc|pce|piece|single|one)|singles?|(?:sold )?singly|(?:per )?(?:each|ea\.?) ?\(?(?:of )?1|"
            r"1 (?:each|ea|off|only)",
            re.I | re.A,
        ),
    ),
    ("each", re.compile(r"(?:per |/ ?)?(?:each|ea)|e/a|(?:per|/) ?(?:item|unit|nr|no)", re.I | re.A)),
    ("units", re.compile(rf"(?:per|p/|pr|for|@) ?{_N}(?:'?s)? ?{_UNIT}?", re.I | re.A)),
    ("units", re.compile(rf"/ ?(?P<n>{'|'.join(sorted(COMMON, key=len, reverse=True))}) ?{_UNIT}?", re.I | re.A)),
    ("units", re.compile(rf"/ ?{_N} ?{_UNIT}", re.I | re.A)),
)
_IDLE = re.compile(r"(?: |^)(?:nett?|trade)(?= |$)", re.I | re.A)
"""Words beside ex and inc that change nothing."""
_MARK = re.compile(r"(?:(?:per|PER|Per) ?|/ ?|p/)?(?P<mark>%|cent|[Cc]|M)", re.A)
_WORDED = {"hundred": "100", "thousand": "1000", "dozen": "12", "doz": "12", "pair": "2"}
_BASES: tuple[tuple[Basis, re.Pattern[str]], ...] = (
    (
        "ex",
        re.compile(
            r"(?:\+|plus|before|without|less) ?vat|ex(?:c|cl|cluding|clusive)?\.?(?: of)?(?: vat)?|vat ex(?:c|cl|cluded)?\.?|vat (?:is )?(?:extra|to be added|on top)",
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
    mark = _MARK.fullmatch(said)
    if mark:
        return Per("mark", None, said, {"cent": "%", "c": "C"}.get(mark["mark"], mark["mark"]))
    low = said.casefold()
    for word, digits in _WORDED.items():
        low = re.sub(rf"\b(?:a )?{word}\b", digits, low)
    for kind, pattern in _PERS:
        match = pattern.fullmatch(low)
        if match:
            return _per(kind, match, said)
    return None


def _per(kind: PerKind, match: re.Match[str], said: str) -> Per | None:
    groups = match.groupdict()
    units = groups.get("n")
    whole = units is None or Decimal(units) == Decimal(units).to_integral_value()
    if (units is not None and not Decimal(units)) or (kind == "units" and not whole and not groups.get("u")):
        return None
    measure = next((name.removeprefix("p") for name, of in groups.items() if of and name not in ("n", "u")), "")
    closed = f"{said})" if said.count("(") > said.count(")") else said
    return Per(kind, Decimal(units) if units else None, closed, measure, unit_of(groups.get("u") or ""))


def unit_of(word: str) -> str:
    """A unit as the catalogue has it: m, m2, kg or nr; "" for no word."""
    low = word.casefold()
    if not low:
        return ""
    if low in ("m2", "m²") or low.startswith("sq"):
        return "m2"
    if low.startswith("k"):
        return "kg"
    return "nr" if low[0] in "pno" else "m"


def basis_words(text: str) -> Basis | None:
    """Ex or inc VAT, as a whole text says it; None for any other text."""
    said = re.sub(r" ?(?:at|@) ?\d+(?:\.\d+)? ?%", "", one_line(text))
    said = _IDLE.sub(" ", said).strip(" .,;:()")
    return next((basis for basis, pattern in _BASES if pattern.fullmatch(said)), None)
