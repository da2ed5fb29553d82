"""Lists as tired people send them: rows of money below the lines, formulas, other money, pasted talk, wrong files, odd dates."""

import json
import zipfile
from dataclasses import replace
from datetime import date
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner

from estimator.catalogue.model import Price
from estimator.cli import app
from estimator.documents.everything import render
from estimator.documents.returned import as_text
from estimator.problems import Place, Problem
from estimator.returned.extra_rows import extra_words
from estimator.returned.grouped import grouped
from estimator.returned.model import Outcome
from estimator.returned.pasted import Typed, typed_lines
from estimator.returned.read import Given, Wishes
from estimator.returned.run import Options, run
from tests.test_returned_lists import (
    FILE,
    LIST_B,
    PRICES_B,
    D,
    cell,
    column,
    filled,
    messages,
    note,
    of,
    read,
    rich,
    row_of,
)

TODAY = date(2026, 11, 25)


def ran(data: bytes, file: str = FILE, accept: tuple[str, ...] = (), write: bool = False, **wishes: str) -> Outcome:
    """What comes of one list on a day that is given, as the command gives it."""
    given = Wishes(
        wishes.get("merchant", ""), wishes.get("of", ""), wishes.get("vat", ""), wishes.get("priced_on", "2026-11-02")
    )
    return run(rich(), [Given(file, data)], Options(replace(given, today=TODAY), (), accept, write), {})


def said(outcome: Outcome) -> list[str]:
    return [str(problem) for problem in outcome.problems]


# Rows below the lines


def below(*rows: tuple[object, ...]) -> Any:
    """Rows under the lines of the first sheet: what, and the figure under the line price."""

    def change(book: Any) -> None:
        sheet = book.worksheets[0]
        for number, words, figure in rows:
            at = sheet.max_row + 1
            sheet.cell(at, 1).value, sheet.cell(at, 2).value = number, words
            sheet.cell(at, column(sheet, "Line price")).value = figure

    return change


def test_carriage_discount_vat_and_totals_are_told_with_what_to_do_and_never_taken() -> None:
    rows = below(
        (None, "Subtotal", 400),
        (None, "Less 10 %", -40),
        (None, "Carriage", 12),
        (None, "VAT @ 20%", 74.4),
        (None, "Total", 446.4),
    )
    returned = read(filled(LIST_B, PRICES_B, rows))

    assert ([], 7) == (messages(returned), sum(one.status == "priced" for one in returned.lines))
    start = "no line of the list, not taken: "
    assert [
        f"{start}Subtotal 400; a total: the lines are counted one by one",
        f"{start}Less 10 % -40; a discount: ask whether the prices above are before or after it, and write those after it",
        f"{start}Carriage 12; what they charge for delivery goes into merchants.csv, under delivery",
        f"{start}VAT @ 20% 74.4; the VAT is worked out from the lines",
        f"{start}Total 446.4; a total: the lines are counted one by one",
    ] == [one.text for one in returned.told if one.text.startswith(start)]


def test_carriage_with_a_number_of_its_own_is_no_line_and_no_obstacle() -> None:
    returned = read(filled(LIST_B, PRICES_B, below((8, "Delivery to site", 12), (9, "Small order charge", 5))))

    assert [] == messages(returned)
    assert 2 == sum(one.text.startswith("no line of the list, not taken: ") for one in returned.told)


def test_another_line_that_the_merchant_added_is_still_asked() -> None:
    [found] = messages(read(filled(LIST_B, PRICES_B, below((8, "Tape, 10 rolls", 12)))))

    assert "line 8: your list has no such line; its last is 7" in found


@pytest.mark.parametrize(
    ("taken", "text"),
    [(True, "Delivery 12.00"), (True, "carriage free"), (True, "10% off over 500"), (True, "TOTAL £41.50"), (True, "c/fwd 200"), (False, "Delivery on Friday"), (False, "sockets 12.00"), (False, "thanks")],
)  # fmt: skip
def test_rows_of_money_are_known_by_their_words_and_a_figure(taken: bool, text: str) -> None:
    assert taken == (extra_words(text) is not None)


# Figures that nobody typed, and other money


