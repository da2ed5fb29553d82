"""quote.html: an `Estimate` goes in, one self-contained page comes out, the answer first."""

from estimator.documents.basis import basis, exclusions, invented_prices, oldest_price
from estimator.documents.hours_words import task_rows, whole_rows
from estimator.documents.key import ABBREVIATIONS, QUOTE, key_of
from estimator.documents.order_words import beside_the_order
from estimator.documents.page import render_page
from estimator.documents.quote_basis import CONFIDENCE, assumptions, distances, sources
from estimator.documents.quote_job import circuit_rows, control_rows, group_rows, run_rows
from estimator.documents.quote_left import left_rows, more_points
from estimator.documents.quote_money import (
    basket_orders,
    bill_sections,
    cut_rows,
    included,
    ladder,
    money_of,
    ranged_sums,
    spending,
)
from estimator.documents.settle import first_open, to_ask, to_settle
from estimator.documents.words import CAUTIONS, LEVEL_TITLES, MATERIALS_ONLY, PROVEN, SECTION_NUMBERS
from estimator.drawings.charts import money_bars
from estimator.drawings.sheets import plans
from estimator.result import Estimate

CONTENTS = (
    ("in-it", "In it, and not in it"),
    ("findings", "To settle and to ask"),
    ("plan", "Plan"),
    ("circuits", "Circuits"),
    ("money", "Where the money goes"),
    ("bill", "The bill"),
    ("order", "The order"),
    ("cuts", "Cutting list"),
    ("hours", "Hours of work"),
    ("left", "What is left"),
    ("assumed", "What was assumed"),
    ("basis", "Basis of the figures"),
    ("key", "Words and abbreviations"),
)
"""Anchors and titles of the sections that the list at the head leads to."""


def render_quote(estimate: Estimate) -> str:
    """The whole of quote.html: HTML 5, no script, nothing fetched; the same estimate gives the same text.

    The total stands in it once, at the head, above the sums that add up to it.
    """
    job, budget = estimate.job, estimate.budget
    spent, drawn = spending(budget), plans(estimate)
    return render_page(
        "quote.html.j2",
        {
            "job": job,
            "budget": budget,
            "order": estimate.order,
            "money": lambda amount: money_of(amount, job.currency),
            "total": money_of(budget.total, job.currency),
            "materials_only": MATERIALS_ONLY if budget.materials_only else "",
            "settle": to_settle(estimate.findings),
            "asked": to_ask(estimate.findings),
            "asked_at": first_open(estimate.findings),
            "invented": invented_prices(estimate),
            "oldest_price": oldest_price(estimate),
            "ladder": ladder(budget, job),
            "ranged": ranged_sums(budget, job.currency),
            "cautions": CAUTIONS,
            "proven": PROVEN,
            "included": included(estimate),
            "excluded": exclusions(estimate),
            "findings": tuple(
                (title, level, tuple(one for one in estimate.findings if one.level == level))
                for level, title in LEVEL_TITLES.items()
            ),
            "circuits": circuit_rows(estimate),
            "controls": control_rows(estimate),
            "runs": run_rows(estimate),
            "groups": group_rows(estimate),
            "plans": drawn,
            "spending": spent,
            "chart": money_bars(
                [(of.section, of.used, of.left_over) for of in spent], job.currency, "Materials by section"
            ),
            "section_numbers": SECTION_NUMBERS,
            "bill": bill_sections(budget, job.currency),
            "baskets": basket_orders(estimate),
            "beside_order": beside_the_order(estimate),
            "cuts": cut_rows(estimate),
            "left": left_rows(estimate),
            "more_points": more_points(estimate),
            "assumptions": assumptions(job),
            "distances": distances(job, estimate.catalogue),
            "sources": sources(estimate),
            "basis": basis(estimate),
            "hours": whole_rows(budget),
            "tasks": task_rows(budget),
            "confidence": tuple(CONFIDENCE.items()),
            "words": key_of(QUOTE),
            "abbreviations": ABBREVIATIONS,
            "contents": tuple(one for one in CONTENTS if drawn.sheets or one[0] != "plan"),
        },
    )
