"""Lists of everything, for any merchant: what is asked for, in which packs and lengths, and what is left open."""

import json
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estimator.buying.asked_lengths import lengths_mm
from estimator.buying.first_fit import enough
from estimator.buying.model import Cut
from estimator.documents.list_blank import every_blank_line
from estimator.documents.shelves import ListLine, up
from estimator.documents.shopping import (
    blank_lines,
    list_files,
    lists_data,
)
from estimator.result import Estimate
from tests import estimates, jobs
from tests.test_shopping_list import D, head_of, heading_row, in_two_trips, line_of, rows, sheets


def blank_of(estimate: Estimate, part: str) -> ListLine:
    return next(line for line in every_blank_line(estimate) if line.part == part)


def test_a_blank_list_is_made_for_each_kind_of_counter() -> None:
    assert [
        "to-be-priced-electrical.xlsx",
        "to-be-priced-electrical.csv",
        "to-be-priced-ground.xlsx",
        "to-be-priced-ground.csv",
        "to-be-priced-timber.xlsx",
        "to-be-priced-timber.csv",
    ] == list(list_files(estimates.rich(), blank=True))
    assert "to-be-priced-electrical-trip-2.csv" in list_files(in_two_trips(estimates.rich()), blank=True)


def test_blank_lists_hold_all_parts_of_the_order_whoever_sells_them_and_number_them_once() -> None:
    of = estimates.rich()
    lines = [line for counter in ("electrical", "timber", "ground", "hire") for line in blank_lines(of, counter)]

    assert list(range(1, len(lines) + 1)) == [line.number for line in lines]
    assert {line.part for line in of.order.lines} == {line.part for line in lines}
    assert list(every_blank_line(of)) == lines
    assert {""} == {line.code for line in lines}


def test_a_blank_list_names_nobody_and_lets_the_merchant_say_who_it_is() -> None:
    files = list_files(estimates.rich(), blank=True)
    head = head_of(sheets(files["to-be-priced-electrical.xlsx"])["Electrical"])

    assert (None, None) == (head["To"], head["Priced by (name, telephone)"])
    assert {""} == {row["To"] for row in rows(files["to-be-priced-electrical.csv"])}


def test_blank_cable_says_metres_and_drums_to_choose_from() -> None:
    cable = blank_of(estimates.worked_example(), estimates.CABLE)

    # hand: 121.4 m in pieces of 24 and less: two of 100 m; of 50 m, 24 + 21.5, 20.6 + 20, 18.3 + 17 make three.
    assert (D("121.4"), 0, None) == (cable.quantity, cable.packs, cable.pack_size)
    assert "2 x 100 m or 3 x 50 m" == cable.pack
    assert "longest piece 24 m" == cable.note


def test_blank_cable_may_be_cut_where_it_is_sold_so() -> None:
    of = estimates.worked_example()
    prices = (*of.catalogue.prices, estimates.price(estimates.CABLE, "B", "1", "0.70", "ex"))
    catalogue = replace(of.catalogue, prices=prices)
    cable = blank_of(replace(of, catalogue=catalogue), estimates.CABLE)

    assert "2 x 100 m or 3 x 50 m, or cut" == cable.pack
    assert "Cable by the drum" == cable.shelf


def test_what_only_comes_cut_is_asked_for_length_by_length() -> None:
    line = blank_of(estimates.rich(), estimates.ARMOURED)

    assert ("cut, 34 m", 1, D(34), "Cable cut to length") == (line.pack, line.packs, line.pack_size, line.shelf)


def test_blank_timber_counts_the_saw_and_what_is_in_hand() -> None:
    line = blank_of(estimates.rich(), estimates.TIMBER)

    # hand: 7 pieces of 562 mm, of which 1 comes out of each of 2 off-cuts of 1.1 m in hand; 5 x 0.562 = 2.81, up 2.9.
    # 2.4 m holds 4 with 3 saw cuts of 3 mm (2.257), so 2; 3 m holds 5 (2.822), so 1.
    assert (D("2.9"), "in pieces: 5 x 0.562 m") == (line.quantity, line.note)
    assert "1 x 3 m or 2 x 2.4 m" == line.pack


