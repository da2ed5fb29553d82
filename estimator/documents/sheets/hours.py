"""The sheet Hours: how long every task takes, who does it and when, and what that comes to for each of the two."""

from estimator.costing.model import Range, TaskHours
from estimator.documents.hours_words import whose
from estimator.documents.sheets.cells import block, cell
from estimator.documents.sheets.looks import PLAIN, QUIET, RULED, SUM, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import stage
from estimator.result import Estimate

HEADS = ("Task", "Whose", "Stage", "Low", "Likely", "High", "Hours it took")
WIDTHS = (42, 17, 12, 9, 9, 9, 13)
TASK, WHOSE, STAGE, LOW, LIKELY, HIGH, DONE = range(7)
HUNDREDTHS = {"num_format": "#,##0.00"}
NOTE = (
    "Hours as ranges, for whatever a task is done. They come from the rows of labour.csv, times what was counted; change a row there "
    "and run studbay again. Work that has a rate is priced at its likely hours, on the sheet Price list."
)


def write_hours(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    budget = estimate.budget
    page.heading("Hours of work", NOTE, HEADS, (LOW, LIKELY, HIGH), (DONE,))
    row = FIRST_ROW
    for task in budget.tasks:
        _task(page, row, task)
        row += 1
    if not budget.tasks:
        page.text(row, TASK, "No work is counted.", QUIET)
        row += 1
    rows = (FIRST_ROW, row - 1)
    _all(page, row, "Your own, all of it", "self", budget.hours_self, rows)
    _all(page, row + 1, "The electrician's, all of it", "electrician", budget.hours_electrician, rows)
    page.finish(row + 1, DONE)


def _task(page: Page, row: int, task: TaskHours) -> None:
    page.rule(row, DONE, RULED)
    page.text(row, TASK, task.work, RULED, WRAPPED)
    page.text(row, WHOSE, whose(task.who), RULED, WRAPPED)
    page.text(row, STAGE, stage(task.stage), RULED, WRAPPED)
    for col, value in zip((LOW, LIKELY, HIGH), (task.hours.low, task.hours.likely, task.hours.high), strict=True):
        page.number(row, col, value, RULED, PLAIN, HUNDREDTHS)


def _all(page: Page, row: int, words: str, who: str, hours: Range, rows: tuple[int, int]) -> None:
    """All hours of one of the two, added up from the rows of the tasks."""
    page.rule(row, DONE, SUM)
    page.text(row, TASK, words, SUM)
    page.text(row, WHOSE, whose(who), SUM)
    for col, value in zip((LOW, LIKELY, HIGH), (hours.low, hours.likely, hours.high), strict=True):
        added = f"SUMIFS({block(*rows, col)},{block(*rows, WHOSE)},{cell(row, WHOSE)})"
        page.formula(row, col, added, value, SUM, HUNDREDTHS)
