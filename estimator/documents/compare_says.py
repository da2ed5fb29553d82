"""The sentences that stand first in a comparison: a column or a `Sureness` goes in, a line comes out."""

from collections.abc import Mapping
from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.compare.changes import Changes
from estimator.compare.model import Column, Comparison
from estimator.compare.puts import Put
from estimator.compare.sure import Sureness
from estimator.documents import sure_words
from estimator.documents.compare_facts import lower
from estimator.documents.compare_words import later_words, more_words
from estimator.documents.words import metres, money, number


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


def first_words(of: Comparison) -> tuple[str, ...]:
    """What ranges and a limit start from, where something was typed to be changed first; nothing else."""
    if of.first is None:
        return ()
    total = money(of.start.budget.total, of.base.job.currency)
    return (f"Starts from the job with what you typed, {total}: {'; '.join(changes_words(of.first))}.",)


def option_words(column: Column) -> tuple[str, ...]:
    """What the option of a scenario is, why one might want it, and what it does here; nothing without an option."""
    option = column.option
    if option is None:
        return ()
    why = f"{option.title}. {option.why}"
    return (why, option.does) if option.does else (why,)


def put_words(catalogue: Catalogue, put: Put) -> str:
    """Where a new point stands: `BX1, box with blank plate: studio, wall back, 4.35 m from its left end, 0.45 m up`."""
    name = f"{put.point}, {lower(catalogue.points[put.kind].label)}"
    if put.wall is None or put.along_mm is None:
        x, y = put.from_corner_mm or (0, 0)
        at = f"{_metres(x)} along x and {_metres(y)} along y from its lowest corner"
        return f"{name}: {put.room}, {put.surface}, {at}"
    side = "" if put.surface == "wall" else f", {put.surface}"
    up = "" if put.height_mm is None else f", {_metres(put.height_mm)} above the floor"
    wall = put.wall if put.wall.startswith("wall") else f"wall {put.wall}"
    return f"{name}: {put.room}, {wall}{side}, {_metres(put.along_mm)} from its left end{up}"


def changes_words(changes: Changes) -> tuple[str, ...]:
    """What a scenario changes, as it was written: `points.S.spread = 16`, `without points.DL`, `run added: duct`."""
    return (
        *(f"{address} = {value}" if _short(value) else f"{address} changed" for address, value in changes.change),
        *(f"without {address}" for address in changes.remove),
        *(f"{address} added{_named(value)}" for address, value in changes.add),
    )


def _metres(length_mm: int) -> str:
    """A length in metres to the millimetre: `4.35 m`."""
    return f"{metres(length_mm)} m"


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
