"""Rules of names: each its own within its kind, none that could be taken for a point, an end or a word of ours."""

from collections.abc import Iterator

from estimator.job.known import WORDS, Known
from estimator.job.model import NO_CIRCUIT
from estimator.job.table import Table
from estimator.problems import Problem

OUTSIDE = "outside:"
"""What the end of a run starts with that lies beyond all rooms."""


def check(known: Known) -> Iterator[Problem]:
    """Every rule of names."""
    for key in WORDS:
        taken: dict[str, Table] = {}
        for table in known.job.tables(key):
            if table.name is None:
                continue
            yield from _own(table, table.name, taken, key)
            yield from _reserved(table, table.name)
            taken.setdefault(table.name, table)
    for key in ("board", "run", "trench"):
        for table in known.job.tables(key):
            yield from _point_too(known, table, key)
    for group in known.job.tables("points"):
        yield from _digit(known, group)
    for control in known.job.tables("control"):
        yield from _circuit_too(known, control)
    scenarios: dict[str, Table] = {}
    for table in known.job.tables("scenario"):
        if table.name is not None:
            yield from _own(table, table.name, scenarios, "scenario")
            scenarios.setdefault(table.name, table)


def _own(table: Table, name: str, taken: dict[str, Table], key: str) -> Iterator[Problem]:
    if name in taken:
        line = taken[name].place("name").line
        found = f'the {WORDS.get(key, key)} in line {line} is called "{name}" too'
        yield table.problem("name", found, "give each its own name")


def _reserved(table: Table, name: str) -> Iterator[Problem]:
    if name == NO_CIRCUIT:
        yield table.problem("name", f'"{name}" has a meaning of its own', "choose another name")
    if name.startswith(OUTSIDE):
        yield table.problem("name", f'a name does not start with "{OUTSIDE}"', "choose another name")


def _point_too(known: Known, table: Table, key: str) -> Iterator[Problem]:
    if table.name is not None and (group := known.group_of(table.name)) is not None:
        found = f'a point of group "{group.name}" is called "{table.name}" too'
        yield table.problem("name", found, f"give the {WORDS[key]} another name")


def _circuit_too(known: Known, control: Table) -> Iterator[Problem]:
    """Legs are called after their circuit or control, so the two must not share a name."""
    if control.name is not None and known.find("circuit", control.name) is not None:
        found = f'a circuit is called "{control.name}" too, and their legs could not be told apart'
        yield control.problem("name", found, "give the control another name")


def _digit(known: Known, group: Table) -> Iterator[Problem]:
    name = group.name
    if name is not None and name[-1].isdigit():
        found = "a group's name does not end in a digit, its points are numbered"
        bare = name.rstrip("0123456789 ")
        free = bare if bare and bare not in known.named["points"] else f"{name}-"
        yield group.problem("name", found, f'write "{free}" or another name that ends otherwise')
