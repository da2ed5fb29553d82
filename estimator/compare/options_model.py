"""What options are made of: a row of options.csv and an estimate go in, an `Option` comes out; here are the two shapes."""

from dataclasses import dataclass
from typing import TypeVar

from estimator.compare.changes import Changes

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Option:
    """Something a job could have while it is open: what it `does` to this job, or the `reason` why it does not apply.

    `changes` is None where it does not apply, and `reason` empty where it does.
    """

    name: str
    title: str
    why: str
    does: str
    changes: Changes | None
    reason: str


@dataclass(frozen=True, slots=True)
class Made:
    """What an action makes of a job: a sentence or two that say it, and the changes."""

    does: str
    changes: Changes


def cap(text: str) -> str:
    """The text as the start of a sentence."""
    return text[:1].upper() + text[1:]


def listed(things: list[str]) -> str:
    """Things in one line: `a`, `a and b`, `a, b and c`."""
    return " and ".join([", ".join(things[:-1]), things[-1]] if len(things) > 1 else things)


def must(cell: T | None) -> T:
    """A cell that the reading of the catalogue has made sure of.

    Raises:
        ValueError: it is empty.
    """
    if cell is None:
        raise ValueError("a cell that this action needs is empty")
    return cell
