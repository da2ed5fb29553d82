"""What a returned list changes against the price list, prices that are far off, and prices kept beside the job."""

import csv
from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from io import StringIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.catalogue.columns import TABLES
from estimator.catalogue.model import Price
from estimator.catalogue.rows import Source, TakenOut, rows_of
from estimator.documents.files import Unwritable, write_all
from estimator.documents.returned import as_text
from estimator.result import Estimate
from estimator.returned.keep import MERCHANTS, PRICES, merchants_file, prices_file
from estimator.returned.model import Change, Outcome
from estimator.returned.prices import clashes, make_letter, price_rows
from estimator.returned.read import Given, Wishes
from estimator.returned.run import Options, parted, run
from tests.test_returned_lists import FILE, LIST_B, PRICES_B, D, cell, filled, label, note, read, rich

DAY = "2026-11-02"
HEADER = "part,merchant,pack,price,vat,priced_on,match,merchant_code,source\n"


def ran(data: bytes, *typed: str, beside: Mapping[str, bytes] | None = None, merchant: str = "", write: bool = False, accept: tuple[str, ...] = (), priced_on: str = DAY, vat: str = "") -> Outcome:  # fmt: skip
    wishes = Wishes(merchant=merchant, priced_on=priced_on, vat=vat)
    given_files = [Given(FILE, data)] if data else []
    return run(rich(), given_files, Options(wishes, typed, accept, write), beside or {})


def messages(outcome: Outcome) -> list[str]:
    return [str(problem) for problem in outcome.problems]


def rows(outcome: Outcome, name: str = PRICES) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(outcome.files[name].decode("utf-8-sig"), newline="")))


def test_every_price_is_held_against_the_one_that_the_order_rests_on() -> None:
    [reckoned] = ran(filled(LIST_B, PRICES_B)).lists

    # hand: drum 27.10 - 26.50 = 0.60; armoured 34 x 4.85 = 164.90 and 34 x 5.00 = 170.00, 5.10 more; labels (0.035 - 0.032) x 37 = 0.111; duct
    # (11.40 - 11.05) x 3 = 1.05.
    assert [
        (1, D("26.50"), D("27.1"), D("0.60")),
        (2, D("48.00"), D(49), D("1.00")),
        (3, D("164.90"), D(170), D("5.10")),
        (4, D("0.032"), D("0.035"), D("0.11")),
        (5, D("68.15"), D(70), D("1.85")),
        (6, D("21.40"), D("22.5"), D("1.10")),
        (7, D("11.05"), D("11.4"), D("1.05")),
    ] == [(of.number, of.before, of.after, of.difference) for of in reckoned.changes]
    sums = reckoned.sums
    # hand: before 26.50 + 48 + 164.90 + 1.184 + 68.15 + 21.40 + 33.15 = 363.284; now 27.10 + 49 + 170 + 1.295 + 70 +
    # 22.50 + 34.20 = 374.095; inc VAT x 1.2, and duct x 1.05 (its rate): 330.134 x 1.2 + 33.15 x 1.05 = 430.9683, and
    # 339.895 x 1.2 + 34.20 x 1.05 = 443.784.
    assert (7, "ex", D("363.28"), D("374.10"), D("10.82")) == (
        sums.lines,
        sums.basis,
        sums.before,
        sums.after,
        sums.difference,
    )
    assert (D("430.97"), D("443.78"), D("12.81")) == (sums.before_inc, sums.after_inc, sums.difference_inc)


def test_a_length_that_is_no_whole_pennies_a_metre_is_held_against_the_metres() -> None:
    [reckoned] = ran(filled(LIST_B, {3: "171.00"})).lists

    # hand: 171 / 34 = 5.02941..., to four places 5.0294; 34 x 4.85 = 164.90.
    assert [
        Change(
            3,
            "swa-3c-10",
            'SWA XLPE/PVC, "3 core" 10 mm2',
            D(34),
            "cut, 34 m",
            1,
            D("164.90"),
            "ex",
            D(171),
            "ex",
            D("6.10"),
            D("4.85"),
            D("5.0294"),
        )
    ] == list(reckoned.changes)


