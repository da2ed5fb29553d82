"""The sheet Within: what a limit buys, group by group, and what each that is left out would take, by formula."""

from collections import Counter

from estimator.compare.model import Comparison
from estimator.compare.within import Within
from estimator.documents.compare_facts import start_words
from estimator.documents.compare_limit import group_labels
from estimator.documents.compare_says import first_words
from estimator.documents.compare_words import not_alone, within_words
from estimator.documents.sheets.cells import cell, fixed
from estimator.documents.sheets.looks import APART, GENERAL, PLAIN, RULED, SUM, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import money

WIDTHS = (18.0, 40.0, 10.0, 10.0, 16.0, 18.0, 16.0)
HEADS = ("Group", "What", "Priority", "Points", "Kept or left out", "The whole job with it", "Over the limit")
GROUP, WHAT, PRIORITY, POINTS, KEPT, WITH_IT, OVER = range(7)


def write_limit(page: Page, comparison: Comparison, found: Within) -> None:
    """Write the sheet."""
    currency = comparison.base.job.currency
    note = " ".join((*first_words(comparison), *within_words(found, currency)[:1]))
    page.heading(f"Within {money(found.limit, currency)}", note, HEADS, (PRIORITY, POINTS, WITH_IT, OVER), (KEPT,))
    limit = _figures(page, comparison, found)
    page.finish(_groups(page, comparison, found, limit) - 1, OVER)


def _figures(page: Page, of: Comparison, found: Within) -> int:
    """The limit, the plan and the job as it stands; the row of the limit."""
    plan = found.plan.estimate if found.plan is not None else None
    rows = [("The limit, inc VAT", found.limit), (start_words(of).capitalize(), of.start.budget.total)]
    if plan is not None:
        rows.append(("The plan", plan.budget.total))
    if found.least is not None:
        rows.append(("With all left out that may be", found.least))
    for at, (words, amount) in enumerate(rows, FIRST_ROW):
        page.rule(at, OVER, RULED)
        page.text(at, WHAT, words, RULED, WRAPPED)
        page.number(at, WITH_IT, amount, RULED, PLAIN, page.looks.money)
        if at > FIRST_ROW:
            over = f"ROUND({cell(at, WITH_IT)}-{fixed(FIRST_ROW, WITH_IT)},2)"
            page.formula(at, OVER, over, amount - found.limit, RULED, PLAIN, page.looks.money)
    page.rule(FIRST_ROW + len(rows), OVER, SUM)
    return FIRST_ROW


def _groups(page: Page, of: Comparison, found: Within, limit: int) -> int:
    labels, counts = group_labels(of), Counter(point.group for point in of.start.setout.points)
    left = {one.group: one for one in found.left_out}
    shown = [group for group in of.start.job.groups if group.name in left or group.name in found.kept]
    row = FIRST_ROW + 5
    for group in sorted(shown, key=lambda one: (one.priority or 0, one.name)):
        page.rule(row, OVER, RULED)
        page.text(row, GROUP, group.name, RULED, WRAPPED)
        page.text(row, WHAT, labels[group.name], RULED, WRAPPED)
        page.number(row, PRIORITY, group.priority or 0, RULED, PLAIN, GENERAL)
        page.number(row, POINTS, counts[group.name], RULED, PLAIN, GENERAL)
        page.text(row, KEPT, "left out" if group.name in left else "kept", RULED, PLAIN, APART)
        if group.name in left:
            with_it = left[group.name].with_it
            if with_it is None:
                page.text(row, WITH_IT, not_alone(left[group.name]), RULED, WRAPPED)
            else:
                page.number(row, WITH_IT, with_it, RULED, PLAIN, page.looks.money)
                over = f"ROUND({cell(row, WITH_IT)}-{fixed(limit, WITH_IT)},2)"
                page.formula(row, OVER, over, with_it - found.limit, RULED, PLAIN, page.looks.money)
        row += 1
    return row
