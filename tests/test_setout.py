"""Points and boards in their places. Every expected value is `hand` (worked beside it) unless it says otherwise."""

from dataclasses import replace
from decimal import Decimal
from itertools import combinations

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from estimator.building.build import build
from estimator.building.studs import bays
from estimator.checks.model import Finding
from estimator.job.model import Board, Group, Height, Job, Room, Soffit
from estimator.problems import Refused
from estimator.setout.model import Point, SetOut
from estimator.setout.place import set_out
from tests.jobs import (
    UNKNOWN_JOISTS,
    at,
    at_xy,
    board,
    catalogue,
    door,
    fitted,
    frame,
    grid,
    group,
    job,
    light,
    on,
    room,
    section,
    spread,
    void,
    window,
)

CATALOGUE = catalogue()


def lay(*groups: Group, rooms: Room | None = None, boards: tuple[Board, ...] = ()) -> SetOut:
    return lay_job(job([rooms or room()], groups, boards))


def lay_job(whole: Job) -> SetOut:
    return set_out(whole, CATALOGUE, build(whole))


def alongs(points: tuple[Point, ...], wall: str) -> list[int | None]:
    return [point.along_mm for point in points if point.wall == wall]


def told(found: SetOut, check: str) -> list[Finding]:
    return [finding for finding in found.findings if finding.check == check]


def refused(*groups: Group, rooms: Room | None = None, boards: tuple[Board, ...] = ()) -> list[str]:
    with pytest.raises(Refused) as caught:
        lay(*groups, rooms=rooms, boards=boards)
    return [f"{problem.where}: {problem.found}; {problem.write}" for problem in caught.value.problems]


# Round the room and along walls


def test_twelve_boxes_round_the_worked_room_stand_where_the_design_says() -> None:
    # hand, design section 6: f = 333, sum 2602
    found = lay(group("S", "double-socket", spread(12)), rooms=room(openings=[door()]))
    assert alongs(found.points, "back") == [333, 2000, 3692, 5308]
    assert alongs(found.points, "right") == [1000, 2666]
    assert alongs(found.points, "front") == [333, 2000, 3692, 5308]
    assert alongs(found.points, "left") == [1000, 2666]
    assert sum(point.moved_mm**2 for point in found.points) == 2602
    assert [point.id for point in found.points] == [f"S{number}" for number in range(1, 13)]


def test_places_in_the_building_count_from_the_rooms_own_place_and_level() -> None:
    # hand: right wall runs from back to front: y = 4000 - 1000; the plan adds 10000, 500 and the floor 2600
    found = lay(group("S", "double-socket", at(("right", 1000))), rooms=room(at=(10000, 500), floor_level=2600))
    assert found.points[0].at == (6000, 3000, 1100)
    assert found.points[0].xyz_mm == (16000, 3500, 3700)


def test_places_on_named_walls_are_even_wall_by_wall_and_numbered_clockwise() -> None:
    # hand: 6000 / 5: 600, 1800 ... all on studs; 135 wide: clear to 581 - 5 - 67.5 = 508 or from 692; of two the lower
    # hand: 4000 / 3: 667, 2000, 3333; the stud at 600 ends at 619, so the first is from 692; 3333 is clear
    found = lay(group("S", "double-socket", on(left=3, back=5)))
    assert alongs(found.points, "back") == [508, 1708, 2908, 4108, 5308]
    assert alongs(found.points, "left") == [692, 2000, 3333]
    assert [point.wall for point in found.points] == ["back"] * 5 + ["left"] * 3
    assert [point.moved_mm for point in found.points] == [92] * 5 + [25, 0, 0]


def test_moves_are_told_once_for_a_group() -> None:
    found = lay(group("S", "double-socket", on(left=3, back=5)))
    assert [finding.message for finding in told(found, "moved")] == [
        "6 of 8 places moved off the even spacing, at most 92 mm (S1)"
    ]


def test_nothing_wanted_is_nothing_placed() -> None:
    assert lay(group("S", "double-socket", spread(0)), group("T", "double-socket", on(back=0))).points == ()