@pytest.mark.parametrize(
    ("expected", "quantity", "unit", "sizes"),
    [
        # hand: 0.4 would be two packs of 0.36, 0.36 is one.
        ("0.36", "0.36", "m2", ("0.36", "0.74")),
        ("0.4", "0.36", "m2", ("0.74",)),
        ("0.4", "0.36", "m2", ()),
        ("0.73", "0.7294", "m2", ("0.74",)),
        ("0.733", "0.7324", "m2", ("0.733",)),
        # A need that three decimals cannot hold within its packs stays exact.
        ("0.73245", "0.73245", "m2", ("0.73245",)),
        ("5", "4.2", "nr", ("1", "10")),
        ("23.1", "23.1", "m", ("10",)),
    ],
)
def test_a_quantity_is_rounded_no_further_than_its_packs_allow(
    expected: str, quantity: str, unit: str, sizes: tuple[str, ...]
) -> None:
    assert D(expected) == up(D(quantity), unit, [D(size) for size in sizes])


def with_plywood(need: str) -> Estimate:
    """The greenhouse with that much plywood for its clips, sold by 0.36 and 0.74 m2."""
    parts = [jobs.part(estimates.CLIP, unit="m2", counter="timber")]
    prices = [estimates.price(estimates.CLIP, "A", pack, "9.00", "ex") for pack in ("0.36", "0.74")]
    of = estimates.rich(parts=parts, prices=prices)
    [first, *_] = [line for line in of.order.lines if line.part == estimates.CLIP]
    bought = [line for line in of.order.lines if line.part != estimates.CLIP]
    bill = [line for line in of.budget.bill if line.part != estimates.CLIP]
    [used, *_] = [line for line in of.budget.bill if line.part == estimates.CLIP]
    order = replace(of.order, lines=(*bought, replace(first, pack=D("0.36"), packs=1)))
    return replace(of, order=order, budget=replace(of.budget, bill=(*bill, replace(used, with_waste=D(need)))))


def test_what_fits_one_pack_is_asked_for_in_one() -> None:
    of = with_plywood("0.36")

    blank, chosen = blank_of(of, estimates.CLIP), line_of(of, "A", estimates.CLIP)
    assert (D("0.36"), "0.36 m2", 1) == (blank.quantity, blank.pack, blank.packs)
    assert (D("0.36"), "0.36 m2", 1) == (chosen.quantity, chosen.pack, chosen.packs)


def by_the_metre(*lengths: str) -> Estimate:
    """The greenhouse with its noggins bought by the metre: a price list with no lengths, but for those."""
    of = estimates.rich()
    pieces = tuple((f"noggin S{number}", D("562")) for number in range(1, 16))
    # hand: 15 x 562 + 14 x 3 = 8472, so 9 m.
    cut = Cut(estimates.TIMBER, "A", D(9000), pieces, D(528))
    [first, *_] = [line for line in of.order.lines if line.part == estimates.TIMBER]
    bought = [line for line in of.order.lines if line.part != estimates.TIMBER]
    prices = [price for price in of.catalogue.prices if price.part != estimates.TIMBER]
    prices += [estimates.price(estimates.TIMBER, "A", pack, "1.40", "ex") for pack in ("1", *lengths)]
    allowances = replace(of.job.allowances, kerf_mm=D(3))
    return replace(
        of,
        job=replace(of.job, allowances=allowances),
        catalogue=replace(of.catalogue, prices=tuple(prices)),
        order=replace(of.order, lines=(*bought, replace(first, pack=D(1), packs=9)), cuts=(cut,)),
    )


@pytest.mark.parametrize(
    ("expected", "lengths"),
    [
        # hand: 4.8 m holds 8 (8 x 562 + 7 x 3 = 4517); 7 are 3952. 4.52 + 3.96 = 8.48, no more than 9.
        ("in lengths of 1 x 4.52 m, 1 x 3.96 m, cut to order", ()),
        # hand: 2.4 m holds 4 (2257, so 2.26): 4 + 4 + 4 + 3 (1692, so 1.70); 3 x 2.26 + 1.70 = 8.48.
        ("in lengths of 3 x 2.26 m, 1 x 1.7 m, cut to order", ("2.4",)),
    ],
)
def test_timber_by_the_metre_is_asked_for_in_lengths_that_can_be_had(expected: str, lengths: tuple[str, ...]) -> None:
    line = line_of(by_the_metre(*lengths), "A", estimates.TIMBER)

    assert (D(9), "m", "metre, cut to order", D(1), 9) == (
        line.quantity,
        line.unit,
        line.pack,
        line.pack_size,
        line.packs,
    )
    assert "one length each" == line.one_length
    assert expected == line.note.partition("; ")[0]


def test_a_blank_list_asks_for_timber_by_the_metre_where_nobody_has_lengths() -> None:
    line = blank_of(by_the_metre(), estimates.TIMBER)

    assert ("metre, cut to order", 9) == (line.pack, line.packs)
    assert "in lengths of 1 x 4.52 m, 1 x 3.96 m, cut to order" == line.note.partition("; ")[0]
    assert "S1" not in line.note


