"""Changes to a job: a tree and changes by address go in, the changed tree comes out, or every reason why not.

Values are set first, then things are taken out, then things are added. The changed tree is checked like any job; what
is new in it says that it stands where the change was written.
"""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from decimal import Decimal

from estimator.compare.address import find
from estimator.job.tree import Path, Tree
from estimator.problems import NOWHERE, Place, Problem, Refused
from estimator.quantities import Wrong, show


@dataclass(frozen=True, slots=True)
class Changes:
    """What a scenario does: addresses with new values, addresses of what goes, lists by address with what joins them.

    Values are as a TOML reader gives them. `place` is where it was written, `where` what a message calls it; `removed_at`
    is where what goes was written, if elsewhere.
    """

    change: tuple[tuple[str, object], ...] = ()
    remove: tuple[str, ...] = ()
    add: tuple[tuple[str, object], ...] = ()
    place: Place = field(default=NOWHERE, compare=False)
    where: str = field(default="", compare=False)
    removed_at: Place | None = field(default=None, compare=False)


def value_of(text: str) -> object:
    """A value typed on the command line: as TOML where it is that (16, true, ["a"], "b"), else the text itself."""
    try:
        return tomllib.loads(f"value = {text}", parse_float=Decimal)["value"]
    except (tomllib.TOMLDecodeError, ArithmeticError, RecursionError):
        return text.strip()


def changed(tree: Tree, changes: Changes) -> Tree:
    """The tree with the changes made.

    Raises:
        Refused: addresses that name nothing, with the nearest that does, and things that cannot be added; all at once.
    """
    found, problems = attempt(tree, changes)
    if problems:
        raise Refused(problems)
    return found


def attempt(tree: Tree, changes: Changes) -> tuple[Tree, tuple[Problem, ...]]:
    """The tree with all changes made that can be, and why the others cannot."""
    work = _Work(tree, changes)
    for address, value in changes.change:
        work.change(address, value)
    for address in changes.remove:
        work.remove(address)
    for address, value in changes.add:
        work.add(address, value)
    return work.tree, tuple(work.problems)


class _Work:
    def __init__(self, tree: Tree, changes: Changes) -> None:
        self.tree = tree
        self.changes = changes
        self.problems: list[Problem] = []

    def change(self, address: str, value: object) -> None:
        found = find(self.tree, address)
        if isinstance(found, Wrong):
            self._wrong("change", address, found)
            return
        self._replace(found.path, _set(self.tree.data, found.path, value))

    def remove(self, address: str) -> None:
        found = find(self.tree, address)
        if isinstance(found, Wrong):
            self._wrong("remove", address, found)
        elif not found.there:
            self._wrong("remove", address, Wrong(f'"{address}" is not written in the job', "take it out of `remove`"))
        else:
            self._drop(found.path)

    def add(self, address: str, value: object) -> None:
        items = value if isinstance(value, list) else [value]
        if not all(isinstance(item, Mapping) for item in items):
            wrong = Wrong(f"{show(value)} is not a table", f'write add = {{ {address} = {{ name = "...", ... }} }}')
            self._wrong("add", address, wrong)
            return
        found = find(self.tree, address) if "." in address or address in self.tree.data else None
        if isinstance(found, Wrong):
            self._wrong("add", address, found)
            return
        path = found.path if found is not None else (address,)
        there = _get(self.tree.data, path) if found is not None and found.there else []
        if not isinstance(there, list):
            self._wrong("add", address, Wrong(f'"{address}" is no list that something can be added to', "use `change`"))
            return
        data = _set(self.tree.data, path, [*there, *items])
        places = {(*path, len(there) + number): self.changes.place for number in range(len(items))}
        self.tree = Tree(data, self.tree.file, {**self.tree.places, **places}, self.tree.key_places)

    def _replace(self, path: Path, data: Mapping[str, object]) -> None:
        """Keep the places of all but what stands at or under `path`, which now stands where the change does."""
        places = {way: place for way, place in self.tree.places.items() if way[: len(path)] != path}
        keys = {way: place for way, place in self.tree.key_places.items() if way[: len(path)] != path}
        self.tree = Tree(data, self.tree.file, {**places, path: self.changes.place}, {**keys, path: self.changes.place})

    def _drop(self, path: Path) -> None:
        moved = _Moved(path, isinstance(path[-1], int))
        places = {new: place for way, place in self.tree.places.items() if (new := moved.of(way)) is not None}
        keys = {new: place for way, place in self.tree.key_places.items() if (new := moved.of(way)) is not None}
        self.tree = Tree(_without(self.tree.data, path), self.tree.file, places, keys)

    def _wrong(self, key: str, address: str, wrong: Wrong) -> None:
        where = f"{self.changes.where}.{key}" if self.changes.where else address
        place = self.changes.removed_at if key == "remove" and self.changes.removed_at else self.changes.place
        self.problems.append(Problem(place, where, wrong.found, wrong.write))


@dataclass(frozen=True, slots=True)
class _Moved:
    """Where ways lead once the item or key at `path` is gone: items behind it in its list move up."""

    path: Path
    listed: bool

    def of(self, way: Path) -> Path | None:
        head, last = self.path[:-1], self.path[-1]
        if way[: len(self.path)] == self.path:
            return None
        at = way[len(head)] if len(way) > len(head) and way[: len(head)] == head else None
        if self.listed and isinstance(at, int) and isinstance(last, int) and at > last:
            return (*head, at - 1, *way[len(self.path) :])
        return way


def _get(here: object, path: Path) -> object:
    for part in path:
        here = here[part]  # type: ignore[index]  # the path was found in dicts and lists
    return here


def _set(here: Mapping[str, object], path: Path, value: object) -> Mapping[str, object]:
    """A copy of the tables along `path`, with `value` at its end."""
    changed_here = _put(here, path, value)
    assert isinstance(changed_here, dict)  # the top of a job is a table
    return changed_here


def _put(here: object, path: Path, value: object) -> object:
    if not path:
        return value
    first, rest = path[0], path[1:]
    if isinstance(here, list) and isinstance(first, int):
        return [_put(item, rest, value) if at == first else item for at, item in enumerate(here)]
    table = dict(here) if isinstance(here, Mapping) else {}
    return {**table, first: _put(table.get(first), rest, value)}


def _without(here: Mapping[str, object], path: Path) -> Mapping[str, object]:
    parent = _get(here, path[:-1])
    left: object
    if isinstance(parent, list):
        left = [item for at, item in enumerate(parent) if at != path[-1]]
    else:
        left = {key: item for key, item in _items(parent) if key != path[-1]}
    return _set(here, path[:-1], left)


def _items(table: object) -> Iterable[tuple[object, object]]:
    return table.items() if isinstance(table, Mapping) else ()