def test_boxes_keep_from_corners_and_openings() -> None:
    # hand: one place on a wall of 900 mm: half is 450, clear of a window from 500 up to 500 - 100 - 36 = 364
    small = room(size=(4000, 900), openings=[window("left", 500, 300)])
    found = lay(group("W", "switch", on(left=1)), rooms=small)
    assert alongs(found.points, "left") == [364]
    # hand: below its sill (900): 300 + 36 <= 900, so only the studs bind; 462-500 beside it: 462 - 5 - 36 = 421
    low = lay(group("W", "switch", on(left=1), height=300), rooms=small)
    assert alongs(low.points, "left") == [421]


def test_a_box_keeps_150_from_a_corner_and_is_noted_within_350() -> None:
    # hand: the only bay of a wall of 600 with studs 0-38 and 562-600; 150 + 67.5 = 217.5 to 382.5
    small = room(size=(4000, 600))
    found = lay(group("S", "double-socket", at(("left", 217), ("left", 383, 300), ("left", 218, 500))), rooms=small)
    assert [finding.subject for finding in told(found, "box-to-corner")] == ["S1", "S2"]
    near = told(found, "box-to-corner")[0]
    assert (near.level, near.value, near.limit) == ("ask", Decimal("149.5"), Decimal(150))
    assert near.message == (
        "S1 at 0.217 m on wall left: the box is 149.5 mm from the left end of left, less than 150 mm; "
        "nearest clear place 0.218 m"
    )
    assert [note.message for note in told(found, "box-to-corner-note")] == [
        "S1 to S3: nearer than 350 mm to a corner, 149.5 mm at the least"
    ]


def test_too_many_are_refused_with_how_many_fit() -> None:
    # hand: bays of 562 leave 562 - 2 x 72.5 = 417 for centres; 156 apart: 3 each. Back wall: 8 whole bays, 24; the two
    # end bays 38-581 from 217.5 to 508.5: 2 each. 28.
    said = refused(group("S", "double-socket", on(back=29)))
    assert said == [
        "points.S.on.back: 29 places do not fit on wall back at 1.10 m, clear of studs, corners, openings and what is "
        "placed before: 28 fit; write 28 or fewer, another height, or places one by one with at"
    ]
    assert len(lay(group("S", "double-socket", on(back=28))).points) == 28


def test_too_many_round_a_room_are_refused_and_all_problems_are_told_at_once() -> None:
    # hand: long walls 28 each, as above; walls of 4000: five whole bays 3 each, 38 to 581: 2, and 3619 to 3962 less the
    # corner, centres 3691.5 to 3782.5: 1, so 18 each. 92.
    said = refused(group("S", "double-socket", spread(93)), group("T", "switch", at(("back", 6001))))
    assert said[0].startswith('points.S.spread: 93 places do not fit round "studio" at 1.10 m')
    assert "92 fit" in said[0]
    assert said[1] == (
        "points.T.at.1: 6.001 m is not on wall back, which is 6.00 m long; write a place from 0 m to 6.00 m"
    )
    assert len(lay(group("S", "double-socket", spread(92))).points) == 92


def test_later_groups_keep_clear_of_earlier_ones() -> None:
    # hand: the even place of one on the left is 2000; a socket given there closes 2000 - (146 + 86) / 2 - 10 = 1874 to
    # 2126; both are as near, so the lower
    found = lay(
        group("S", "double-socket", at(("left", 2000, 1100))),
        group("W", "switch", on(left=1)),
    )
    assert alongs(found.points, "left") == [2000, 1874]
    # hand: 86 mm plates 97 apart in height: air of 11, so they do not bind
    higher = lay(
        group("S", "double-socket", at(("left", 2000, 1100))),
        group("W", "switch", on(left=1), height=1197),
    )
    assert alongs(higher.points, "left") == [2000, 2000]


def test_boards_stand_before_everything_and_bind_like_plates() -> None:
    # hand: the board is 260 x 240 at 2000, 1400: its lower edge is at 1280; a plate at 1230 reaches 1273, 7 mm from
    # it, so it binds; (260 + 86) / 2 + 10 = 183: up to 1817, where a stud is (1781-1819, so up to 1740), or from 2183
    found = lay(group("W", "switch", on(left=1), height=1230), boards=(board(along=2000),))
    assert alongs(found.points, "left") == [2183]
    lower = lay(group("W", "switch", on(left=1), height=1227), boards=(board(along=2000),))  # 10 mm of air
    assert alongs(lower.points, "left") == [2000]


