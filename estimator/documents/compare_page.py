"""compare.html: a `Comparison` goes in, one self-contained page comes out, the answer first."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from estimator.compare.model import Comparison, Swept
from estimator.documents import compare_edits, sure_words
from estimator.documents.basis import invented_prices
from estimator.documents.compare_charts import next_charts
from estimator.documents.compare_charts_sure import (
    BARS_WIDTH_MM,
    LINE_WIDTH_MM,
    PHONE_WIDTH_MM,
    mover_bars,
    sure_line,
)
from estimator.documents.compare_edits import to_write
from estimator.documents.compare_facts import counted, reasons, start_words, sweep_title
from estimator.documents.compare_later import LaterTable, later_tables
from estimator.documents.compare_limit import limit_context
from estimator.documents.compare_says import (
    changes_words,
    decision,
    first_words,
    how_sure_in_short,
    option_words,
    put_words,
    share_words,
)
from estimator.documents.compare_side import side_tables
from estimator.documents.compare_steps import StepRow, next_one, notes_of, step_rows, sweep_words
from estimator.documents.compare_words import LATER_BASIS, signed
from estimator.documents.key import ABBREVIATIONS, COMPARISON, key_of
from estimator.documents.page import render_page
from estimator.documents.quote_left import more_points
from estimator.documents.words import CAUTIONS, MATERIALS_ONLY, PROVEN, money
from estimator.drawings.svg import Drawing


def render_comparison_page(comparison: Comparison) -> str:
    """The whole of compare.html: HTML 5, no script, nothing fetched; the same comparison gives the same text."""
    base, currency = comparison.base, comparison.base.job.currency
    later = later_tables(comparison)
    return render_page(
        "compare.html.j2",
        {
            "job": base.job,
            "total": money(base.budget.total, currency),
            "materials_only": MATERIALS_ONLY if base.budget.materials_only else "",
            "invented": invented_prices(base),
            "in_short": how_sure_in_short(comparison.sure, currency),
            "decisions": tuple(_decisions(comparison)),
            "sides": side_tables(comparison),
            "edits_title": compare_edits.TITLE,
            "edits": to_write(comparison),
            "sweeps": tuple(_sweep(comparison, swept, f"next-{at}") for at, swept in enumerate(comparison.swept, 1)),
            "fits": more_points(base),
            "limit": limit_context(comparison),
            "later": later,
            "later_basis": LATER_BASIS,
            "sure": _sure(comparison),
            "cautions": CAUTIONS,
            "proven": PROVEN,
            "words": key_of(COMPARISON),
            "abbreviations": ABBREVIATIONS,
            "contents": tuple(_contents(comparison, later)),
        },
    )


def _contents(of: Comparison, later: tuple[LaterTable, ...]) -> Iterator[tuple[str, str]]:
    """Anchors and titles of the sections that there are."""
    if of.columns:
        yield "scenarios", "Side by side"
    if of.swept:
        yield "next", "The price of the next one"
    if of.within is not None:
        yield "limit", f"Within {money(of.within.limit, of.base.job.currency)}"
    if to_write(of):
        yield "write", compare_edits.TITLE
    if later:
        yield "later", "What later costs are made of"
    yield "sure", sure_words.TITLE
    yield "key", "Words and abbreviations"


def _decisions(of: Comparison) -> Iterator[tuple[str, str, str, tuple[str, ...], str]]:
    """Name, what is changed and where it goes, difference, what to decide and why, for each scenario."""
    catalogue, currency = of.base.catalogue, of.base.job.currency
    for column in of.columns:
        one = column.variant
        puts = (put_words(catalogue, put) for put in column.puts)
        changed = "; ".join((*changes_words(one.changes), *puts))
        why = option_words(column)
        if column.differences is None:
            yield one.name, changed, "", why, f"Cannot be worked out: {'; '.join(reasons(one.problems))}"
        else:
            yield one.name, changed, signed(column.differences.total, currency), why, decision(column, currency)


def _sweep(of: Comparison, swept: Swept, prefix: str) -> Mapping[str, Any]:
    currency, rows = of.base.job.currency, step_rows(of, swept)
    heading, title = counted(swept.sweep.address), sweep_title(of, swept)
    return {
        "title": title,
        "heading": heading,
        "start": start_words(of),
        "next": next_one(rows) is not None,
        "says": (*first_words(of), *sweep_words(rows, currency)),
        "charts": next_charts(rows, heading, currency, f"The price of the next one: {title}", prefix),
        "rows": tuple(_step(row, currency) for row in rows),
    }


def _step(row: StepRow, currency: str) -> Mapping[str, Any]:
    return {
        "values": row.values,
        "here": row.here,
        "total": "" if row.total is None else money(row.total, currency),
        "price": "" if row.price is None else signed(row.price, currency),
        "notes": notes_of(row),
        "takes": row.takes,
        "why": row.why,
    }


def _sure(of: Comparison) -> Mapping[str, Any]:
    sure, currency = of.sure, of.base.job.currency
    return {
        "title": sure_words.TITLE,
        "says": sure_words.sentences(sure, currency),
        "left_out": sure_words.LEFT_OUT,
        "lines": _both(lambda *size: sure_line(sure, of.base.budget.total, currency, *size), "sure", LINE_WIDTH_MM)
        if sure.movers
        else (),
        "bars": _both(lambda *size: mover_bars(sure.movers, currency, *size), "movers", BARS_WIDTH_MM)
        if sure.movers
        else (),
        "rows": sure_words.mover_rows(sure, currency),
        "set_aside": (
            ("Suggested", sure_words.whole(sure.suggested, currency), share_words(sure.suggested_share)),
            ("Your own", sure_words.whole(sure.own, currency), share_words(sure.own_share)),
        ),
    }


def _both(draw: Callable[[str, float], Drawing], prefix: str, wide_mm: float) -> tuple[tuple[str, Drawing], ...]:
    """A picture for paper and wide windows, and the same for a telephone, each with the class that shows one of them."""
    return ("wide", draw(prefix, wide_mm)), ("narrow", draw(f"{prefix}-narrow", PHONE_WIDTH_MM))