def test_a_price_on_another_basis_is_compared_on_the_one_it_is_given_in() -> None:
    [reckoned] = ran(filled(LIST_B, {5: 84}, basis="inc")).lists

    # hand: 68.15 x 1.2 = 81.78; 84 - 81.78 = 2.22.
    [change] = reckoned.changes
    assert ("ex", "inc", D("2.22")) == (change.before_basis, change.basis, change.difference)


@pytest.mark.parametrize("price", [204.46, 22.71])
def test_a_price_up_to_three_times_off_is_taken(price: float) -> None:
    # hand: 68.15 x 3 = 204.45 and 68.15 / 3 = 22.716..., so 204.46 and 22.71 are over.
    inside = 204.45 if price > 100 else 22.72
    assert [] == messages(ran(filled(LIST_B, {5: inside})))
    assert 1 == len(messages(ran(filled(LIST_B, {5: price}))))


def test_a_price_that_is_far_off_is_asked_unless_it_is_accepted() -> None:
    data = filled(LIST_B, {1: 265, 4: "3.20"})

    assert [
        f"{cell(1, 'Price of one pack')}: line 1: 265.00 for drum of 50 m is 10.00 times the 26.50 on your price list; see what it "
        "is for: one, 100, a metre, a pack; if it is right, add --accept 1",
        f"{cell(4, 'Price of one pack')}: line 4: 3.20 for each is 100.00 times the 0.03 on your price list; see what it is for: "
        "one, 100, a metre, a pack; if it is right, add --accept 4",
    ] == messages(ran(data))
    assert [] == messages(ran(data, accept=("1", "4")))
    assert 1 == len(messages(ran(data, accept=("4",))))


def test_options_that_cannot_be_read_are_told() -> None:
    lists = [Given(FILE, filled(LIST_B, {5: 70}, basis=None))]
    outcome = run(rich(), lists, Options(Wishes(vat="net", priced_on="2/11/2026"), accept=("x y",), typed=("70",)), {})

    assert [
        '--vat: "net" says neither ex nor inc; write ex or inc',
        '--accept: "x y" is no line number; write the number of the line, as in --accept 7, or --accept 3,7-9',
    ] == messages(outcome)[:2]
    assert (
        f'{FILE}: --priced-on: "2/11/2026" may be read in two ways; write it year first, as in 2026-11-02'
        in messages(outcome)
    )
    assert ["prices: there is no list to read; name the file that came back, or give --price"] == messages(ran(b""))


def test_prices_are_kept_beside_the_job() -> None:
    before = (
        "\ufeffpart,merchant,mine,pack,price,vat,priced_on,match,merchant_code,source\r\n"
        'cable-te-2.5,B,"a, b",50.0,26.50,ex,2026-10-01,,C50,invented demo figure\r\n'
        "\r\n"
        "rcbo-b20,B,x,1,21.40,ex,2026-10-01,k,BR20,invented\r\n"
        '"cable-te-2.5",A,keep  me,50,27.00,inc,2026-10-01,,,"two\r\nlines"\r\n'
        "cable-te-2.5,B,,100,48.00,ex,2026-10-01,,,invented"
    ).encode()
    outcome = ran(filled(LIST_B, {1: 27.1, 3: 170, 6: 22.5}), beside={PRICES: before}, write=True)

    assert [] == messages(outcome)
    assert (
        "\ufeffpart,merchant,mine,pack,price,vat,priced_on,match,merchant_code,source\r\n"
        'cable-te-2.5,B,"a, b",50,27.10,ex,2026-11-02,,,"priced list north.xlsx, line 1"\r\n'
        "\r\n"
        'rcbo-b20,B,x,1,22.50,ex,2026-11-02,k,BR20,"priced list north.xlsx, line 6"\r\n'
        '"cable-te-2.5",A,keep  me,50,27.00,inc,2026-10-01,,,"two\r\nlines"\r\n'
        "cable-te-2.5,B,,100,48.00,ex,2026-10-01,,,invented\r\n"
        'swa-3c-10,B,,1,5.00,ex,2026-11-02,,,"priced list north.xlsx, line 3"\r\n'
    ) == outcome.files[PRICES].decode()
    assert (3, [PRICES]) == (outcome.kept, list(outcome.files))