def test_named_walls_come_before_spread_and_fewer_legal_places_before_more() -> None:
    # hand: both want 2000 on the left wall; the deep window on the left leaves the lower group less room
    view = room(openings=[window("left", 2400, 1200, sill=0, head=1000)])
    low = group("L", "switch", on(left=1), height=950)
    high = group("H", "switch", on(left=1), height=1040)
    found = lay(high, low, rooms=view)
    assert {point.id: point.along_mm for point in found.points}["L1"] == 2000
    assert {point.id: point.along_mm for point in found.points}["H1"] == 1904  # 96 from it; of two the lower


def test_of_groups_with_equal_legal_places_the_lower_stands_first() -> None:
    found = lay(group("A", "switch", on(left=1), height=1150), group("B", "switch", on(left=1), height=1100))
    places = {point.id: point.along_mm for point in found.points}
    assert places == {"A1": 1904, "B1": 2000}


def test_a_group_avoids_what_it_is_told_to() -> None:
    # hand: the bench lies from 1500 to 2500 and 0 to 900; at 850 the box (36 either way) would lie over it: 1500 - 36 =
    # 1464; at 936 its edge just touches the top: clear
    bench = room(fitted=[fitted("bench", "left", 1500, 1000, 0, 900)])
    low = lay(group("W", "switch", on(left=1), height=850, avoid=("bench",)), rooms=bench)
    high = lay(group("W", "switch", on(left=1), height=936, avoid=("bench",)), rooms=bench)
    heedless = lay(group("W", "switch", on(left=1), height=850), rooms=bench)
    assert [alongs(found.points, "left") for found in (low, high, heedless)] == [[1464], [2000], [2000]]


def test_heights_count_from_the_floor_the_ground_or_a_fitted_thing() -> None:
    bench = room(ground=-150, fitted=[fitted("bench", "back", 300, 2400, 0, 900)])
    found = lay(
        group("B", "double-socket", at(("back", 900)), height=Height(150, "bench")),
        group("O", "outdoor-socket", at(("back", 900)), height=Height(450, "ground"), surface="outside"),
        rooms=bench,
    )
    assert [point.height_mm for point in found.points] == [1050, 300]


def test_a_height_above_what_is_not_there_is_refused() -> None:
    said = refused(group("B", "double-socket", on(left=1), height=Height(150, "bench")))
    assert said == [
        'points.B.height: nothing named "bench" is fitted on wall left of "studio"; '
        "write a fitted thing of that wall, or a height above the floor"
    ]
    assert (
        "no ground level"
        in refused(
            group("O", "outdoor-socket", spread(2), height=Height(450, "ground"), surface="outside"),
            rooms=room(ground=None),
        )[0]
    )


def test_round_a_room_a_height_above_a_bench_uses_only_the_walls_with_the_bench() -> None:
    bench = room(fitted=[fitted("bench", "back", 300, 2400, 0, 900)])
    found = lay(group("B", "double-socket", spread(4), height=Height(150, "bench")), rooms=bench)
    assert {point.wall for point in found.points} == {"back"}


def test_walls_of_an_outline_are_followed_from_the_first_corner() -> None:
    tent = room(outline=((0, 3000), (2000, 5000), (4000, 3000), (4000, 0), (0, 0)))
    found = lay(group("S", "double-socket", on(**{"wall-4": 1, "wall-1": 1})), rooms=tent)
    # hand: 2828 / 2 = 1414, clear of the studs 1181-1219 and 1781-1819; x = 1414 / sqrt 2 = 999.85
    assert [(p.wall, p.along_mm, p.at) for p in found.points] == [
        ("wall-1", 1414, (1000, 4000, 1100)),
        ("wall-4", 2000, (2000, 0, 1100)),
    ]


# Places given one by one


def test_a_place_given_in_a_stud_stays_and_is_told_with_the_nearest_clear_one() -> None:
    found = lay(group("S", "double-socket", at(("back", 4000), ("back", 2300), ("back", 601))))
    assert alongs(found.points, "back") == [4000, 2300, 601]
    # hand: 2300 + 67.5 = 2367.5, 13.5 from the stud 2381-2419; 601 is over 581-619: 508 (93) or 692 (91)
    [only] = told(found, "box-to-stud")
    assert (only.level, only.subject, only.source) == ("stop", "S3", "common practice")
    assert only.message == ("S3 at 0.601 m on wall back: the box meets the stud at 0.60 m; nearest clear place 0.692 m")
    assert all(point.moved_mm == 0 for point in found.points)


