"""The fewest merchants that sell everything between them: a task in, their number out; or what so many cannot supply."""

from collections.abc import Iterable
from itertools import combinations, islice

from estimator.buying.offers import CUT_UNIT
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.model import Block, Task, Want, bits

MOST_SETS = 2_000
"""Of merchants that are looked at for the one that lacks the least."""


def fewest(task: Task, cheapest: Cheapest) -> int:
    """The least number of merchants that can supply every block; all of them together can."""
    return next(most for most in range(len(task.merchants) + 1) if _within(task, cheapest, 0, most))


def _within(task: Task, cheapest: Cheapest, merchants: int, most: int) -> bool:
    """Whether so many more merchants are enough: the first block that lacks one takes each in turn."""
    lacking = next((block for block in task.blocks if not _has(cheapest, block, merchants)), None)
    if lacking is None:
        return True
    if not most:
        return False
    sellers = 0
    for want in (want for wants in lacking.makes for want in wants):
        sellers |= want.sellers
    return any(_within(task, cheapest, merchants | 1 << one, most - 1) for one in bits(sellers & ~merchants))


def lacking_parts(task: Task, cheapest: Cheapest, most: int) -> tuple[str, ...]:
    """The parts that those `most` merchants do not supply who supply the most parts; first by name."""
    sets = (sum(1 << one for one in chosen) for chosen in combinations(range(len(task.merchants)), most))
    lists = (_lacking(task.blocks, cheapest, merchants) for merchants in islice(sets, MOST_SETS))
    return min(lists, key=lambda parts: (len(parts), parts), default=())


def _lacking(blocks: Iterable[Block], cheapest: Cheapest, merchants: int) -> tuple[str, ...]:
    found: list[str] = []
    for block in blocks:
        if not _has(cheapest, block, merchants):
            lists = [
                tuple(sorted(want.part for want in wants if not _can(cheapest, want, merchants)))
                for wants in block.makes
            ]
            least: tuple[str, ...] = min(lists, key=lambda parts: (len(parts), parts))
            found += least
    return tuple(sorted(found))


def _has(cheapest: Cheapest, block: Block, merchants: int) -> bool:
    return any(all(_can(cheapest, want, merchants) for want in wants) for wants in block.makes)


def _can(cheapest: Cheapest, want: Want, merchants: int) -> bool:
    """Whether merchants can supply a want; the engine is asked only where lengths in hand may count."""
    ways = [way for way in want.ways if merchants >> way.seller & 1]
    if not want.by_length:
        return bool(ways) or not want.need
    longest = max((piece.length_mm for piece in want.pieces), default=0)
    if any(way.units == CUT_UNIT or way.units * 1000 >= longest for way in ways):
        return True
    return bool(want.held) and cheapest.of(want, merchants) is not None
