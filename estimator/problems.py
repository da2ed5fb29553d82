"""What is wrong with something a user wrote: where it stands, what was found, what to write instead."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A spot in a file the user can open: line and column count from 1, and 0 means "none to tell"."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        parts = [self.file, *(str(number) for number in (self.line, self.column) if number)]
        return ":".join(parts)


NOWHERE = Place("")
LIKE, LIKE_SHORT, SHORT = 0.6, 0.5, 4
"""How alike two words must be (0 to 1) for one to be offered for the other; words of up to 4 letters differ sooner."""
OFFERED, LISTED = 3, 12
"""So many words are offered for one, and so many are listed where none comes near."""


_UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]")
"""What is not seen itself but acts on a screen: control characters, and marks that turn the direction of writing."""


def unseen(text: str) -> tuple[str, ...]:
    """Characters of a text that act on a screen without being seen, each once, as `U+202E`."""
    return tuple(dict.fromkeys(f"U+{ord(letter):04X}" for letter in _UNSEEN.findall(text)))


def without_unseen(text: str) -> str:
    """The text without such characters."""
    return " ".join(_UNSEEN.sub("", text).split())


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing in the input that has to change before anything can be worked out.

    `where` is the dotted address of the value (or the column of a table), `found` what stands there, `write`
    what would be right there.
    """

    place: Place
    where: str
    found: str
    write: str

    def __str__(self) -> str:
        address = f"{self.where}: " if self.where else ""
        hint = f"; {self.write}" if self.write else ""
        said = f"{self.place}: {address}{self.found}{hint}"
        return _UNSEEN.sub(lambda letter: f"\\u{ord(letter[0]):04x}", said)


class Refused(Exception):
    """The input cannot be used; `problems` holds every reason, in the order of the files."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(dict.fromkeys(sorted(problems, key=_by_place)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


def _by_place(problem: Problem) -> tuple[Place, str, str]:
    return (problem.place, problem.where, problem.found)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word most like `word`, or None where nothing comes near.

    Equal matches go by how near their letters and figures stand (`unit-7` to `unit-6`), then by the alphabet.
    """
    return next(iter(alike(word, known)), None)


def alike(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """The known words most like `word`, all that are as like, in the order that `nearest` goes by; none: nothing is near."""
    from difflib import SequenceMatcher

    def apart(name: str) -> int:
        return sum(abs(ord(one) - ord(other)) for one, other in zip(name, word, strict=False))

    ratios = {name: SequenceMatcher(None, name.casefold(), word.casefold()).ratio() for name in sorted(set(known))}
    best = max(ratios.values(), default=0.0)
    if best < (LIKE_SHORT if len(word) <= SHORT else LIKE):
        return ()
    return tuple(
        sorted((name for name, ratio in ratios.items() if ratio == best), key=lambda name: (apart(name), name))
    )


def choose(word: str, known: Iterable[str]) -> str:
    """The words "did you mean ...?" with the nearest known words, else the list of what is known.

    Words as near are offered together; of more than three, the first three in the order that `nearest` goes by.
    """
    names = sorted(set(known))
    near = alike(word, names)[:OFFERED]
    if near:
        return f"did you mean {either(near)}?"
    if not names:
        return "none is defined yet"
    shown = ", ".join(names[:LISTED])
    return f"known: {shown}{' ...' if len(names) > LISTED else ''}"


def either(words: Sequence[str]) -> str:
    """Words in quotes, of which one is to be chosen: `"a", "b" or "c"`."""
    shown = [f'"{word}"' for word in words]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} or {shown[-1]}"
