"""The kinds of single values a job file holds: how each is read, how messages call it, how an editor's schema has it.

`Kind.read` takes a plain value of the file and gives the value to work with, or `Wrong`.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from decimal import Decimal

from estimator import quantities as q
from estimator.job import phrases
from estimator.job.model import Age
from estimator.problems import nearest, unseen, without_unseen
from estimator.quantities import Family, Quantity, Wrong, show

Reader = Callable[[object], object]
Schema = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of value. `example` is one as it would stand in the file; `schema` is its JSON Schema."""

    example: str
    read: Reader
    schema: Schema = field(default_factory=dict)


def text_of(example: str, read: Reader, pattern: str) -> Kind:
    """A kind that is written as text of a pattern."""
    return Kind(f'"{example}"', read, {"type": "string", "pattern": pattern})


def _text(value: object) -> object:
    if not isinstance(value, str):
        quoted = f'write it in quotes: "{show(value)}"'
        return Wrong(f"{show(value)} is not text", quoted if _plain(value) else "write text, in quotes")
    if not value.strip():
        return Wrong("the text is empty", "write a name or take the line out")
    if value != value.strip() or any(character in value for character in "\n\r\t"):
        return Wrong(f"{value!r} has blanks round it or line breaks in it", f'write "{" ".join(value.split())}"')
    if found := unseen(value):
        seen = without_unseen(value)
        write = f'write "{seen}"' if seen else "write it again by hand"
        return Wrong(f"{show(value)} holds {', '.join(found)}, which cannot be seen and could turn text round", write)
    return value


def _plain(value: object) -> bool:
    return isinstance(value, int | Decimal | date)


def _switch(value: object) -> object:
    if isinstance(value, bool):
        return value
    meant = str(value).strip().lower()
    hint = {"yes": "write true", "on": "write true", "true": "write true, without quotes", "1": "write true",
            "no": "write false", "off": "write false", "false": "write false, without quotes",
            "0": "write false"}  # fmt: skip
    return Wrong(f"{show(value)} is neither true nor false", hint.get(meant, "write true or false"))


def _date(value: object) -> object:
    if isinstance(value, date) and not isinstance(value, datetime):
        return value
    if isinstance(value, datetime):
        return Wrong(f"{value} holds a time of day", f"write {value.date()}")
    try:
        meant = date.fromisoformat(str(value).strip())
    except ValueError:
        return q.wrong_day(str(value)) or Wrong(f"{show(value)} is not a date", q.DAY)
    return Wrong(f"{show(value)} is text", f"write the date without quotes: {meant}")


_COUNTED = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
NUMBERS = {word: number for number, word in enumerate(_COUNTED, 1)}
"""Numbers in words."""


def whole(least: int, most: int) -> Kind:
    """A whole number from `least` to `most`."""

    def read(value: object) -> object:
        if isinstance(value, str) and value.strip().isdecimal():
            return Wrong(f"{show(value)} is text", f"write the number without quotes: {int(value)}")
        if isinstance(value, str) and (said := NUMBERS.get(value.strip().lower())):
            return Wrong(f"{show(value)} is text", f"write the number in figures: {said}")
        if not isinstance(value, int) or isinstance(value, bool):
            return Wrong(f"{show(value)} is not a whole number", f"write a whole number from {least} up")
        if not least <= value <= most:
            return Wrong(f"{value} is out of range", f"write a whole number from {least} to {most}")
        return value

    return Kind("4", read, {"type": "integer", "minimum": least, "maximum": most})


def number(least: Decimal, most: Decimal) -> Kind:
    """A plain number, which has no unit, above `least` and not above `most`."""

    def read(value: object) -> object:
        if not isinstance(value, int | Decimal) or isinstance(value, bool) or not Decimal(value).is_finite():
            return Wrong(f"{show(value)} is not a number", f"write a number up to {most}, without quotes")
        if not least < Decimal(value) <= most:
            return Wrong(f"{value} is out of range", f"write a number above {least} and up to {most}")
        return Decimal(value)

    return Kind("0.8", read, {"type": "number", "minimum": float(least), "maximum": float(most)})


