"""What still names a thing that was taken out: the problems of a changed job go in; one for each such thing, and the others, out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimator.compare.address import parts_of
from estimator.compare.changes import Changes
from estimator.job.known import WORDS
from estimator.job.tree import Tree, address
from estimator.problems import Problem
from estimator.quantities import Wrong

NO_POINT = "no point is on this circuit"


@dataclass(frozen=True, slots=True)
class _Gone:
    """A named thing that was taken out: `room`, `loft`."""

    key: str
    name: str

    def named_in(self, found: str) -> bool:
        """Whether a problem says that it is not there."""
        if self.key == "points":
            head, _, tail = found.partition('there is no point "')
            return not head and tail.endswith('"') and tail[:-1].rstrip("0123456789") == self.name
        words = (WORDS[self.key], *(("board or point",) if self.key == "board" else ()))
        return any(found == f'there is no {word} "{self.name}"' for word in words)


def with_left_behind(tree: Tree, changes: Changes, problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """The problems of a changed job (`tree`), where things that name what was taken out are told together.

    They, and circuits that lose all their points with them, may be taken out too.
    """
    gone = [found for one in changes.remove if (found := _gone(one)) is not None]
    told: list[Problem] = []
    rest = list(problems)
    for one in gone:
        mine = [problem for problem in rest if one.named_in(problem.found)]
        holders = tuple(dict.fromkeys(holder for problem in mine if (holder := _holder(problem.where))))
        if holders:
            rest = [problem for problem in rest if problem not in mine]
            told.append(_together(tree, changes, one, holders, mine[0]))
    names = {found.name for found in gone if found.key == "points"}
    return (*told, *(_bare_circuit(problem, changes) if names else problem for problem in rest))


def _gone(removed: str) -> _Gone | None:
    parts = parts_of(removed)
    if isinstance(parts, Wrong) or len(parts) != 2:
        return None
    key, name = parts
    return _Gone(key, name) if isinstance(key, str) and key in WORDS and isinstance(name, str) else None


def _holder(where: str) -> tuple[str, str] | None:
    """The named table that a problem stands in."""
    parts = parts_of(where)
    if isinstance(parts, Wrong) or len(parts) < 2 or parts[0] not in WORDS or not isinstance(parts[1], str):
        return None
    return str(parts[0]), parts[1]


def _together(
    tree: Tree, changes: Changes, gone: _Gone, holders: tuple[tuple[str, str], ...], first: Problem
) -> Problem:
    found = f'{WORDS[gone.key]} "{gone.name}" is taken out, and {_listed(holders)} still {_name(holders)} it'
    addresses = [address(holder) for holder in (*holders, *_emptied(tree, holders))]
    which = "it" if len(holders) == 1 else "them"
    return Problem(
        first.place, address((gone.key, gone.name)), found, f"{_take_out(changes, addresses)}, or change {which}"
    )


def _name(holders: Sequence[object]) -> str:
    return "names" if len(holders) == 1 else "name"


def _listed(holders: Iterable[tuple[str, str]]) -> str:
    words = [f'{WORDS[key]} "{name}"' for key, name in holders]
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


def _take_out(changes: Changes, addresses: Sequence[str]) -> str:
    """How to take more out, at the place where the first was taken out."""
    if changes.where:
        return f"add {', '.join(_quoted(one) for one in addresses)} to remove"
    return "remove what hangs on it too: " + " ".join(f"--remove {_typed(one)}" for one in addresses)


def _quoted(one: str) -> str:
    """An address as a list of the job file takes it."""
    return f"'{one}'" if '"' in one else f'"{one}"'


def _typed(one: str) -> str:
    """An address as a shell takes it."""
    return f"'{one}'" if " " in one or '"' in one else one


def _emptied(tree: Tree, holders: Sequence[tuple[str, str]]) -> tuple[tuple[str, str], ...]:
    """Circuits all of whose groups go with the holders."""
    groups = [group for group in _tables(tree, "points") if group.get("circuit")]
    going = {name for key, name in holders if key == "points"}
    names = dict.fromkeys(str(group["circuit"]) for group in groups)
    there = {str(circuit.get("name")) for circuit in _tables(tree, "circuit")}
    return tuple(
        ("circuit", name)
        for name in names
        if name in there
        and ("circuit", name) not in holders
        and all(group.get("name") in going for group in groups if group["circuit"] == name)
    )


def _tables(tree: Tree, key: str) -> list[Mapping[str, object]]:
    found = tree.data.get(key)
    return [table for table in found if isinstance(table, Mapping)] if isinstance(found, list) else []


def _bare_circuit(problem: Problem, changes: Changes) -> Problem:
    """A circuit whose last points went: it may go too."""
    if problem.found != NO_POINT:
        return problem
    hint = _take_out(changes, [problem.where]).replace("what hangs on it", "the circuit")
    return Problem(problem.place, problem.where, f"{NO_POINT} any more", hint)
