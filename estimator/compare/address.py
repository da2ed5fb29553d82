"""Dotted addresses: the text of one goes in, the way to a value in a job's tree comes out.

An address reads as messages write it: keys joined by dots, items of a list by their name (`points.S.spread`,
`circuit."bench sockets".cable`) or, where they have none, by their number from 1 (`room.studio.opening[1].width`).
"""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from estimator.job.tree import Path, Tree
from estimator.problems import choose
from estimator.quantities import Wrong

_PART = re.compile(r'"(?P<quoted>[^"]+)"|(?P<plain>[^."\[\]]+)')
_NUMBER = re.compile(r"\[(?P<number>[1-9]\d{0,3})\]", re.ASCII)


@dataclass(frozen=True, slots=True)
class Found:
    """The way to a value, and whether it stands there: the last key of a way may be one that is not written yet."""

    path: Path
    there: bool


def parts_of(address: str) -> tuple[str | int, ...] | Wrong:
    """The parts of an address: keys and names as text, numbers of items from 0."""
    parts: list[str | int] = []
    at = 0
    while at < len(address):
        if (number := _NUMBER.match(address, at)) and parts:
            parts.append(int(number["number"]) - 1)
            at = number.end()
        else:
            at += bool(parts) and address[at] == "."
            part = _PART.match(address, at)
            if part is None or (parts and at and address[at - 1] not in "."):
                return Wrong(
                    f'"{address}" is no address', 'write for example points.S.spread or circuit."my ring".cable'
                )
            parts.append(part["quoted"] or part["plain"].strip())
            at = part.end()
    return tuple(parts) or Wrong("the address is empty", "write for example points.S.spread")


def find(tree: Tree, address: str) -> Found | Wrong:
    """Where an address leads in the tree; what is wrong with it, with the nearest name that is there.

    The last part may be a key that the table does not have yet. Keys of the job are not looked up here: the check of
    the changed job does that.
    """
    parts = parts_of(address)
    if isinstance(parts, Wrong):
        return parts
    here: object = tree.data
    path: Path = ()
    for number, part in enumerate(parts):
        last = number == len(parts) - 1
        step = _step(here, part)
        if step is None and last and isinstance(here, Mapping) and isinstance(part, str) and path:
            return Found((*path, part), False)
        if step is None:
            return Wrong(
                f'"{address}" names nothing: there is no {_shown(part)} {_within(parts[:number])}', _near(here, part)
            )
        path = (*path, step)
        here = here[step]  # type: ignore[index]  # a step leads through dicts and lists alone
    return Found(path, True)


def _step(here: object, part: str | int) -> str | int | None:
    """The key or number that a part of an address stands for; None where there is none."""
    if isinstance(here, Mapping):
        return part if part in here else None
    if isinstance(here, list):
        if isinstance(part, int):
            return part if part < len(here) else None
        return next((at for at, item in enumerate(here) if _name(item) == part), None)
    return None


def _name(item: object) -> str | None:
    name = item.get("name") if isinstance(item, Mapping) else None
    return name if isinstance(name, str) else None


def _shown(part: str | int) -> str:
    return f"item {part + 1}" if isinstance(part, int) else f'"{part}"'


def _within(parts: Iterable[str | int]) -> str:
    words = "".join(f"[{part + 1}]" if isinstance(part, int) else f".{part}" for part in parts).lstrip(".")
    return f"in {words}" if words else "at the top of the job"


def _near(here: object, part: str | int) -> str:
    if isinstance(here, Mapping):
        return choose(str(part), [str(key) for key in here])
    if isinstance(here, list):
        names = [name for name in map(_name, here) if name]
        if names:
            return choose(str(part), names)
        return f"its items are numbered: [1] to [{len(here)}]" if here else "it is empty"
    return "a value stands there, with nothing inside it"
