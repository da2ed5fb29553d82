"""A text file in TOML -> `Tree`, or the one thing that keeps it from being read."""

import tomllib
from decimal import Decimal, InvalidOperation

from estimator.job.spans import spans
from estimator.job.syntax import explain
from estimator.job.tree import Tree
from estimator.problems import Place, Problem, Refused

_MARK = b"\xef\xbb\xbf"
"""What some editors put before the first line to say UTF-8."""


def read_bytes(data: bytes, name: str) -> Tree:
    """The tree of a job file's bytes; raises Refused where they are not UTF-8, or no TOML."""
    data = data.removeprefix(_MARK)
    try:
        return read_text(data.decode("utf-8"), name)
    except UnicodeDecodeError as error:
        raise Refused([_not_utf8(data, error.start, name)]) from error


def read_text(text: str, name: str) -> Tree:
    """The tree of a job file's text; raises Refused where it is no TOML."""
    text = text.removeprefix("\ufeff").replace("\r\n", "\n")
    try:
        data = tomllib.loads(text, parse_float=_number)
        found = spans(text)
    except RecursionError as error:
        raise Refused([Problem(Place(name), "", "lists lie too deep in one another", "take brackets out")]) from error
    except ValueError as error:  # a TOMLDecodeError, or what the language says of numbers of thousands of digits
        raise Refused([explain(text, str(error), name)]) from error
    return Tree(
        data,
        name,
        {path: Place(name, *spot) for path, spot in found.values.items()},
        {path: Place(name, *spot) for path, spot in found.keys.items()},
    )


def _number(text: str) -> Decimal:
    """A number with a point, exact; what is too large to be one is no number, which no key takes."""
    try:
        return Decimal(text)
    except InvalidOperation:
        return Decimal("NaN")


def _not_utf8(data: bytes, start: int, name: str) -> Problem:
    line = data.count(b"\n", 0, start) + 1
    column = len(data[data.rfind(b"\n", 0, start) + 1 : start].decode("utf-8")) + 1
    found = f"the byte {data[start]:#04x} is not UTF-8"
    return Problem(Place(name, line, column), "", found, "save the file as UTF-8 in your editor")
