"""What stands beside the order: one counter for all, and what is short of free delivery, in every document."""

import re
from dataclasses import replace
from decimal import Decimal
from functools import cache
from html import unescape
from io import BytesIO

import openpyxl

from estimator.buying.model import Comparison, NearFree
from estimator.documents.data_money import purchase_data
from estimator.documents.order_words import beside_the_order
from estimator.documents.quote import render_quote
from estimator.documents.workbook import render_workbook
from estimator.result import Estimate
from tests import estimates

D = Decimal
COUNTER = Comparison(("A",), D("146.53"), D("6.00"))
NEAR = NearFree("B", 1, D("25.50"), "ex", D("11.40"))
TOLD = (
    "All from one counter (A), in one trip: £146.53 inc VAT, £6.00 dearer.",
    "£25.50 more (ex VAT) at B and delivery (£11.40 inc VAT) is free.",
)


@cache
def compared() -> Estimate:
    of = estimates.worked_example()
    return replace(of, order=replace(of.order, counter=COUNTER, near=(NEAR,)))


def said(counter: Comparison | None, *near: NearFree, trips: int = 1) -> tuple[str, ...]:
    of = compared()
    buying = replace(of.job.buying, trips=trips)
    return beside_the_order(
        replace(of, job=replace(of.job, buying=buying), order=replace(of.order, counter=counter, near=near))
    )


def test_one_counter_and_free_delivery_are_told_in_sentences() -> None:
    assert TOLD == beside_the_order(compared())


def test_several_counters_and_what_has_no_merchant_yet_are_told_by_name() -> None:
    told = said(Comparison(("A", "B", "any"), D("10"), D("-9.60")))
    assert (
        "All from as few counters as sell everything (A and B, with what has no merchant yet), in one trip: £10.00 inc VAT, "
        "£9.60 cheaper.",
    ) == told
    told = said(Comparison(("A", "any"), D("10"), D("0.00")))
    assert (
        "All from one counter (A, with what has no merchant yet), in one trip: £10.00 inc VAT, which is the same money.",
    ) == told


def test_a_comparison_that_is_not_proven_says_about() -> None:
    told = said(replace(COUNTER, proven=False))
    assert ("All from one counter (A), in one trip: about £146.53 inc VAT, £6.00 dearer.",) == told


def test_an_order_that_is_that_already_says_so_and_one_of_a_single_counter_says_nothing() -> None:
    # the worked example buys at A and at B
    assert ("No fewer than these 2 counters sell everything, and it is bought in one trip.",) == said(None)
    of = compared()
    alone = tuple(replace(line, merchant="A") for line in of.order.lines)
    assert () == beside_the_order(replace(of, order=replace(of.order, lines=alone, counter=None, near=())))


def test_in_two_trips_free_delivery_names_the_trip() -> None:
    told = said(COUNTER, replace(NEAR, trip=2), trips=2)
    assert "£25.50 more (ex VAT) at B on the second trip and delivery (£11.40 inc VAT) is free." == told[1]


def test_the_quote_has_each_sentence_once_beside_the_order() -> None:
    page = render_quote(compared())
    text = unescape(re.sub(r"<[^>]+>", "|", page))
    order = unescape(page.partition('id="order"')[2].partition('id="cuts"')[0])
    assert [1, 1] == [text.count(line) for line in TOLD]
    assert [True, True] == [line in order for line in TOLD]


def test_the_order_sheet_has_each_sentence_below_its_sum() -> None:
    sheet = openpyxl.load_workbook(BytesIO(render_workbook(compared())))["Order"]
    column = [row[0].value for row in sheet.iter_rows()]
    total = next(row[0].row for row in sheet.iter_rows() if row[1].value == "All baskets, delivery in")
    assert list(TOLD) == column[total + 1 : total + 3]
    assert f"$A$1:$N${total + 3}" in sheet.print_area


def test_the_data_has_them_as_figures_and_null_where_there_is_nothing_to_compare() -> None:
    assert {
        "cost": "140.53",
        "bound": "140.53",
        "proven": True,
        "counter": {"merchants": ["A"], "cost": "146.53", "dearer_by": "6.00", "proven": True},
        "near_free": [{"merchant": "B", "trip": 1, "short": "25.50", "basis": "ex", "saves": "11.40"}],
    } == purchase_data(compared().order)
