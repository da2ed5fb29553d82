"""The first check of a job: `Tree` -> `Table` of good values, with a problem for each key that is wrong in itself.

Looks at one value at a time against the table of keys: known, of the right kind, there where it must be. What values
say to each other is for the rules.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from estimator.job import hints
from estimator.job.keys import JOB
from estimator.job.kinds import Kind
from estimator.job.shapes import Either, Key, ListOf, MapOf, Shape, TableOf
from estimator.job.table import Table
from estimator.job.tree import Path, Tree, address
from estimator.problems import Problem
from estimator.quantities import Wrong, show

NOT_USED_YET = "not used yet"
NO_EFFECT = "it changes nothing today"


@dataclass(frozen=True, slots=True)
class Form:
    """What the first check gives: the good values, the problems, and notes on keys without effect."""

    table: Table
    problems: tuple[Problem, ...]
    notes: tuple[Problem, ...]


class _Bad:
    """Stands for a value that has been reported."""


_BAD = _Bad()


def check_form(tree: Tree) -> Form:
    """Check every key of a job by itself."""
    reader = _Reader(tree)
    table = reader.table(JOB, tree.data, (), ())
    return Form(table, tuple(reader.problems), tuple(reader.notes))


@dataclass(slots=True)
class _Reader:
    tree: Tree
    problems: list[Problem] = field(default_factory=list)
    notes: list[Problem] = field(default_factory=list)

    def table(self, shape: TableOf, data: Mapping[str, object], path: Path, where: tuple[str, ...]) -> Table:
        values: dict[str, object] = {}
        for name in data:
            if shape.key(name) is None:
                self._unknown(shape, name, (*path, name), (*where, name))
        for key in shape.keys:
            inner = (*path, key.name)
            if key.name in data:
                found = self._value(key, data[key.name], inner, (*where, key.name))
            elif key.required:
                self._missing(key, path, where)
                continue
            else:
                found = _default(self.tree, key, inner, (*where, key.name))
            if found is not None and found is not _BAD:
                values[key.name] = found
        return Table(self.tree, path, where, values, tuple(data))

    def _value(self, key: Key, value: object, path: Path, where: tuple[str, ...]) -> object:
        found = self._read(key.shape, value, path, where)
        if found is not _BAD and key.later:
            self.notes.append(Problem(self.tree.key_place(path), address(where), NOT_USED_YET, NO_EFFECT))
        return found

    def _read(self, shape: Shape, value: object, path: Path, where: tuple[str, ...]) -> object:
        match shape:
            case Kind():
                return self._checked(shape.read(value), path, where)
            case TableOf():
                return self._as_table(shape, value, path, where)
            case ListOf():
                return self._as_list(shape, value, path, where)
            case MapOf():
                return self._as_map(shape, value, path, where)
            case Either():
                return self._read(_option(shape, value), value, path, where)

    def _checked(self, found: object, path: Path, where: tuple[str, ...]) -> object:
        if not isinstance(found, Wrong):
            return found
        self.problems.append(Problem(self.tree.place(path), address(where), found.found, found.write))
        return _BAD

    def _as_table(self, shape: TableOf, value: object, path: Path, where: tuple[str, ...]) -> object:
        if isinstance(value, dict):
            return self.table(shape, value, path, where)
        if isinstance(value, list) and all(isinstance(item, dict) for item in value) and not shape.inline:
            name = ".".join(str(part) for part in path if isinstance(part, str))
            wrong = Wrong(f"[[{name}]] makes a list", f"write [{name}], in single brackets, once")
        else:
            wrong = Wrong(f"{show(value)} is not a table", f"write {where[-1]} = {hints.example(shape)}")
        return self._checked(wrong, path, where)

    def _as_list(self, shape: ListOf, value: object, path: Path, where: tuple[str, ...]) -> object:
        if not isinstance(value, list):
            return self._checked(hints.no_list(shape, value, path), path, where)
        if not shape.least <= len(value) <= shape.most:
            return self._checked(hints.wrong_count(shape, len(value)), path, where)
        found = [
            self._read(shape.item, item, (*path, number), (*where[:-1], *item_words(where[-1], number, item)))
            for number, item in enumerate(value)
        ]
        if isinstance(shape.item, TableOf):
            return tuple(item for item in found if item is not _BAD)
        return _BAD if _BAD in found else tuple(found)

    def _as_map(self, shape: MapOf, value: object, path: Path, where: tuple[str, ...]) -> object:
        if not isinstance(value, dict):
            wrong = Wrong(f"{show(value)} is not a table", f"write {where[-1]} = {shape.example}")
            return self._checked(wrong, path, where)
        found = {name: self._read(shape.item, item, (*path, name), (*where, name)) for name, item in value.items()}
        return _BAD if _BAD in found.values() else found

    def _missing(self, key: Key, path: Path, where: tuple[str, ...]) -> None:
        hint = f"write {key.name} = {key.example or hints.example(key.shape)} ({key.meaning})"
        self.problems.append(Problem(self.tree.place(path), address(where), f"{key.name} is missing", hint))

    def _unknown(self, shape: TableOf, name: str, path: Path, where: tuple[str, ...]) -> None:
        tables = tuple(part for part in path[:-1] if isinstance(part, str))
        hint = hints.belongs(shape, tables, name)
        self.problems.append(Problem(self.tree.key_place(path), address(where), "unknown key", hint))


def _option(shape: Either, value: object) -> Shape:
    """The option that is written the way `value` is; a single value where none is."""
    wanted = (TableOf, MapOf) if isinstance(value, dict) else (ListOf,) if isinstance(value, list) else (Kind,)
    for kinds in (wanted, (Kind,)):
        for option in shape.options:
            if isinstance(option, kinds):
                return option
    return shape.options[0]


def item_words(name: str, number: int, item: object) -> tuple[str, ...]:
    """An item of a list in an address: by its name, or by its number from 1."""
    own = item.get("name") if isinstance(item, dict) else None
    return (name, own) if isinstance(own, str) and own else (f"{name}[{number + 1}]",)


def _default(tree: Tree, key: Key, path: Path, where: tuple[str, ...]) -> object:
    """The value that a key has where it is left out."""
    return None if key.default is None else _Reader(tree)._read(key.shape, key.default, path, where)
