"""One range of values as rows: a `Swept` goes in, a row for each value comes out, with what begins there and what it takes.

Values that cannot be worked out, one after another and for the same reasons, are one row.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from estimator.catalogue.model import Catalogue, Part
from estimator.compare.differences import PackRow
from estimator.compare.each import Step
from estimator.compare.model import Comparison, Swept
from estimator.documents.compare_facts import reasons, start_words
from estimator.documents.compare_packs import pack_name, pack_words, part_words, whoever_sells
from estimator.documents.compare_words import more_words
from estimator.documents.words import money

Begins = Literal["board", "drum", "pack", "length"]
ORDER: tuple[Begins, ...] = ("board", "drum", "pack", "length")
FITS = "fits what is bought anyway: no other packs"
START = "the range starts here"
LOOSE = "single pieces and cut metres only"


@dataclass(frozen=True, slots=True)
class Mark:
    """What begins at a step, and in words: `drum of 25 m: flat twin and earth ...`."""

    begins: Begins
    words: str


@dataclass(frozen=True, slots=True)
class StepRow:
    """One value, or several next to each other that cannot be worked out (`total` None, `why` then says why).

    `price` is how much more the total is than at the row before, for `number` more; None where there is none before.
    `here` says that it is the job that the range starts from, and which that is; empty elsewhere.
    """

    first: int
    last: int
    total: Decimal | None
    price: Decimal | None
    number: int
    here: str
    fits: bool
    marks: tuple[Mark, ...]
    takes: tuple[str, ...]
    why: tuple[str, ...]

    @property
    def values(self) -> str:
        """The value, or the first and the last."""
        return str(self.first) if self.first == self.last else f"{self.first} to {self.last}"


def step_rows(comparison: Comparison, swept: Swept) -> tuple[StepRow, ...]:
    """A row for every value of the range, in its order."""
    rows: list[StepRow] = []
    for step in swept.steps:
        row = _row(comparison, step)
        if rows and row.why and _apart_from_value(row) == _apart_from_value(rows[-1]):
            before = rows.pop()
            row = StepRow(before.first, row.last, None, None, 0, "", False, (), (), before.why)
        rows.append(row)
    return tuple(rows)


def _apart_from_value(row: StepRow) -> tuple[str, ...]:
    """Reasons without the value that they are about: 40 that do not fit and 41 that do not fit are one reason."""
    value = re.compile(rf"(?<![\d.]){row.first}(?![\d.])")
    return tuple(value.sub("#", why) for why in row.why)


def _row(comparison: Comparison, step: Step) -> StepRow:
    estimate, value = step.variant.estimate, step.value
    if estimate is None:
        return StepRow(value, value, None, None, 0, "", False, (), (), reasons(step.variant.problems))
    here = start_words(comparison) if estimate.job == comparison.start.job else ""
    if step.since is None:
        return StepRow(value, value, step.total, None, 0, here, False, (), (), ())
    packs, catalogue = step.since.packs, estimate.catalogue
    marks, takes = tuple(marks_of(catalogue, packs)), pack_words(catalogue, packs)
    return StepRow(value, value, step.total, step.price, step.number, here, not packs, marks, takes or (FITS,), ())


def notes_of(row: StepRow) -> tuple[str, ...]:
    """What there is to know about a row beside its figures: that it is the job at the start, that it is for several."""
    here = (row.here,) if row.here else ()
    start = (START,) if row.number == 0 and not row.why else ()
    several = (f"for {row.number} more",) if row.number > 1 else ()
    return (*start, *here, *several)


def begins_of(row: StepRow) -> tuple[str, ...]:
    """What begins at a row, in short; nothing where nothing comes before it or it cannot be worked out."""
    if row.price is None:
        return ()
    return tuple(mark.words for mark in row.marks) or ((FITS,) if row.fits else (LOOSE,))


def marks_of(catalogue: Catalogue, packs: tuple[PackRow, ...]) -> Iterator[Mark]:
    """Boards, drums, packs and lengths of which there are more, in that order; single pieces and cut metres are none."""
    found: dict[tuple[Begins, str], list[PackRow]] = {}
    for row in whoever_sells(packs):
        begins = _begins(catalogue, row)
        if begins is not None and row.after > row.before:
            found.setdefault((begins, row.part), []).append(row)
    for (begins, name), rows in sorted(found.items(), key=lambda one: ORDER.index(one[0][0])):
        part = catalogue.parts[name]
        what = " and ".join(_what(catalogue, part, begins, row) for row in rows)
        yield Mark(begins, f"{what}: {part_words(part)}")


def _what(catalogue: Catalogue, part: Part, begins: Begins, row: PackRow) -> str:
    """`drum of 25 m`, `2 lengths of 4.8 m`, `board`."""
    count = row.after - row.before
    what = "board" if begins == "board" else pack_name(catalogue, part, row.pack, count)
    return f"{count} {what}" if count > 1 else what


def _begins(catalogue: Catalogue, row: PackRow) -> Begins | None:
    if any(board.part == row.part for board in catalogue.boards.values()):
        return "board"
    part = catalogue.parts[row.part]
    if part.sold_as == "length":
        cable = any(cable.part == row.part for cable in catalogue.cables.values())
        return None if row.pack == 1 else "drum" if cable else "length"
    return None if row.pack == 1 and part.unit == "nr" else "pack"


def sweep_words(rows: tuple[StepRow, ...], currency: str) -> tuple[str, ...]:
    """What a range shows, in sentences: the next one from the job as it stands, the dearest, what costs nothing more."""
    return tuple(_sweep_words(rows, currency))


def _sweep_words(rows: tuple[StepRow, ...], currency: str) -> Iterator[str]:
    priced = [(row, row.price) for row in rows if row.price is not None]
    yield from _following(rows, currency)
    each = [(row, price) for row, price in priced if row.number == 1]
    if len(each) > 1:
        yield _span(each, currency)
    free = [row for row, price in priced if not price and row.fits]
    if free:
        yield f"Nothing more to pay, since it fits what is bought anyway: {_listed(free)}."
    saving = [row for row, price in priced if price < 0]
    if saving:
        yield f"The whole job costs less than with one fewer, since the packs come out better: {_listed(saving)}."
    never = [row for row in rows if row.why]
    if never:
        yield f"Cannot be worked out: {_listed(never)}. The table says why."


def _following(rows: tuple[StepRow, ...], currency: str) -> Iterator[str]:
    row = next_one(rows)
    if row is not None and row.price is not None:
        here = next(one for one in rows if one.here)
        yield f"From {here.values}, {here.here}, to {row.values}: {more_words(row.price, currency)}."


def _span(each: Sequence[tuple[StepRow, Decimal]], currency: str) -> str:
    prices = [price for _, price in each]
    least, most = min(prices), max(prices)
    if least == most:
        return f"Each one more: {more_words(most, currency)}."
    dearest = next(row for row, price in each if price == most)
    begins = f" ({dearest.marks[0].words})" if dearest.marks else ""
    ends = (money(least, currency), money(most, currency))
    if least < 0:
        ends = (more_words(least, currency), more_words(most, currency))
    return f"Each one more costs between {ends[0]} and {ends[1]}; the dearest is number {dearest.values}{begins}."


def next_one(rows: tuple[StepRow, ...]) -> StepRow | None:
    """The first row with a price after the job as it stands; None where that is not in the range, or has no next."""
    here = next((at for at, row in enumerate(rows) if row.here), None)
    return None if here is None else next((row for row in rows[here + 1 :] if row.price is not None), None)


def _listed(rows: Sequence[StepRow]) -> str:
    return ", ".join(row.values for row in rows)