def test_of_two_clear_places_equally_near_the_lower_is_named() -> None:
    [only] = told(lay(group("S", "double-socket", at(("back", 600)))), "box-to-stud")
    assert only.message.endswith("nearest clear place 0.508 m")


def test_a_box_too_near_a_stud_is_a_question_with_its_distance() -> None:
    # hand: 510 + 67.5 = 577.5: 3.5 mm from 581
    [only] = told(lay(group("S", "double-socket", at(("back", 510)))), "box-to-stud")
    assert (only.level, only.value, only.limit, only.unit) == ("ask", Decimal("3.5"), Decimal(5), "mm")
    assert "the box is 3.5 mm from the stud at 0.60 m, less than 5 mm" in only.message


def test_a_box_over_an_opening_is_a_stop_and_tells_every_reason() -> None:
    found = lay(group("S", "double-socket", at(("front", 1480))), rooms=room(openings=[door()]))
    [only] = [finding for finding in found.findings if finding.level == "stop"]
    assert only.check == "box-to-opening"
    assert "the box meets the door at 0.60 m, and the box meets the stud at 1.519 m" in only.message
    # hand: clear from 1500 + 100 + 67.5 = 1667.5 (and from 1538 + 72.5 = 1610.5) to 1781 - 72.5
    assert only.message.endswith("nearest clear place 1.668 m")


def test_plates_keep_ten_millimetres_of_air() -> None:
    # hand, check values 14: 86 and 146 mm wide: 96, 126 and 156 mm between centres
    for first, second, apart in (
        ("single-socket", "single-socket", 96),
        ("single-socket", "double-socket", 126),
        ("double-socket", "double-socket", 156),
    ):
        for between, level in ((apart, []), (apart - 1, ["ask", "ask"])):
            found = lay(
                group("A", first, at(("back", 2000))),
                group("B", second, at(("back", 2000 + between))),
            )
            assert [finding.level for finding in told(found, "plate-air")] == level


def test_a_wall_without_a_clear_place_says_so() -> None:
    # hand: studs 0-38 and 162-200 of a wall of 200 leave 124 for a box of 135
    [only] = told(lay(group("S", "double-socket", at(("left", 100))), rooms=room(size=(4000, 200))), "box-to-stud")
    assert only.message.endswith("no clear place on this wall at this height")


def test_what_sits_on_the_lining_is_not_bound_by_studs_or_corners() -> None:
    # hand: a heater plate of 600 x 400 at 300 touches the corner; at 299 it reaches past the end
    found = lay(group("H", "panel-heater", at(("back", 300)), height=500))
    assert found.findings == ()
    [only] = lay(group("H", "panel-heater", at(("back", 299)), height=500)).findings
    assert (only.check, only.level) == ("wall-end", "stop")
    assert only.message.endswith("the box reaches past the left end of back; nearest clear place 0.30 m")


def test_a_place_off_its_wall_is_refused() -> None:
    # Sorted by place in the file, then address.
    assert refused(
        group("S", "double-socket", at(("back", 6000), ("left", 4001), ("back", 900, 2401))),
        boards=(board(along=-1),),
    ) == [
        "board.CU.along: -0.001 m is not on wall left, which is 4.00 m long; write a place from 0 m to 4.00 m",
        "points.S.at.2: 4.001 m is not on wall left, which is 4.00 m long; write a place from 0 m to 4.00 m",
        "points.S.at.3: 2.401 m above the floor is not on the wall; "
        "write a height from the floor (0.00 m) to the ceiling (2.40 m)",
    ]


def test_a_board_over_an_opening_or_past_the_end_is_a_stop() -> None:
    # hand: 260 wide: at 129 it reaches 1 mm past the end
    [past] = lay(boards=(board(along=129),)).findings
    assert (past.check, past.level, past.subject, past.value) == ("wall-end", "stop", "CU", Decimal(-1))
    [over] = lay(boards=(board(wall="front", along=1629),), rooms=room(openings=[door()])).findings
    assert (over.check, over.level) == ("box-to-opening", "stop")
    assert over.message == (
        "CU at 1.629 m on wall front: the board meets the door at 0.60 m; nearest clear place 1.63 m"
    )
    assert lay(boards=(board(wall="front", along=1630),), rooms=room(openings=[door()])).findings == ()


