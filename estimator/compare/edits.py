"""What to write to make a scenario part of the job: a job's tree and changes go in, edits of the job file come out, each with
the line it belongs to and the TOML to be pasted.
"""

import json
import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any, Literal

from estimator.compare.address import find
from estimator.compare.changes import Changes
from estimator.job.tree import Path, Tree
from estimator.problems import Place
from estimator.quantities import Wrong

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SCENARIO = "scenario."
Does = Literal["replace", "write", "column", "into", "join", "append", "take-out"]


@dataclass(frozen=True, slots=True)
class Edit:
    """One thing to do in the job file.

    `replace`: write `lines` in place of `old`, which stands at `place`. `write`: write them right below the
    line at which `table` starts. `column`: write them, at `place` in another file, into the column `table`. `into`: write them into the braces of `table`. `join`: write them into the list `table`. `append`: write them below `table`, or, without one, at the end of the
    file. `take-out`: take `table`, or `old` under it, out.
    """

    does: Does
    place: Place
    table: str
    old: str = ""
    lines: tuple[str, ...] = ()


def edits_of(tree: Tree, changes: Changes) -> tuple[Edit, ...]:
    """The edits, with that a scenario of the job file goes itself; from the end of the file up, so that lines told stay right.

    The changes are known to work.
    """
    return tuple(sorted(_edits(tree, changes), key=lambda edit: (edit.place.line > 0, -edit.place.line)))


def _edits(tree: Tree, changes: Changes) -> Iterator[Edit]:
    for address, value in changes.change:
        path = _path(tree, address)
        if path is not None:
            yield _change(tree, path, value)
    for address in changes.remove:
        path = _path(tree, address)
        if path is not None:
            yield _remove(tree, path)
    for address, value in changes.add:
        yield from _add(tree, address, value if isinstance(value, list) else [value])
    if changes.where.startswith(_SCENARIO):
        yield Edit("take-out", changes.place, f'[[scenario]] "{changes.where.removeprefix(_SCENARIO).strip(chr(34))}"')


def _path(tree: Tree, address: str) -> Path | None:
    """Where an address leads; None for what another change makes first, and says itself."""
    found = find(tree, address)
    return None if isinstance(found, Wrong) else found.path


def _change(tree: Tree, path: Path, value: object) -> Edit:
    old, there = _get(tree.data, path)
    key = path[-1]
    if isinstance(key, int):
        return Edit("replace", tree.place(path), table_words(tree, path), old=toml(old), lines=(toml(value),))
    if tree.place(path[:-1]).file != tree.file:
        return Edit("column", tree.place(path[:-1]), key, lines=(value if isinstance(value, str) else toml(value),))
    line = f"{key_words(key)} = {toml(value)}"
    if there:
        old_line = f"{key_words(key)} = {toml(old)}"
        return Edit("replace", tree.key_place(path), table_words(tree, path[:-1]), old=old_line, lines=(line,))
    outer = path[:-1]
    return Edit(
        "into" if _in_braces(tree, outer) else "write", tree.place(outer), table_words(tree, outer), lines=(line,)
    )


def _in_braces(tree: Tree, path: Path) -> bool:
    """Whether a table stands in braces, on one line, and not under a header of its own."""
    if path and isinstance(path[-1], int):
        return tree.place((*path[:-1], 0)) != tree.place(path[:-1])
    return bool(path) and tree.place(path) > tree.key_place(path)


def _remove(tree: Tree, path: Path) -> Edit:
    if isinstance(path[-1], int):
        return Edit("take-out", tree.place(path), table_words(tree, path))
    old = _get(tree.data, path)[0]
    if isinstance(old, Mapping) or (isinstance(old, list) and any(isinstance(item, Mapping) for item in old)):
        return Edit("take-out", tree.key_place(path), table_words(tree, path))
    line = f"{key_words(path[-1])} = {toml(old)}"
    return Edit("take-out", tree.key_place(path), table_words(tree, path[:-1]), old=line)


def _add(tree: Tree, address: str, items: list[object]) -> Iterator[Edit]:
    path = _path(tree, address) or (address,)
    there = _get(tree.data, path)[0]
    rows = [item for item in items if isinstance(item, Mapping)]
    if isinstance(there, list) and there and _in_braces(tree, (*path, 0)):
        lines = tuple(f"{toml(row)}," for row in rows)
        yield Edit("join", tree.place(path), table_words(tree, path), lines=lines)
        return
    header = ".".join(key_words(part) for part in path if isinstance(part, str))
    outer = path[:-1]
    for row in rows:
        lines = (f"[[{header}]]", *(f"{key_words(str(key))} = {toml(value)}" for key, value in row.items()))
        yield Edit("append", tree.place(outer) if outer else Place(tree.file), table_words(tree, outer), lines=lines)


def _get(here: Any, path: Path) -> tuple[object, bool]:
    """The value at a path, and whether there is one."""
    for part in path:
        known: Collection[object] = (
            here.keys() if isinstance(here, Mapping) else range(len(here)) if isinstance(here, list) else ()
        )
        if part not in known:
            return None, False
        here = here[part]
    return here, True


def table_words(tree: Tree, path: Path) -> str:
    """What messages call a table: `[[points]] "S"`, `[allowances]`, `[[trench]] "lawn", stretches, item 1`; empty for the top."""
    words: list[str] = []
    for length in range(1, len(path) + 1):
        part, (value, _) = path[length - 1], _get(tree.data, path[:length])
        if isinstance(part, int):
            name = value.get("name") if isinstance(value, Mapping) else None
            words[-1] += f' "{name}"' if isinstance(name, str) else f", item {part + 1}"
        elif length == 1:
            listed = isinstance(value, list) and all(isinstance(item, Mapping) for item in value)
            words.append(f"[[{part}]]" if listed else f"[{part}]")
        else:
            words.append(part)
    return ", ".join(words)


def key_words(key: str) -> str:
    """A key as TOML has it: plain where it may be, else in quotes."""
    return key if _BARE.fullmatch(key) else json.dumps(key, ensure_ascii=False)


def toml(value: object) -> str:
    """A plain value of a job on one line of TOML.

    Raises:
        TypeError: a value that no job file holds.
    """
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")
        case int():
            return str(value)
        case Decimal():
            return f"{value:f}"
        case date():
            return value.isoformat()
        case list() | tuple():
            return f"[{', '.join(toml(item) for item in value)}]"
        case Mapping():
            pairs = ", ".join(f"{key_words(str(key))} = {toml(inner)}" for key, inner in value.items())
            return f"{{ {pairs} }}" if pairs else "{}"
    raise TypeError(f"{type(value).__name__} has no TOML")