def test_a_formula_with_a_saved_figure_is_told_once_and_one_without_is_a_problem_alone() -> None:
    def worked_out(book: Any) -> None:
        for line in PRICES_B:
            sheet, row = row_of(book, line)
            sheet.cell(row, column(sheet, "Line price")).value = f"=J{row}*G{row}"

    returned = read(filled(LIST_B, {**PRICES_B, 5: "=60+10"}, worked_out))
    assert [
        f"{cell(5, 'Price of one pack')}: line 5: a formula (=60+10) whose result was not saved; type the price, or save the list in a "
        "spreadsheet program and give it again",
        f"{cell(5, 'Line price')}: line 5: a formula (=J{cell(5, 'Line price').rpartition('K')[2]}*G"
        f"{cell(5, 'Line price').rpartition('K')[2]}) whose result was not saved; type the price, or save the list in a spreadsheet "
        "program and give it again",
    ] == messages(returned)
    about = [one.text for one in returned.told if "formula" in one.text]
    assert 2 == len(about)  # once for each of the two sheets
    assert all("holds formulas whose results were not saved: passed over" in text for text in about)
    assert [1, 2, 3, 4, 6, 7] == [one.number for one in returned.lines if one.status == "priced"]


@pytest.mark.parametrize(
    ("expected", "shown_as"),
    [
        ("refused", '#,##0.00 "€"'),
        ("refused", "[$€-407] #,##0.00"),
        ("refused", '"$"#,##0.00'),
        ("priced", '"£"#,##0.00'),
        ("priced", "[$£-809]#,##0.00"),
        ("priced", "[$-809]#,##0.00"),
        ("priced", "0.00"),
        ("priced", "General"),
        ("priced", "[Red]#,##0.00"),
    ],
)
def test_a_sign_of_money_in_the_format_of_a_cell_counts(expected: str, shown_as: str) -> None:
    def change(book: Any) -> None:
        sheet, row = row_of(book, 5)
        sheet.cell(row, column(sheet, "Price of one pack")).number_format = shown_as

    returned = read(filled(LIST_B, PRICES_B, change))
    money = "USD" if '"$"' in shown_as else "EUR"
    wanted = f"{cell(5, 'Price of one pack')}: line 5: 70.00 is shown in {money}; write the price in GBP"
    assert ([wanted] if expected == "refused" else []) == messages(returned)


def test_one_kind_of_problem_in_many_cells_is_told_with_all_its_cells() -> None:
    many = [
        Problem(Place(f"x.xlsx:S!L{row}"), f"line {row}", f'"{row},50" may be read in two ways', "w")
        for row in range(1, 9)
    ]
    other = Problem(Place("x.xlsx:S!L9"), "line 9", "-1 is below nothing", "w")

    found = grouped([*many, other])
    assert [*many[:3], other] == [one for one in found if "more of the same" not in one.found]
    assert "x.xlsx:S!L4: 5 more of the same kind: L4, L5, L6, L7, L8; mend them in the same way" == str(found[3])
    assert tuple(many[:5]) == grouped(many[:5])


def test_prices_far_off_in_many_cells_name_the_lines_to_accept() -> None:
    far = {line: float(str(price)) * 10 for line, price in PRICES_B.items()}
    outcome = ran(filled(LIST_B, far))

    # Line 7 stands on the second sheet.
    assert ["line 1", "line 2", "line 3", "", "line 7"] == [one.where for one in outcome.problems]
    assert "see what they are for; if they are right, add --accept 4,5,6" == outcome.problems[3].write
    assert () == ran(filled(LIST_B, far), accept=("1-7",)).problems


# Pasted lines


@pytest.mark.parametrize(
    ("number", "text", "after", "typed"),
    [
        (7, "41.50", "per drum of 50", "7 41.50 ; per drum of 50"),
        (7, "41.50", "per 100", "7\t41.50\tper 100"),
        (7, "41.50", "in stock", "7 41.50  in stock"),
        (7, "£41.50 each", "", "line 7: £41.50 each"),
        (7, "41.50", "", "Line 7 - 41.50"),
        (7, "41.50", "", "#7 41.50"),
        (7, "41.50", "", "item 7: 41.50"),
        (7, "£41.50", "", "7 £41.50"),
        (7, "£41.50", "", "7£41.50"),
        (7, "41.50", "", "7 = 41.50"),
        (7, "41.50", "", "7 @ 41.50"),
        (7, "41.50", "", "7 – 41.50"),
        (7, "41.50", "", "7, 41.50"),
        (7, "41.50", "", "7. 41.50"),
        (7, "41.50", "", "7,41.50"),
        (7, "n/a", "", "7,n/a"),
        (7, "£1,041.50", "", "7,£1,041.50"),
        (7, "41.50", "", "7) 41.50 # rang on Monday"),
        (12, "n/a", "", "12 n/a"),
        (12, "41.50", "to order; 2 weeks", "12: 41.50; to order; 2 weeks"),
    ],
)
def test_a_typed_line_is_a_number_a_price_and_a_note(number: int, text: str, after: str, typed: str) -> None:
    found = typed_lines("x", typed)

    assert ((Typed(Place("x", 1), number, text, after),), (), (), ()) == (
        found.typed,
        found.head,
        found.wrong,
        found.told,
    )


