"""Lists as people send them on the second day: packs that are pieces, ranges, changed rows, commas, marks of another list."""

import csv
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from io import StringIO
from pathlib import Path
from shutil import copytree

import pytest
from typer.testing import CliRunner

from estimator.catalogue.columns import TABLES
from estimator.catalogue.read import folded
from estimator.catalogue.rows import Source, rows_of
from estimator.checks.prices import delivery_unknown
from estimator.cli import app
from estimator.documents.returned import as_text
from estimator.problems import Place, Problem
from estimator.returned.asked_pack import Offer, Settled
from estimator.returned.figures import Unfit, figure
from estimator.returned.kept import _out_since
from estimator.returned.pasted import as_typed, typed_lines
from estimator.returned.pers import basis_words, per_words
from estimator.returned.settle import settle
from tests.estimates import price
from tests.test_returned_changes import ran
from tests.test_returned_figures import DRUMS, LINE, OPEN, RATE, priced
from tests.test_returned_lists import LIST_B, PRICES_B, D, files, filled, put, read, rich
from tests.test_returned_notes import said

STUDIO = Path(__file__).parents[1] / "examples" / "pottery-studio"
EIGHT = replace(LINE, quantity=D(8), pack=None, packs=0, pack_words="as you sell it, e.g. 1 pack of 10 or 8 single")
LENGTHS = replace(OPEN, pack_words="lengths as you sell them, e.g. 2 x 4.8 m or 3 x 3.6 m")


def test_as_many_packs_as_pieces_are_pieces() -> None:
    # hand: 8 packs for 8 pieces can hold one each; 2 packs may be of 4, of 5 or of 100.
    assert Settled(D(1), 8, D("0.75")) == settle(EIGHT, priced("0.75"), None, None, Offer(packs=8), RATE)
    assert isinstance(settle(EIGHT, priced("0.75"), None, None, Offer(packs=2), RATE), Unfit)


@pytest.mark.parametrize(("units", "text"), [(25, "25/box"), (5, "box 5"), (25, "25 m each"), (100, "100 / pack")])
def test_a_pack_is_named_in_more_ways(units: int, text: str) -> None:
    per = per_words(text)

    assert per is not None
    assert ("pack", D(units)) == (per.kind, per.units)


def test_words_after_a_pack_hold_the_line_with_that_pack() -> None:
    found = said(LINE, "38.00", "pack of 5 cool white")

    assert not isinstance(found, str)
    assert ("held", D(5), "pack of 5 cool white") == (found.status, found.pack, found.said)


def test_so_many_for_a_sum_is_no_pack_of_pounds() -> None:
    for text in ("2 for 1.10", "2 for £1.10"):
        found = priced(text)
        assert found.per is not None
        assert (D("1.10"), "units", D(2)) == (found.money, found.per.kind, found.per.units)
    assert D("4.15") == priced("4.15 for 100").money


@pytest.mark.parametrize("text", ["10 for 100", "3 for 2", "2 @ 1.10"])
def test_what_may_be_two_sums_is_asked(text: str) -> None:
    assert isinstance(figure(text, "GBP"), Unfit)


@pytest.mark.parametrize("text", ["ex VAT net", "net ex VAT", "ex VAT nett", "trade ex VAT"])
def test_net_beside_ex_changes_nothing(text: str) -> None:
    assert "ex" == basis_words(text)
    assert basis_words("net") is None


def test_timber_is_not_wound_on_a_drum() -> None:
    assert "sold in lengths" in str(said(LENGTHS, "12.00", "drum of 4.8 m"))
    assert not isinstance(said(DRUMS, "12.00", "drum of 100 m"), str)


@pytest.mark.parametrize(
    ("numbers", "text"),
    [
        ([57, 58, 59, 60], "57-60 16.50 each"),
        ([57, 58], "lines 57 to 58: 16.50"),
        ([3, 4], "3–4 n/a"),
        ([7], "7 - 41.50"),
        ([], "2-3 days"),
        ([], "10-14 days from order"),
        ([5], "5 3-4"),
    ],
)
def test_a_range_of_typed_lines_has_one_price(numbers: Sequence[int], text: str) -> None:
    assert list(numbers) == [one.number for one in typed_lines("call.txt", text).typed]


def test_who_types_is_told_what_to_type() -> None:
    [typed] = typed_lines("call.txt", "7 0.75").typed
    asked = Problem(
        Place("call.txt", 1),
        "line 7",
        "why",
        'write under Note what is in one pack, as in "pack of 100", or "per piece"',
    )

    assert (
        'write after the price what is in one pack, as in "7 0.75; pack of 100", or "7 0.75; per piece"'
        == as_typed(asked, typed).write
    )


def test_a_line_that_was_changed_is_not_told_as_missing() -> None:
    numbers = range(1, 8)
    returned = read(filled(LIST_B, PRICES_B, *(put(line, "What", "something else") for line in numbers if line != 2)))

    # Five changed rows are told one by one, the sixth is counted: all six are on the list.
    assert ["changed"] * 6 == [answer.status for answer in returned.lines if answer.number != 2]
    assert "not on the list that came back" not in as_text(ran(filled(LIST_B, PRICES_B, put(1, "What", "other"))))


def as_csv(mark: str, prices: Sequence[str], heading: str = "Price of one pack") -> bytes:
    """The greenhouse's list B with its cells parted by a mark, and with these prices, or under another heading."""
    rows = list(csv.reader(StringIO(files()[LIST_B.replace(".xlsx", ".csv")].decode("utf-8-sig"), newline="")))
    at = rows[0].index("Price of one pack")
    rows[0][at] = heading
    for row, told in zip(rows[1:], prices, strict=False):
        row[at] = told
    out = StringIO(newline="")
    csv.writer(out, delimiter=mark).writerows(rows)
    return out.getvalue().encode()