def test_a_box_that_reaches_past_the_floor_is_told() -> None:
    # hand: 72 high with its middle at 35: 1 mm below the floor
    found = lay(group("S", "double-socket", at(("back", 900)), height=35))
    assert [finding.message for finding in told(found, "box-height")] == [
        "S1: 72 mm high with the middle at 0.035 m, it reaches past the floor"
    ]


def test_kinds_nobody_knows_are_refused_together() -> None:
    said = refused(group("S", "duoble-socket", spread(2)), boards=(board(kind="consumer-unit-9"),))
    assert said[0].startswith('board.CU.kind: no kind "consumer-unit-9"; did you mean "consumer-unit-')
    assert said[1] == 'points.S.kind: no kind "duoble-socket"; did you mean "double-socket"?'


def test_a_way_of_placing_that_does_not_go_with_the_surface_is_refused() -> None:
    said = refused(group("DL", "downlight", spread(3), surface="ceiling"))
    assert said == ["points.DL.surface: no such places on a ceiling; write rows with columns, or at"]


# Outside


def test_a_point_outside_lies_on_the_cladding_and_heeds_no_stud() -> None:
    found = lay(group("O", "outdoor-socket", at(("back", 600)), height=300, surface="outside"))
    assert found.points[0].at == (600, 4000, 300)
    assert found.points[0].xyz_mm == (600, 4120, 300)  # hand: 89 + 11 + 20
    assert found.findings == ()


def test_a_point_outside_keeps_from_openings_and_corners_but_not_from_what_is_inside() -> None:
    # hand: one on the front: 3000 even; a window from 2900 to 4000 closes 2900 - 100 - 100 = 2700 to 4200
    view = room(openings=[window("front", 2900, 1100)])
    found = lay(
        group("S", "double-socket", at(("front", 2700))),
        group("O", "outdoor-socket", on(front=1), surface="outside"),
        rooms=view,
    )
    assert [(point.id, point.along_mm, point.moved_mm) for point in found.points] == [
        ("O1", 2700, 300),
        ("S1", 2700, 0),
    ]
    # hand: 200 wide, 150 from a corner: from 250 on
    near = lay(group("O", "outdoor-socket", at(("front", 249)), surface="outside"))
    assert [finding.check for finding in near.findings] == ["box-to-corner"]


# Ceilings and floors


def test_rows_with_edges_have_equal_centres_between_them() -> None:
    # hand: x 700 to 5300 in three steps of 1533.33; y 900 and 3100; joists close 61 either way of 400, 800 ...
    found = lay(group("DL", "downlight", grid(2, 4, (700, 900)), surface="ceiling"))
    assert [point.at for point in found.points] == [(x, y, 2400) for y in (900, 3100) for x in (700, 2233, 3767, 5300)]
    assert found.findings == ()


def test_rows_without_edges_have_half_a_spacing_at_the_ends_and_move_off_joists() -> None:
    # hand: 6000 / 3: 1000, 3000, 5000 between joists at 800 and 1200 ...; 4000 / 1: 2000
    found = lay(group("DL", "downlight", grid(1, 3), surface="ceiling"))
    assert [(point.at[0], point.moved_mm) for point in found.points] == [(1000, 0), (3000, 0), (5000, 0)]
    # hand: 6000 / 4: 750 is 50 from 800: to 739; 2250; 3750; 5250 is 50 from 5200: to 5261
    four = lay(group("DL", "downlight", grid(1, 4), surface="ceiling"))
    assert [(point.at[0], point.moved_mm) for point in four.points] == [(739, 11), (2250, 0), (3750, 0), (5261, 11)]
    assert [finding.message for finding in four.findings] == [
        "2 of 4 places moved off the even spacing, at most 11 mm (DL1)"
    ]


def test_of_two_clear_places_in_a_ceiling_the_lower_is_taken() -> None:
    # hand: with an edge of 400 the first is on the joist at 400: 339 or 461; 5600: 5539 or 5661
    found = lay(group("DL", "downlight", grid(1, 2, (400, 1000)), surface="ceiling"))
    assert [point.at[0] for point in found.points] == [339, 5539]


