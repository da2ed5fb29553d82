"""What a job calls its things: names of rooms, boards, circuits and the rest, and the ids of its points."""

import re
from collections.abc import Iterator
from dataclasses import dataclass

from estimator.job.keys import JOB
from estimator.job.table import Spot, Table
from estimator.problems import Problem, choose

WORDS = {
    "room": "room",
    "points": "group",
    "board": "board",
    "circuit": "circuit",
    "run": "run",
    "trench": "trench",
    "control": "control",
}
"""The tables whose names other tables use, and what messages call them."""

_POINT = re.compile(r"(?P<group>.*\D)(?P<number>[1-9]\d*)", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Known:
    """Tables by key and name (the first of two with one name); `job` is the whole."""

    job: Table
    named: dict[str, dict[str, Table]]

    def find(self, key: str, name: str | None) -> Table | None:
        """The table with that name."""
        return None if name is None else self.named[key].get(name)

    def refer(self, table: Table, spot: str | Spot, key: str, name: str | None) -> Iterator[Problem]:
        """A problem where `table` names something that is not there."""
        if name is None or name in self.named[key] or not self.complete(key):
            return
        yield table.problem(spot, f'there is no {WORDS[key]} "{name}"', choose(name, self.named[key]))

    def complete(self, key: str) -> bool:
        """Whether every table of a kind was found, and has a name that could be read."""
        return not self.torn(key) and all(table.name is not None for table in self.job.tables(key))

    def torn(self, key: str) -> bool:
        """Whether tables of a kind may stand under a key that is not known, or in a form that could not be read."""
        strange = any(JOB.key(written) is None for written in self.job.written)
        return strange or (self.job.has(key) and key not in self.job.values)

    def group_of(self, point: str) -> Table | None:
        """The group that a point id belongs to; None for an id that no group has."""
        match = _POINT.fullmatch(point)
        group = self.find("points", match["group"]) if match else None
        if match is None or group is None:
            return None
        counted = count(group)
        return group if counted is None or int(match["number"]) <= counted else None

    def unsure(self, point: str) -> bool:
        """Whether a point may belong to a group whose name could not be read, which is told itself."""
        match = _POINT.fullmatch(point)
        return not self.complete("points") and (match is None or self.find("points", match["group"]) is None)

    def point_hint(self, word: str) -> str:
        """What to write for a word that is no point id."""
        group = self.find("points", word)
        if group is not None:
            return f'name one point of the group, such as "{word}1"'
        match = _POINT.fullmatch(word)
        owner = self.find("points", match["group"]) if match else None
        if match is not None and owner is not None:
            last = f"{match['group']}{count(owner)}"
            return f'group "{match["group"]}" has {match["group"]}1' + ("" if count(owner) == 1 else f" to {last}")
        return choose(word, [f"{name}1" for name in self.named["points"]])


def known(job: Table) -> Known:
    """All names of a job."""
    named: dict[str, dict[str, Table]] = {key: {} for key in WORDS}
    for key, tables in named.items():
        for table in job.tables(key):
            if table.name is not None:
                tables.setdefault(table.name, table)
    return Known(job, named)


def count(group: Table) -> int | None:
    """How many points a group has; None where that cannot be told."""
    if group.has("spread"):
        return group.get("spread", int)
    if group.has("on"):
        counts = [number for _, number in group.pairs("on") if isinstance(number, int)]
        return sum(counts) if counts else None
    if group.has("at"):
        return len(group.items("at", object)) or None
    rows, columns = group.get("rows", int), group.get("columns", int)
    return None if rows is None or columns is None else rows * columns


def ids(group: Table) -> tuple[str, ...]:
    """The ids of a group's points, as far as they can be told."""
    return tuple(f"{group.name}{number}" for number in range(1, (count(group) or 0) + 1))