def test_a_new_merchant_gets_rows_in_both_files_and_the_make_letter_of_the_line() -> None:
    outcome = ran(
        filled(LIST_B, {5: 70, 6: 22.5}),
        merchant="North Yard",
        write=True,
        beside={MERCHANTS: b"merchant,delivery,free_over,minimum,currency,vat,vat_rate\nB,0,,,GBP,ex,20 %"},
    )

    assert [
        ("consumer-unit-8", "North Yard", "70.00", "North Yard"),
        ("rcbo-b20", "North Yard", "22.50", "North Yard"),
    ] == [(row["part"], row["merchant"], row["price"], row["match"]) for row in rows(outcome)]
    assert (
        b"merchant,delivery,free_over,minimum,currency,vat,vat_rate\nB,0,,,GBP,ex,20 %\nNorth Yard,,,,GBP,ex,20 %\n"
    ) == outcome.files[MERCHANTS]
    assert [
        "switchgear of one make (lines 5, 6): North Yard has not said which make, so its name stands for it and these "
        'prices go together alone; ask, and let them write it under Note, as in "make Zed"',
        "what North Yard charges for delivery is not known and counts as nothing: write it into merchants.csv",
        "the job does not buy from North Yard: add the name to merchants under [buying] in the job",
    ] == [told.text for told in outcome.told]


def test_a_file_without_a_column_that_is_filled_gets_it_at_the_end() -> None:
    row = Price("rcbo-b20", "B", D(1), D("22.5"), "ex", date(2026, 11, 2), "k", "", "s")
    before = b"part,merchant,pack,price,vat,priced_on\nte-4,B,1,2.00,ex,2026-10-01\n"

    assert (
        b"part,merchant,pack,price,vat,priced_on,match,source\nte-4,B,1,2.00,ex,2026-10-01\nrcbo-b20,B,1,22.50,ex,2026-11-02,k,s\n"
    ) == prices_file(before, [row])


def test_there_need_be_no_file_before() -> None:
    outcome = ran(filled(LIST_B, {4: "0.035"}), write=True)

    assert (
        HEADER + 'label-cable,B,1,0.035,ex,2026-11-02,,,"priced list north.xlsx, line 4"\n'
    ).encode() == outcome.files[PRICES]
    assert merchants_file(None, []) == b"merchant,delivery,free_over,minimum,currency,vat,vat_rate\n"


@given(st.lists(st.tuples(st.text(max_size=12), st.text(max_size=12)), max_size=6), st.sampled_from(["\n", "\r\n"]))
def test_rows_that_are_not_answered_stay_to_the_byte(others: list[tuple[str, str]], ending: str) -> None:
    out = StringIO(newline="")
    writer = csv.writer(out, lineterminator=ending)
    writer.writerow([*HEADER.strip().split(","), "mine"])
    for source, mine in others:
        writer.writerow(["duct-50", "A", "10", "9.00", "ex", "2026-10-01", "", "", source, mine])
    before = out.getvalue().encode()
    row = Price("rcbo-b20", "B", D(1), D("22.5"), "ex", date(2026, 11, 2), "k", "", "s")

    after = prices_file(before, [row])
    assert after.startswith(before)
    assert after == prices_file(after, [row])


