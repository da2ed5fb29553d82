"""The sentences that stand first in a comparison: a column or a `Sureness` goes in, a line comes out."""

from collections.abc import Mapping
from decimal import Decimal

from estimator.compare.changes import Changes
from estimator.compare.model import Column
from estimator.compare.sure import Sureness
from estimator.documents import sure_words
from estimator.documents.compare_words import later_words, more_words
from estimator.documents.words import number


def decision(column: Column, currency: str) -> str:
    """What to decide about a scenario in one line: more or less money, now or later.

    Raises:
        ValueError: a scenario that cannot be worked out.
    """
    if column.differences is None:
        raise ValueError(f"{column.variant.name} has no estimate")
    more = column.differences.total
    if column.later is not None:
        return later_words(column.later, currency)
    if not more:
        return "The total stays the same."
    return f"{more_words(more, currency)} than as it stands. Nothing is added that would be fitted later."


def how_sure_in_short(sure: Sureness, currency: str) -> str:
    """How sure the total is, in one sentence or two: the chance that it is enough, and what one job in ten comes to."""
    if not sure.movers:
        return f"How sure: {sure_words.NOTHING}"
    own = "with what you set aside" if sure.own else "with nothing set aside"
    return (
        f"How sure: {sure_words.odds(sure.own_holds)} that this is enough, {own}. "
        f"One job in ten like it comes to more than {sure_words.whole(sure.high, currency)}."
    )


def changes_words(changes: Changes) -> tuple[str, ...]:
    """What a scenario changes, as it was written: `points.S.spread = 16`, `without points.DL`, `run added: duct`."""
    return (
        *(f"{address} = {value}" if _short(value) else f"{address} changed" for address, value in changes.change),
        *(f"without {address}" for address in changes.remove),
        *(f"{address} added{_named(value)}" for address, value in changes.add),
    )


def _named(value: object) -> str:
    """The names of what is added, where it has any."""
    rows = value if isinstance(value, list | tuple) else (value,)
    names = [row["name"] for row in rows if isinstance(row, Mapping) and isinstance(row.get("name"), str)]
    return f": {', '.join(names)}" if names else ""


def _short(value: object) -> bool:
    """Whether a value is one thing, which can be shown."""
    return isinstance(value, str | int | Decimal)


def share_words(share: Decimal) -> str:
    """A share of a sum to one decimal: `11 %`."""
    return f"{number(share * 100, 1)} %"
