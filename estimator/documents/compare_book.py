"""compare.xlsx: a `Comparison` goes in, the bytes of a workbook with working formulas come out.

Every formula carries the figure that the comparison holds, for programs that do not calculate. Sheets of what was not
asked for are left out.
"""

from collections.abc import Callable, Iterator
from copy import deepcopy
from datetime import datetime, time
from functools import partial
from io import BytesIO

from estimator.compare.model import Comparison
from estimator.documents import compare_sheet_later as later
from estimator.documents import compare_sheet_limit as limit
from estimator.documents import compare_sheet_scenarios as scenarios
from estimator.documents import compare_sheet_steps as steps
from estimator.documents import compare_sheet_sure as sure
from estimator.documents.sheets.looks import Looks
from estimator.documents.sheets.page import Page
from estimator.documents.workbook import OPTIONS

Sheet = tuple[str, tuple[float, ...], Callable[[Page], None]]
"""A name, the widths of the columns, and what fills it."""


def render_book(comparison: Comparison) -> bytes:
    """The workbook; the same comparison gives the same bytes."""
    import xlsxwriter

    job, stream = comparison.base.job, BytesIO()
    # The library writes into the options it is given, and a second workbook would come out otherwise.
    book = xlsxwriter.Workbook(stream, deepcopy(OPTIONS))
    created = datetime.combine(job.priced_on, time())
    book.set_properties(
        {"title": "What a change would cost", "comments": "For budgeting and buying only.", "created": created}
    )
    looks = Looks(book, job.currency)
    for name, widths, fill in _sheets(comparison):
        fill(Page(book.add_worksheet(name), looks, widths))
    book.close()
    return stream.getvalue()


def _sheets(of: Comparison) -> Iterator[Sheet]:
    if of.columns:
        yield "Scenarios", scenarios.WIDTHS, partial(scenarios.write_scenarios, comparison=of)
    for number, swept in enumerate(of.swept, 1):
        name = "Next one" if len(of.swept) == 1 else f"Next one {number}"
        yield name, steps.WIDTHS, partial(steps.write_steps, comparison=of, swept=swept)
    if any(column.later is not None for column in of.columns):
        yield "Later", later.WIDTHS, partial(later.write_later, comparison=of)
    if of.within is not None:
        yield "Within", limit.WIDTHS, partial(limit.write_limit, comparison=of, found=of.within)
    yield "How sure", sure.WIDTHS, partial(sure.write_sure, comparison=of)
