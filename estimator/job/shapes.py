"""What the table of keys is made of: tables of keys, lists, tables with free keys, and choices between these."""

from collections.abc import Iterator
from dataclasses import dataclass

from estimator.job.kinds import Kind


@dataclass(frozen=True, slots=True)
class Key:
    """One key. `default` is written as a user would write it; None means that leaving the key out says nothing.
    `example` is a value as it would stand in the file, where that of its shape would not do.

    `later` marks a key that is read and checked but has no effect yet.
    """

    name: str
    shape: "Shape"
    meaning: str
    required: bool = False
    default: object = None
    example: str = ""
    later: bool = False


@dataclass(frozen=True, slots=True)
class TableOf:
    """A table with known keys; `inline` ones are written in braces, the others under a header."""

    keys: tuple[Key, ...]
    inline: bool = False

    def key(self, name: str) -> Key | None:
        """The key with that name."""
        return next((key for key in self.keys if key.name == name), None)


@dataclass(frozen=True, slots=True)
class ListOf:
    """A list of `least` to `most` items of one shape."""

    item: "Shape"
    least: int = 0
    most: int = 9999
    example: str = ""


@dataclass(frozen=True, slots=True)
class MapOf:
    """A table whose keys are the user's own words."""

    item: Kind
    example: str = "{ name = value }"


@dataclass(frozen=True, slots=True)
class Either:
    """A choice told by what stands there: a table, a list, or a single value."""

    options: tuple["Shape", ...]


Shape = Kind | TableOf | ListOf | MapOf | Either


TOP = "the top of the file, before the first line in square brackets"


@dataclass(frozen=True, slots=True)
class Home:
    """Where a key belongs: the names of the tables that lead to it, and how a message says so."""

    tables: tuple[str, ...]
    title: str


def homes(table: TableOf, home: Home) -> Iterator[tuple[Home, Key]]:
    """Every key under `table`, with where it belongs."""
    for key in table.keys:
        yield home, key
        for inner, listed in _tables_in(key.shape, False):
            tables = (*home.tables, key.name)
            name = ".".join(tables)
            if inner.inline:
                title = f"{key.name} = {{ ... }} of {home.title}"
            else:
                title = f"[[{name}]]" if listed else f"[{name}]"
            yield from homes(inner, Home(tables, title))


def _tables_in(shape: Shape, listed: bool) -> Iterator[tuple[TableOf, bool]]:
    match shape:
        case TableOf():
            yield shape, listed
        case ListOf(item=item):
            yield from _tables_in(item, True)
        case Either(options=options):
            for option in options:
                yield from _tables_in(option, listed)


AT_TOP = Home((), TOP)
