"""Which of several things to keep when not all can be paid: things with priorities and a price for any choice of them in,
the best choice within a limit out.

Best: as many points of priority 1 as can be had, then of 2, and so on; of equals the cheapest, then the one whose names
come first. Prices need not add up: packs and deliveries are shared.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby, product

MOST_THINGS = 16
ALL_OF = 8
"""Up to so many things every choice that could be better is tried; beyond, none that holds what is too dear by itself."""

Kept = frozenset[str]
Price = Callable[[Kept], Decimal | None]
"""What a choice comes to; None where it cannot be had at all."""


@dataclass(frozen=True, slots=True)
class Thing:
    """What may be kept or left out whole: a name, its priority (1 comes first), how many points it is."""

    name: str
    priority: int
    points: int


@dataclass(frozen=True, slots=True)
class Choice:
    """What is kept and what that comes to; `proven` where every better choice was tried, `tried` how many were priced."""

    kept: Kept
    total: Decimal
    proven: bool
    tried: int


def best_within(things: Sequence[Thing], price: Price, limit: Decimal) -> Choice | None:
    """The best choice that comes to no more than the limit; None where none does.

    Raises:
        ValueError: more than MOST_THINGS things.
    """
    if len(things) > MOST_THINGS:
        raise ValueError(f"more than {MOST_THINGS} things to choose from")
    return _Search(things, price, limit).run()


class _Search:
    def __init__(self, things: Sequence[Thing], price: Price, limit: Decimal) -> None:
        self.things = sorted(things, key=lambda thing: thing.name)
        self.ask = price
        self.limit = limit
        self.every = len(things) <= ALL_OF
        self.prices: dict[Kept, Decimal | None] = {}
        self.dear: list[Kept] = []

    def run(self) -> Choice | None:
        """Choices by falling worth; of the first worth that can be had, the cheapest."""
        for _, equal in groupby(self._choices(), key=self._worth):
            had = [(total, sorted(kept)) for kept in equal if (total := self._within(kept)) is not None]
            if had:
                total, names = min(had)
                return Choice(frozenset(names), total, self.every, len(self.prices))
        return None

    def _within(self, kept: Kept) -> Decimal | None:
        """The price of a choice that can be had within the limit."""
        if not self.every and any(too_dear <= kept for too_dear in self.dear):
            return None
        total = self._price(kept)
        if total is None or total <= self.limit:
            return total
        if not self.every:
            self.dear.append(self._core(kept))
        return None

    def _price(self, kept: Kept) -> Decimal | None:
        if kept not in self.prices:
            self.prices[kept] = self.ask(kept)
        return self.prices[kept]

    def _core(self, kept: Kept) -> Kept:
        """A part of a choice too dear that is too dear by itself, what matters least taken off first."""
        least = kept
        for thing in sorted(self.things, key=lambda one: (-one.priority, one.name)):
            total = self._price(least - {thing.name}) if thing.name in least else None
            if total is not None and total > self.limit:
                least -= {thing.name}
        return least

    def _choices(self) -> Iterator[Kept]:
        subsets = (
            frozenset(thing.name for thing, stays in zip(self.things, stay, strict=True) if stays)
            for stay in product((True, False), repeat=len(self.things))
        )
        yield from sorted(subsets, key=lambda kept: ([-points for points in self._worth(kept)], sorted(kept)))

    def _worth(self, kept: Kept) -> tuple[int, ...]:
        """Points kept of each priority, the first priority first."""
        priorities = sorted({thing.priority for thing in self.things})
        return tuple(
            sum(thing.points for thing in self.things if thing.priority == priority and thing.name in kept)
            for priority in priorities
        )