COMMAS = ("27,10", "49", "1.170,50", "0,03", "70", "22,5", "11,40")


def test_decimal_commas_in_every_price_are_one_convention() -> None:
    returned = read(as_csv(";", COMMAS), "list.csv", vat="ex")

    assert [] == list(returned.problems)
    assert [D("27.1"), D(49), D("1170.5"), D("0.03"), D(70), D("22.5"), D("11.4")] == [
        of.price for of in returned.lines
    ]
    assert [
        'every price is written with a decimal comma, and none with a point: "27,10" is read as 27.10, and so are all others'
    ] == [told.text for told in returned.told if "comma" in told.text]


@pytest.mark.parametrize("odd", ["27.10", "1,234", "27,105"])
def test_one_price_with_a_point_or_three_figures_leaves_the_question(odd: str) -> None:
    returned = read(as_csv(";", (odd, *COMMAS[1:])), "list.csv", vat="ex")

    assert any("may be read in two ways" in of.found for of in returned.problems)


def test_prices_under_no_heading_are_told_with_the_cell_to_write_into() -> None:
    returned = read(as_csv(",", ("27.10", "49"), ""), "list.csv", vat="ex")

    [told] = [one.text for one in returned.told if "without a heading" in one.text]
    assert 'if they are prices, write "Price of one pack" above them, as column 14 of row 1' in told


def test_a_mark_of_another_list_than_the_one_named_is_asked() -> None:
    outcome = read(filled(LIST_B, PRICES_B), of="A")

    assert ["its mark TXR-2829 is that of the list for B, and you say --list with another"] == [
        of.found for of in outcome.problems
    ]


def test_lines_without_a_number_of_packs_are_counted_beside_the_sum() -> None:
    name = "to-be-priced-electrical.xlsx"
    [of] = ran(
        filled(name, {}, put(1, "Price of one pack", 27), put(1, "Note", "50 m"), blank=True), merchant="B"
    ).lists

    assert (0, 1) == (of.sums.lines, of.sums.left_open)


def test_an_unknown_delivery_is_a_note_and_nothing_is_a_known_one() -> None:
    table = next(of for of in TABLES if of.name == "merchants")
    data = b"merchant,delivery,free_over,minimum,currency,vat,vat_rate\nB,,,,GBP,ex,20 %\nA,0.00,,,GBP,inc,20 %\n"
    found, wrong = rows_of(table, Source("merchants.csv", data))
    catalogue = replace(rich().catalogue, merchants={key[0]: row for key, row in found.items()})

    assert [] == wrong
    assert [(D(0), False), (D(0), True)] == [(row.delivery, row.delivery_known) for row in found.values()]
    assert ["B"] == [one.subject for one in delivery_unknown(catalogue, rich().order)]


def test_problems_of_many_rows_that_say_the_same_are_one() -> None:
    same = [Problem(Place("prices.csv", row), "merchant", '"zed" is no merchant', "add it") for row in range(66, 1, -1)]
    other = Problem(Place("prices.csv", 3), "part", '"x" is no part', "add it")

    assert [
        'prices.csv:2: merchant: "zed" is no merchant, here and in rows 3, 4, 5, 6, 7 and 59 more; add it',
        'prices.csv:3: part: "x" is no part; add it',
    ] == [str(one) for one in folded([*same, other])]


def test_the_command_says_what_the_job_comes_to_with_the_new_prices(tmp_path: Path) -> None:
    job = copytree(STUDIO, tmp_path / "studio", ignore=lambda *_: ["out"])
    typed = ["prices", str(job), "--price", "te-2.5@100=10.00 ex", "--merchant", "kev", "--priced-on", "2026-10-25"]
    before = CliRunner().invoke(app, ["estimate", str(job)]).output
    kept = CliRunner().invoke(app, [*typed, "--accept", "te-2.5", "--write"]).output
    after = CliRunner().invoke(app, ["estimate", str(job)]).output

    was, now = (next(part for part in text.split() if part.startswith("£")) for text in (before, after))
    # measured by the command itself: what it says before it writes is what the estimate comes to afterwards.
    assert f"The job comes to {now} inc VAT with these prices, and came to {was} before" in kept
    assert "kev,,,,GBP,ex,20 %" in (job / "merchants.csv").read_text()
    assert "What kev charges for delivery is not known" in CliRunner().invoke(app, ["check", str(job)]).output.replace(
        "\n    ", " "
    )


def test_our_pack_in_another_number_may_be_priced_for_all_of_them() -> None:
    # "2 x 100 m" beside 49.00, where 1 x 100 m was asked for: one drum, or both?
    one = replace(DRUMS, packs=1, quantity=D(90))
    held, same = said(one, "49.00", "2 x 100 m"), said(DRUMS, "49.00", "2 x 100 m")

    assert not isinstance(held, str)
    assert not isinstance(same, str)
    assert ("held", "priced") == (held.status, same.status)


def test_what_a_merchant_does_not_sell_holds_for_every_pack_of_the_part() -> None:
    out = {("wire", "B", D(100)): date(2026, 11, 5), ("wire", "B", D(50)): date(2026, 11, 2)}
    sold = {("wire", "B", D(25)): price("wire", "B", "25", "9", "ex")}
    # No pack of theirs is for sale: the later day counts, whatever the pack of an older list.
    assert date(2026, 11, 5) == _out_since(("wire", "B", D(1)), {}, out)
    # They still sell another pack: the row of the pack itself counts alone.
    assert [None, date(2026, 11, 2)] == [_out_since(("wire", "B", D(of)), sold, out) for of in (1, 50)]
    assert None is _out_since(("wire", "C", D(50)), {}, out)