@given(st.lists(st.integers(50, 3000), min_size=1, max_size=25), st.integers(2400, 6000), st.integers(0, 5))
def test_lengths_hold_every_piece_and_are_no_longer_than_is_stocked(pieces: list[int], longest: int, kerf: int) -> None:
    whole = sum(pieces) + kerf * (len(pieces) - 1)
    bought = -(-whole // 1000) * 1000
    lengths = lengths_mm([D(piece) for piece in pieces], D(longest), D(kerf), D(bought))

    # hand: fewer cuts are needed the more lengths there are, so together they are never more than what is bought.
    assert sum(lengths) <= bought
    assert sum(lengths) >= sum(pieces)
    assert max(lengths) <= max(longest, *pieces)
    assert sorted(lengths, reverse=True) == lengths


def test_blank_small_parts_name_a_pack_where_one_is_enough_and_leave_it_open_where_not() -> None:
    of = estimates.rich(
        parts=[jobs.part(estimates.ROSE, section="First fix wiring")],
        prices=[
            estimates.price(estimates.ROSE, "B", "10", "0.30", "ex"),
            estimates.price(estimates.ROSE, "B", "50", "1.20", "ex"),
            estimates.price(estimates.ROSE, "B", "200", "4.20", "ex"),
        ],
    )
    labels, screws, sockets = (blank_of(of, part) for part in (estimates.ROSE, "screw-wood-5x70", estimates.SOCKET))

    # hand: 14 + 21 = 35 labels: 1 of 50, 4 of 10; 200 is more than enough, so it is not named, and two examples will do.
    assert "pack of 50 or 4 of 10" == labels.pack
    assert (D(35), 0, None) == (labels.quantity, labels.packs, labels.pack_size)
    # hand: 118 x 1.1 = 129.8, less 30 in hand = 99.8, so 100: one pack.
    assert (D(100), "pack of 100", 1, "") == (screws.quantity, screws.pack, screws.packs, screws.note)
    assert (D(6), "each", 6, "") == (sockets.quantity, sockets.pack, sockets.packs, sockets.note)


def test_a_pack_left_open_is_a_cell_to_fill_in_and_the_head_says_how() -> None:
    files = list_files(estimates.worked_example(), blank=True)
    sheet = sheets(files["to-be-priced-electrical.xlsx"])["Electrical"]
    at = {cell.value: cell.column for cell in sheet[heading_row(sheet)]}
    row = next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, at["What"]).value == estimates.CABLE)

    assert (
        "If Packs is empty, price the cheapest pack: write how many under Packs and what is in one under Note."
        in str(sheet["A2"].value)
    )

    cell = sheet.cell(row, at["Packs"])
    assert (None, "thin", False) == (cell.value, cell.border.left.style, cell.protection.locked)
    assert [""] == [
        row["Packs"] for row in rows(files["to-be-priced-electrical.csv"]) if row["What"] == estimates.CABLE
    ]


@given(st.lists(st.integers(1, 100), min_size=1, max_size=12), st.integers(1, 120), st.integers(0, 5))
def test_so_many_drums_are_always_enough(pieces: list[int], stock: int, kerf: int) -> None:
    count = enough([D(piece) for piece in pieces], D(stock), D(kerf))

    if max(pieces) > stock:
        assert count is None
    else:
        # hand: never fewer than the metres need, never more than one for each piece.
        assert count is not None
        assert -(-sum(pieces) // stock) <= count <= len(pieces)


@pytest.mark.parametrize(
    ("expected", "pieces", "stock", "kerf"),
    [
        (1, [60, 40], 100, 0),
        (2, [60, 40], 100, 1),  # the saw takes 1
        (2, [60, 50, 40, 50], 100, 0),
        (3, [60, 60, 60], 100, 0),
        (0, [], 100, 0),
        (None, [101], 100, 0),
    ],
)
def test_pieces_are_cut_whole(expected: int | None, pieces: list[int], stock: int, kerf: int) -> None:
    assert expected == enough([D(piece) for piece in pieces], D(stock), D(kerf))


def test_the_lists_as_data_say_the_same_as_the_tables() -> None:
    of = in_two_trips(estimates.rich())
    for blank in (False, True):
        files, told = list_files(of, blank), json.loads(lists_data(of, blank))

        assert list(files) == [name for one in told for name in one["files"]]
        for one in told:
            table = rows(files[one["files"][1]])
            assert [(str(line["line"]), line["what"], str(line["packs"] or "")) for line in one["lines"]] == [
                (row["Line"], row["What"], row["Packs"]) for row in table
            ]
            assert {one["merchant"] or ""} == {row["To"] for row in table}
            assert one["trip"] in (1, 2)
