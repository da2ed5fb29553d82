"""The documents of a comparison: one figure everywhere, every step told, inert whatever users wrote, formulas that agree."""

import json
import re
from dataclasses import replace
from decimal import Decimal as D
from functools import cache
from html.parser import HTMLParser
from io import BytesIO
from pathlib import Path
from typing import Any
from unicodedata import east_asian_width
from xml.etree import ElementTree

import openpyxl
import pytest

from estimator.catalogue.read import read_catalogue
from estimator.compare.changes import Changes
from estimator.compare.compare import Asked, compare
from estimator.compare.differences import PackRow, Row, differences
from estimator.compare.each import Sweep
from estimator.compare.later import Later, as_said
from estimator.compare.model import Comparison, Swept
from estimator.compare.variants import Wanted
from estimator.costing.model import Range
from estimator.documents.compare import as_text, render_comparison
from estimator.documents.compare_charts import next_charts
from estimator.documents.compare_charts_sure import Tick, _tiers
from estimator.documents.compare_columns import WIDTH
from estimator.documents.compare_data import as_data
from estimator.documents.compare_facts import figure_rows
from estimator.documents.compare_packs import SHIFTED, pack_words
from estimator.documents.compare_page import render_comparison_page
from estimator.documents.compare_side import side_tables
from estimator.documents.compare_steps import marks_of, next_one, step_rows, sweep_words
from estimator.documents.compare_words import chance, hours_words, later_words, more_words, signed, span_words
from estimator.documents.key import ABBREVIATIONS
from estimator.documents.words import CAUTIONS, money
from estimator.estimate import estimate
from estimator.job.read import job_tree, read_tree
from estimator.problems import Place
from tests import recalc
from tests.shed import STUDIO, shipped

NEVER = re.compile(r"\b(compliant|safe|certified|pass(es|ed)?|C1|C2|C3|FI)\b", re.IGNORECASE)
HOSTILE = "<script>alert(1)</script> =1+1 \x1b[31m \u202e{{ 7 * 7 }} \"' & \U0001f50c 電気"
SEEN = HOSTILE.replace("\x1b", "").replace("\u202e", "")
"""What a title may be: a job with the rest of it is refused."""
TYPED = Place("--change")


def change(**values: object) -> Changes:
    return Changes(change=tuple((name.replace("__", "."), value) for name, value in values.items()), place=TYPED)


@cache
def comparison() -> Comparison:
    """The studio with changes that add, take out, go elsewhere and cannot be, two ranges and a limit."""
    catalogue = read_catalogue(STUDIO)
    tree, measured = job_tree(STUDIO)
    job, _ = read_tree(tree, catalogue, measured)
    asked = Asked(
        (
            Wanted("sixteen sockets", change(points__S__spread=16)),
            Wanted("without downlights", Changes(remove=("points.DL",), place=TYPED)),
            Wanted("too many", change(points__S__spread=400)),
            Wanted(HOSTILE, change(title=SEEN, points__S__spread=14)),
            Wanted("heavier feed", change(run__feed__cable="swa-3c-16")),
        ),
        (Sweep("points.S.spread", 10, 15), Sweep("points.S.spread", 76, 79)),
        D(2100),
    )
    return compare(tree, catalogue, estimate(job, catalogue), asked)


@cache
def made() -> dict[str, bytes]:
    return render_comparison(comparison())


def page() -> str:
    return made()["compare.html"].decode()


def book(stored: bool = True) -> Any:
    return openpyxl.load_workbook(BytesIO(made()["compare.xlsx"]), data_only=stored)