PASTED = """
Hi, prices as requested

From: Jo at the yard
1 27.10 in stock
2: 49 ; only in red
3 170
6 22.50 ; per %

2 weeks on the rest
Quoted 24/11/2026
open 8.30 am to 5 pm
Delivery 12.00
clips 3.19
All prices plus VAT
Cheers
Jo
"""


def test_talk_is_told_once_and_a_number_that_may_be_a_price_is_never_lost() -> None:
    returned = read(PASTED.encode(), "mail.txt", merchant="B")

    assert [
        'mail.txt:14: "clips 3.19" has no line number; write the number of the line and its price, as in "7 41.50", or "12 n/a"',
        'mail.txt:8: line 6: 22.50 per %: is that per 100?; write "per 100", "per piece" or "per pack"',
    ] == messages(returned)
    assert ["priced", "held", "priced", "unreadable"] == [of(returned, line).status for line in (1, 2, 3, 6)]
    assert "ex" == of(returned, 1).basis
    told = [str(one) for one in returned.told]
    assert (
        'mail.txt:13: no line of the list, not taken: "Delivery 12.00"; what they charge for delivery goes into merchants.csv, under '
        "delivery"
    ) in told
    assert (
        'mail.txt:2: 6 lines have no line number and no price, passed over: "Hi, prices as requested", "2 weeks on the rest", "Quoted '
        '24/11/2026" and 3 more'
    ) in told


def test_a_price_and_a_second_one_are_not_told_apart() -> None:
    [found] = messages(read(b"5 70.00 72.00", "mail.txt", merchant="B", vat="ex"))

    assert 'line 5: "70.00 72.00" says more than a price' in found


# Wrong files


def packed(**members: str) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w") as file:
        for name, text in members.items():
            file.writestr(name.replace("__", "/").replace("_DOT_", "."), text)
    return out.getvalue()


GIVE = "give the list that the merchant filled in (.xlsx or .csv), or type its lines, as in 7 41.50"
COPY = "ask for the list itself back, or type its lines, as in 7 41.50"
PRICE_TABLE = (
    b"part,merchant,pack,price,vat,priced_on\nte-2.5,any,100,48.00,ex,2026-10-01\nte-1.5,any,100,38.00,ex,2026-10-01\n"
)


def own(name: str) -> bytes:
    """A document of our own for the greenhouse."""
    return render(rich())[name]


@pytest.mark.parametrize(
    ("message", "file", "data"),
    [
        (f"this is a job file, and no list; {GIVE}", "job.toml", b'title = "Shed"\ncurrency = "GBP"\n\n[[room]]\nname = "shed"\n'),
        (f"this is a job file, and no list; {GIVE}", "notes.txt", b'title = "Shed"\ncurrency = "GBP"\n1 = 2\n'),
        (f"this is a web page, and no list; {GIVE}", "quote.html", b"<!DOCTYPE html>\n<html><body>7 41.50</body></html>"),
        (f"this is data for programs, and no list; {GIVE}", "estimate.json", b'{\n  "version": 1\n}'),
        (
            f"this is a table of the price list (prices.csv), and no list that a merchant filled in; {GIVE}",
            "prices.csv",
            PRICE_TABLE,
        ),
        (f"this is a picture, and no list; {COPY}", "list.jpg", b"\xff\xd8\xff\xe0\0\x10JFIF"),
        (f"this is a picture, and no list; {COPY}", "list.xlsx", b"\x89PNG\r\n\x1a\n"),
        (f"this is a picture, and no list; {COPY}", "list.heic", b"\0\0\0\x18ftypheic"),
        (f"this is a PDF, and no list; {COPY}", "list.pdf", b"%PDF-1.7\n1 0 obj"),
        (
            "this is a text document (.docx), and no .xlsx workbook; save the list as .xlsx or .csv, and give that file",
            "list.docx",
            packed(word__document_DOT_xml="<a/>"),
        ),
    ],
)  # fmt: skip
def test_a_wrong_file_is_one_sentence(message: str, file: str, data: bytes) -> None:
    outcome = ran(data, file)

    assert [f"{file}: {message}"] == said(outcome)
    assert "" == as_text(outcome)