def test_rows_along_the_joists_move_whole() -> None:
    # hand: joists along x stand at y = 400 ... 3600; rows at 790 and 3210 are 10 from joists: to 739 (51)
    # or 861 (71), and to 3261 (51) or 3139 (71)
    found = lay(
        group("DL", "downlight", grid(2, 3, (700, 790)), surface="ceiling"), rooms=room(ceiling=void(along="x"))
    )
    assert [point.at[1] for point in found.points] == [739] * 3 + [3261] * 3
    assert {point.moved_mm for point in found.points} == {51}


def test_a_light_without_a_hole_stays_on_its_joist() -> None:
    found = lay(group("B", "batten", grid(1, 2, (1200, 2000)), surface="ceiling"))
    assert [point.at[0] for point in found.points] == [1200, 4800]


def test_a_place_given_on_a_ceiling_stays_and_is_told_with_the_nearest() -> None:
    found = lay(group("DL", "downlight", at_xy((1210, 2000), (1000, 2000)), surface="ceiling"))
    assert [point.at for point in found.points] == [(1210, 2000, 2400), (1000, 2000, 2400)]
    [only] = found.findings
    assert (only.level, only.subject) == ("stop", "DL1")
    assert only.message == (
        "DL1 at 1.21 m, 2.00 m: the cut-out of 75 mm meets the joist at 1.20 m; nearest clear place 1.261 m, 2.00 m"
    )


def test_a_hole_wider_than_the_space_between_joists_is_a_stop() -> None:
    # hand: 90 - 47 = 43 between joists and 90 - 23.5 = 66.5 beside the walls, less than 75
    tight = room(ceiling=void(joist=section(47, 145), centres=90))
    found = lay(group("DL", "downlight", grid(1, 2), surface="ceiling"), rooms=tight)
    [only] = found.findings
    assert (only.level, only.subject) == ("stop", "DL")
    assert only.message.startswith("DL1, DL2: the cut-out of 75 mm finds no clear place between the joists")


def test_a_grid_that_does_not_fit_is_refused() -> None:
    # hand: plates of 85 and 10 of air: 6000 / 95 = 63
    assert refused(group("DL", "downlight", grid(1, 64), surface="ceiling")) == [
        "points.DL.columns: 64 columns in 6.00 m do not fit at 95 mm or more apart: 63 do; write 63 or fewer"
    ]
    assert refused(group("DL", "downlight", grid(2, 2, (700, 2100)), surface="ceiling")) == [
        "points.DL.rows: 2 rows in 4.00 m with 2.10 m at the ends do not fit at 95 mm or more apart: 1 does; "
        "write 1 or fewer"
    ]
    shape = ((0, 3000), (2000, 5000), (4000, 3000), (4000, 0), (0, 0))
    assert refused(group("DL", "downlight", grid(2, 4), surface="ceiling"), rooms=room(outline=shape)) == [
        # hand: y 1250 and 3750; x 500 at y 3750 lies outside the slope, 1500 inside
        "points.DL: of 8 places 6 lie wholly in the room; "
        "write other rows, columns or edges, or places one by one with at"
    ]


def test_joists_nobody_described_are_told_unchecked() -> None:
    found = lay(group("DL", "downlight", grid(1, 3), surface="ceiling"), rooms=room(ceiling=UNKNOWN_JOISTS))
    assert [(finding.level, finding.subject) for finding in found.findings] == [("unchecked", "DL")]


def test_lights_that_crowd_each_other_are_told() -> None:
    found = lay(
        group("DL", "downlight", at_xy((1000, 2000)), surface="ceiling"),
        group("X", "downlight", at_xy((1094, 2000), (1000, 2095)), surface="ceiling"),
    )
    assert [finding.message for finding in told(found, "plate-air")] == [
        "DL1 and X1 on the ceiling: their plates are less than 10 mm apart"
    ]


def test_a_place_off_the_ceiling_is_refused() -> None:
    assert refused(group("DL", "downlight", at_xy((6001, 10)), surface="ceiling")) == [
        "points.DL.at.1: 6.001 m, 0.01 m is not inside the room; "
        "write x and y from the room's lowest corner, inside its walls"
    ]