def words(*known: str, meant: Mapping[str, str] | None = None, told: str = "") -> Kind:
    """One of a few words; `meant` has others that people write for them, in small letters, `told` what the known ones mean."""

    def read(value: object) -> object:
        if isinstance(value, str) and value in known:
            return value
        one = (meant or {}).get(str(value).strip().lower())
        hint = f'write "{one}" if that is meant' if one else _one_of(str(value), known)
        return Wrong(f"{show(value)} is not known here", f"{hint} ({told})" if told else hint)

    return Kind(f'"{known[0]}"', read, {"type": "string", "enum": list(known)})


def _one_of(word: str, known: tuple[str, ...]) -> str:
    shown = [f'"{name}"' for name in known]
    if (small := word.strip().casefold()) != word and small in known:
        return f'write "{small}"'
    if len(shown) <= 6:
        return f"write {', '.join(shown[:-1])} or {shown[-1]}"
    near = nearest(word, known)
    return f'did you mean "{near}"?' if near else f"write one of {', '.join(shown)}"


LONGEST_MM = 500_000
"""Longer than any room, trench or run; a length beyond it has the wrong unit."""


def _smaller(text: str) -> str:
    """What a length may have been meant to be: its figures as millimetres."""
    figures = text.strip().split(" ")[0].rstrip("cmftin")
    return f'write "{figures} mm" if millimetres are meant'


def length(*, below_zero: bool = False, zero: bool = True, exact: bool = False) -> Kind:
    """A length in whole mm, or an `exact` size; whether it may be zero or below."""

    def read(value: object) -> object:
        found = q.size_mm(value) if exact else q.length_mm(value)
        if isinstance(found, Wrong):
            return _below(value) or found if below_zero else found
        if found < 0 and not below_zero:
            meant = show(str(value).strip().lstrip("-"))
            return Wrong(f"{show(value)} is below zero", f"write {meant} if that is meant")
        if found == 0 and not zero:
            return Wrong(f"{show(value)} is nothing", 'write a length above zero, for example "450 mm"')
        if found > LONGEST_MM or -found > LONGEST_MM:
            return Wrong(
                f"{show(value)} is longer than anything here can be", f"check the unit: {_smaller(str(value))}"
            )
        return found

    pattern = _quantity_pattern(q.LENGTH, below_zero)
    return text_of("450 mm", read, rf"{pattern[:-1]}|^-?\d+ *ft *\d+(\.\d+)? *in$")


def _below(value: object) -> Wrong | None:
    """What to write for "150 mm below"."""
    size = re.sub(r" +below( .*)?$", "", value.strip()) if isinstance(value, str) else ""
    if size == value or isinstance(q.length_mm(size), Wrong):
        return None
    return Wrong(f"{show(value)} is not a length", f'write "-{size}" (a minus for what is below)')


def between(least: str, most: str) -> Kind:
    """A length in whole mm of which we know how small and how large it can be at all; written as messages tell them.

    What is only unlikely is taken; what is beyond any building has the wrong unit, and is told where it stands.
    """
    low, high = (size for size in map(q.length_mm, (least, most)) if not isinstance(size, Wrong))
    extent = LENGTH if low == 0 else EXTENT

    def read(value: object) -> object:
        found = extent.read(value)
        if not isinstance(found, int) or low <= found <= high:
            return found
        said = "too small" if found < low else "too large"
        meant = _meant(str(value), low, high)
        hint = f'check the unit: write "{meant}" if that is meant, or' if meant else "write"
        return Wrong(f"{show(value)} is {said} here", f'{hint} something from "{least}" to "{most}"')

    return replace(extent, read=read)


def _meant(text: str, low: int, high: int) -> str | None:
    """The same figures with another unit, where that lies between; None where none does."""
    found = q.quantity(text, q.LENGTH)
    if isinstance(found, Wrong) or text.count(" ") > 1:
        return None
    tries = (f"{found.value:f} {unit}" for unit in ("m", "mm", "cm", "ft"))
    return next((one for one in tries if isinstance(size := q.length_mm(one), int) and low <= size <= high), None)


def stated(family: Family, most: Decimal | None = None) -> Kind:
    """A quantity whose unit is kept, of `most` W (or A) at most."""

    def read(value: object) -> object:
        found = q.quantity(value, family)
        if isinstance(found, Quantity) and found.value < 0:
            return Wrong(f"{show(value)} is below zero", f'write for example "{family.example}"')
        if (
            isinstance(found, Quantity)
            and most is not None
            and found.value * (1000 if found.unit == "kW" else 1) > most
        ):
            return Wrong(
                f"{show(value)} is too large here", f'check the unit: write "{found.value:f} W" if watts are meant'
            )
        return found

    return text_of(family.example, read, _quantity_pattern(family))


