"""The sheet How sure: every line that varies with its ends, what it moves the total by, and what to set aside."""

from collections.abc import Sequence

from estimator.compare.model import Comparison
from estimator.compare.sure import Mover
from estimator.documents import sure_words
from estimator.documents.key import ABBREVIATIONS, COMPARISON, in_a_line, key_of
from estimator.documents.sheets.cells import cell
from estimator.documents.sheets.looks import APART, GROUP, PERCENT, PLAIN, RULED, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import CAUTIONS

WIDTHS = (30.0, 11.0, 11.0, 11.0, 10.0, 10.0, 10.0, 8.0, 37.0)
HEADS = ("Line", "Low", "Likely", "High", "Less", "More", "Low to high", "Of the doubt", "Why, and who says so")
NAME, LOW, LIKELY, HIGH, LESS, MORE, SWING, SHARE, WHY = range(9)
RIGHT = tuple(range(LOW, SHARE + 1))


def write_sure(page: Page, comparison: Comparison) -> None:
    """Write the sheet."""
    sure, currency = comparison.sure, comparison.base.job.currency
    note = " ".join(sure_words.sentences(sure, currency))
    page.heading(sure_words.TITLE, note, HEADS, RIGHT, (WHY,))
    for at, mover in enumerate(sure.movers, FIRST_ROW):
        _mover(page, at, mover)
    row = _figures(page, comparison, FIRST_ROW + len(sure.movers) + 1)
    for title, lines in (
        ("What is not in these figures", sure_words.LEFT_OUT),
        ("Mind", CAUTIONS),
        ("Words", (in_a_line(key_of(COMPARISON)),)),
        ("Abbreviations", (in_a_line(ABBREVIATIONS),)),
    ):
        row = _lines(page, row + 1, title, lines)
    page.finish(row - 1, WHY)


def _mover(page: Page, row: int, mover: Mover) -> None:
    look = page.looks.money
    page.rule(row, WHY, RULED)
    page.text(row, NAME, sure_words.label(mover), RULED, WRAPPED)
    for col, value in (
        (LOW, mover.comes_to.low),
        (LIKELY, mover.comes_to.likely),
        (HIGH, mover.comes_to.high),
        (LESS, mover.low),
        (MORE, mover.high),
    ):
        page.number(row, col, value, RULED, PLAIN, look)
    page.formula(row, SWING, f"ROUND({cell(row, MORE)}-{cell(row, LESS)},2)", mover.swing, RULED, PLAIN, look)
    page.number(row, SHARE, mover.share, RULED, PLAIN, PERCENT)
    page.text(row, WHY, f"{mover.why} ({mover.source})", RULED, WRAPPED, APART)


def _figures(page: Page, of: Comparison, row: int) -> int:
    """Low, likely, high, and what to set aside; the row after them."""
    sure = of.sure
    page.rule(row, WHY, GROUP)
    page.text(row, NAME, "The total inc VAT", {**GROUP, "text_wrap": False})
    named = (
        ("As it stands, with what you set aside", of.base.budget.total),
        ("Every line at its likely figure, nothing set aside", sure.counted),
        ("Low: one job in ten comes to less", sure.low),
        ("Likely: half of all jobs come to less", sure.likely),
        ("High: one job in ten comes to more", sure.high),
        ("Every line at its low end", sure.least),
        ("Every line at its high end", sure.most),
        ("To set aside, ex VAT: suggested", sure.suggested),
        ("To set aside, ex VAT: your own", sure.own),
    )
    for at, (words, amount) in enumerate(named, row + 1):
        page.rule(at, WHY, RULED)
        page.text(at, NAME, words, RULED, WRAPPED)
        page.number(at, LIKELY, amount, RULED, PLAIN, page.looks.money)
    return row + len(named) + 1


def _lines(page: Page, row: int, title: str, lines: Sequence[str]) -> int:
    page.rule(row, WHY, GROUP)
    page.text(row, NAME, title, {**GROUP, "text_wrap": False})
    for at, words in enumerate(lines, row + 1):
        page.across(at, words, WRAPPED)
    return row + len(lines) + 1