def test_our_own_bill_and_page_are_one_sentence() -> None:
    bill = "bill-of-quantities.xlsx"
    assert [f"{bill}: this is your own bill of quantities, and no list that a merchant filled in; {GIVE}"] == said(
        ran(own(bill), bill)
    )
    assert [f"quote.html: this is a web page, and no list; {GIVE}"] == said(ran(own("quote.html"), "quote.html"))


def test_a_list_that_nobody_filled_in_is_said_to_be_one() -> None:
    [found] = said(ran(filled(LIST_B, {})))

    assert "no line has a price, or any other answer; give the list that came back, not the one that went out" in found


# Days


@pytest.mark.parametrize(
    ("expected", "day"),
    [
        # The job is of 2026-10-01, and today is 2026-11-25.
        ("", "2026-11-25"),
        ("", "2026-10-01"),
        ("", "2025-11-25"),
        ("2026-11-26 is still to come: today is 2026-11-25", "2026-11-26"),
        ("2062-11-02 is still to come: today is 2026-11-25", "2062-11-02"),
        ('"2026-02-30" is no date', "2026-02-30"),
        ('"31 Nov 2026" is no date', "31 Nov 2026"),
        ('"03/04/2026" may be read in two ways', "03/04/2026"),
        ("", "25/11/2026"),
    ],
)  # fmt: skip
def test_a_day_that_is_to_come_or_none_or_two_is_asked(expected: str, day: str) -> None:
    found = [problem.found for problem in ran(filled(LIST_B, PRICES_B), priced_on=day).problems]

    assert ([expected] if expected else []) == found


def test_a_day_to_come_in_the_head_is_told_with_its_cell() -> None:
    def priced(book: Any) -> None:
        for sheet in book:
            sheet.cell(2, 16).value, sheet.cell(2, 17).value = "Priced on", date(2027, 1, 5)

    [found] = said(ran(filled(LIST_B, PRICES_B, priced), priced_on=""))
    assert (
        f"{FILE}:Electrical!Q2: priced on: 2027-01-05 is still to come: today is 2026-11-25" == found.partition(";")[0]
    )


def test_a_job_ahead_of_the_calendar_may_have_prices_of_its_own_day() -> None:
    late = replace(rich(), job=replace(rich().job, priced_on=date(2027, 3, 1)))
    wishes = Wishes(priced_on="2027-02-01", today=TODAY)

    assert () == run(late, [Given(FILE, filled(LIST_B, PRICES_B))], Options(wishes), {}).problems


# What is held, and what stood before


def test_a_held_line_is_neither_counted_nor_written_until_it_is_accepted() -> None:
    data = filled(LIST_B, PRICES_B, note(6, "only type C in stock"), note(3, "two lengths of 17 m"))
    waiting, accepted = ran(data, write=True), ran(data, write=True, accept=("3,6",))

    assert ([], [1, 2, 4, 5, 7], 5) == (said(waiting), [one.number for one in waiting.lists[0].changes], waiting.kept)
    assert (7, 7) == (len(accepted.lists[0].changes), accepted.kept)
    assert b"rcbo-b20" not in waiting.files["prices.csv"]
    assert b"rcbo-b20,B,1,22.50" in accepted.files["prices.csv"]
    assert f"{FILE}: held, and not written: lines 3, 6; what they write there is told above" in [
        str(one) for one in waiting.told
    ]
    text = " ".join(as_text(waiting).split())
    assert (
        '- 6 rcbo-b20, each, 22.50 ex: they write "only type C in stock". If that is what you want, add --accept 6; else ask them.'
    ) in text


def test_a_held_price_that_is_far_off_says_so_before_it_is_accepted() -> None:
    outcome = ran(filled(LIST_B, {**PRICES_B, 6: 214}, note(6, "metal clad")))

    assert () == outcome.problems
    # hand: 214 / 21.40 = 10.
    assert (
        f"{cell(6, 'Price of one pack')}: line 6: 214.00 for each is 10.00 times the 21.40 on your price list; see what it is for before "
        "you accept the line"
    ) in [str(one) for one in outcome.told]


