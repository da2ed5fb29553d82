"""A comparison for a terminal: a `Comparison` goes in, ruled tables and sentences of at most 100 places a line come out."""

from collections.abc import Iterable, Iterator

from estimator.compare.edits import Edit
from estimator.compare.model import Column, Comparison, Swept
from estimator.compare.within import Within
from estimator.documents import sure_words
from estimator.documents.basis import invented_prices
from estimator.documents.compare_columns import WIDTH, labelled, places, plain, row, wrapped
from estimator.documents.compare_edits import TITLE, edit_words
from estimator.documents.compare_facts import (
    AS_IT_STANDS,
    counted,
    figure_rows,
    finding_words,
    reasons,
    reworded,
    sweep_title,
)
from estimator.documents.compare_packs import pack_words
from estimator.documents.compare_says import (
    changes_words,
    decision,
    first_words,
    how_sure_in_short,
    option_words,
    put_words,
)
from estimator.documents.compare_steps import StepRow, begins_of, notes_of, step_rows, sweep_words
from estimator.documents.compare_words import LATER_BASIS, signed, within_words
from estimator.documents.words import MATERIALS_ONLY, WHAT_IT_IS, money, number
from estimator.drawings.svg import printable

LABEL, NAME, MONEY = 18, 60, 18
CANNOT = "cannot be worked out"


def as_text(comparison: Comparison) -> str:
    """Everything that was asked for, the totals first; ends in a line end."""
    return "\n".join(_lines(comparison)) + "\n"


def _lines(of: Comparison) -> Iterator[str]:
    job, budget = of.base.job, of.base.budget
    yield from wrapped(job.title, WIDTH)
    only = f" ({MATERIALS_ONLY})" if budget.materials_only else ""
    yield from wrapped(f"As it stands: {money(budget.total, job.currency)} inc VAT{only}.", WIDTH)
    yield from wrapped(how_sure_in_short(of.sure, job.currency), WIDTH)
    if invented := invented_prices(of.base):
        yield from wrapped(invented, WIDTH)
    if of.columns:
        yield from _scenarios(of)
    for swept in of.swept:
        yield from _sweep(of, swept)
    if of.within is not None:
        yield from _within(of, of.within)
    yield from _sure(of)
    yield ""
    yield from wrapped(WHAT_IT_IS, WIDTH)


def _scenarios(of: Comparison) -> Iterator[str]:
    currency = of.base.job.currency
    yield ""
    yield from row((("Scenarios, inc VAT", NAME, False), ("Total", MONEY, True), ("Difference", MONEY, True)))
    yield "-" * WIDTH
    yield from row(((AS_IT_STANDS, NAME, False), (money(of.base.budget.total, currency), MONEY, True)))
    for column in of.columns:
        yield from _total(column, currency)
    yield "-" * WIDTH
    for column in of.columns:
        yield ""
        yield from _scenario(of, column)
    if any(column.later is not None for column in of.columns):
        yield ""
        yield from wrapped(LATER_BASIS, WIDTH)


def _total(column: Column, currency: str) -> Iterator[str]:
    one, found = column.variant, column.differences
    if one.estimate is None or found is None:
        yield from row(((one.name, NAME, False), (CANNOT, 2 * MONEY + 1, True)))
        return
    total, more = money(one.estimate.budget.total, currency), signed(found.total, currency)
    yield from row(((one.name, NAME, False), (total, MONEY, True), (more, MONEY, True)))


def _scenario(of: Comparison, column: Column) -> Iterator[str]:
    """What one scenario changes; a kind of thing that stays as it is has no line."""
    name = plain(column.variant.name)
    yield from wrapped(name, WIDTH)
    yield "-" * min(places(name), WIDTH)
    for words in (*option_words(column), *changes_words(column.variant.changes)):
        yield from wrapped(words, WIDTH)
    found = column.differences
    if found is None or column.variant.estimate is None:
        for reason in reasons(column.variant.problems):
            yield from labelled("Cannot be done", reason, LABEL)
        return
    yield from wrapped(decision(column, of.base.job.currency), WIDTH)
    lists = {"Placed": [put_words(of.base.catalogue, put) for put in column.puts]}
    lists |= {"Packs": list(pack_words(column.variant.estimate.catalogue, found.packs))}
    for figures in figure_rows(of, (column,)):
        words = f"{figures.name}: from {number(figures.before, 1)} to {number(figures.after[0] or 0, 1)}"
        lists.setdefault(figures.group, []).append(words)
    lists["New"] = [finding_words(finding) for finding in found.appear]
    lists["Gone"] = [finding_words(finding) for finding in found.gone]
    lists["Other figures"] = [finding_words(after) for _, after in reworded(found)]
    for label, words_of in lists.items():
        for at, words in enumerate(words_of):
            yield from labelled("" if at else label, words, LABEL)
    if not found.packs:
        yield from wrapped("It fits what is bought anyway: no other packs.", WIDTH)
    yield from _edits(column.edits)


def _edits(edits: Iterable[Edit]) -> Iterator[str]:
    """What to write to keep it; lines to be pasted are never broken."""
    told = edit_words(edits)
    if told:
        yield f"{TITLE}:"
    for one in told:
        yield from (f"  {line}" for line in wrapped(f"{one.says}{':' if one.lines else '.'}", WIDTH - 2))
        yield from (f"    {printable(line)}" for line in one.lines)


def _sweep(of: Comparison, swept: Swept) -> Iterator[str]:
    currency, rows = of.base.job.currency, step_rows(of, swept)
    yield ""
    yield from wrapped(f"The price of the next one: {sweep_title(of, swept)}", WIDTH)
    for sentence in (*first_words(of), *sweep_words(rows, currency)):
        yield from wrapped(sentence, WIDTH)
    heads = (counted(swept.sweep.address), "Total", "Next one", "What begins there (compare.html tells all of it)")
    yield ""
    yield from _cells(*heads)
    yield "-" * WIDTH
    for one in rows:
        yield from _step(one, currency)
    yield "-" * WIDTH


def _step(of: StepRow, currency: str) -> Iterator[str]:
    if of.total is None:
        yield from _cells(of.values, "", "", "; ".join((CANNOT, *of.why)))
        return
    price = "" if of.price is None else signed(of.price, currency)
    yield from _cells(of.values, money(of.total, currency), price, "; ".join((*notes_of(of), *begins_of(of))))


def _cells(value: str, total: str, price: str, takes: str) -> list[str]:
    """One line of the table of a range."""
    return row(((value, 10, False), (total, 14, True), (price, 12, True), ("", 1, False), (takes, 59, False)))


def _within(of: Comparison, found: Within) -> Iterator[str]:
    yield ""
    for words in (*first_words(of), *within_words(found, of.base.job.currency)):
        yield from wrapped(words, WIDTH)
    yield from _edits(found.edits)


def _sure(of: Comparison) -> Iterator[str]:
    currency = of.base.job.currency
    yield ""
    yield sure_words.TITLE
    yield "-" * len(sure_words.TITLE)
    for sentence in sure_words.sentences(of.sure, currency):
        yield from wrapped(sentence, WIDTH)
