"""Which lines a user accepts: texts such as "7", "3-5,9", "North Yard=7" go in, line numbers (or parts) of a merchant come out."""

import re
from collections.abc import Iterable

from estimator.problems import Place, Problem
from estimator.returned.cells import plain, shown

MOST = 1000
"""So many lines may be named by one range."""
_ONE = re.compile(r"[1-9]\d{0,5}|[A-Za-z]\S*")
_RANGE = re.compile(r"([1-9]\d{0,5}) ?(?:-|–|\.\.|to) ?([1-9]\d{0,5})")


def accepted(texts: Iterable[str], merchant: str) -> frozenset[str]:
    """Numbers, as text, and parts that are accepted for the prices of a merchant; a text without a name is for all."""
    found: set[str] = set()
    for text in texts:
        name, tokens = _parted(text)
        if not name or plain(name) == plain(merchant):
            found.update(one for token in tokens for one in _spread(token))
    return frozenset(found)


def unreadable(texts: Iterable[str]) -> list[Problem]:
    """The problems of texts that name no line."""
    return [
        Problem(
            Place("--accept"),
            "",
            f"{shown(text)} is no line number",
            "write the number of the line, as in --accept 7, or --accept 3,7-9",
        )
        for text in texts
        if not all(_spread(token) for token in _parted(text)[1])
    ]


def _parted(text: str) -> tuple[str, list[str]]:
    name, mark, rest = text.rpartition("=")
    return (name.strip() if mark else ""), [token.strip() for token in rest.split(",")]


def _spread(token: str) -> list[str]:
    span = _RANGE.fullmatch(token)
    if span:
        first, last = int(span[1]), int(span[2])
        return [str(number) for number in range(first, last + 1)] if first <= last < first + MOST else []
    return [token] if _ONE.fullmatch(token) else []
