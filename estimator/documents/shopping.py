"""shopping-list-MERCHANT.xlsx and .csv: an `Estimate` goes in, for each merchant a list to be priced comes out."""

import csv
import re
import unicodedata
from datetime import datetime, time
from decimal import Decimal
from io import BytesIO, StringIO
from typing import Any

from estimator.documents.sheets.looks import APART, GENERAL, GROUP, PLAIN, QUIET, RULED, TITLE, WRAPPED, Looks, Style
from estimator.documents.sheets.page import Page
from estimator.documents.shelves import SHELVES, ListLine, list_lines, merchants
from estimator.documents.words import merchant_words
from estimator.result import Estimate

COLUMNS = (
    "Line",
    "What",
    "Trade name",
    "Your code",
    "Quantity",
    "Unit",
    "Pack wanted",
    "Packs",
    "One length",
    "Same kind accepted",
    "Price of one pack",
    "Line price",
    "In stock, or days",
    "Note",
)
WIDTHS = (5, 27, 22, 9, 8, 6, 13, 6, 10, 9, 10, 9, 8, 16)
QUANTITY, UNIT, PACKS, ONE_LENGTH, PRICE, NOTE = 4, 5, 7, 8, 10, 13
CSV_COLUMNS = ("Line", "Shelf", *COLUMNS[1:], "Job", "Date", "Please", "Prices good until", "Prices ex or inc VAT")
ASK = "Please price every line, or say n/a."
TO_FILL = ("From (name, telephone)", "Wanted by; collect or deliver", "Prices good until", "Prices ex or inc VAT")
EMPTY: Style = {"border": 1, "border_color": "#7F7F7F", "locked": False, "valign": "top"}
COUNTER_TITLES = {
    "electrical": "Electrical",
    "timber": "Timber and sheet",
    "ground": "Sand, duct, tape",
    "hire": "Hire",
}
HEAD_ROW = 8

_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_PLAIN_NUMBER = re.compile(r"-?\d+(\.\d+)?")


def render_lists(estimate: Estimate) -> dict[str, bytes]:
    """Both files for every merchant that something is bought from, by file name."""
    files: dict[str, bytes] = {}
    for merchant, slug in slugs(merchants(estimate)).items():
        lines = list_lines(estimate, merchant)
        files[f"shopping-list-{slug}.xlsx"] = _workbook(estimate, merchant, lines)
        files[f"shopping-list-{slug}.csv"] = _csv(estimate, lines)
    return files


def slugs(names: tuple[str, ...]) -> dict[str, str]:
    """A part of a file name for each merchant: letters, figures and dashes; two that look alike are told apart."""
    taken: dict[str, str] = {}
    for name in sorted(names):
        plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
        stem = re.sub(r"[^A-Za-z0-9]+", "-", plain).strip("-")[:60] or "merchant"
        slug, again = stem, 2
        while slug.casefold() in {of.casefold() for of in taken.values()}:
            slug, again = f"{stem}-{again}", again + 1
        taken[name] = slug
    return taken


def _csv(estimate: Estimate, lines: tuple[ListLine, ...]) -> bytes:
    """One header row, then the lines; blank where the merchant writes. UTF-8 with its mark, for spreadsheets."""
    job, out = estimate.job, StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(CSV_COLUMNS)
    for line in lines:
        writer.writerow(
            [
                line.number,
                guarded(line.shelf),
                guarded(line.words),
                guarded(line.trade_name),
                guarded(line.code),
                f"{line.quantity.normalize():f}",
                guarded(line.unit),
                guarded(line.pack),
                line.packs,
                guarded(line.one_length),
                "Y" if line.same_kind else "N",
                "",
                "",
                "",
                guarded(line.note),
                guarded(job.title),
                job.priced_on.isoformat(),
                ASK,
                "",
                "",
            ]
        )
    return out.getvalue().encode("utf-8-sig")


def guarded(text: str) -> str:
    """Text that no spreadsheet takes as a formula: what might be one gets a quote in front, and so does a quote.

    A plain number stays as it is. Taking off one leading quote gives the text back.
    """
    bare = text.lstrip(" \u00a0\u3000")
    risky = bare.startswith(_STARTS) and not _PLAIN_NUMBER.fullmatch(text)
    return f"'{text}" if risky or text.startswith("'") else text


def _workbook(estimate: Estimate, merchant: str, lines: tuple[ListLine, ...]) -> bytes:
    import xlsxwriter

    from estimator.documents.workbook import OPTIONS

    stream = BytesIO()
    book = xlsxwriter.Workbook(stream, OPTIONS)
    book.set_properties({"title": "Shopping list", "created": datetime.combine(estimate.job.priced_on, time())})
    looks = Looks(book, estimate.job.currency)
    for counter in dict.fromkeys(line.counter for line in lines):
        name = COUNTER_TITLES.get(counter, "Other")
        page = Page(book.add_worksheet(_unused(book, name)), looks, WIDTHS)
        _sheet(page, estimate, merchant, name, [line for line in lines if line.counter == counter])
    book.close()
    return stream.getvalue()


def _unused(book: Any, name: str) -> str:
    there = {sheet.get_name() for sheet in book.worksheets()}
    return next(of for of in (name, *(f"{name} {again}" for again in range(2, 100))) if of not in there)


def _sheet(page: Page, estimate: Estimate, merchant: str, counter: str, lines: list[ListLine]) -> None:
    job = estimate.job
    page.across(0, f"To be priced: {counter.lower()}", TITLE)
    page.across(1, f"To: {merchant_words(merchant)}. For: {job.title}. Date: {job.priced_on.isoformat()}.", WRAPPED)
    page.across(2, ASK, {**WRAPPED, "bold": True})
    for row, words in enumerate(TO_FILL, 3):
        page.text(row, 1, words, PLAIN)
        page.rule(row, 2, EMPTY, first=2)
    page.head_row(HEAD_ROW, COLUMNS, (QUANTITY, PACKS), (UNIT, ONE_LENGTH, NOTE))
    page.sheet.repeat_rows(HEAD_ROW)
    page.sheet.freeze_panes(HEAD_ROW + 1, 0)
    row = HEAD_ROW + 1
    for shelf in SHELVES:
        mine = [line for line in lines if line.shelf == shelf]
        if mine:
            page.rule(row, NOTE, GROUP)
            page.text(row, 0, shelf, {**GROUP, "text_wrap": False})
            for at, line in enumerate(mine, row + 1):
                _line(page, at, line)
            row += len(mine) + 1
    page.finish(row - 1, NOTE, protect=False)


def _line(page: Page, row: int, line: ListLine) -> None:
    page.rule(row, NOTE, RULED)
    page.number(row, 0, line.number, RULED, PLAIN, {"align": "left"})
    for col, words in ((1, line.words), (2, line.trade_name), (3, line.code), (6, line.pack)):
        page.text(row, col, words, RULED, WRAPPED)
    page.text(row, ONE_LENGTH, line.one_length, RULED, WRAPPED, APART)
    page.number(row, QUANTITY, line.quantity, RULED, PLAIN, GENERAL)
    page.text(row, UNIT, line.unit, RULED, PLAIN, APART)
    page.number(row, PACKS, Decimal(line.packs), RULED, PLAIN)
    page.text(row, 9, "Y" if line.same_kind else "N", RULED, PLAIN)
    page.rule(row, PRICE + 2, EMPTY, first=PRICE)
    page.text(row, NOTE, line.note, RULED, QUIET, APART)
