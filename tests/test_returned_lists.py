"""Lists that come back in a workbook: what a merchant did to them is done with openpyxl and LibreOffice, then read."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest

from estimator.documents.shopping import list_files, list_lines
from estimator.result import Estimate
from estimator.returned.model import Answer, Returned
from estimator.returned.read import Given, Wishes, read_returned
from tests import estimates, recalc

D = Decimal
FILE = "north.xlsx"
LIST_A, LIST_B = "shopping-list-A.xlsx", "shopping-list-B.xlsx"
PRICES_A: Mapping[int, object] = {1: 3.49, 2: 8.2, 3: 3.6, 4: 6.0}
"""Clips by the pack of 100, sockets each, screws by the pack of 100, timber by the length of 3 m; invented."""
PRICES_B: Mapping[int, object] = {1: 27.1, 2: 49, 3: 170, 4: 0.035, 5: 70, 6: 22.5, 7: 11.4}
"""Drums of 50 and 100 m, 34 m cut, labels, consumer unit, breaker, duct by 10 m; invented."""
Change = Callable[[Any], None]


@cache
def rich() -> Estimate:
    """The greenhouse: A sells clips, sockets, screws and timber inc VAT, B cable, switchgear and duct ex VAT."""
    return estimates.rich(title="Long greenhouse")


@cache
def files(blank: bool = False) -> dict[str, bytes]:
    """The lists of the greenhouse, or those that any merchant may get."""
    return list_files(rich(), blank)


def head_row(sheet: Any) -> int:
    """The row of the headings."""
    return next(row for row in range(1, 60) if sheet.cell(row, 1).value == "Line")


def column(sheet: Any, heading: str) -> int:
    """The column under that heading."""
    return next(at for at in range(1, 40) if sheet.cell(head_row(sheet), at).value == heading)


def row_of(book: Any, line: int) -> tuple[Any, int]:
    """The sheet and row of a line."""
    return next(
        (sheet, row)
        for sheet in book
        for row in range(head_row(sheet) + 1, sheet.max_row + 1)
        if sheet.cell(row, 1).value == line
    )


def put(line: int, heading: str, value: object) -> Change:
    """Write into the cell of a line under a heading."""

    def change(book: Any) -> None:
        sheet, row = row_of(book, line)
        sheet.cell(row, column(sheet, heading)).value = value

    return change


def note(line: int, text: str) -> Change:
    """Add to the note of a line, as a merchant would."""

    def change(book: Any) -> None:
        sheet, row = row_of(book, line)
        cell = sheet.cell(row, column(sheet, "Note"))
        cell.value = f"{cell.value}; {text}" if cell.value else text

    return change


def label(words: str, value: object, first_only: bool = False) -> Change:
    """Fill in what stands beside a label of the head, on every sheet."""

    def change(book: Any) -> None:
        for sheet in list(book)[: 1 if first_only else None]:
            for row in sheet.iter_rows(max_row=head_row(sheet)):
                for cell in row:
                    if cell.value == words:
                        sheet.cell(cell.row, cell.column + 1).value = value

    return change


def filled(
    name: str, prices: Mapping[int, object], *changes: Change, basis: str | None = "ex", blank: bool = False
) -> bytes:
    """A list with prices of one pack, ex or inc filled in, then changed."""
    book = openpyxl.load_workbook(BytesIO(files(blank)[name]))
    for line, price in prices.items():
        put(line, "Price of one pack", price)(book)
    if basis is not None:
        label("Prices ex or inc VAT", basis)(book)
    for change in changes:
        change(book)
    out = BytesIO()
    book.save(out)
    return out.getvalue()


def read(data: bytes, file: str = FILE, **wishes: str) -> Returned:
    """The list as it is read for the greenhouse."""
    return read_returned(rich(), Given(file, data), wished(wishes))


def wished(of: Mapping[str, str]) -> Wishes:
    """The wishes by name."""
    return Wishes(of.get("merchant", ""), of.get("of", ""), of.get("vat", ""), of.get("priced_on", ""))


def of(returned: Returned, line: int) -> Answer:
    """The answer to a line."""
    return next(answer for answer in returned.lines if answer.number == line)


def cell(line: int, heading: str, name: str = LIST_B, blank: bool = False) -> str:
    """The place of a cell of a line, as messages have it."""
    sheet, row = row_of(openpyxl.load_workbook(BytesIO(files(blank)[name])), line)
    return f"{FILE}:{sheet.title}!{sheet.cell(row, column(sheet, heading)).coordinate}"


def messages(returned: Returned) -> list[str]:
    """All problems, in their order."""
    return [str(problem) for problem in returned.problems]


def test_a_filled_list_is_read_whole() -> None:
    returned = read(filled(LIST_B, PRICES_B, label("Prices good until", date(2026, 11, 30))), priced_on="2026-11-02")

    assert ((), ["line 3: 170.00 for 34 m is 5.00 a metre"]) == (
        returned.problems,
        [told.text for told in returned.told],
    )
    assert ("B", "B", date(2026, 11, 2), "2026-11-30", True) == (
        returned.merchant,
        returned.answers,
        returned.priced_on,
        returned.good_until,
        returned.known,
    )
    # hand: what was filled in; 170 / 34 m = 5 a metre, which is exact.
    assert [
        (1, "cable-te-2.5", D(50), 1, D("27.1")),
        (2, "cable-te-2.5", D(100), 1, D(49)),
        (3, "swa-3c-10", D(1), 34, D(5)),
        (4, "label-cable", D(1), 37, D("0.035")),
        (5, "consumer-unit-8", D(1), 1, D(70)),
        (6, "rcbo-b20", D(1), 1, D("22.5")),
        (7, "duct-50", D(10), 3, D("11.4")),
    ] == [(one.number, one.part, one.pack, one.packs, one.price) for one in returned.lines]
    assert {("priced", "ex")} == {(one.status, one.basis) for one in returned.lines}
    assert ["k", "k"] == [of(returned, line).match for line in (5, 6)]


def test_prices_are_exact_whatever_a_spreadsheet_keeps() -> None:
    # 0.1 + 0.2 is 0.30000000000000004 in binary; a spreadsheet shows 15 figures.
    returned = read(filled(LIST_B, {**PRICES_B, 4: 0.1 + 0.2, 1: "£1,027.10", 2: "49.00 GBP"}))

    assert [D("1027.10"), D("49.00"), D("0.3")] == [of(returned, line).price for line in (1, 2, 4)]


@pytest.mark.parametrize(
    ("status", "said", "value"),
    [
        ("not-sold", "n/a", "n/a"),
        ("not-sold", "No", " No "),
        ("on-asking", "POA", "POA"),
        ("no-price", "", None),
        ("no-price", "", "-"),
        ("another", "alt: 2 x 50 m", "alt: 2 x 50 m"),
        ("another", "47.00 (equivalent)", "47.00 (equivalent)"),
    ],
)
def test_answers_in_words_are_no_prices(status: str, said: str, value: object) -> None:
    returned = read(filled(LIST_B, {**PRICES_B, 2: value}))

    assert (status, None, said) == (of(returned, 2).status, of(returned, 2).price, of(returned, 2).said)
    assert [] == messages(returned)


@pytest.mark.parametrize("words", ["alt: metal", "similar, in black", "other make instead", "alt: black, 2 x 50 m"])
def test_something_else_offered_in_the_note_is_told_and_never_priced(words: str) -> None:
    returned = read(filled(LIST_B, PRICES_B, note(2, words)))

    assert ("another", None, f"49; {words}") == (of(returned, 2).status, of(returned, 2).price, of(returned, 2).said)


@pytest.mark.parametrize(
    ("pack", "words"),
    [(50, "alt: 2 x 50 m"), (200, "drum of 200 m"), (50, "2 x 50 m"), (50, "50 m"), (50, "50 m each"), (50, "50 m drums instead")],
)  # fmt: skip
def test_another_pack_in_the_note_is_held_and_accepted_with_that_pack(pack: int, words: str) -> None:
    # Line 2 asks for drums of 100 m; nothing says that 49.00 is not for one of those, so nobody but the user can tell.
    data = filled(LIST_B, PRICES_B, note(2, words))
    held = of(read(data), 2)
    taken = of(read_returned(rich(), Given(FILE, data), Wishes(accept=("2",))), 2)

    assert ("held", D(pack), D(49), words, "drum of 100 m") == (
        held.status,
        held.pack,
        held.price,
        held.said,
        held.asked,
    )
    assert ("priced", D(pack), D(49), words) == (taken.status, taken.pack, taken.price, taken.accepted)


def test_our_own_note_is_not_taken_for_an_answer() -> None:
    # Ours says "another split is welcome if it comes cheaper" and "not in shorter pieces".
    returned = read(filled(LIST_B, PRICES_B, note(2, "on the shelf")))

    assert ("priced", "on the shelf") == (of(returned, 2).status, of(returned, 2).said)


def test_another_trade_name_is_another_article() -> None:
    def named(book: Any) -> None:
        for sheet in book:
            sheet.cell(head_row(sheet), 14).value = "Trade name"
        put(6, "Trade name", "RCBO 20 A type C")(book)

    returned = read(filled(LIST_B, PRICES_B, named))
    assert ("another", 'RCBO 20 A type C, where "rcbo-b20" was asked for') == (
        of(returned, 6).status,
        of(returned, 6).said,
    )


def test_what_the_note_says_of_the_stock_and_their_code_is_kept() -> None:
    returned = read(
        filled(
            LIST_B,
            PRICES_B,
            put(4, "In stock, or days", "3 days"),
            put(4, "Your code", "LB 37/4"),
            put(6, "Your code", "=1+1"),
        )
    )

    assert ("3 days", "LB 37/4") == (of(returned, 4).said, of(returned, 4).code)
    assert "" == of(returned, 6).code


def shuffled(book: Any) -> None:
    """Columns in another order, with other headings, rows reversed, a column and rows of their own, repeated headings."""
    names = {
        "Price of one pack": "Our price (£) each",
        "Line price": "Line total",
        "Line": "Item no.",
        "What": "Description",
        "Note": "Remarks",
    }
    for sheet in list(book):
        top = head_row(sheet)
        above = [[of.value for of in row] for row in sheet.iter_rows(max_row=top - 1)]
        heads = [of.value for of in sheet[top]]
        keep = [
            at for at, head in enumerate(heads) if head and head not in ("One length", "Same kind accepted", "Unit")
        ]
        order = [*keep[5:], *keep[:5]]
        rows = [[of.value for of in row] for row in sheet.iter_rows(min_row=top + 1)]
        fresh = book.create_sheet(f"{sheet.title} priced")
        for row in above:
            fresh.append(row)
        fresh.append(["Bin", *(names.get(heads[at], heads[at]) for at in order)])
        for row in reversed(rows):
            fresh.append(["B7", *(row[at] for at in order)])
        fresh.append(["Bin", *(names.get(heads[at], heads[at]) for at in order)])
        fresh.append([None, "Carriage", "12.00"])
        book.remove(sheet)


def test_columns_may_be_moved_and_renamed_and_rows_turned_round() -> None:
    plainly, moved = read(filled(LIST_B, PRICES_B)), read(filled(LIST_B, PRICES_B, shuffled))

    assert [] == messages(moved)
    assert [(one.number, one.part, one.pack, one.price) for one in plainly.lines] == [
        (one.number, one.part, one.pack, one.price) for one in moved.lines
    ]
    assert (
        "no line of the list, not taken: Carriage 12.00; what they charge for delivery goes into merchants.csv, under delivery"
    ) in {told.text for told in moved.told}


def test_a_line_that_was_taken_off_is_told() -> None:
    def off(book: Any) -> None:
        sheet, row = row_of(book, 4)
        sheet.delete_rows(row)

    returned = read(filled(LIST_B, PRICES_B, off))
    assert ("not-on-it", []) == (of(returned, 4).status, messages(returned))


def test_one_sheet_may_say_for_all_whether_vat_is_in() -> None:
    returned = read(filled(LIST_B, PRICES_B, label("Prices ex or inc VAT", "inc VAT", first_only=True), basis=None))

    assert ["Electrical", "Sand, duct, tape"] == openpyxl.load_workbook(BytesIO(files()[LIST_B])).sheetnames
    assert {"inc"} == {one.basis for one in returned.lines}


def test_a_sheet_of_its_own_counter_may_differ_in_vat() -> None:
    returned = read(filled(LIST_B, PRICES_B, label("Prices ex or inc VAT", "inc", first_only=True)))

    assert ("inc", "ex") == (of(returned, 1).basis, of(returned, 7).basis)


def test_without_ex_or_inc_nothing_is_guessed() -> None:
    data = filled(LIST_B, PRICES_B, basis=None)

    assert [
        f'{FILE}: VAT: nothing says whether these prices are ex or inc VAT; fill in "Prices ex or inc VAT", or give '
        "--vat ex or --vat inc"
    ] == messages(read(data))
    assert {"inc"} == {one.basis for one in read(data, vat="inc").lines}


def test_a_list_and_a_user_that_differ_in_vat_are_asked() -> None:
    found = messages(
        read(filled(LIST_B, PRICES_B, label("Prices ex or inc VAT", "ex VAT", first_only=True), basis=None), vat="inc")
    )

    assert 1 == len(found)
    assert found[0].startswith(f"{FILE}:Electrical!")
    assert found[0].endswith("VAT: the list says ex VAT, and you say inc; leave out --vat, or ask the merchant")


@pytest.mark.parametrize(
    ("basis", "heading"),
    [("ex", "Price ex VAT"), ("inc", "Unit price (inc. VAT)")],
)
def test_a_heading_may_say_ex_or_inc(basis: str, heading: str) -> None:
    def renamed(book: Any) -> None:
        for sheet in book:
            sheet.cell(head_row(sheet), column(sheet, "Price of one pack")).value = heading

    assert {basis} == {one.basis for one in read(filled(LIST_B, PRICES_B, renamed, basis=None)).lines}


def test_words_beside_a_price_hold_for_that_price() -> None:
    returned = read(filled(LIST_B, {**PRICES_B, 5: "84.00 inc VAT", 6: "22.50 + VAT"}))

    assert [("inc", D("84.00")), ("ex", D("22.50"))] == [
        (of(returned, line).basis, of(returned, line).price) for line in (5, 6)
    ]


def test_a_sentence_anywhere_may_say_that_vat_is_out() -> None:
    def below(book: Any) -> None:
        for sheet in book:
            sheet.cell(sheet.max_row + 2, 2).value = "All prices exclude VAT."

    assert {"ex"} == {one.basis for one in read(filled(LIST_B, PRICES_B, below, basis=None)).lines}


def test_the_day_may_stand_on_the_list() -> None:
    def day(value: object) -> Change:
        def change(book: Any) -> None:
            for sheet in book:
                sheet.cell(2, 16).value, sheet.cell(2, 17).value = "Priced on", value

        return change

    assert date(2026, 11, 3) == read(filled(LIST_B, PRICES_B, day(datetime(2026, 11, 3)))).priced_on
    assert date(2026, 11, 3) == read(filled(LIST_B, PRICES_B, day("3 Nov 2026"))).priced_on
    two_ways = messages(read(filled(LIST_B, PRICES_B, day("3/11/2026"))))
    assert (
        f'{FILE}:Electrical!Q2: priced on: "3/11/2026" may be read in two ways; write it year first, as in 2026-11-03'
        in two_ways
    )
    differs = messages(read(filled(LIST_B, PRICES_B, day("2026-11-03")), priced_on="2026-11-02"))
    assert (
        f"{FILE}:Electrical!Q2: priced on: the list says 2026-11-03, and you say 2026-11-02; leave out --priced-on, or ask the merchant"
        in differs
    )


def test_a_list_for_another_job_is_refused() -> None:
    returned = read(filled(LIST_B, PRICES_B, label("Job", "Garden office")))

    assert () == returned.lines
    assert [
        'this list is for the job "Garden office", and yours is "Long greenhouse"; give the list of this job, or name the other job'
    ] == [message.partition(": ")[2] for message in messages(returned)]


def test_an_old_list_is_refused_with_what_differs() -> None:
    returned = read(
        filled(LIST_B, PRICES_B, put(2, "Pack wanted", "drum of 50 m"), put(2, "Packs", 2), put(7, "Quantity", 30))
    )

    assert [
        f'{cell(2, "Pack wanted")}: line 2: "drum of 50 m" under "Pack wanted", where your list for Long greenhouse now says '
        '"drum of 100 m"; write another pack or article under Note, as in "alt: 2 x 50 m"',
        f'{cell(7, "Quantity")}: line 7: "30" under "Quantity", where your list for Long greenhouse now says "23.1"; write the '
        "prices on the list as it is now: studbay list makes it",
    ] == messages(returned)
    assert [1, 3, 4, 5, 6] == [one.number for one in returned.lines if one.status == "priced"]


def test_what_a_thing_is_may_stand_with_its_trade_name_or_alone_and_nothing_else_is_taken_for_it() -> None:
    for words in ('SWA XLPE/PVC, "3 core" 10 mm2', "swa-3c-10"):
        assert [] == messages(read(filled(LIST_B, PRICES_B, put(3, "What", words))))
    [found] = messages(read(filled(LIST_B, PRICES_B, put(3, "What", "SWA XLPE/PVC, 2 core 10 mm2"))))

    assert found.startswith(f'{cell(3, "What")}: line 3: "SWA XLPE/PVC, 2 core 10 mm2" under "What", where your list')


def test_many_differences_are_counted() -> None:
    changes = [put(line, "What", f"thing {line}") for line in range(1, 8)]
    assert [
        f"{FILE}: none of its 7 lines is on your lists for Long greenhouse as they are now; write the prices on the list as it is "
        "now: studbay list makes it"
    ] == messages(read(filled(LIST_B, PRICES_B, *changes)))
    found = messages(read(filled(LIST_B, PRICES_B, *changes[1:])))

    assert 6 == len(found)
    assert found[-1].endswith(
        "1 more cell is not as your list for Long greenhouse has it now; write the prices on the list as it is now: "
        "studbay list makes it"
    )


def test_a_line_that_is_not_on_the_list_is_told() -> None:
    found = messages(read(filled(LIST_B, PRICES_B, put(7, "Line", 99))))

    assert [
        f"{cell(7, 'Line')}: line 99: your list has no such line; its last is 7; write the prices on the list as it is now: "
        "studbay list makes it"
    ] == found


def test_a_line_that_stands_twice_with_two_prices_is_asked() -> None:
    def again(book: Any) -> None:
        sheet, row = row_of(book, 6)
        for at in range(1, 16):
            sheet.cell(sheet.max_row + (at == 1), at).value = sheet.cell(row, at).value
        sheet.cell(sheet.max_row, column(sheet, "Price of one pack")).value = 23

    [found] = messages(read(filled(LIST_B, PRICES_B, again)))
    assert f"line 6: stands at {cell(6, 'Price of one pack')} too, with another answer; leave one of them" in found


@pytest.mark.parametrize(
    ("message", "value"),
    [
        ('"1.234,50" may be read in two ways; write it with a decimal point alone, as in 1234.50', "1.234,50"),
        ('"12,40" may be read in two ways; write a decimal point, as in 12.40', "12,40"),
        ('"1,234" may be read in two ways; write 1234 or 1.234', "1,234"),
        ('"12.40 €" is in EUR; write the price in GBP', "12.40 €"),
        ('"about 12" is no price; write the price, n/a or POA', "about 12"),
        (
            '"12.40 if you take 3" says more than a price; write the price alone, as in 12.40, and anything else in the note',
            "12.40 if you take 3",
        ),
        ("-3 is below nothing; write the price, or n/a", -3),
        ("0: is it free?; write n/a if it is not sold, or the price", 0),
        (
            "a date, 2026-04-12, where a price belongs; spreadsheets make dates of figures: write the price again",
            date(2026, 4, 12),
        ),
        ("a spreadsheet's error (#N/A); write the price as a plain number, or n/a", "#N/A"),
        ("yes or no (true); write the price as a plain number, or n/a", True),
        ("3.33333333333333 has more figures than a price; write it to the penny, or to four places at most", 10 / 3),
    ],
)
def test_a_cell_that_is_no_price_is_refused_with_its_place(message: str, value: object) -> None:
    returned = read(filled(LIST_B, {**PRICES_B, 5: value}))

    assert [f"{cell(5, 'Price of one pack')}: line 5: {message}"] == messages(returned)
    assert "unreadable" == of(returned, 5).status


def test_every_problem_is_told_at_once() -> None:
    returned = read(filled(LIST_B, {**PRICES_B, 1: "1,5", 4: "x y", 7: -1}, basis=None))

    assert 4 == len(returned.problems)
    assert [2, 3, 5, 6] == [one.number for one in returned.lines if one.status == "priced"]


@pytest.mark.parametrize(
    "text", ["<b>x</b>", "\x1b[31mred", "a\u202eb", "two\nlines", "=1+1 text", "@SUM(1)", "x" * 5000, "٣.٤٠"]
)
def test_hostile_text_stays_text_on_one_short_line(text: str) -> None:
    def change(book: Any) -> None:
        sheet, row = row_of(book, 5)
        target = sheet.cell(row, column(sheet, "Price of one pack"))
        target.value, target.data_type = text.replace("\x1b", ""), "s"

    [found] = messages(read(filled(LIST_B, PRICES_B, change)))
    assert len(found) < 250
    assert found.isprintable()


def test_a_formula_without_a_stored_value_is_refused() -> None:
    returned = read(filled(LIST_B, {**PRICES_B, 5: "=60+10"}))

    assert [
        f"{cell(5, 'Price of one pack')}: line 5: a formula (=60+10) whose result was not saved; type the price, or save the list in a "
        "spreadsheet program and give it again"
    ] == messages(returned)


def test_both_columns_that_may_hold_the_price_are_asked() -> None:
    def two(book: Any) -> None:
        for sheet in book:
            sheet.cell(head_row(sheet), 16).value = "Net price"
        put(5, "Net price", 66)(book)

    [found] = messages(read(filled(LIST_B, PRICES_B, two)))
    row = "".join(mark for mark in cell(5, "Line").rpartition("!")[2] if mark.isdigit())
    top = head_row(openpyxl.load_workbook(BytesIO(files()[LIST_B])).worksheets[0])
    assert int(row) > top
    assert (
        f'{FILE}:Electrical!A{top}: both "Price of one pack" (J{top}) and "Net price" (P{top}) may be the price; leave the one that '
        "counts, and delete the other column"
    ) == found


def test_a_list_for_any_merchant_is_known_by_its_lines() -> None:
    name = "to-be-priced-electrical.xlsx"
    prices = {2: 170, 3: 3.1, 4: 0.03, 5: 8.1, 6: 70, 7: 22.5}
    opened = (put(1, "Price of one pack", 47.5), put(1, "Packs", 2), note(1, "drum of 100 m"))
    returned = read(filled(name, prices, *opened, blank=True), merchant="North Yard")

    assert ("", "North Yard", False, []) == (returned.answers, returned.merchant, returned.known, messages(returned))
    assert (D(100), 2, D("47.5")) == (of(returned, 1).pack, of(returned, 1).packs, of(returned, 1).price)
    assert [1, 2, 3, 4, 5, 6, 7] == [one.number for one in returned.lines]


def test_a_pack_that_is_theirs_to_choose_is_asked_for() -> None:
    name = "to-be-priced-electrical.xlsx"
    assert [
        f"{cell(1, 'Price of one pack', name, True)}: line 1: 47.50 does not say for how much, and the pack of this line is theirs "
        'to choose; write under Note what is in one pack, as in "50 m", or "per metre"'
    ] == messages(read(filled(name, {1: 47.5}, blank=True)))


def test_one_trip_s_list_may_come_back_without_the_other() -> None:
    of_job = rich()
    twice = replace(of_job, job=replace(of_job.job, buying=replace(of_job.job.buying, trips=2)))
    lines = {line.number: line for line in list_lines(twice, "A")}
    first = [number for number, line in lines.items() if line.trip == 1]
    assert 0 < len(first) < len(lines)
    book = openpyxl.load_workbook(BytesIO(list_files(twice, False)["shopping-list-A-trip-1.xlsx"]))
    for number in first:
        put(number, "Price of one pack", 5)(book)
    out = BytesIO()
    book.save(out)

    returned = read_returned(twice, Given(FILE, out.getvalue()), Wishes(vat="inc"))
    assert first == [answer.number for answer in returned.lines]
    assert {"priced"} == {answer.status for answer in returned.lines}


def test_another_pack_is_taken_where_its_number_is_written_over_ours() -> None:
    returned = read(
        filled(LIST_B, PRICES_B, put(2, "Packs", 2), note(2, "drum of 50 m"), put(2, "Price of one pack", 25))
    )

    assert [] == messages(returned)
    assert (D(50), 2, D(25)) == (of(returned, 2).pack, of(returned, 2).packs, of(returned, 2).price)
    assert 'line 2: in packs of 50, where "drum of 100 m" was asked for' in [told.text for told in returned.told]


@pytest.mark.office
def test_a_list_filled_in_a_spreadsheet_program_is_read_with_its_formulas(tmp_path: Path) -> None:
    source = tmp_path / "list.xlsx"

    def totals(book: Any) -> None:
        for line in PRICES_B:
            sheet, row = row_of(book, line)
            price, packs = (sheet.cell(row, column(sheet, head)).coordinate for head in ("Price of one pack", "Packs"))
            sheet.cell(row, column(sheet, "Line price")).value = f"=ROUND({price}*{packs},2)"

    source.write_bytes(filled(LIST_B, {**PRICES_B, 5: "=60+10"}, totals))
    [target] = recalc.convert([source], tmp_path, "xlsx")
    returned = read(target.read_bytes())

    assert [] == messages(returned)
    assert [D("27.1"), D(49), D(5), D("0.035"), D(70), D("22.5"), D("11.4")] == [one.price for one in returned.lines]
    told = [one.text for one in returned.told]
    assert "a formula; the figure saved with it, 70, is taken. If it is not right, type the price over it" in told
    assert any(text.startswith("formulas; the figures saved with them are taken: 27.1 in ") for text in told)


@pytest.mark.office
def test_the_table_comes_back_from_a_spreadsheet_program_as_a_workbook(tmp_path: Path) -> None:
    text = files()["shopping-list-B.csv"].decode("utf-8-sig")
    source = tmp_path / "list.csv"
    source.write_text(text, encoding="utf-8-sig")
    [target] = recalc.convert([source], tmp_path, "xlsx", infilter="CSV:44,34,76,1")
    book = openpyxl.load_workbook(target)
    for line, price in PRICES_B.items():
        put(line, "Price of one pack", price)(book)
    out = BytesIO()
    book.save(out)

    returned = read(out.getvalue(), vat="ex")
    assert ([], list(PRICES_B)) == (
        messages(returned),
        [one.number for one in returned.lines if one.status == "priced"],
    )
