"""Quantities as text: "450 mm", "12 ft 6 in", "5 %", "2 kW", "£480" -> plain numbers, or what is wrong with them.

Every text must match a strict pattern whole before a unit is looked up, so nothing is guessed or worked out from it.
A mistake comes back as `Wrong`: a value, never an exception. Lengths of the building become whole millimetres, half
up; everything else stays exact.
"""

import re
from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from estimator.rounding import half_up

if TYPE_CHECKING:
    from pint import UnitRegistry

_DEFINITIONS = (
    "millimetre = [length] = mm",
    "centimetre = 10 * millimetre = cm",
    "metre = 1000 * millimetre = m",
    "inch = 25.4 * millimetre = in",  # international yard and pound agreement of 1959, from memory
    "foot = 304.8 * millimetre = ft",
    "square_millimetre = [area] = mm2",
    "square_metre = 1000000 * square_millimetre = m2",
    "watt = [power] = W",
    "kilowatt = 1000 * watt = kW",
)
_TENS = ({"mm": 0, "cm": 1, "m": 3}, {"mm2": 0, "m2": 6}, {"W": 0, "kW": 3})
"""Families that go by tens, as powers: a job in metres, as most are, need not wait for a library of units."""
_NUMBER = r"(?:0|[1-9]\d{0,8})(?:\.\d{1,6})?"
_QUANTITY = re.compile(rf"(?P<number>-?{_NUMBER}) *(?P<unit>[A-Za-z%\u03a9\u2126]+[2²]?)")
_FEET = re.compile(rf"(?P<minus>-?)(?P<feet>0|[1-9]\d{{0,5}}) *ft *(?P<inches>{_NUMBER}) *in")
_MONEY = re.compile(r"(?P<symbol>[£€$]?) ?(?P<number>(?:0|[1-9]\d{0,8})(?:\.\d{1,2})?)")
_COMMA = re.compile(r"(-?)(\d+),(\d+)(\.\d+)? *([A-Za-z%]*2?)")
_DAY = re.compile(r"([12]\d{3})[-/.](\d{1,2})[-/.](\d{1,2})", re.ASCII)
_UNITLESS = re.compile(r"-?\d+(\.\d+)?")
_SPELLINGS = {"\u03a9": "ohm", "\u2126": "ohm", "ohms": "ohm", "mm²": "mm2", "m²": "m2", "lux": "lx"}


