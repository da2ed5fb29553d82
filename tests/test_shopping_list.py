"""Shopping lists: what a merchant is handed, with nothing of ours in it and nothing a spreadsheet could run."""

import csv
import re
from dataclasses import replace
from decimal import Decimal
from io import BytesIO, StringIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.documents.everything import render
from estimator.documents.shelves import SHELVES, ListLine, list_lines, merchants
from estimator.documents.shopping import COLUMNS, CSV_COLUMNS, guarded, render_lists, slugs
from estimator.result import Estimate
from tests import estimates, recalc

D = Decimal


def rows(data: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(data.decode("utf-8-sig"), newline="")))


def sheets(data: bytes) -> Any:
    return openpyxl.load_workbook(BytesIO(data))


def line_of(estimate: Estimate, merchant: str, part: str) -> ListLine:
    return next(line for line in list_lines(estimate, merchant) if line.part == part)


def test_every_merchant_that_is_bought_from_gets_both_forms() -> None:
    assert [
        "shopping-list-A.xlsx",
        "shopping-list-A.csv",
        "shopping-list-B.xlsx",
        "shopping-list-B.csv",
    ] == list(render_lists(estimates.rich()))


def test_all_files_of_an_estimate_are_rendered_under_their_names(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("estimator.documents.quote.render_quote", lambda estimate: "a page")
    assert {
        "quote.html",
        "bill-of-quantities.xlsx",
        "shopping-list-A.xlsx",
        "shopping-list-A.csv",
        "shopping-list-B.xlsx",
        "shopping-list-B.csv",
        "estimate.json",
    } == set(render(estimates.rich()))


@pytest.mark.parametrize("estimate", [estimates.worked_example(), estimates.rich()], ids=["worked", "rich"])
def test_every_pack_of_the_order_is_on_one_list_once(estimate: Estimate) -> None:
    for merchant in merchants(estimate):
        bought: dict[str, Decimal] = {}
        for line in estimate.order.lines:
            if line.merchant == merchant:
                bought[line.part] = bought.get(line.part, D(0)) + line.pack * line.packs
        asked: dict[str, Decimal] = {}
        for one in list_lines(estimate, merchant):
            size = re.search(r"[\d.]+", one.pack)
            asked[one.part] = asked.get(one.part, D(0)) + D(size[0] if size else 1) * one.packs
        assert bought == asked


def test_lines_are_numbered_in_picking_order() -> None:
    lines = list_lines(estimates.rich(), "B")

    assert list(range(1, len(lines) + 1)) == [line.number for line in lines]
    assert [
        "Cable by the drum",
        "Cable cut to length",
        "Fixings and small parts",
        "Switchgear, to suit one make",
        "Sand, duct, tape",
    ] == list(dict.fromkeys(line.shelf for line in lines))
    assert all(line.shelf in SHELVES for line in lines)


def test_cable_says_metres_and_drums_and_the_longest_piece() -> None:
    drums = [line for line in list_lines(estimates.worked_example(), "B") if line.part == estimates.CABLE]

    # hand: 24 + 20.6 + 18.3 + 21.5 = 84.4 from the drum of 100 m, 17 + 20 = 37 from the other.
    assert [("drum of 50 m", D(37), 1), ("drum of 100 m", D("84.4"), 1)] == [
        (line.pack, line.quantity, line.packs) for line in drums
    ]
    assert "84.4 m needed, the longest piece 24 m; another split is welcome" in drums[1].note
    assert "one length each" == drums[1].one_length


def test_cable_cut_to_order_is_one_length() -> None:
    line = line_of(estimates.rich(), "B", estimates.ARMOURED)

    assert ("cut, 34 m", 1, D(34), "one length each") == (line.pack, line.packs, line.quantity, line.one_length)
    assert "one length of 34 m, cut; not in shorter pieces" in line.note


def test_small_parts_are_asked_in_pieces_and_packs_less_what_is_there() -> None:
    clips = line_of(estimates.rich(), "A", estimates.CLIP)
    screws = line_of(estimates.rich(), "A", "screw-wood-5x70")

    assert (D(65), "pack of 100", 1) == (clips.quantity, clips.pack, clips.packs)
    # hand: 118 x 1.1 = 129.8, less 0.3 of a pack of 100 in hand = 99.8, so 100.
    assert (D(100), "pack of 100", 1) == (screws.quantity, screws.pack, screws.packs)


def test_what_is_sold_by_measure_may_come_in_pieces() -> None:
    duct = line_of(estimates.rich(), "B", "duct-50")

    # hand: 22 x 1.05 = 23.1.
    assert (D("23.1"), "10 m", 3, "may be in pieces") == (duct.quantity, duct.pack, duct.packs, duct.one_length)


def test_switchgear_is_to_be_of_one_make() -> None:
    breaker = line_of(estimates.rich(), "B", estimates.BREAKER)
    case = line_of(estimates.rich(), "B", estimates.BOARD_CASE)

    assert (False, "BR20", f"one make with line {case.number}") == (breaker.same_kind, breaker.code, breaker.note)
    assert line_of(estimates.rich(), "A", estimates.SOCKET).same_kind


def test_the_table_for_spreadsheets_has_one_header_row_and_blanks_to_fill_in() -> None:
    data = render_lists(estimates.rich())["shopping-list-B.csv"]
    text = data.decode("utf-8-sig")
    table = rows(data)

    assert data.startswith(b"\xef\xbb\xbf")
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert list(CSV_COLUMNS) == list(table[0])
    blank = ("Price of one pack", "Line price", "In stock, or days", "Prices good until", "Prices ex or inc VAT")
    assert {""} == {row[name] for row in table for name in blank}
    assert {("2026-10-01", "Please price every line, or say n/a.")} == {(row["Date"], row["Please"]) for row in table}


def test_the_workbook_is_headed_and_has_a_sheet_for_each_counter() -> None:
    book = sheets(render_lists(estimates.rich())["shopping-list-B.xlsx"])
    sheet = book["Electrical"]
    head = [str(row[0].value or row[1].value) for row in sheet.iter_rows(min_row=1, max_row=7)]

    assert ["Electrical", "Sand, duct, tape"] == book.sheetnames
    assert 'To: B. For: Long greenhouse & "potting" shed. Date: 2026-10-01.' == head[1]
    assert "Please price every line, or say n/a." == head[2]
    assert [
        "From (name, telephone)",
        "Wanted by; collect or deliver",
        "Prices good until",
        "Prices ex or inc VAT",
    ] == head[3:]
    assert list(COLUMNS) == [cell.value for cell in sheet[9]]
    assert {None} == {sheet.cell(row, col).value for row in range(10, sheet.max_row + 1) for col in (11, 12, 13)}
    assert "$9:$9" == sheet.print_title_rows
    assert not sheet.protection.sheet


def test_a_list_for_no_merchant_in_particular_says_so() -> None:
    of = estimates.rich()
    lines = tuple(replace(line, merchant="any") for line in of.order.lines if line.merchant == "B")
    book = sheets(render_lists(replace(of, order=replace(of.order, lines=lines, cuts=())))["shopping-list-any.xlsx"])

    assert ["To: merchant not chosen yet."] == sorted({str(sheet["A2"].value)[:28] for sheet in book})


def test_both_forms_hold_the_same_lines() -> None:
    files = render_lists(estimates.rich())
    for merchant in ("A", "B"):
        told = [
            (str(row[0].value), row[1].value, row[6].value, str(row[7].value))
            for sheet in sheets(files[f"shopping-list-{merchant}.xlsx"])
            for row in sheet.iter_rows(min_row=10)
            if isinstance(row[0].value, int)
        ]
        assert told == [
            (row["Line"], row["What"], row["Pack wanted"], row["Packs"])
            for row in rows(files[f"shopping-list-{merchant}.csv"])
        ]


def test_nothing_of_ours_is_handed_over() -> None:
    estimate = estimates.rich()
    files = render_lists(estimate)
    said = " | ".join(
        str(cell.value)
        for name in files
        if name.endswith("xlsx")
        for sheet in sheets(files[name])
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    )
    said += " | " + " | ".join(data.decode("utf-8-sig") for name, data in files.items() if name.endswith("csv"))

    prices = {str(price.price) for price in estimate.catalogue.prices}
    assert [] == [price for price in prices if re.search(rf"(?<![\d.]){re.escape(price)}(?![\d.])", said)]
    for word in ("S1", "ES1", "sockets:", "machine stop", "noggin S", "kit", "entry", "£", "Delivery"):
        assert not re.search(rf"(?<!\w){re.escape(word)}", said), word


@pytest.mark.parametrize(
    ("expected", "text"),
    [
        # published: the project's notes on CSV, after the OWASP page on CSV injection.
        ("'=1+1", "=1+1"),
        ("'+44 1", "+44 1"),
        ("'-5A", "-5A"),
        ("'@SUM(1)", "@SUM(1)"),
        ("'\t=1", "\t=1"),
        ("'\r=1", "\r=1"),
        ("'\n=1", "\n=1"),
        ("'\uff1d1+1", "\uff1d1+1"),
        ("' =1", " =1"),
        ("''x", "'x"),
        ("'''", "''"),
        ("-5", "-5"),
        ("12.5", "12.5"),
        ("plain", "plain"),
        ("a=1", "a=1"),
        ("", ""),
    ],
)
def test_text_that_a_spreadsheet_could_run_gets_a_quote(expected: str, text: str) -> None:
    assert expected == guarded(text)


@given(st.text())
def test_taking_one_quote_off_gives_the_text_back(text: str) -> None:
    written = guarded(text)

    assert text == (written[1:] if written.startswith("'") else written)
    assert not re.match(r"[ \u00a0\u3000]*[=+@\t\r\n\uff1d\uff0b\uff0d\uff20]", written)


@pytest.mark.parametrize("text", ["=1+1", "@x", "-1+2", "<r>x</r>", 'a "quoted"; b', "two\nlines", "0012"])
def test_text_of_the_user_comes_through_both_forms(text: str) -> None:
    part = replace(estimates.PARTS[0], description=text)
    files = render_lists(estimates.rich(parts=[part], title=text))
    table = rows(files["shopping-list-A.csv"])

    assert text in {row["What"].removeprefix("'") for row in table}
    cells = [cell for row in sheets(files["shopping-list-A.xlsx"])["Electrical"].iter_rows() for cell in row]
    assert text in {str(cell.value).strip() for cell in cells}
    assert "f" not in {cell.data_type for cell in cells}


@pytest.mark.parametrize(
    ("expected", "names"),
    [
        (("any",), ("any",)),
        (("A", "B"), ("A", "B")),
        (("North-Yard",), ("North Yard",)),
        (("B-Co", "b-co-2"), ("B & Co", "b/co")),
        (("merchant",), ("\u2026",)),
        (("Cafe",), ("Caf\u00e9",)),
        (("etc-passwd",), ("../../etc/passwd",)),
    ],
)
def test_file_names_are_made_of_letters_figures_and_dashes(expected: tuple[str, ...], names: tuple[str, ...]) -> None:
    assert expected == tuple(slugs(names).values())


def test_an_order_of_nothing_makes_no_list() -> None:
    assert {} == render_lists(estimates.empty())


@pytest.mark.office
def test_a_spreadsheet_reads_the_table_back_without_running_anything(tmp_path: Path) -> None:
    part = replace(estimates.PARTS[0], description="=1+1", trade_name="@SUM(1)")
    source = tmp_path / "list.csv"
    source.write_bytes(render_lists(estimates.rich(parts=[part]))["shopping-list-A.csv"])

    values = recalc.recalculated([source], tmp_path, infilter="CSV:44,34,76,1")[0].values()
    assert "'=1+1" in values
    assert "'@SUM(1)" in values