class _Seen(HTMLParser):
    """What a browser would make of a page: its tags with their attributes, and its text."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text.append(data)


@cache
def seen() -> _Seen:
    found = _Seen()
    found.feed(page())
    return found


def told() -> str:
    return " ".join(" ".join(seen().text).split())


# ---- One figure everywhere -----------------------------------------------------------------------------------------


def test_every_total_and_difference_is_the_same_in_text_page_workbook_and_data() -> None:
    of, data = comparison(), json.loads(as_data(comparison()))
    rows = [[cell.value for cell in row] for row in book()["Scenarios"].iter_rows(min_row=6, max_row=10)]
    for column, row, one in zip(of.columns, rows, data["scenarios"], strict=True):
        if column.variant.estimate is None or column.differences is None:
            assert (one["total"], row[3], row[4]) == (None, "cannot be worked out", None)
            continue
        total, more = column.variant.estimate.budget.total, column.differences.total
        assert (f"{total:.2f}", float(total), float(more)) == (one["total"], round(row[3], 6), round(row[4], 6))
        for words in (money(total, "GBP"), signed(more, "GBP")):
            assert words in as_text(of)
            assert words in told()


def test_differences_in_the_workbook_are_formulas() -> None:
    sheet = book(stored=False)["Scenarios"]
    figures = [row for row in sheet.iter_rows(min_row=5) if isinstance(row[2].value, int | float)]
    assert len(figures) > 30
    assert all(str(row[4].value).startswith("=ROUND(") for row in figures if row[3].value != "cannot be worked out")


def test_every_value_of_a_range_is_in_text_chart_table_and_workbook() -> None:
    of = comparison()
    rows = step_rows(of, of.swept[0])
    assert [10, 11, 12, 13, 14, 15] == [row.first for row in rows]
    (drawing,) = next_charts(rows, "How many", "GBP", "title", "prefix")
    chart = ElementTree.tostring(ElementTree.fromstring(drawing.svg), encoding="unicode", method="text")
    cells = {row[0].value: row for row in book()["Next one 1"].iter_rows(min_row=5)}
    for row in rows[1:]:
        assert row.total is not None
        assert row.price is not None
        assert signed(row.price, "GBP") in chart
        assert f"{money(row.total, 'GBP')}{signed(row.price, 'GBP')}" in "".join(seen().text)
        assert (float(row.total), float(row.price)) == (cells[row.first][1].value, cells[row.first][2].value)
        assert row.takes == tuple(
            line for line in cells[row.first][3].value.split("\n") if line != "the job as it stands"
        )
        assert all(line in told() for line in row.takes)
        assert money(row.total, "GBP") in as_text(of)


def test_what_begins_at_a_step_is_named_in_the_chart() -> None:
    of = comparison()
    rows = step_rows(of, of.swept[0])
    (drawing,) = next_charts(rows, "How many", "GBP", "title", "prefix")
    texts = ElementTree.fromstring(drawing.svg).iter("{http://www.w3.org/2000/svg}text")
    chart = " ".join(text.text or "" for text in texts)
    marks = [mark.words for row in rows for mark in row.marks]
    assert len(marks) >= 4
    assert [] == [words for words in marks if words not in chart]


def test_the_next_one_from_the_job_as_it_stands_is_the_one_in_plum() -> None:
    of = comparison()
    rows = step_rows(of, of.swept[0])
    assert [12] == [row.first for row in rows if row.here]  # the studio has 12: examples/pottery-studio/job.toml
    following = next_one(rows)
    assert following is not None
    assert (13, True) == (following.first, f"to 13: {more_words(following.price or D(0), 'GBP')}." in told())


def test_a_long_range_is_drawn_on_sheets_that_fit_a_page_with_one_scale() -> None:
    of = comparison()
    row = step_rows(of, of.swept[0])[1]
    rows = [replace(row, first=at, last=at, price=D(at)) for at in range(1, 101)]
    drawings = next_charts(rows, "How many", "GBP", "title", "prefix")
    assert len(drawings) > 1
    assert all(drawing.height_mm <= 205 for drawing in drawings)  # hand: 297 mm less margins of 33 and room for a title
    assert 100 == sum(drawing.svg.count("+£") - drawing.svg.split("</desc>")[0].count("+£") for drawing in drawings)


# ---- What a step takes ---------------------------------------------------------------------------------------------


def pack(part: str, size: str, before: int, after: int, merchant: str = "any") -> PackRow:
    return PackRow(part, merchant, D(size), before, after)


def test_boards_drums_packs_and_lengths_begin_in_that_order_and_single_pieces_do_not() -> None:
    rows = (
        pack("timber-38x89", "2.4", 1, 0),
        pack("timber-38x89", "4.8", 0, 2),
        pack("box-metal-2g-35", "1", 4, 5),
        pack("box-metal-2g-35", "10", 0, 1),
        pack("te-2.5", "25", 0, 1),
        pack("te-1.5", "1", 0, 7),
        pack("consumer-unit-12", "1", 0, 1),
    )
    assert ["board", "drum", "pack", "length"] == [mark.begins for mark in marks_of(shipped(), rows)]
    words = [mark.words.split(":")[0] for mark in marks_of(shipped(), rows)]
    assert ["board", "drum of 25 m", "pack of 10", "2 lengths of 4.8 m"] == words


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ([pack("te-2.5", "25", 0, 1), pack("te-2.5", "1", 7, 0)], "1 more drum of 25 m, 7 m less cut to length"),
        ([pack("te-2.5", "25", 1, 0, "A"), pack("te-2.5", "25", 0, 1, "B")], "from B in place of A"),
        (
            [pack("te-2.5", "25", 1, 0, "A"), pack("te-2.5", "50", 0, 1)],
            "1 more drum of 50 m, 1 fewer drum of 25 m, from merchant not chosen yet in place of A",
        ),
        (
            [pack("te-2.5", size, one, other, who) for who, ten, five in (("A", (0, 1), (2, 0)), ("B", (1, 0), (0, 2)))
             for size, (one, other) in (("10", ten), ("5", five))],
            SHIFTED,
        ),
        ([pack("duct-coil-50", "50", 0, 2)], "2 more coils of 50 m"),
    ],
)  # fmt: skip
def test_packs_are_told_whoever_sells_them(rows: list[PackRow], words: str) -> None:
    assert words == pack_words(shipped(), rows)[0].split(": ", 1)[1]


def test_a_value_in_between_that_cannot_be_is_stepped_over_and_its_price_is_for_two() -> None:
    of = comparison()
    ten, eleven, twelve, *_ = of.swept[0].steps
    assert ten.variant.estimate is not None
    assert twelve.variant.estimate is not None
    never = of.columns[2].variant
    steps = (
        ten,
        replace(eleven, variant=never, since=None, number=0),
        replace(twelve, since=differences(ten.variant.estimate, twelve.variant.estimate), number=2),
    )
    gap = replace(of, swept=(Swept(Sweep("points.S.spread", 10, 12), steps),))
    assert "the job as it stands; for 2 more" in " ".join(as_text(gap).split())
    assert "for 2 more" in render_comparison_page(gap)
    assert any("Cannot be worked out: 11." in line for line in sweep_words(step_rows(gap, gap.swept[0]), "GBP"))


def test_values_that_cannot_be_for_one_reason_are_one_row() -> None:
    of = comparison()
    rows = step_rows(of, of.swept[1])
    # regression: 77 sockets fit round the studio, so 78 and 79 do not
    assert ["76", "77", "78 to 79"] == [row.values for row in rows]
    assert "78 places do not fit" in rows[-1].why[0]


# ---- Scenarios that cannot be, sentences ---------------------------------------------------------------------------


def test_a_scenario_that_cannot_be_has_its_reason_in_its_column_and_the_others_are_whole() -> None:
    tables = side_tables(comparison())
    assert [3, 2] == [len(table.names) for table in tables]
    assert [False, False, True] == [bool(why) for why in tables[0].reasons]
    assert all(row.cells[2] is None and None not in row.cells[:2] for row in tables[0].rows)
    spanned = [attributes["rowspan"] for _, attributes in seen().tags if "rowspan" in attributes]
    assert [str(len(tables[0].rows))] == spanned
    assert "points.S.spread: 400 places do not fit" in told()
    assert "400 places do not fit" in " ".join(as_text(comparison()).split())


@pytest.mark.parametrize(
    ("one_in", "words"), [(1, "one"), (12, "twelve"), (16, "ten"), (20, "20"), (47, "40"), (2345, "2,000")]
)
def test_a_chance_is_said_in_words_or_one_round_figure(one_in: int, words: str) -> None:
    assert words == chance(as_said(one_in))


def test_figures_of_later_are_rounded_for_people() -> None:
    assert "£362 to £977" == span_words(Range(D("362.40"), D("500"), D("977.40")), "GBP")
    assert "about £87" == span_words(Range(D("87.24"), D("87.24"), D("87.24")), "GBP")
    assert ["1 hour", "2.5 to 6 hours", "15 to 62 hours"] == [
        hours_words(D(low), D(high)) for low, high in (("1", "1"), ("2.5", "6"), ("14.7", "62.3"))
    ]


@pytest.mark.parametrize(
    ("now", "hours", "one_in", "words"),
    [
        ("-3", "0", None, "Fitted now it costs nothing more; later, once all is closed, £90 to £300."),
        ("10", "0", 20, "Worth fitting now if you think there is at least one chance in 20 that you will want it."),
        ("10", "8", 20, "Worth fitting now on the money alone if you think there is at least one chance in 20 that you will want it."),
        ("150", "0", 1, "Worth the money now only if you are sure to want it."),
        ("150", "8", 1, "Worth the money now only if you are sure to want it; it saves the hours."),
        ("400", "0", None, "Later costs no more money than now, so there is no hurry."),
        ("400", "8", None, "Later costs no more money than now, but fitting now saves the hours."),
    ],
)  # fmt: skip
def test_the_decision_is_one_line(now: str, hours: str, one_in: int | None, words: str) -> None:
    later = Later(D(now), (), Range(D(90), D(200), D(300)), Range(D(hours), D(hours), D(hours)), one_in)
    assert later_words(later, "GBP").endswith(words)


@pytest.mark.parametrize(
    ("saved", "netted", "words"),
    [
        ("0", False, "that you will want it."),
        ("150", False, "What is taken out or cut down saves £150.00 by itself, now; later it would save nothing."),
        ("-2", False, "What is taken out or cut down costs £2.00 more by itself, now; later it would save nothing."),
        ("0", True, "as the two cannot be priced apart; later it would save nothing."),
    ],
)
def test_what_is_taken_out_is_told_apart(saved: str, netted: bool, words: str) -> None:
    spans = Range(D(90), D(200), D(300)), Range(D(0), D(0), D(0))
    assert later_words(Later(D(10), (), *spans, 20, saved=D(saved), netted=netted), "GBP").endswith(words)


def test_taking_out_has_no_later_and_says_so() -> None:
    column = comparison().columns[1]
    assert column.later is None
    assert "less than as it stands. Nothing is added that would be fitted later." in told()


def test_what_a_limit_buys_is_told_group_by_group() -> None:
    of = comparison().within
    assert of is not None
    assert of.left_out
    sheet = {row[0].value: row for row in book()["Within"].iter_rows(min_row=5)}
    for one in of.left_out:
        assert one.with_it is not None
        assert f"{one.group} " in told()
        assert (float(one.with_it), float(one.with_it - of.limit)) == tuple(
            round(sheet[one.group][col].value, 6) for col in (5, 6)
        )
        assert all(money(amount, "GBP") in told() for amount in (one.with_it, one.with_it - of.limit))
    assert all(name in told() for name in of.kept)


def test_what_was_not_asked_for_has_no_section_and_no_sheet() -> None:
    bare = replace(comparison(), columns=(), within=None)
    data = openpyxl.load_workbook(BytesIO(render_comparison(bare)["compare.xlsx"]))
    assert ["Next one 1", "Next one 2", "How sure"] == data.sheetnames
    html = render_comparison_page(bare)
    assert ["next", "sure", "key"] == re.findall(r'<h2 id="([\w-]+)"', html)
    assert "Scenarios" not in as_text(bare)


def test_words_of_a_figure_never_run_into_each_other_on_the_line() -> None:
    crowd = [Tick(x, "£1,000", "all high") for x in (50.0, 50.0, 51.0, 90.0)]
    tiers = _tiers(crowd)
    assert [0, 1, 2, 0] == tiers  # hand: the first three are within a word's width of each other, the last is 39 mm off


def test_every_caution_and_abbreviation_is_told_and_nothing_is_approved() -> None:
    assert all(line in told() for line in CAUTIONS)
    assert all(" ".join(words.split()) in told() for pair in ABBREVIATIONS for words in pair)
    sheets = " ".join(str(cell.value) for sheet in book() for row in sheet.iter_rows() for cell in row if cell.value)
    assert all(line in sheets for line in CAUTIONS)
    clean = [text.replace(HOSTILE, "") for text in (told(), as_text(comparison()), sheets)]
    assert [] == [found.group() for text in clean for found in NEVER.finditer(text)]


# ---- Inert, whole, the same ----------------------------------------------------------------------------------------


def test_no_name_becomes_markup_and_the_page_asks_for_nothing() -> None:
    names = [name for name, _ in seen().tags]
    assert 0 == names.count("script") + names.count("img") + names.count("iframe")
    assert "<script>alert(1)</script> =1+1" in told()
    assert "\x1b" not in page()
    assert "\u202e" not in page()
    links = [value for _, of in seen().tags for name, value in of.items() if name in ("href", "src", "action")]
    assert all(str(link).startswith(("#", "data:,")) for link in links)
    outside = re.sub(r'xmlns="http://www\.w3\.org/2000/svg"', "", page())
    assert not re.search(r"https?://|url\(|@import|<[^>]+\son\w+=", outside)


def test_ids_of_a_page_are_unique() -> None:
    ids = [of["id"] for _, of in seen().tags if "id" in of]
    assert sorted(set(map(str, ids))) == sorted(map(str, ids))


def test_no_name_becomes_a_formula_in_the_workbook() -> None:
    hostile = [
        cell
        for sheet in book(stored=False)
        for row in sheet.iter_rows()
        for cell in row
        if isinstance(cell.value, str) and "=1+1" in cell.value
    ]
    assert len(hostile) >= 3
    assert {"s"} == {cell.data_type for cell in hostile}
    assert not any(cell.hyperlink for sheet in book() for row in sheet.iter_rows() for cell in row)


def test_no_line_of_the_table_is_wider_than_a_hundred_places_or_moves_the_cursor() -> None:
    text = as_text(comparison())

    def places(line: str) -> int:
        return sum(2 if east_asian_width(letter) in "WF" else 1 for letter in line)

    assert max(map(places, text.splitlines())) <= WIDTH == 100
    assert text.replace("\n", "").isprintable()
    assert text.endswith("\n")
    assert "電気" in text


def test_every_sheet_prints_on_a4_as_wide_as_the_page_with_its_header_repeated() -> None:
    sheets = book().worksheets
    assert ["Scenarios", "Next one 1", "Next one 2", "Later", "Within", "How sure"] == [one.title for one in sheets]
    for sheet in sheets:
        setup = sheet.page_setup
        # A missing width means one page; a height of 0 means as many as it takes; paper 9 is A4.
        assert (9, None, 0) == (int(setup.paperSize), setup.fitToWidth, setup.fitToHeight)
        assert sheet.sheet_properties.pageSetUpPr.fitToPage
        assert "$4:$5" == sheet.print_title_rows  # the header, and the narrow row that keeps its rule clear of the text
        assert sheet.print_area
        # hand: letters of 10 pt stay at 9 pt or more: 11.09 in at 96 pixels, 7 pixels a figure
        assert sum(one.width for one in sheet.column_dimensions.values()) * 7 * 0.9 <= 11.09 * 96
        assert "For budgeting and buying only" in str(sheet.oddFooter.left.text)


def test_the_same_comparison_gives_the_same_bytes() -> None:
    assert made() == render_comparison(comparison())


def test_the_data_have_every_key() -> None:
    data = json.loads(as_data(comparison()))
    assert ["version", "job", "total", "sure", "scenarios", "starts_from", "each", "within"] == list(data)
    keys = ["name", "option", "total", "differences", "later", "placed", "write", "problems"]
    assert all(keys == list(one) for one in data["scenarios"])
    assert {"changes": None, "total": f"{comparison().base.budget.total:.2f}"} == data["starts_from"]
    assert [False, False, True, False, False] == [bool(one["problems"]) for one in data["scenarios"]]
    assert all(["value", "total", "price", "packs", "problems"] == list(step) for step in data["each"][0]["steps"])
    assert ["limit", "total", "kept", "left_out", "least", "proven", "tried", "write"] == list(data["within"])
    sure = data["sure"]
    assert {"low", "likely", "high", "least", "most", "draws", "seed", "movers", "suggested", "own", "exact"} <= set(
        sure
    )
    assert f"{comparison().sure.high:.2f}" == sure["high"]


def test_hours_and_metres_that_look_the_same_are_no_difference() -> None:
    base = comparison().base
    hours = base.budget.hours_self
    # hand: 0.04 hours more is less than is told, 0.1 hours are seen
    for more, shown in ((D("0.0001"), 0), (D("0.1"), 1)):
        budget = replace(base.budget, hours_self=Range(hours.low + more, hours.likely + more, hours.high + more))
        assert shown == len(differences(base, replace(base, budget=budget)).hours)


def test_a_figure_that_looks_the_same_has_no_row() -> None:
    of = comparison()
    (column, *_) = of.columns
    assert column.differences is not None
    for after, shown in ((D("63.32"), 0), (D("63.36"), 1)):  # hand: 63.3 and 63.3; 63.3 and 63.4
        found = replace(column.differences, points=(), holes=(), hours=(), metres=(Row("te-1.5", D("63.29"), after),))
        assert shown == len(figure_rows(of, (replace(column, differences=found),)))


def test_every_cell_of_the_side_by_side_says_what_it_is_where_it_stands_alone() -> None:
    html = page()
    table = html[
        html.index('<table class="reflow sides">') : html.index("</table>", html.index('class="reflow sides"'))
    ]
    cells = re.findall(r"<td\b[^>]*>", table)
    assert len(cells) > 20
    assert all("data-label=" in cell for cell in cells)


@pytest.mark.office
def test_a_recalculation_gives_the_figures_that_were_stored(tmp_path: Path) -> None:
    path = tmp_path / "compare.xlsx"
    path.write_bytes(made()["compare.xlsx"])
    formulas = recalc.formulas(path)
    assert len(formulas) > 100
    (worked_out,) = recalc.recalculated([path], tmp_path)
    assert [] == recalc.differences(recalc.values(path), worked_out, formulas)