def test_floor_places_lie_on_the_floor_and_heed_its_joists() -> None:
    joisted = room(floor=void(centres=400), floor_level=300)
    found = lay(group("F", "floor-socket", at_xy((1000, 1000), (1200, 1000)), surface="floor"), rooms=joisted)
    assert [(point.at, point.xyz_mm) for point in found.points] == [
        ((1000, 1000, 0), (1000, 1000, 300)),
        ((1200, 1000, 0), (1200, 1000, 300)),
    ]
    assert [(finding.level, finding.subject) for finding in found.findings] == [("stop", "F2")]


# Soffits


def eaves(depth: int = 600) -> Room:
    return room(soffits=[Soffit("front", depth)])


def test_a_soffit_row_at_centres_is_centred_on_the_wall() -> None:
    # hand, check values 15: six at 0.95 m are 4.75 m from first to last; (6000 - 4750) / 2 = 625 from each end
    found = lay(group("SL", "soffit-light", spread(6, "front", 950), surface="soffit"), rooms=eaves())
    xs = [point.xyz_mm[0] for point in found.points]
    assert xs == [5375, 4425, 3475, 2525, 1575, 625]  # the front runs from right to left
    assert xs[0] - xs[-1] == 4750
    # hand: 120 of wall and half of 600 out; as high as the ceiling; the inside face is where the cable leaves
    assert {point.xyz_mm[1:] for point in found.points} == {(-420, 2400)}
    assert {point.at[1:] for point in found.points} == {(0, 2400)}
    assert found.points[0].out_mm == 300
    assert (found.points[0].wall, found.points[0].along_mm, found.points[0].height_mm) == ("front", 625, None)


def test_an_even_soffit_row_has_half_a_spacing_at_its_ends() -> None:
    # hand: 6000 / 4: 750, 2250, 3750, 5250 from the right
    found = lay(group("SL", "soffit-light", spread(4, "front"), surface="soffit", out=100), rooms=eaves())
    assert [point.at[0] for point in found.points] == [5250, 3750, 2250, 750]
    assert {point.xyz_mm[1] for point in found.points} == {-220}


def test_soffit_places_can_be_given() -> None:
    found = lay(group("SL", "soffit-light", at(("front", 700)), surface="soffit"), rooms=eaves())
    assert found.points[0].at == (5300, 0, 2400)


def test_a_soffit_row_longer_than_its_wall_is_refused() -> None:
    # hand: 7 x 950 = 6650 for 8; 6000 // 950 + 1 = 7
    assert refused(group("SL", "soffit-light", spread(8, "front", 950), surface="soffit"), rooms=eaves()) == [
        "points.SL.spread: 8 places 0.95 m apart are 6.65 m from first to last, and front is 6.00 m long: 7 fit; "
        "write 7 or fewer, or nearer centres"
    ]
    assert (
        "has no soffit on wall back"
        in refused(group("SL", "soffit-light", spread(2, "back"), surface="soffit"), rooms=eaves())[0]
    )
    assert (
        "0.601 m out from the wall"
        in refused(group("SL", "soffit-light", spread(2, "front"), surface="soffit", out=601), rooms=eaves())[0]
    )


# The order of files and names


def busy() -> Job:
    garden = room(
        openings=[door(), window("back", 2000, 1500)],
        fitted=[fitted("bench", "left", 500, 2000, 0, 900)],
        soffits=[Soffit("front", 500)],
    )
    groups = (
        group("S", "double-socket", spread(9)),
        group("T", "single-socket", spread(5), height=450),
        group("W", "switch", on(front=2, left=1), height=1150, avoid=("bench",)),
        group("G", "double-socket", at(("back", 600), ("right", 1500))),
        group("DL", "downlight", grid(2, 4), surface="ceiling"),
        group("SL", "soffit-light", spread(3, "front"), surface="soffit"),
        group("O", "outdoor-socket", spread(3), height=Height(450, "ground"), surface="outside"),
    )
    return job([garden], groups, [board()])


def test_the_order_of_groups_in_the_file_changes_nothing() -> None:
    whole = busy()
    turned = replace(whole, groups=tuple(reversed(whole.groups)))
    assert lay_job(turned) == lay_job(whole)


