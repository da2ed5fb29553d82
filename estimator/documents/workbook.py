"""bill-of-quantities.xlsx: an `Estimate` goes in, the bytes of a workbook with working formulas come out.

Every formula carries the figure that the estimate holds, for programs that do not calculate; a recalculation must give
the same. Change a price, a waste or a rate on the price list and the totals follow.
"""

from copy import deepcopy
from datetime import datetime, time
from io import BytesIO

from estimator.documents.sheets.bill import WIDTHS as BILL_WIDTHS
from estimator.documents.sheets.bill import write_bill
from estimator.documents.sheets.cables import WIDTHS as CABLE_WIDTHS
from estimator.documents.sheets.cables import write_cables
from estimator.documents.sheets.cutting import WIDTHS as CUT_WIDTHS
from estimator.documents.sheets.cutting import write_cuts
from estimator.documents.sheets.drilling import WIDTHS as DRILL_WIDTHS
from estimator.documents.sheets.drilling import write_drilling
from estimator.documents.sheets.findings import WIDTHS as FINDING_WIDTHS
from estimator.documents.sheets.findings import write_findings
from estimator.documents.sheets.hours import WIDTHS as HOURS_WIDTHS
from estimator.documents.sheets.hours import write_hours
from estimator.documents.sheets.left import WIDTHS as LEFT_WIDTHS
from estimator.documents.sheets.left import write_left
from estimator.documents.sheets.looks import Looks
from estimator.documents.sheets.order import WIDTHS as ORDER_WIDTHS
from estimator.documents.sheets.order import write_order
from estimator.documents.sheets.page import Page
from estimator.documents.sheets.plan import BILL, ORDER, PRICES, SUMMARY, plan
from estimator.documents.sheets.prices import WIDTHS as PRICE_WIDTHS
from estimator.documents.sheets.prices import write_prices
from estimator.documents.sheets.setting_out import WIDTHS as SET_OUT_WIDTHS
from estimator.documents.sheets.setting_out import write_set_out
from estimator.documents.sheets.summary import WIDTHS as SUMMARY_WIDTHS
from estimator.documents.sheets.summary import write_summary
from estimator.result import Estimate

CABLES, CUTS, LEFT, HOURS = "Cable schedule", "Cutting list", "What is left", "Hours"
SET_OUT, DRILLING, FINDINGS = "Set-out", "Drilling", "Findings"
OPTIONS = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
    "default_format_properties": {"font_name": "Arial", "font_size": 10},
}


def render_workbook(estimate: Estimate) -> bytes:
    """The workbook; the same estimate gives the same bytes."""
    import xlsxwriter

    stream = BytesIO()
    book = xlsxwriter.Workbook(stream, deepcopy(OPTIONS))  # it writes into what it is given
    created = datetime.combine(estimate.job.priced_on, time())
    book.set_properties(
        {"title": "Bill of quantities", "comments": "For budgeting and buying only.", "created": created}
    )
    looks = Looks(book, estimate.job.currency)
    placed = plan(estimate)
    names = (
        (SUMMARY, SUMMARY_WIDTHS, False),
        (BILL, BILL_WIDTHS, True),
        (ORDER, ORDER_WIDTHS, True),
        (CABLES, CABLE_WIDTHS, True),
        (CUTS, CUT_WIDTHS, True),
        (LEFT, LEFT_WIDTHS, True),
        (HOURS, HOURS_WIDTHS, False),
        (SET_OUT, SET_OUT_WIDTHS, True),
        (DRILLING, DRILL_WIDTHS, True),
        (FINDINGS, FINDING_WIDTHS, True),
        (PRICES, PRICE_WIDTHS, True),
    )
    pages = {name: Page(book.add_worksheet(name), looks, widths, wide) for name, widths, wide in names}
    write_summary(pages[SUMMARY], estimate, placed, book)
    write_bill(pages[BILL], estimate, placed)
    write_order(pages[ORDER], estimate, placed)
    write_cables(pages[CABLES], estimate)
    write_cuts(pages[CUTS], estimate)
    write_left(pages[LEFT], estimate, placed)
    write_hours(pages[HOURS], estimate)
    write_set_out(pages[SET_OUT], estimate)
    write_drilling(pages[DRILLING], estimate)
    write_findings(pages[FINDINGS], estimate)
    write_prices(pages[PRICES], estimate, placed, book)
    book.close()
    return stream.getvalue()
