"""Counts of a radial, a ring and a tree by hand, and where every quantity comes from."""

from decimal import Decimal as D

import pytest

from estimator.result import Estimate
from estimator.takeoff.labels import ids_as_text
from tests.shed import sockets, worked


def quantity(of: Estimate, part: str) -> D:
    return sum((line.quantity for line in of.takeoff.quantities if line.part == part), D(0))


def ends(of: Estimate, board: str) -> tuple[int, int]:
    names = [end for leg in of.routes.legs for end in (leg.start, leg.end)]
    return sum(name != board for name in names), names.count(board)


@pytest.mark.parametrize(
    ("wiring", "count", "legs", "at_points", "at_board"),
    # hand (check values 8, 9, 10): a radial of n has n legs, 2n - 1 ends at points and 1 at the board; a ring n + 1
    # legs, 2n and 2; a tree n legs, 2n - 1 and 1
    [("radial", 14, 14, 27, 1), ("ring", 14, 15, 28, 2), ("branching", 8, 8, 15, 1)],
)
def test_cable_ends_by_wiring(wiring: str, count: int, legs: int, at_points: int, at_board: int) -> None:
    of = worked(sockets(count, wiring))
    assert (legs, (at_points, at_board)) == (len(of.routes.legs), ends(of, "CU"))


def test_fourteen_double_sockets_on_a_radial() -> None:
    of = worked(sockets(14))
    # hand and common practice (check values 11): 14 boxes, 56 long screws where no bay is shared, 28 box screws,
    # 27 grommets: one for each cable entering a metal box, two entries on a radial except the last
    assert D(14) == quantity(of, "box-metal-2g-35")
    assert D(4 * len(of.setout.noggins)) == quantity(of, "screw-wood-5x70") - board_screws(of)
    assert D(28) == quantity(of, "screw-wood-4x30-pan")
    assert D(27) == quantity(of, "grommet-20")
    assert D(14) == quantity(of, "socket-2g-dp")


def board_screws(of: Estimate) -> D:
    rows = [row for row in of.catalogue.kits["consumer-unit"] if row.part == "screw-wood-5x70"]
    return sum((row.quantity for row in rows), D(0))


def test_noggins_that_share_no_bay_are_562_long_each() -> None:
    of = worked(sockets(14))
    alone = [noggin for noggin in of.setout.noggins if noggin.length_mm == 562]
    # hand (check values 1): 600 centres less a 38 mm stud
    assert len(alone) >= 10
    timber = sum((noggin.length_mm for noggin in of.setout.noggins), D(0)) / 1000
    kits = sum(
        (row.quantity * row.pieces for row in of.catalogue.kits["consumer-unit"] if row.part == "timber-38x89"), D(0)
    )
    assert timber + kits == quantity(of, "timber-38x89")


def test_every_line_says_what_it_is_made_of_and_where_it_was_written() -> None:
    of = worked(sockets(12))
    boxes = next(line for line in of.takeoff.quantities if line.part == "box-metal-2g-35")
    assert [("S1 to S12", "shed", D(12))] == [(made.of, made.room, made.quantity) for made in boxes.made_of]
    assert [("job.toml", 36)] == [(place.file, place.line) for place in boxes.source]
    for line in of.takeoff.quantities:
        assert line.quantity == sum((made.quantity for made in line.made_of), D(0)), line.part
        assert line.source, line.part


def test_cable_is_counted_as_fixed_and_as_cut() -> None:
    of = worked(sockets(12))
    cable = next(line for line in of.takeoff.quantities if line.part == "te-2.5")
    assert cable.quantity == sum((D(leg.length_mm) for leg in of.routes.legs), D(0)) / 1000
    assert cable.with_waste == sum((D(leg.cut_mm) for leg in of.routes.legs), D(0)) / 1000
    # hand: every leg is its route and two tails (200 mm in a box, 1 m at the board)
    assert [leg.route_mm + (1200 if leg.start == "CU" else 400) for leg in of.routes.legs] == [
        leg.length_mm for leg in of.routes.legs
    ]


def test_a_trench_shared_by_two_runs_is_dug_and_taped_once() -> None:
    ground = """
[[trench]]
name = "lawn"
stretches = [{ length = "22 m", depth = "600 mm", width = "300 mm", surface = "lawn" }]

[[run]]
name = "feed"
cable = "swa-3c-10"
from = "outside: house"
to = "CU"
stretches = [{ in = "building", length = "4 m" }, { in = "trench", trench = "lawn" }, { in = "building", length = "1.8 m" }]
entry = "450 mm"
"""
    second = ground[ground.index("[[run]]") :].replace('"feed"', '"link"').replace("swa-3c-10", "data-cat6-outdoor")
    one, two = worked(sockets(4, more=ground)), worked(sockets(4, more=ground + second))
    tape = quantity(one, "tape-warning")
    # hand: the length of the trench; laps are in the waste of the part
    assert tape == 22
    assert tape == quantity(two, "tape-warning")
    # published (the design's worked example, check values 31): 31.9 m before waste
    assert [31900, 31900] == [run.length_mm for run in two.routes.runs]


def test_labour_is_a_range_and_unpriced_without_a_rate() -> None:
    of = worked(sockets(12))
    assert of.budget.hours_self.low < of.budget.hours_self.likely < of.budget.hours_self.high
    assert not of.budget.labour_priced
    boxes = next(task for task in of.takeoff.labour if task.task == "Fix a box and bring cables in: double-socket")
    # from memory (labour.csv): 6 to 14 minutes a box, 10 likely
    assert (D(12), D(72), D(120), D(168)) == (
        boxes.count,
        boxes.low_minutes,
        boxes.likely_minutes,
        boxes.high_minutes,
    )


def test_neighbours_are_drawn_together() -> None:
    assert ids_as_text([("S", 3), ("S", 1), ("S", 2), ("F", 1), ("S", 7), ("S", 8)]) == "F1, S1 to S3, S7, S8"


def test_one_more_double_socket_costs_six_to_ten_in_materials() -> None:
    """Common practice (check values 40): at ordinary shelf prices, taken over twelve more so that packs even out."""
    few, many = worked(sockets(8)), worked(sockets(20))
    one = sum((line.amount for line in many.budget.bill), D(0)) - sum((line.amount for line in few.budget.bill), D(0))
    assert 6 <= one / 12 <= 10