@dataclass(frozen=True, slots=True)
class Wrong:
    """What is wrong with a value: `found` there, and what to `write` instead."""

    found: str
    write: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and its unit, both as given."""

    value: Decimal
    unit: str

    def to(self, unit: str) -> Decimal:
        """The same in another unit of its family, exact."""
        return self.value * factor(self.unit, unit)


@dataclass(frozen=True, slots=True)
class Money:
    """An amount, and the sign before it ("£", or "" where none was written)."""

    amount: Decimal
    symbol: str


@dataclass(frozen=True, slots=True)
class Family:
    """The units one kind of quantity may have, and an example of how to write it."""

    name: str
    units: tuple[str, ...]
    example: str


LENGTH = Family("a length", ("mm", "cm", "m", "ft", "in"), "450 mm")
AREA = Family("an area", ("m2", "mm2"), "12.5 m2")
PERCENT = Family("a percentage", ("%",), "5 %")
POWER = Family("a power", ("W", "kW"), "2 kW")
CURRENT = Family("a current", ("A",), "80 A")
LOAD = Family("a load", ("W", "kW", "A"), "2 kW")
RESISTANCE = Family("a resistance", ("ohm",), "0.35 ohm")
VOLTAGE = Family("a voltage", ("V",), "230 V")
ILLUMINANCE = Family("a light level", ("lx",), "300 lx")


def quantity(value: object, family: Family) -> Quantity | Wrong:
    """A number with a unit of `family`, from text; "12 ft 6 in" comes back in inches."""
    if not isinstance(value, str):
        return _no_text(value, family)
    text = value.strip()
    feet = _FEET.fullmatch(text) if family is LENGTH else None
    if feet is not None:
        inches = Decimal(feet["feet"]) * 12 + Decimal(feet["inches"])
        return Quantity(-inches if feet["minus"] else inches, "in")
    match = _QUANTITY.fullmatch(text)
    if match is None:
        return Wrong(f'"{value}" is not {family.name}', _advice(text, family))
    unit = _SPELLINGS.get(match["unit"], match["unit"])
    if unit not in family.units:
        return Wrong(f'"{value}" is not {family.name}', _other_unit(match["number"], unit, family))
    return Quantity(Decimal(match["number"]), unit)


def length_mm(value: object) -> int | Wrong:
    """A length of the building in whole millimetres, half up."""
    size = size_mm(value)
    return size if isinstance(size, Wrong) else half_up(size)


def size_mm(value: object) -> Decimal | Wrong:
    """The size of a thing in millimetres, exact."""
    found = quantity(value, LENGTH)
    return found if isinstance(found, Wrong) else found.to("mm")


def ratio(value: object) -> Decimal | Wrong:
    """A percentage from 0 to 100 as a ratio: "5 %" is 0.05."""
    found = quantity(value, PERCENT)
    if isinstance(found, Wrong):
        return found
    if not 0 <= found.value <= 100:
        return Wrong(f'"{value}" is not between 0 % and 100 %', 'write for example "5 %"')
    return found.value.scaleb(-2)


UNSURE = 2
"""A length of so many figures may be in metres or in millimetres: a trench of 18 m, a board of 18 mm."""
DAY = "write year-month-day without quotes, for example 2026-10-01"


def wrong_day(text: str) -> Wrong | None:
    """What is wrong with a text that is written like a day and is none; None where it is not written like one."""
    found = _DAY.fullmatch(text.strip())
    if found is None:
        return None
    year, month, day = int(found[1]), int(found[2]), int(found[3])
    if not 1 <= month <= 12:
        return Wrong(f"there is no month {month} ({text.strip()})", DAY)
    last = monthrange(year, month)[1]
    if not 1 <= day <= last:
        return Wrong(f"there is no such day as {text.strip()}", f"write {year:04}-{month:02}-{last} or another day")
    return Wrong(f"{text.strip()} is not a date", f"write {year:04}-{month:02}-{day:02}, without quotes")


def money(value: object) -> Money | Wrong:
    """An amount of money, not below zero, in pounds and pence or the like: "£480", "480.00"."""
    if not isinstance(value, str):
        shown = show(value)
        if _is_number(value):
            return Wrong(f"{shown} is a bare number", f'write it in quotes: "£{shown}"')
        return Wrong(f"{shown} is no amount of money", 'write for example "£480"')
    match = _MONEY.fullmatch(value.strip())
    if match is None:
        return Wrong(f'"{value}" is no amount of money', _money_advice(value.strip()))
    return Money(Decimal(match["number"]), match["symbol"])


@lru_cache(maxsize=64)
def factor(unit: str, into: str) -> Decimal:
    """What to multiply by to come from one unit to another of its family."""
    for tens in _TENS:
        if unit in tens and into in tens:
            power = tens[unit] - tens[into]
            return Decimal(10**power) if power >= 0 else Decimal(1).scaleb(power)
    if unit == into:
        return Decimal(1)
    registry = _registry()
    return Decimal(registry.Quantity(Decimal(1), unit).to(into).magnitude)


@lru_cache(maxsize=1)
def _registry() -> "UnitRegistry[Any]":
    """A registry that knows our few units only: it comes up in 3 ms where the full one takes 140."""
    from pint import UnitRegistry

    registry: UnitRegistry[Any] = UnitRegistry(None, non_int_type=Decimal)
    for definition in _DEFINITIONS:
        registry.define(definition)
    return registry


def show(value: object) -> str:
    """A value of a job file the way messages quote it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return f'"{value}"'
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, Sequence):
        return "a list"
    return str(value)


def _is_number(value: object) -> bool:
    return isinstance(value, int | Decimal | float) and not isinstance(value, bool)


