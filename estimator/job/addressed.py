"""A table of addresses, as a scenario has it: addresses and values come out, however the addresses were written.

`"points.S.spread" = 16` is one key that holds the address. Without the quotes, TOML makes tables in tables of it; what was
a key with dots, and what is a table as a value, is told by where they stand.
"""

from collections.abc import Iterator, Mapping

from estimator.job.table import Table
from estimator.job.tree import Path, Tree, address

CHANGE = "change"


def addressed(table: Table, key: str) -> Iterator[tuple[str, object]]:
    """The addresses and values of a table of them, in the order of the file.

    A table with a header of its own (`[scenario.change.points.S]`) goes on with the address of a `change`; anywhere else
    it is the value.
    """
    for name, value in table.pairs(key):
        path = (*table.path, key, name)
        if "." in name:
            yield name, value
        else:
            yield from _leaves(table.tree, path, (name,), value, key == CHANGE)


def _leaves(
    tree: Tree, path: Path, parts: tuple[str, ...], value: object, headers: bool
) -> Iterator[tuple[str, object]]:
    if not isinstance(value, Mapping) or not value or not _goes_on(tree, path, headers):
        yield address(parts), value
        return
    for name, inner in value.items():
        yield from _leaves(tree, (*path, str(name)), (*parts, str(name)), inner, headers)


def _goes_on(tree: Tree, path: Path, headers: bool) -> bool:
    """Whether a table is there only because keys with dots, or a header, lead through it."""
    starts, named = tree.place(path), tree.key_place(path)
    return starts <= named if headers else starts == named
