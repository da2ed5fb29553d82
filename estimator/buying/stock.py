"""The frozen values of cutting and pack buying: in, what is needed and what is for sale; out, what to buy and
how to cut it.

Lengths are whole numbers of any one unit and money whole numbers of any one unit; the caller chooses both and
scales.
"""

from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stock:
    """A drum or bar of one length; `limit` is how many are to be had, None for as many as wanted (an off-cut
    in hand costs 0).
    """

    key: str
    length: int
    price: int
    limit: int | None = None


@dataclass(frozen=True, slots=True)
class CutSale:
    """Stuff cut to order: one unbroken length of any whole number of `unit`s, at `price` for each unit."""

    key: str
    unit: int
    price: int


@dataclass(frozen=True, slots=True)
class Piece:
    """One unbroken piece that is needed; pieces may share a key if they share a length."""

    key: str
    length: int


@dataclass(frozen=True, slots=True)
class Bin:
    """One drum, bar or cut length that is bought: its pieces in cutting order (longest first) and the length
    left over.
    """

    stock: str
    length: int
    price: int
    pieces: tuple[str, ...]
    left: int


@dataclass(frozen=True, slots=True)
class Plan:
    """What to buy and how to cut it; no plan costs less than `bound`, and `proven` says that this one costs
    just that.
    """

    bins: tuple[Bin, ...]
    cost: int
    bound: int
    proven: bool
    method: str


class TooLong(ValueError):
    """Pieces longer than anything for sale: their keys, and the longest length there is (0 where nothing is
    for sale).
    """

    def __init__(self, keys: Sequence[str], longest: int) -> None:
        self.keys = tuple(keys)
        self.longest = longest
        super().__init__(f"longer than the longest length for sale ({longest}): {', '.join(self.keys)}")


class NotEnough(ValueError):
    """What is for sale has limits, and no way was found within them; `proven` says that there is none."""

    def __init__(self, proven: bool) -> None:
        self.proven = proven
        super().__init__("not enough for sale" if proven else "no way found to cut these from what is for sale")


class PlanFault(RuntimeError):
    """The second look found fault with a plan of ours: a mistake in the engines, never in the question."""