def _no_text(value: object, family: Family) -> Wrong:
    shown = show(value)
    if _is_number(value):
        return Wrong(f"{shown} has no unit", _with_unit(shown, family))
    return Wrong(f"{shown} is not {family.name}", f'write for example "{family.example}"')


def _with_unit(number: str, family: Family) -> str:
    """The number with the unit that was most likely meant; never used, only proposed."""
    if family is PERCENT and 0 < Decimal(number) < 1:
        share = f"{Decimal(number).scaleb(2).normalize():f} %"
        return (
            f'write the unit, in quotes: "{share}" (which is {number} of the whole) or "{number} %", whichever is meant'
        )
    if family is LENGTH and len(number.lstrip("-")) == UNSURE and "." not in number:
        return f'write the unit, in quotes: "{number} m" or "{number} mm"'
    return f'write the unit, in quotes: "{number} {_likely_unit(number, family)}"'


def _likely_unit(number: str, family: Family) -> str:
    if family is LENGTH:
        small = "." in number or len(number.lstrip("-")) == 1
        return "m" if small and number.strip("-0.") else "mm"
    if family in (POWER, LOAD):
        return "kW" if "." in number or len(number) <= 2 else "W"
    return family.units[0]


def _advice(text: str, family: Family) -> str:
    """What to write for a text that fits no pattern."""
    if _UNITLESS.fullmatch(text):
        return _with_unit(text, family)
    comma = _COMMA.fullmatch(text)
    if comma is not None:
        return _without_comma(comma, family)
    tidied = text.strip(" ,;.:")
    if tidied != text and not isinstance(quantity(tidied, family), Wrong):
        return f'write "{tidied}"'
    marked = re.fullmatch(rf"({_NUMBER}) *(?:'|’|′) *(?:({_NUMBER}) *(?:\"|”|″|'')?)?", text)
    if family is LENGTH and marked is not None:
        return f'write "{marked[1]} ft{f" {marked[2]} in" if marked[2] else ""}"'
    return f'write a number and a unit ({", ".join(family.units)}), for example "{family.example}"'


def _without_comma(comma: re.Match[str], family: Family) -> str:
    minus, whole, rest, more, unit = comma.groups()
    unit = unit if unit in family.units else _likely_unit(f"{whole}.{rest}", family)
    thousands = f'"{minus}{whole}{rest}{more or ""} {unit}"'
    if more:
        return f"write {thousands}, without the comma"
    point = f'"{minus}{whole}.{rest} {unit}"'
    if len(rest) == 3:
        return f"write {thousands} or {point}, without the comma"
    return f"write {point}, with a point"


def _other_unit(number: str, unit: str, family: Family) -> str:
    for known in family.units:
        if unit.lower() == known.lower():
            return f'write "{number} {known}"'
    words = {"metre": "m", "meter": "m", "foot": "ft", "feet": "ft", "inch": "in", "mil": "mm", "amp": "A",
             "volt": "V", "watt": "W", "percent": "%", "cent": "cm"}  # fmt: skip
    for start, known in words.items():
        if unit.lower().startswith(start) and known in family.units and unit.lower() not in ("centimes", "miles"):
            return f'write "{number} {known}"'
    return f'write one of the units {", ".join(family.units)}, for example "{family.example}"'


def _money_advice(text: str) -> str:
    if ends := re.fullmatch(r"([£€$]?) ?(\d+(?:\.\d{1,2})?) *(?:-|–|to) *[£€$]? ?(\d+(?:\.\d{1,2})?)", text):
        sign, low, high = ends.groups()
        return f'write the range as {{ low = "{sign}{low}", likely = "...", high = "{sign}{high}" }}, where a range may stand'
    text = re.sub(r" *(pounds?|quid|gbp)$", "", text, flags=re.IGNORECASE)
    bare = re.sub(r"[£€$, ]", "", text)
    if re.fullmatch(r"(?:0|[1-9]\d*)(?:\.\d{1,2})?", bare):
        symbol = next((sign for sign in "£€$" if sign in text), "")
        return f'write "{symbol}{bare}"'
    return 'write for example "£480" or "£12.50"'
