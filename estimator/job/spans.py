"""Where everything stands in a TOML text: path of a key, value or table -> line and column, counted from 1.

The text must be valid: `tomllib` has read it first. A table stands where its header starts, a value where its first
character does. Lines end in a newline alone. The paths are those of the data that `tomllib` makes of the same text.
"""

import re
import tomllib
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass, field

from estimator.job.tree import Path

Spot = tuple[int, int]
"""Line and column."""

_TOKEN = re.compile(
    r"""
      (?P<blank> [ \t\n]+ | \#[^\n]* )
    | (?P<text>  \"{3} (?: [^\\] | \\. )*? \"{3,5}
               | '{3} .*? '{3,5}
               | " (?: [^"\\\n] | \\. )* "
               | ' [^'\n]* ' )
    | (?P<mark>  [\[\]{},=.] )
    | (?P<word>  [^\s\[\]{},=.\#"']+ )
    """,
    re.VERBOSE | re.DOTALL,
)
_DATE = re.compile(r"\d{4}-\d\d-\d\d")


@dataclass(frozen=True, slots=True)
class Spans:
    """`values` holds every value, table and list; `keys` every key, under the path of what it names."""

    values: dict[Path, Spot]
    keys: dict[Path, Spot]


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of the text: a `mark`, a `word`, a quoted `text`, or the `end`."""

    kind: str
    text: str
    start: int

    @property
    def end(self) -> int:
        """The character after it."""
        return self.start + len(self.text)


def spans(text: str) -> Spans:
    """The places of everything in `text`; raises ValueError where it is no TOML."""
    scanner = _Scanner(tokens(text), _lines(text))
    scanner.document()
    return Spans(scanner.values, scanner.keys)


def tokens(text: str, *, whole: bool = True) -> list[Token]:
    """The tokens of a text; of one that is not `whole`, those before the first place that is none."""
    found: list[Token] = []
    position = 0
    while position < len(text):
        match = _TOKEN.match(text, position)
        if match is None:
            if not whole:
                return found
            raise ValueError(f"no TOML at character {position}")
        if match.lastgroup != "blank":
            found.append(Token(str(match.lastgroup), match.group(), position))
        position = match.end()
    found.append(Token("end", "", len(text)))
    return found


def _lines(text: str) -> Callable[[int], Spot]:
    starts = [0, *(match.end() for match in re.finditer("\n", text))]

    def spot(position: int) -> Spot:
        line = bisect_right(starts, position)
        return line, position - starts[line - 1] + 1

    return spot


@dataclass(slots=True)
class _Scanner:
    """Walks the tokens once; `items` counts the tables of every list of tables met so far."""

    tokens: list[Token]
    spot: Callable[[int], Spot]
    values: dict[Path, Spot] = field(default_factory=dict)
    keys: dict[Path, Spot] = field(default_factory=dict)
    items: dict[Path, int] = field(default_factory=dict)
    at: int = 0

    def document(self) -> None:
        table: Path = ()
        while self.now.kind != "end":
            table = self.header() if self.sees("[") else self.pair(table)

    @property
    def now(self) -> Token:
        return self.tokens[self.at]

    def sees(self, mark: str) -> bool:
        return self.now.kind == "mark" and self.now.text == mark

    def take(self, mark: str) -> None:
        if not self.sees(mark):
            raise ValueError(f"no {mark!r} at character {self.now.start}")
        self.at += 1

    def header(self) -> Path:
        """Read `[a.b]` or `[[a.b]]`; gives the path that the pairs after it belong to."""
        start = self.spot(self.now.start)
        self.take("[")
        listed = self.sees("[") and self.now.start == self.tokens[self.at - 1].end
        if listed:
            self.take("[")
        names = self.key()
        for _ in range(1 + listed):
            self.take("]")
        path: Path = ()
        for number, (name, spot) in enumerate(names, 1):
            path = (*path, name)
            last = number == len(names)
            if last and not listed:  # its own header tells more than one of a table inside it, met before
                self.values[path], self.keys[path] = start, spot
            self.values.setdefault(path, start)
            self.keys.setdefault(path, spot)
            if last and listed:
                self.items[path] = self.items.get(path, -1) + 1
                self.values[(*path, self.items[path])] = start
            if path in self.items:
                path = (*path, self.items[path])
        return path

    def pair(self, table: Path) -> Path:
        """Read `key = value` into `table`, and give `table` back."""
        path = table
        names = self.key()
        self.take("=")
        for name, spot in names:
            path = (*path, name)
            self.keys.setdefault(path, spot)
            self.values.setdefault(path, spot)
        self.value(path)
        return table

    def key(self) -> list[tuple[str, Spot]]:
        names: list[tuple[str, Spot]] = []
        while True:
            token = self.now
            if token.kind not in ("word", "text"):
                raise ValueError(f"no key at character {token.start}")
            names.append((_name(token), self.spot(token.start)))
            self.at += 1
            if not self.sees("."):
                return names
            self.at += 1

    def value(self, path: Path) -> None:
        self.values[path] = self.spot(self.now.start)
        if self.sees("["):
            self.series("]", path)
        elif self.sees("{"):
            self.series("}", path)
        elif self.now.kind == "text":
            self.at += 1
        else:
            self.scalar()

    def series(self, closing: str, path: Path) -> None:
        """Read a list, or a table on one line, up to its closing bracket."""
        self.at += 1
        number = 0
        while not self.sees(closing):
            if self.sees(","):
                self.at += 1
            elif closing == "]":
                self.value((*path, number))
                number += 1
            else:
                self.pair(path)
        self.at += 1

    def scalar(self) -> None:
        """Pass a number, a boolean or a date: `1.5` is three tokens, and a date and its time may stand apart."""
        if self.now.kind != "word":
            raise ValueError(f"no value at character {self.now.start}")
        last = self.now
        self.at += 1
        while self.sees(".") and self.now.start == last.end:
            last = self.tokens[self.at + 1]
            self.at += 2
        if _DATE.fullmatch(last.text) and self.now.start == last.end + 1 and ":" in self.now.text:
            self.scalar()


def _name(token: Token) -> str:
    if token.kind == "word":
        return token.text
    return str(tomllib.loads(f"name = {token.text}")["name"])