def test_files_are_written_whole_or_not_at_all(tmp_path: Path) -> None:
    outcome = ran(filled(LIST_B, {5: 70}), merchant="North Yard", write=True)
    (tmp_path / PRICES).write_bytes(b"mine")
    (tmp_path / MERCHANTS).mkdir()

    with pytest.raises(Unwritable):
        write_all(tmp_path, outcome.files)
    assert b"mine" == (tmp_path / PRICES).read_bytes()


def test_without_being_asked_nothing_is_to_be_written() -> None:
    assert {} == ran(filled(LIST_B, PRICES_B)).files


def test_what_keeping_needs_is_asked() -> None:
    assert [
        f"{FILE}: nothing says of which day these prices are; give the day, year first, as in --priced-on 2026-10-31"
    ] == messages(ran(filled(LIST_B, PRICES_B), write=True, priced_on=""))
    name = "to-be-priced-electrical.xlsx"
    blank = filled(name, {6: 70}, label("Priced by (name, telephone)", "Jo, North Yard"), blank=True)
    assert [
        f"{FILE}: nothing says whose prices these are, and to keep them they need a name (priced by Jo, North Yard); write "
        f'NAME={FILE}, or give --merchant "NAME"'
    ] == messages(ran(blank, write=True))
    assert [f"{FILE}: no line has a price; there is nothing to keep: leave out --write"] == messages(
        ran(filled(LIST_B, {5: "POA"}), write=True)
    )
    unfilled = messages(ran(filled(LIST_B, {}), write=True))
    assert [
        f"{FILE}: no line has a price, or any other answer; give the list that came back, not the one that went out; if the prices "
        'stand in a column of another name, call it "Price of one pack"'
    ] == unfilled
    assert {} == ran(filled(LIST_B, {5: "1,5"}), write=True).files


def test_a_merchant_is_called_as_the_catalogue_calls_it() -> None:
    assert "B" == ran(filled(LIST_B, PRICES_B), merchant=" b ").lists[0].returned.merchant
    assert [f'{FILE}: "any" is no merchant; write the merchant\'s name, as in --merchant "North Yard"'] == messages(
        ran(filled(LIST_B, PRICES_B), merchant="any")
    )


def test_one_price_may_be_typed_and_kept() -> None:
    outcome = ran(b"", "cable-te-2.5@100=48.50", merchant="B", vat="ex", write=True)

    assert (HEADER + "cable-te-2.5,B,100,48.50,ex,2026-11-02,,,typed\n").encode() == outcome.files[PRICES]
    assert [D("0.50")] == [of.difference for of in outcome.lists[0].changes]
    far = ran(b"", "cable-te-2.5@100=4.85", merchant="B", vat="ex")
    assert ["--price: cable-te-2.5: 4.85 for 100 m is 10.10 % of the 48.00 on your price list; see what it is for: one, 100, a metre, a pack; if it is right, add --accept cable-te-2.5"] == messages(far)  # fmt: skip
    assert [] == messages(ran(b"", "cable-te-2.5@100=4.85", merchant="B", vat="ex", accept=("cable-te-2.5",)))


def test_two_lists_of_one_merchant_must_agree() -> None:
    older = ("old.xlsx", filled(LIST_B, PRICES_B))
    newer = ("new.xlsx", filled(LIST_B, {**PRICES_B, 6: 23}))
    outcome = run(rich(), [Given(*older), Given(*newer)], Options(Wishes(priced_on=DAY)), {})

    place = cell(6, "Price of one pack").removeprefix(FILE)
    assert [
        f"new.xlsx{place}: line 6: 23 ex VAT, and 22.5 ex VAT at old.xlsx{place}; which holds? give that list alone, or mend one"
    ] == messages(outcome)


def test_two_lists_of_one_merchant_and_different_days_are_asked() -> None:
    def dated(day: str) -> bytes:
        return f"vat: ex\npriced on: {day}\n5 70\n".encode()

    outcome = run(
        rich(), [Given("one.txt", dated("2026-10-20"), "B"), Given("two.txt", dated("2026-11-02"), "B")], Options(), {}
    )

    assert [
        "two.txt: prices of B of 2026-11-02, and in one.txt of 2026-10-20; which holds? give that one alone"
    ] == messages(outcome)


