"""Lists that come back as text: CSV in every usual writing, lines typed from a telephone call, and single prices."""

import csv
from collections.abc import Iterable
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.returned.model import Returned
from estimator.returned.read import Given, read_returned
from estimator.returned.typed import typed_answers
from tests.test_returned_lists import PRICES_B, D, files, messages, of, rich, wished

FILE = "north.csv"


def rows(changes: Iterable[tuple[int, str, str]] = (), basis: str = "ex") -> list[list[str]]:
    """The table for B with prices in it, and other cells changed."""
    table = list(csv.DictReader(StringIO(files()["shopping-list-B.csv"].decode("utf-8-sig"), newline="")))
    for row in table:
        row["Price of one pack"] = str(PRICES_B[int(row["Line"])])
        row["Prices ex or inc VAT"] = basis
    for line, heading, value in changes:
        table[line - 1][heading] = value
    return [list(table[0]), *(list(row.values()) for row in table)]


def text(of_rows: list[list[str]], mark: str = ",", ending: str = "\r\n") -> str:
    out = StringIO(newline="")
    csv.writer(out, delimiter=mark, lineterminator=ending).writerows(of_rows)
    return out.getvalue()


def read(data: bytes, file: str = FILE, **wishes: str) -> Returned:
    return read_returned(rich(), Given(file, data), wished(wishes))