PLACES = 'write { wall = "back", along = "0.4 m" } for a wall, ["3 m", "2 m"] for a ceiling, "0.7 m" for a soffit'


def _along(value: object) -> object:
    """A place along a soffit; what has no figure in it is no attempt at a length."""
    if isinstance(value, str) and not any(letter.isdigit() for letter in value):
        return Wrong(f"{show(value)} is no place", PLACES)
    return LENGTH.read(value)


def _quantity_pattern(family: Family, below_zero: bool = False) -> str:
    return rf"^{'-?' if below_zero else ''}\d+(\.\d+)? *({'|'.join(family.units)})$"


MOST_DAYS = 3660
_AGE = re.compile(r"([1-9]\d{0,3}) *(day|week|month)s?", re.ASCII)


def _age(value: object) -> object:
    found = _AGE.fullmatch(value.strip()) if isinstance(value, str) else None
    if found is None:
        return Wrong(f"{show(value)} is not a length of time", 'write for example "90 days" or "6 months"')
    number, unit = int(found[1]), found[2]
    if number * {"day": 1, "week": 7, "month": 30}[unit] > MOST_DAYS:
        return Wrong(f"{show(value)} is too long", "write ten years or less")
    return Age(number, unit)  # type: ignore[arg-type]  # one of the three words of the pattern


def _no_layers(value: object) -> object:
    if value == phrases.NO_LAYER:
        return ()
    return Wrong(f"{show(value)} is not a list", f"write it in square brackets: [{show(value)}]")


NOTHING, ONE, USUAL_MAINTENANCE = Decimal(0), Decimal(1), Decimal("0.8")
TEXT = text_of("...", _text, r"\S")
ANYTHING = Kind('"..."', lambda value: value)
SWITCH = Kind("true", _switch, {"type": "boolean"})
DATE = Kind("2026-10-01", _date, {"type": "string", "format": "date"})
COUNT = whole(1, 500)
LENGTH = length()
EXTENT = length(zero=False)
ALONG = replace(LENGTH, read=_along)
LEVEL = length(below_zero=True)
SPARE = between("0 mm", "20 m")
STUD_CENTRES = between("200 mm", "5 m")
JOIST_CENTRES = between("100 mm", "5 m")
ROOM_SIZE = between("300 mm", "200 m")
ROOM_HEIGHT = between("1 m", "30 m")
OPENING_SIZE = between("100 mm", "30 m")
SIZE = length(exact=True)
EXACT_EXTENT = length(zero=False, exact=True)
PERCENT = text_of("5 %", q.ratio, r"^\d+(\.\d+)? *%$")
MONEY = text_of("£480", q.money, r"^[£€$]? ?\d+(\.\d{1,2})?$")
LUX = stated(q.ILLUMINANCE)
LOAD = stated(q.LOAD, Decimal("100000"))
SECTION = text_of("38 x 89 mm", phrases.timber, r"^[\d.]+ *(mm|cm|in)? *[x×X*] *[\d.]+ *(mm|cm|in)$")
NOGGIN = text_of("38 x 89 mm flat", phrases.noggin, r"^[\d.]+.*[x×X*].*(flat|on edge)$")
LAYER = text_of("12.5 mm plasterboard", phrases.layer, r"^[\d.]+ *(mm|cm|in)")
INSULATION = text_of("80 mm rigid foam", phrases.insulation, r"^([\d.]+ *(mm|cm|in).*|none)$")
HEIGHT = text_of("1.1 m", phrases.height, r"^\d+(\.\d+)? *(mm|cm|m|ft|in)")
FIXINGS = text_of("80 mm at 0.85 m", phrases.fixings, r"^[\d.]+ *(mm|cm|in) +at +[\d.]+ *(mm|cm|m|ft|in)$")
HOLE = text_of("20 mm from back", phrases.hole, r"^([\d.]+ *(mm|cm|in) +from +back|centre|center)$")
AGE = text_of("90 days", _age, r"^[1-9]\d{0,3} *(day|week|month)s?$")
NO_LAYERS = Kind('"none"', _no_layers, {"type": "string", "enum": ["none"]})
