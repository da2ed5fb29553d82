"""What choosing among options works with: the options of each want, and packs for more value beside them."""

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.buying.purchase.model import Task, Want, Way

Packs = tuple[tuple[Way, int], ...]
Coin = tuple[Want, Way]
"""A pack that may be bought beyond the need."""


@dataclass(frozen=True, slots=True)
class Option:
    """One way to buy a want: its money, what it is worth at each till asked, its packs."""

    money: int
    values: tuple[int, ...]
    packs: Packs


@dataclass(frozen=True, slots=True)
class Pack:
    """`count` packs of a way, that may be bought in any number: what they bring to each thing asked."""

    want: Want
    way: Way
    values: tuple[int, ...]
    count: int = 1

    @property
    def money(self) -> int:
        """What they cost."""
        return self.way.money * self.count


@dataclass(frozen=True, slots=True)
class Core:
    """One option of each want is to be taken, and any packs, so that all that is asked is reached.

    `asked` has values at tills, and then for wants without options their units, or each piece, of which some may be cut from
    what is in hand: that is their option. Other options bring nothing to these.
    """

    options: Sequence[Sequence[Option]]
    asked: Sequence[int]
    packs: Sequence[Pack]


class OutOfWork(Exception):
    """The work allowed does not suffice."""


def coins_of(task: Task, wants: Sequence[Want], till: int) -> tuple[Coin, ...]:
    """What may be bought at a till in any number, by value: of none is there another for no more money and no less value."""
    best: dict[int, Coin] = {}
    for want in wants:
        for way in want.ways:
            if task.till(want, way.seller) == till and way.value:
                known = best.get(way.value)
                if known is None or (way.money, way.key) < (known[1].money, known[1].key):
                    best[way.value] = (want, way)
    kept: list[Coin] = []
    for value in sorted(best, reverse=True):
        if not kept or best[value][1].money < kept[-1][1].money:
            kept.append(best[value])
    return tuple(reversed(kept))
