"""What is wrong with a value that is no TOML: the text after the = -> `Wrong`, in plain words."""

import re

from estimator.quantities import DAY, Wrong, wrong_day

_UNITS = "mm2|m2|mm|cm|m|ft|in|%|kW|W|A|V|ohms?|lx|Ω"
_UNIT = re.compile(rf"-?\d[\d.,]* *(?:{_UNITS})(?![\w])(?:[^\],}}#\"']*)")
_COMMA = re.compile(r"-?\d+,\d+")
_DATE = re.compile(r"\d{1,4}[/.-]\d{1,2}[/.-]\d{1,4}")
_WORDS = {"yes": "true", "on": "true", "True": "true", "TRUE": "true", "no": "false", "off": "false",
          "False": "false", "FALSE": "false"}  # fmt: skip
_COUNTED = {
    "one": 1,
    "two": 2,
    "three": 3,
    "four": 4,
    "five": 5,
    "six": 6,
    "seven": 7,
    "eight": 8,
    "nine": 9,
    "ten": 10,
}
_CURLY = "“”„‟″‘’‚′«»"


def curly(line: str) -> Wrong | None:
    """What to say of a line with curly quotes in it."""
    if not any(mark in line for mark in _CURLY):
        return None
    marks = " ".join(dict.fromkeys(mark for mark in line if mark in _CURLY))
    return Wrong(f"there are curly quotes ({marks}) here", 'write straight ones: "')


def value(text: str, rest: str) -> Wrong:
    """What is wrong with a value of which not even the start could be read; `rest` starts where it fails."""
    if not text:
        return Wrong("there is nothing after the =", "write a value, or take the line out")
    return wrong_day(text) or bare(rest) or Wrong(f"{_first(rest)} is no value", 'write text in quotes: "..."')


def bare(rest: str) -> Wrong | None:
    """What is wrong with a value that lacks its quotes; None where it is none of the usual slips."""
    if rest[:1] in _CURLY and rest:
        return curly(rest)
    if rest.startswith("="):
        return Wrong("there are two = here", "write one")
    if unit := _UNIT.match(rest):
        return Wrong(f"{unit[0].strip()} has no quotes", f'write "{unit[0].strip()}"')
    if money := re.match(r"[£€$] ?[\d.,]+", rest):
        return Wrong(f"{money[0]} has no quotes", f'write "{money[0]}"')
    if point := re.match(r"\.\d+", rest):
        return Wrong(f"{point[0]} starts with a point", f"write 0{point[0]}, or with its unit in quotes")
    word = re.match(r"[A-Za-z][^\],}#\"'=]*", rest)
    if word is None:
        return _measure(rest)
    found = word[0].strip()
    if found in _WORDS:
        return Wrong(f"{found} is not known", f"write {_WORDS[found]}")
    if found.lower() in _COUNTED:
        return Wrong(f"{found} is a word", f"write it in figures: {_COUNTED[found.lower()]}")
    return Wrong(f"{found} has no quotes", f'write "{found}"')


def after(line: str, rest: str) -> Wrong:
    """What is wrong where a value ends too early: `rest` could not be read."""
    if marks := curly(rest):
        return marks
    if line.lstrip().startswith("["):
        return Wrong("there is something after the closing bracket", "take it out, or write it on a line of its own")
    return _left_over(rest) or Wrong(f"{_first(rest)} stands after the value", "take it out, or write # before it")


def number(text: str) -> Wrong | None:
    """Slips with a value that starts like a number; None where `text` is none of them."""
    if _UNIT.fullmatch(text):
        return bare(text)
    if _DATE.fullmatch(text):
        return wrong_day(text) or Wrong(f"{text} is not a date", DAY)
    if re.fullmatch(r"[12]\d{3}-\d{1,2}-?", text):
        return Wrong(f"{text} is only a part of a date", DAY)
    if _COMMA.fullmatch(text):
        return Wrong(f"{text} has a comma", f'write a point, and a length with its unit in quotes: "{_pointed(text)}"')
    if re.fullmatch(r"0\d+(\.\d+)?", text):
        return Wrong(f"{text} starts with 0", f"write {text.lstrip('0') or '0'}")
    if re.fullmatch(r"\d+\.", text):
        return Wrong(f"{text} ends in a point", f"write {text[:-1]}, or with its unit in quotes")
    return _measure(text)


def _measure(text: str) -> Wrong | None:
    """A phrase that starts with a number, "38 x 89 mm"."""
    if re.fullmatch(r"\d[\d.]* *[A-Za-z][^\"'=]*", text):
        return Wrong(f"{text} has no quotes", f'write "{text}"')
    return None


def _pointed(text: str) -> str:
    whole, rest = text.split(",")
    return f"{whole}{rest} mm" if len(rest) == 3 else f"{whole}.{rest} m"


def _left_over(rest: str) -> Wrong | None:
    """Slips after a value that is right in itself."""
    stripped = rest.strip()
    if stripped[:1] in (",", ";") and stripped:
        return Wrong(f'there is a "{stripped[0]}" after the value', "take it out")
    if stripped[:1] in ("]", "}") and stripped:
        return Wrong(f"there is one {stripped[0]} too many", "take it out")
    if key := re.match(r"([\w-]+)\s*=", stripped):
        return Wrong(f"{key[1]} stands on the line of another key", "write it on a line of its own")
    if '"' in stripped:
        return Wrong('a " within a text ends it', "write ' within the text, or put it in single quotes")
    return None


def _first(rest: str) -> str:
    found = rest.strip().split()
    if not found:
        return "the end of the line"
    return found[0] if found[0].isprintable() else f"a character that cannot be seen ({found[0][0]!r})"
