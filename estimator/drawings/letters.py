"""The letter of every circuit, control and run: an `Estimate`'s routes go in, a letter for each comes out.

Drawings and tables use the same letters. I and O are left out, since they read as 1 and 0.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from estimator.routing.model import Routes

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ"

Sort = Literal["circuit", "control", "run"]


@dataclass(frozen=True, slots=True, order=True)
class Owner:
    """What a cable belongs to."""

    sort: Sort
    name: str


def letters(routes: Routes) -> Mapping[Owner, str]:
    """A letter for each owner: circuits by name, then controls, then runs; after Z come AA, AB ..."""
    owners = [Owner("circuit", name) for name in sorted(circuit.name for circuit in routes.circuits)]
    owners += [Owner("control", name) for name in sorted(control.name for control in routes.controls)]
    owners += [Owner("run", name) for name in sorted(run.name for run in routes.runs)]
    return {owner: _letter(index) for index, owner in enumerate(owners)}


def _letter(index: int) -> str:
    text = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, len(ALPHABET))
        text = ALPHABET[rest] + text
    return text
