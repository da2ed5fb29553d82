"""The sheet Findings: questions with numbers, under the heading of their level, with room for the answers."""

from estimator.checks.model import Finding
from estimator.documents.key import FINDINGS
from estimator.documents.sheets.looks import APART, GENERAL, GROUP, PLAIN, QUIET, RIGHT, RULED, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import LEVEL_TITLES
from estimator.result import Estimate

HEADS = (
    "About",
    "Question or remark",
    "Figure",
    "Limit",
    "Unit",
    "Limit is from",
    "What would settle it",
    "Answer, by whom",
)
WIDTHS = (19, 53, 9, 9, 7, 26, 20, 20)
ABOUT, MESSAGE, VALUE, LIMIT, UNIT, SOURCE, CHANGE, ANSWER = range(8)
NOTE = (
    "Questions with numbers, for you and your electrician to answer; nothing here says that the work is right. What has no "
    "finding was not thereby approved."
)


def write_findings(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Findings", NOTE, HEADS, (VALUE, LIMIT), (UNIT,))
    row = FIRST_ROW
    for level, title in LEVEL_TITLES.items():
        page.rule(row, ANSWER, GROUP)
        page.text(row, ABOUT, title, {**GROUP, "text_wrap": False})
        row += 1
        told = [finding for finding in estimate.findings if finding.level == level]
        for finding in told:
            _finding(page, row, finding)
            row += 1
        if not told:
            page.text(row, ABOUT, "None.", QUIET)
            row += 1
        row += 1
    page.finish(page.words(row - 1, FINDINGS) - 1, ANSWER)


def _finding(page: Page, row: int, finding: Finding) -> None:
    page.rule(row, ANSWER, RULED)
    page.text(row, ABOUT, finding.subject, RULED, WRAPPED)
    page.text(row, MESSAGE, finding.message, RULED, WRAPPED)
    for col, value in ((VALUE, finding.value), (LIMIT, finding.limit)):
        if value is not None:
            page.number(row, col, value, RULED, PLAIN, RIGHT, {"num_format": "0.###"} if value % 1 else GENERAL)
    page.text(row, UNIT, finding.unit or "", RULED, WRAPPED, APART)
    page.text(row, SOURCE, ", ".join(words for words in (finding.source, finding.edition) if words), RULED, QUIET)
    page.text(row, CHANGE, finding.change or "", RULED, WRAPPED)