def test_one_note_on_many_lines_is_told_once() -> None:
    text = " ".join(as_text(ran(filled(LIST_B, PRICES_B, *(note(line, "Acme pattern") for line in PRICES_B)))).split())

    assert 'lines 1 to 7: they write "Acme pattern". If that is what you want, add --accept 1-7; else ask them.' in text


def with_price(part: str, merchant: str, pack: str, price: str) -> Any:
    """The greenhouse with one more row in its price list."""
    worked = rich()
    row = Price(part, merchant, D(pack), D(price), "ex", date(2026, 10, 1), "", "", "", Place("prices.csv"))
    return replace(worked, catalogue=replace(worked.catalogue, prices=(*worked.catalogue.prices, row)))


def test_the_price_before_is_the_merchant_s_own_where_it_has_one() -> None:
    worked = with_price("rcbo-b20", "North Yard", "1", "30.00")
    wishes = Wishes(merchant="North Yard", priced_on="2026-11-02")
    [reckoned] = run(worked, [Given(FILE, filled(LIST_B, PRICES_B))], Options(wishes), {}).lists

    # hand: breaker 22.50 - 30.00 = -7.50, where B asks 21.40; what North Yard has no price for is held against B's.
    assert [(5, D("68.15")), (6, D("30.00"))] == [
        (of.number, of.before) for of in reckoned.changes if of.number in (5, 6)
    ]
    assert D("-7.50") == next(of.difference for of in reckoned.changes if of.number == 6)


def test_a_length_cut_to_order_is_one_length_before_and_now_whichever_way_it_is_kept() -> None:
    by_metre, by_length = (ran(filled(LIST_B, {3: price})).lists[0].changes[0] for price in ("5.00/m", "171"))

    # hand: 34 x 4.85 = 164.90; 34 x 5 = 170; 171 / 34 = 5.0294 to four places.
    assert (D(34), 1, D("164.90"), D(170), D("4.85"), D(5)) == (
        by_metre.pack, by_metre.packs, by_metre.before, by_metre.after, by_metre.metre_before, by_metre.metre_after
    )  # fmt: skip
    assert (D(34), 1, D("164.90"), D(171), D("4.85"), D("5.0294")) == (
        by_length.pack, by_length.packs, by_length.before, by_length.after, by_length.metre_before, by_length.metre_after
    )  # fmt: skip


def test_a_drum_on_the_price_list_is_not_what_a_cut_length_stood_at_before() -> None:
    worked = with_price("swa-3c-10", "B", "50", "240.00")
    [change] = (
        run(worked, [Given(FILE, filled(LIST_B, {3: 170}))], Options(Wishes(priced_on="2026-11-02")), {})
        .lists[0]
        .changes
    )

    assert D("164.90") == change.before


# Lists by name


@pytest.mark.parametrize(
    ("answers", "last", "name"),
    [
        ("B", 7, "B"),
        ("B", 7, "shopping-list-B"),
        ("B", 7, "shopping-list-B.xlsx"),
        ("", 10, "to-be-priced"),
        ("", 7, "electrical"),
        ("", 7, "to-be-priced-electrical"),
        ("", 7, "To-be-priced-Electrical.csv"),
    ],
)
def test_a_list_may_be_named_by_its_file_or_counter(answers: str, last: int, name: str) -> None:
    returned = read(b"6 22.50\n99 1.00\n", "call.txt", of=name, vat="ex")

    assert answers == returned.answers
    assert any(f"line 99: your list has no such line; its last is {last}" in found for found in messages(returned))


def test_the_data_of_a_cut_length_hold_its_metre() -> None:
    from estimator.documents.returned_data import as_data

    [change] = json.loads(as_data(ran(filled(LIST_B, {3: 171}))))["lists"][0]["changes"]
    assert ("164.90", "171.00", "4.85", "5.0294") == (
        change["before"], change["after"], change["metre_before"], change["metre_after"]
    )  # fmt: skip


def test_the_command_tells_a_day_that_is_to_come(tmp_path: Path) -> None:
    runner, job = CliRunner(), str(tmp_path / "job")
    assert 0 == runner.invoke(app, ["new", job]).exit_code
    typed = ["prices", job, "--price", "te-2.5@100=61.00", "--vat", "ex", "--merchant", "North Yard"]

    ended = runner.invoke(app, [*typed, "--priced-on", "2999-01-01", "--write"])
    assert 2 == ended.exit_code
    assert "--price: priced on: 2999-01-01 is still to come: today is " in ended.output
    assert 0 == runner.invoke(app, typed).exit_code