@pytest.mark.parametrize("ending", ["\r\n", "\n", "\r"])
@pytest.mark.parametrize("mark", [",", ";", "\t"])
@pytest.mark.parametrize("writing", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_a_table_is_read_in_every_usual_writing(writing: str, mark: str, ending: str) -> None:
    changed = rows([(5, "Price of one pack", "£70.00"), (6, "In stock, or days", "café, 2 days")])
    returned = read(text(changed, mark, ending).encode(writing))

    assert [] == messages(returned)
    assert [D(str(PRICES_B[line])) for line in (1, 2, 4, 5, 6, 7)] == [
        of(returned, line).price for line in (1, 2, 4, 5, 6, 7)
    ]
    # What nobody can know the meaning of is held, and quoted.
    assert ("held", "café") == (of(returned, 6).status, of(returned, 6).said)
    assert (writing == "cp1252") == any("Windows-1252" in told.text for told in returned.told)


def test_a_spreadsheet_s_note_on_the_mark_is_passed_over() -> None:
    assert [] == messages(read(f"sep=;\r\n{text(rows(), ';')}".encode()))


def test_a_problem_names_line_and_column_heading() -> None:
    returned = read(text(rows([(5, "Price of one pack", "12,40")])).encode())

    assert [f'{FILE}:6: line 5: "12,40" may be read in two ways; write a decimal point, as in 12.40'] == messages(
        returned
    )


def test_quotes_that_do_not_match_are_told() -> None:
    broken = text(rows()).replace('"SWA XLPE/PVC, ""3 core"" 10 mm2"', '"SWA" XLPE')
    assert broken != text(rows())

    [found] = messages(read(broken.encode()))
    assert found.startswith(f"{FILE}:")
    assert "the quotes do not match" in found


@pytest.mark.parametrize(
    ("message", "data"),
    [
        ('this is neither text nor a workbook; save the list as .xlsx or as "CSV UTF-8", and give that file', b"a\0b"),
        (
            "no row of headings was found; keep the row of headings of our list, with Line, What and Price of one pack",
            b"7,41.50\n",
        ),
        (
            "no row of headings was found; keep the row of headings of our list, with Line, What and Price of one pack",
            b"",
        ),
        (
            'this text is in no writing that is known here; save the list as .xlsx or as "CSV UTF-8", and give that file',
            b"a\x81\xffb",
        ),
    ],
)
def test_what_is_no_table_is_said_to_be_none(message: str, data: bytes) -> None:
    assert [f"{FILE}: {message}"] == messages(read(data))


def test_a_table_for_another_job_is_refused() -> None:
    [found] = messages(read(text(rows([(line, "Job", "Garden office") for line in range(1, 8)])).encode()))

    assert (
        f'{FILE}:2: this list is for the job "Garden office", and yours is "Long greenhouse"; give the list of this job, or name the '
        "other job"
    ) == found


def test_an_older_date_is_told_where_the_lines_still_agree() -> None:
    returned = read(text(rows([(line, "Date", "2026-09-01") for line in range(1, 8)])).encode())

    assert [] == messages(returned)
    assert "the list is of 2026-09-01, and the job now of 2026-10-01" in [one.text for one in returned.told]


def test_rows_that_are_no_lines_are_told() -> None:
    extra = [
        *rows(),
        ["", "", "", "Carriage", "", "", "", "", "", "", "", "", "", "15.00"],
        ["We close at noon on Saturday"],
    ]
    told = [one.text for one in read(text(extra).encode()).told]

    assert (
        "no line of the list, not taken: Carriage 15.00; what they charge for delivery goes into merchants.csv, under delivery"
    ) in told
    assert "no line of the list, not taken: We close at noon on Saturday" in told


PASTED = """
# rang them on Monday
vat: ex
priced on: 2026-11-02
good until: end of November
1 27.10
2: £49.00 each
3) 5.00/m
line 4 0.035
5 - 70
6 n/a
7 POA
"""


def test_prices_typed_line_by_line_are_read() -> None:
    returned = read(PASTED.encode(), "call.txt", merchant="B")

    assert [] == messages(returned)
    assert ("2026-11-02", "end of November", "B") == (str(returned.priced_on), returned.good_until, returned.merchant)
    assert [D("27.10"), D(49), D(5), D("0.035"), D(70), None, None] == [one.price for one in returned.lines]
    assert ["not-sold", "on-asking"] == [of(returned, line).status for line in (6, 7)]


def test_a_typed_line_may_have_a_note() -> None:
    returned = read(b"2 47.00; alt: 2 x 50 m\n3 5; per metre\n", "call.txt", merchant="B", vat="ex")

    assert ("held", D(50), "alt: 2 x 50 m") == (of(returned, 2).status, of(returned, 2).pack, of(returned, 2).said)
    assert (D(1), D(5)) == (of(returned, 3).pack, of(returned, 3).price)


def test_typed_lines_that_cannot_be_read_are_told_at_once() -> None:
    returned = read(b"hello\n99 3\n2 1,5\n2 3\n2 4\n", "call.txt", merchant="B", vat="ex")
    found = messages(returned)

    assert [
        'call.txt:2: line 99: your list has no such line; its last is 7 (it reads "3"); write the number of the line and its price, as in "7 41.50", or "12 n/a"',
        'call.txt:3: line 2: "1,5" may be read in two ways; write a decimal point, as in 1.5',
        "call.txt:4: line 2: stands at call.txt:3 already; leave one of them",
        "call.txt:5: line 2: stands at call.txt:3 already; leave one of them",
    ] == found
    assert ['call.txt:1: 1 line has no line number and no price, passed over: "hello"'] == [
        str(of) for of in returned.told
    ]


def test_numbers_alone_need_to_know_whose_list_they_are_of() -> None:
    assert [
        "call.txt: line numbers alone do not tell whose list this is; you have: A, B, to-be-priced; say which with --list NAME"
    ] == messages(read(b"2 49.00\n", "call.txt", vat="ex"))
    assert "A" == read(b"2 8.20\n", "call.txt", vat="inc", of="A").answers
    assert [
        'call.txt: --list: you have no list "Northern"; you have: A, B, to-be-priced, '
        "to-be-priced-electrical, to-be-priced-ground, to-be-priced-timber"
    ] == messages(read(b"2 8.20\n", "call.txt", of="Northern"))


@given(st.text(max_size=200))
def test_no_text_breaks_the_reader(typed: str) -> None:
    for file in ("call.txt", "call.csv"):
        returned = read(typed.encode("utf-8", "replace"), file, merchant="B", vat="ex")
        assert all(problem.found for problem in returned.problems)


@given(st.binary(max_size=200))
def test_no_bytes_break_the_reader(data: bytes) -> None:
    for start in (b"", b"PK\x03\x04"):
        assert all(problem.found for problem in read(start + data, "x.xlsx").problems)


def test_one_price_may_be_typed_by_part_and_pack() -> None:
    answers, problems = typed_answers(
        rich(), ("cable-te-2.5@100=48.50", "rcbo-b20=23 inc VAT", "duct-50 @ 10 = £11"), "ex"
    )

    assert [] == problems
    assert [
        ("cable-te-2.5", D(100), D("48.50"), "ex", 1),
        ("rcbo-b20", D(1), D(23), "inc", 1),
        ("duct-50", D(10), D(11), "ex", 3),
    ] == [(one.part, one.pack, one.price, one.basis, one.packs) for one in answers]


@pytest.mark.parametrize(
    ("message", "typed"),
    [
        (
            '--price: "48.00" cannot be read; write PART@PACK=PRICE, as in "te-2.5@100=48.00"; the pack is in the part\'s unit, and 1 '
            "where you leave it out",
            "48.00",
        ),
        (
            '--price: cable-te-2.6@100=48: "cable-te-2.6" is no part; did you mean "cable-te-2.5"?',
            "cable-te-2.6@100=48",
        ),
        ('--price: duct-50@10=1,5: "1,5" may be read in two ways; write a decimal point, as in 1.5', "duct-50@10=1,5"),
        (
            '--price: duct-50@ten=5: "ten" is no size of a pack; write PART@PACK=PRICE, as in "te-2.5@100=48.00"; the pack is in the '
            "part's unit, and 1 where you leave it out",
            "duct-50@ten=5",
        ),
        (
            '--price: duct-50@10=11: nothing says whether it is ex or inc VAT; write it beside the price, as in "48.00 ex", or give --vat',
            "duct-50@10=11",
        ),
    ],
)
def test_a_typed_price_that_cannot_be_taken_says_why(message: str, typed: str) -> None:
    answers, problems = typed_answers(rich(), (typed,), None)

    assert ([], [message]) == (answers, [str(problem) for problem in problems])