def test_two_lines_that_price_one_pack_differently_are_asked() -> None:
    returned = read(b"vat: ex\n1 27\n2 49\n", "call.txt", merchant="B")
    first, second = returned.lines[0], returned.lines[1]
    again = replace(returned, lines=(first, replace(second, pack=first.pack)))

    assert [] == clashes(returned)
    assert [
        "call.txt:3: line 2: 49 ex for the pack that line 1 prices at 27 ex; ask which holds, and write it on both lines"
    ] == [str(one) for one in clashes(again)]


@pytest.mark.parametrize(
    ("expected", "argument"),
    [
        (("", "list.xlsx"), "list.xlsx"),
        (("North Yard", "list.xlsx"), "North Yard=list.xlsx"),
        (("", "a=b.xlsx"), "a=b.xlsx"),
        (("", "=list.xlsx"), "=list.xlsx"),
        (("B", "-"), "B=-"),
        (("", "-"), "-"),
    ],
)
def test_a_name_may_stand_before_a_file(expected: tuple[str, str], argument: str) -> None:
    assert expected == parted(argument, lambda name: name == "a=b.xlsx")


def test_prices_of_no_day_are_no_rows() -> None:
    with pytest.raises(ValueError, match="is of no day"):
        price_rows(read(filled(LIST_B, PRICES_B)), {})


def test_what_is_accepted_for_nothing_is_told_with_what_would_do() -> None:
    data = filled(LIST_B, {**PRICES_B, 4: "n/a"}, note(2, "alt: metal"))
    told = [one.text for one in ran(data, accept=("1-4", "99")).told]

    # Lines 1 and 3 have prices; nothing is said of those.
    assert [
        'line 4: they write "n/a"; their price on your list, 0.032 ex of 2026-10-01, stays, since nobody else that the job '
        "buys from has one: ask elsewhere",
        '--accept does nothing for line 2: something else is offered there, which is not taken for a price of yours: "49; alt: metal"; '
        'to take a price all the same, give it with --price "cable-te-2.5@100=PRICE ex" (the number after @ is what one pack holds)',
        '--accept does nothing for line 4: they do not sell it: "n/a"; to take a price all the same, give it with '
        '--price "label-cable@1=PRICE ex" (the number after @ is what one pack holds)',
        "--accept does nothing for line 99: the list has no such line",
    ] == told


KEPT = HEADER + "cable-te-2.5,B,100,51.00,ex,2026-11-05,,,typed\nrcbo-b20,B,1,20.00,ex,2026-11-02,,,typed\n"


def with_rows(text: str) -> Estimate:
    """The greenhouse with rows of a prices.csv over its own."""
    table = next(of for of in TABLES if of.name == "prices")
    found, wrong = rows_of(table, Source(PRICES, text.encode()))
    assert not wrong
    own = {(row.part, row.merchant, row.pack): row for row in rich().catalogue.prices}
    out = [row for row in found.values() if isinstance(row, TakenOut)]
    own = {key: row for key, row in own.items() if not any(of.means((*key[:2], f"{key[2]:f}")) for of in out)}
    own |= {(row.part, row.merchant, row.pack): row for row in found.values() if isinstance(row, Price)}
    return replace(rich(), catalogue=replace(rich().catalogue, prices=tuple(own.values())))


def again(data: bytes, before: str, *accept: str, priced_on: str = DAY) -> Outcome:
    """The list read back and written over a prices.csv that is there already."""
    options = Options(Wishes(priced_on=priced_on), (), accept, True)
    return run(with_rows(before), [Given(FILE, data)], options, {PRICES: before.encode()})


