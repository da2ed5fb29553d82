"""A `Table`: the values of one table of the job file, each read and right in itself, with their places.

A value that is wrong in itself has been reported and is absent; so is one that was not given and has no default.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from estimator.job.tree import Path, Tree, address
from estimator.problems import Place, Problem

T = TypeVar("T")
Spot = tuple[str | int, ...]
"""A way from a table to a value in it: a key, and numbers or keys within."""


@dataclass(frozen=True, slots=True)
class Table:
    """`where` leads to it in words (lists by the names of their items), `path` in the tree.

    `written` holds the keys that stand in the file, right or wrong.
    """

    tree: Tree
    path: Path
    where: tuple[str, ...]
    values: Mapping[str, object] = field(default_factory=dict)
    written: tuple[str, ...] = ()

    def has(self, key: str) -> bool:
        """Whether the key stands in the file, right or wrong."""
        return key in self.written

    def get(self, key: str, kind: type[T]) -> T | None:
        """The value of a key, None where there is none to use; raises TypeError for a kind that it cannot be."""
        value = self.values.get(key)
        if value is None or isinstance(value, kind):
            return value
        raise TypeError(f"{key} is {type(value).__name__}, not {kind.__name__}")

    def must(self, key: str, kind: type[T]) -> T:
        """The value of a key that the checks have made sure of."""
        value = self.get(key, kind)
        if value is None:
            raise KeyError(key)
        return value

    def items(self, key: str, kind: type[T]) -> tuple[T, ...]:
        """The items of a list, none where there is no list."""
        found = self.values.get(key, ())
        if not isinstance(found, tuple):
            raise TypeError(f"{key} is {type(found).__name__}, not a list")
        return tuple(item for item in found if isinstance(item, kind))

    def tables(self, key: str) -> tuple["Table", ...]:
        """The tables of a list, in the order of the file."""
        return self.items(key, Table)

    def pairs(self, key: str) -> tuple[tuple[str, object], ...]:
        """The keys and values of a table with free keys, in the order of the file."""
        found = self.values.get(key, {})
        if not isinstance(found, dict):
            raise TypeError(f"{key} is {type(found).__name__}, not a table")
        return tuple(found.items())

    @property
    def name(self) -> str | None:
        """The value of `name`."""
        return self.get("name", str)

    def place(self, *spot: str | int) -> Place:
        """Where a value in this table starts, or the table itself."""
        return self.tree.place((*self.path, *spot))

    def written_at(self, key: str) -> object:
        """The plain value as it stands in the file."""
        value: object = self.tree.data
        for part in (*self.path, key):
            value = value[part]  # type: ignore[index]  # the path leads through dicts and lists alone
        return value

    def problem(self, spot: str | Spot | None, found: str, write: str) -> Problem:
        """A problem with a value in this table; `spot` is its key, or the way to it, or None for the table."""
        way = () if spot is None else (spot,) if isinstance(spot, str) else spot
        return Problem(self.place(*way), address((*self.where, *_words(way))), found, write)


def _words(way: Spot) -> tuple[str, ...]:
    """A way in words: lists count from 1."""
    words: list[str] = []
    for part in way:
        if isinstance(part, int):
            words[-1] = f"{words[-1]}[{part + 1}]"
        else:
            words.append(part)
    return tuple(words)
