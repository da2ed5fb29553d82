"""What stands beside a total of what has to be settled or asked, against findings written here."""

from dataclasses import replace
from io import BytesIO

import openpyxl

from estimator.checks.model import Finding, Level
from estimator.documents.quote import render_quote
from estimator.documents.settle import first_open, to_ask, to_settle
from estimator.documents.workbook import render_workbook
from tests import estimates


def finding(level: Level, subject: str) -> Finding:
    return Finding("spare-ways", level, subject, "Too few ways.")


def test_what_stops_is_counted_and_named_once_each_in_order() -> None:
    found = [finding("stop", of) for of in ("CU", "S3", "CU")]
    assert "3 things to settle before buying: CU, S3" == to_settle(found)
    assert "1 thing to settle before buying: CU" == to_settle(found[:1])


def test_no_more_than_four_subjects_are_named_and_a_long_one_is_cut() -> None:
    found = [finding("stop", of) for of in ("A", "B", "C", "D", "E", "F")]
    assert "6 things to settle before buying: A, B, C, D and 2 more" == to_settle(found)
    # hand: 40 letters at most, the last 4 of them " ..."
    assert f"1 thing to settle before buying: {'x' * 36} ..." == to_settle([finding("stop", "x" * 41)])


def test_without_a_finding_of_its_level_nothing_is_said() -> None:
    assert ("", "") == (to_settle([finding("ask", "S")]), to_ask([finding("stop", "S"), finding("note", "S")]))


def test_questions_and_what_was_not_checked_are_counted() -> None:
    found = [*[finding("ask", "S")] * 2, finding("unchecked", "job")]
    assert "2 questions for your electrician; 1 thing not checked" == to_ask(found)
    assert ("ask", "unchecked") == (first_open(found), first_open(found[2:]))


def test_the_first_screen_of_the_quote_says_what_is_to_be_settled_and_leads_there() -> None:
    found = (finding("stop", "CU"), finding("ask", "S"))
    page = render_quote(replace(estimates.worked_example(), findings=found))
    head, _, rest = page.partition("</header>")
    assert '<a href="#stop">1 thing to settle before buying: CU</a>' in head
    assert '<a href="#ask">1 question for your electrician</a>' in head
    assert '<h3 id="stop">' in rest
    assert '<h3 id="ask">' in rest
    assert (
        "settle before buying:"
        not in render_quote(replace(estimates.worked_example(), findings=())).partition("</header>")[0]
    )


def test_the_summary_of_the_workbook_says_the_same_below_its_total() -> None:
    found = (finding("stop", "CU"), finding("ask", "S"))
    book = openpyxl.load_workbook(BytesIO(render_workbook(replace(estimates.worked_example(), findings=found))))
    cells = [row[0] for row in book["Summary"].iter_rows(values_only=True)]
    below = [
        of for of in cells[cells.index("Total inc VAT (materials only: electrician, fees and hire not in)") :] if of
    ]
    assert [
        "1 thing to settle before buying: CU (sheet Findings, under Stop: settle before buying)",
        "1 question for your electrician (sheet Findings, under Ask your electrician)",
    ] == below[1:3]
