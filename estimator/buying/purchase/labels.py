"""One option for each want so that all together, and a little more, reach the values asked for least money.

Options and tables of surplus in, the best choice out. Wants are taken in one after another; of two partial choices the
one that costs no less and brings no more is dropped, and so is one that cannot end below the ceiling.
"""

from bisect import bisect_left
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estimator.buying.purchase.choices import NOTHING, Freely, Option, OutOfWork, Work

MOST_LABELS = 4_000
MOST_COMPARED = 60


@dataclass(frozen=True, slots=True)
class Lowered:
    """Money counts `by` x, less `off` for each unit of value at each till asked; `least` for each want its bound in that.

    `expected` for each want the values it would bring alone, and `dear` what a unit of value costs more in that money
    where it is bought beyond the need.
    """

    by: int
    off: tuple[int, ...]
    least: tuple[int, ...]
    expected: tuple[tuple[int, ...], ...]
    dear: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Label:
    """A partial choice: its money, its values as far as they are of use, the option taken last and the label before it."""

    money: int
    values: tuple[int, ...]
    option: int
    before: "Label | None"


def labels(
    options: Sequence[Sequence[Option]],
    asked: tuple[int, ...],
    lowered: Lowered,
    gap: int,
    work: Work,
    few: int | None = None,
    freely: Freely = NOTHING,
) -> list[Label]:
    """Complete choices that may end below the ceiling: lowered money less than the sum of bounds + `gap`.

    All that matter, or with `few` those that come of so many of the likeliest partial choices.

    Raises: OutOfWork.
    """
    found = [Label(0, tuple(0 for _ in asked), -1, None)]
    least = 0
    for place, (own, tops) in enumerate(zip(options, _tops(options, asked), strict=True)):
        least += lowered.least[place]
        work.spend(len(found) * len(own))
        grown: dict[tuple[int, ...], Label] = {}
        for label in found:
            for number, option in enumerate(own):
                values = tuple(min(a + b, most) for a, b, most in zip(label.values, option.values, tops, strict=True))
                money = label.money + option.money
                known = grown.get(values)
                if known is not None and known.money <= money:
                    continue
                off = sum(a * b for a, b in zip(lowered.off, values, strict=True))
                if lowered.by * money - off - least < gap:
                    grown[values] = Label(money, values, number, label)
        if few is not None:
            rest = [sum(values) for values in zip(*lowered.expected[place + 1 :], strict=True)] or [0] * len(asked)
            found = _likeliest(grown, lowered, few, [most - value for most, value in zip(asked, rest, strict=True)])
        else:
            found = _undominated(grown, freely)
        if len(found) > MOST_LABELS:
            raise OutOfWork
    return found


def _tops(options: Sequence[Sequence[Option]], asked: tuple[int, ...]) -> list[tuple[int, ...]]:
    """After each want, the values above which more is of no use: what is asked less the least that the rest brings."""
    tops = [asked]
    for own in reversed(options[1:]):
        brought = [min((option.values[place] for option in own), default=0) for place in range(len(asked))]
        tops.append(tuple(max(0, top - least) for top, least in zip(tops[-1], brought, strict=True)))
    return tops[::-1] if options else []


def _likeliest(
    grown: Mapping[tuple[int, ...], Label], lowered: Lowered, few: int, wanted: Sequence[int]
) -> list[Label]:
    """The labels of least lowered money: with what falls short of the values wanted by now bought beyond the need, and without."""

    def weight(label: Label, dear: Sequence[int]) -> tuple[int, int, tuple[int, ...]]:
        total = lowered.by * label.money
        for off, more, value, want in zip(lowered.off, dear, label.values, wanted, strict=True):
            total += more * max(0, want - value) - off * value
        return total, label.money, label.values

    found = sorted(grown.values(), key=lambda label: weight(label, lowered.dear))[: few // 2]
    plain = sorted(grown.values(), key=lambda label: weight(label, [0] * len(wanted)))[: few // 2]
    return list({label.values: label for label in (*found, *plain)}.values())


def _undominated(grown: Mapping[tuple[int, ...], Label], freely: Freely) -> list[Label]:
    """The labels that none seen before outdoes, by rising money.

    With three tills or more, or rates, only some of the others are looked at: a label too many does no harm.
    """
    kept: list[Label] = []
    stairs = _Stairs()
    for label in sorted(grown.values(), key=lambda of: (of.money, [-value for value in of.values])):
        first, second, *rest = (*label.values, 0, 0)[: max(2, len(label.values))]
        if rest or freely.rates:
            money, values = label.money, label.values
            if any(freely.outdoes(other.money, other.values, money, values) for other in kept[:MOST_COMPARED]):
                continue
        elif not stairs.add(first, second):
            continue
        kept.append(label)
        if len(kept) > MOST_LABELS:
            raise OutOfWork
    return kept


class _Stairs:
    """Pairs of numbers of which none is at least another in both."""

    def __init__(self) -> None:
        self.firsts: list[int] = []
        self.seconds: list[int] = []

    def add(self, first: int, second: int) -> bool:
        """Take a pair in, unless one that is there is at least that in both; those below it go."""
        place = bisect_left(self.firsts, first)
        if place < len(self.firsts) and self.seconds[place] >= second:
            return False
        low = place
        while low and self.seconds[low - 1] <= second:
            low -= 1
        high = place + (place < len(self.firsts) and self.firsts[place] == first)
        self.firsts[low:high], self.seconds[low:high] = [first], [second]
        return True


def chosen(label: Label) -> list[int]:
    """The number of the option taken of each want, in order."""
    found = []
    while label.before is not None:
        found.append(label.option)
        label = label.before
    return found[::-1]