def test_a_later_price_stays_when_an_older_list_comes_after_it() -> None:
    outcome = again(filled(LIST_B, {2: 49, 6: 22.5}), KEPT)

    assert [("cable-te-2.5", "51.00", "2026-11-05"), ("rcbo-b20", "22.50", DAY)] == [
        (row["part"], row["price"], row["priced_on"]) for row in rows(outcome)
    ]
    assert "line 2: your price list has a later word of B: 51.00 ex of 2026-11-05; it stays" in texts(outcome)
    newer = again(filled(LIST_B, {2: 49, 6: 22.5}), KEPT, priced_on="2026-11-05")
    assert [("49.00", "2026-11-05"), ("22.50", "2026-11-05")] == [
        (row["price"], row["priced_on"]) for row in rows(newer)
    ]


def test_what_a_merchant_sells_no_more_goes_out_and_stays_out_of_older_lists() -> None:
    outcome = again(filled(LIST_B, {2: "n/a", 6: 22.5}), KEPT, priced_on="2026-11-06")
    file = outcome.files[PRICES].decode()

    # Line 1 asks for drums of 50 m, and is blank: the price of those stays.
    assert (
        HEADER + 'cable-te-2.5,B,100,,ex,2026-11-06,,,"not sold: north.xlsx, line 2; was 51.00 ex of 2026-11-05"\n'
        'rcbo-b20,B,1,22.50,ex,2026-11-06,,BR20,"priced list north.xlsx, line 6"\n'
    ) == file
    assert {} == again(filled(LIST_B, {2: 49}), file).files
    assert (
        'line 2: they write "n/a", and your price list has a later price of theirs: 51.00 ex of 2026-11-05; it stays'
    ) in texts(again(filled(LIST_B, {2: "n/a", 6: 22.5}), KEPT))
    assert "49.00" == next(
        row["price"]
        for row in rows(again(filled(LIST_B, {2: 49}), file, priced_on="2026-11-07"))
        if row["pack"] == "100"
    )


def test_a_price_on_asking_leaves_the_old_one_and_says_so() -> None:
    outcome = again(filled(LIST_B, {2: "POA", 6: 22.5}), KEPT, priced_on="2026-11-06")

    assert ["51.00", "22.50"] == [row["price"] for row in rows(outcome)]
    words = (
        'line 2: they write "POA"; their price on your list, 51.00 ex of 2026-11-05, still counts; ask, and give the new one '
        "with --price"
    )
    assert words in texts(outcome)


def test_a_maker_that_is_named_counts_and_two_are_told_apart() -> None:
    outcome = ran(
        filled(LIST_B, {5: 70, 6: 22.5}, note(5, "make Zed"), note(6, "Yak brand")), merchant="mo", write=True
    )

    assert ["zed", "yak"] == [row["match"] for row in rows(outcome)]
    assert ["a make", "mo make", "zed"] == [make_letter(name, ("mo", "B")) for name in ("A", "Mo", "ZED")]
    assert [] == [text for text in texts(outcome) if "has not said which make" in text]
    assert (
        "these have to be of one make, and are priced of several: Zed in line 5, Yak in line 6; they are never bought together, so "
        "ask for one make"
    ) in texts(outcome)


def test_words_that_were_accepted_stay_with_the_price() -> None:
    outcome = again(filled(LIST_B, {6: 22.5}, note(6, "only type C, grey")), KEPT, "6")

    assert "priced list north.xlsx, line 6; they write: only type C; grey" == rows(outcome)[1]["source"]


def texts(outcome: Outcome) -> list[str]:
    return [one.text for one in outcome.told]


def test_no_sum_and_no_basis_is_told_where_nothing_says_ex_or_inc() -> None:
    [of] = ran(filled(LIST_B, {6: 22.5}, basis=None)).lists

    assert [(None, None)] == [(one.basis, one.difference) for one in of.changes]
    assert 0 == of.sums.lines
    text = as_text(ran(filled(LIST_B, {6: 22.5}, basis=None)))
    assert "22.50 ex" not in text
    assert "VAT:" not in text