def test_renaming_groups_changes_nothing_but_names() -> None:
    whole = busy()
    names = {"S": "A", "T": "ZZ", "W": "Q", "G": "M", "DL": "K", "SL": "C", "O": "B"}
    renamed = replace(whole, groups=tuple(replace(one, name=names[one.name]) for one in whole.groups))

    def bare(found: SetOut, known: dict[str, str]) -> list[object]:
        places = [(known[p.group], p.number, p.at, p.xyz_mm, p.moved_mm) for p in found.points]
        return sorted(places, key=repr)

    assert bare(lay_job(renamed), {name: name for name in names.values()}) == bare(lay_job(whole), names)
    assert len(lay_job(renamed).noggins) == len(lay_job(whole).noggins)


def test_results_are_sorted_by_name_then_number() -> None:
    points = lay_job(busy()).points
    assert [(point.group, point.number) for point in points] == sorted((p.group, p.number) for p in points)


# Whatever the room


@given(
    size=st.tuples(st.integers(1500, 7000), st.integers(1500, 5000)),
    centres=st.sampled_from([400, 600]),
    opening=st.tuples(st.integers(0, 5000), st.integers(300, 2000), st.sampled_from([0, 900])),
    first=st.integers(1, 8),
    second=st.integers(1, 6),
    heights=st.tuples(st.integers(200, 2200), st.integers(200, 2200)),
)
@settings(max_examples=60, deadline=None)
def test_every_place_found_is_a_legal_one(
    size: tuple[int, int],
    centres: int,
    opening: tuple[int, int, int],
    first: int,
    second: int,
    heights: tuple[int, int],
) -> None:
    along, width, sill = opening
    assume(along + width <= size[0])
    view = room(size=size, openings=[window("back", along, width, sill=sill)], walls=frame(centres=centres))
    groups = (
        group("S", "double-socket", spread(first), height=heights[0]),
        group("W", "switch", on(left=1, back=second), height=heights[1]),
    )
    whole = job([view], groups)
    try:
        found = lay_job(whole)
    except Refused:
        return
    assert {finding.check for finding in found.findings} <= {"moved", "box-to-corner-note", "noggin-overlap"}
    shape = build(whole).rooms[0]
    sizes = {"double-socket": (Decimal(135), 146), "switch": (Decimal(72), 86)}
    for point in found.points:
        assert point.wall is not None
        assert point.along_mm is not None
        assert point.height_mm is not None
        wall = shape.wall(point.wall)
        half = sizes[point.kind][0] / 2
        box = (point.along_mm - half, point.along_mm + half)
        assert box[0] >= 150
        assert box[1] <= wall.length_mm - 150
        tall = (point.height_mm - 36, point.height_mm + 36)
        assert any(bay[0] + 5 <= box[0] and box[1] <= bay[1] - 5 for bay in bays(wall, *tall))
        if wall.name == "back" and tall[0] < 2100 and sill < tall[1]:
            assert box[1] <= along - 100 or along + width + 100 <= box[0]
    for a, b in combinations(found.points, 2):
        if a.wall == b.wall and abs((a.height_mm or 0) - (b.height_mm or 0)) < 96:
            plates = (sizes[a.kind][1] + sizes[b.kind][1]) // 2
            assert abs((a.along_mm or 0) - (b.along_mm or 0)) >= plates + 10


@given(
    size=st.tuples(st.integers(1500, 7000), st.integers(1500, 5000)),
    rows=st.integers(1, 4),
    columns=st.integers(1, 6),
    centres=st.sampled_from([300, 400, 600]),
    along=st.sampled_from(["x", "y"]),
    hole=st.integers(40, 200),
)
@settings(max_examples=60, deadline=None)
def test_every_hole_in_a_ceiling_is_clear_of_joists_and_walls(
    size: tuple[int, int], rows: int, columns: int, centres: int, along: str, hole: int
) -> None:
    over = void(centres=centres, along="x" if along == "x" else "y")
    whole = job([room(size=size, ceiling=over)], [group("DL", "downlight", grid(rows, columns), surface="ceiling")])
    found = set_out(whole, catalogue(lights=[light("downlight", hole)]), build(whole))
    axis = 0 if along == "y" else 1
    for point in found.points:
        nearest = min(abs(point.at[axis] - joist) for joist in range(centres, size[axis], centres))
        assert nearest * 2 >= 47 + hole
        assert hole <= 2 * point.at[0] <= 2 * size[0] - hole
        assert hole <= 2 * point.at[1] <= 2 * size[1] - hole
    assert len(found.points) == rows * columns
