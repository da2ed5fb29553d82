"""The network that cables may follow: lengths and holes by hand, against NetworkX, and what must not change them."""

import random
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal
from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.job.model import Layer, Opening, Room
from estimator.routing.model import Holes, Path
from estimator.routing.network import HOLE_BASE, Network
from estimator.setout.model import PlacedBoard, Point
from tests import jobs
from tests.network_jobs import flat_point, network, placed_board, soffit_point, wall_point, walls_of
from tests.network_oracle import oracle

# The default room: 6.0 x 4.0 m, 2.4 m high, studs of 38 mm at 600, ceiling joists at 400 along y, walls 120 mm thick.
FLOOR = jobs.void()


def cost(found: Network, start: str, end: str) -> tuple[int, int] | None:
    """Length and holes between two terminals; the path must come to the same."""
    value = found.costs([start, end])[0][1]
    path = found.path(start, end)
    if value is None or path is None:
        assert value is None
        assert path is None
        return None
    assert value == path.length_mm * HOLE_BASE + path.holes.total
    return divmod(value, HOLE_BASE)


def between(room: Room, one: tuple[str, int, int], other: tuple[str, int, int]) -> tuple[int, int] | None:
    """Length and holes between two points on walls of one room."""
    return cost(network([room], walls_of(room, S1=one, S2=other)), "S1", "S2")


def path_of(found: Network, start: str, end: str) -> Path:
    path = found.path(start, end)
    assert path is not None
    return path


def test_a_lane_passes_the_studs_between_two_points() -> None:
    # hand: 3000 - 1000 = 2000 mm; centres 1200, 1800, 2400; 3000 lies on a centre, reached from below: not passed
    assert between(jobs.room(), ("back", 1000, 450), ("back", 3000, 450)) == (2000, 3)


def test_a_place_on_a_centre_passes_it_going_on_to_higher_values_only() -> None:
    # hand: from 1200 to 2000: 1200 and 1800; from 700 to 1200: none
    assert between(jobs.room(), ("back", 1200, 450), ("back", 2000, 450)) == (800, 2)
    assert between(jobs.room(), ("back", 700, 450), ("back", 1200, 450)) == (500, 0)


def test_a_place_on_a_joist_passes_it_going_on_to_higher_values_only() -> None:
    room = jobs.room()
    points = [flat_point(room, f"DL{n}", x, 2000) for n, x in enumerate((900, 1200, 1500), 1)]
    # hand: joists at 800, 1200, 1600; 900 to 1200 passes none, 1200 to 1500 passes the one at 1200
    assert cost(network([room], points), "DL1", "DL2") == (300, 0)
    assert cost(network([room], points), "DL2", "DL3") == (300, 1)


def test_lanes_of_equal_height_join_at_a_corner_with_two_holes_and_no_length() -> None:
    # hand: 6000 - 5800 + 300 = 500 mm; no stud centre on the way (5400 behind, 600 ahead), two end studs
    room = jobs.room()
    assert between(room, ("back", 5800, 450), ("right", 300, 450)) == (500, 2)
    path = path_of(network([room], walls_of(room, S1=("back", 5800, 450), S2=("right", 300, 450))), "S1", "S2")
    # hand: the end studs' centres are half a thickness from the ends: 6000 - 19 and 19
    assert [(hole.wall, hole.key[3]) for hole in path.passages] == [("back", "5981"), ("right", "19")]
    assert path.points == ((5800, 4000, 450), (6000, 4000, 450), (6000, 3700, 450))


def test_lanes_of_different_heights_do_not_join_at_a_corner() -> None:
    # hand: up 1950 and down 1300 in the ceiling; 200 + 300 across; plates 2, joist in x from 5800 to 6000: none
    assert between(jobs.room(), ("back", 5800, 450), ("right", 300, 1100)) == (1950 + 1300 + 500, 2)


def test_a_door_cuts_a_lane_below_its_head() -> None:
    # hand: up 1950, 1400 over, down 1950; plates 2; in x from 4300 to 5700: joists 4400, 4800, 5200, 5600
    assert between(jobs.room(openings=[jobs.door()]), ("front", 300, 450), ("front", 1700, 450)) == (5300, 6)


def test_a_lane_exactly_at_the_head_is_not_cut_and_passes_the_short_studs() -> None:
    # hand: door 600 to 1500. The stud at 600 (581 to 619) and the one beside the door (562 to 600) are one, centre
    # 590.5; the short one at 1200; the one beside at 1519: three
    assert between(jobs.room(openings=[jobs.door()]), ("front", 300, 2100), ("front", 1700, 2100)) == (1400, 3)


def test_centres_on_half_millimetres_are_passed_like_any_other() -> None:
    # hand: centre 590.5 lies between 590 and 591
    room = jobs.room(openings=[jobs.door()])
    assert between(room, ("front", 590, 2100), ("front", 591, 2100)) == (1, 1)
    assert between(room, ("front", 580, 2100), ("front", 590, 2100)) == (10, 0)


WINDOW = jobs.window("back", 1000, 1200)  # 1000 to 2200, sill 900, head 2100


def test_a_window_cuts_lanes_strictly_between_sill_and_head() -> None:
    room = jobs.room(openings=[WINDOW])
    # hand: at the sill, from 500 to 2500: 600, 981 (beside), 1200 and 1800 (short), 2219 (beside), 2400
    assert between(room, ("back", 500, 900), ("back", 2500, 900)) == (2000, 6)
    # hand: at 1100 over the ceiling: 1300 twice; plates 2, joists 800, 1200, 1600, 2000, 2400
    assert between(room, ("back", 500, 1100), ("back", 2500, 1100)) == (4600, 7)


def test_risers_lead_to_a_lane_below_a_window() -> None:
    room = jobs.room(openings=[WINDOW])
    points = walls_of(room, S1=("back", 500, 1100), S2=("back", 2500, 1100), S3=("back", 3000, 450))
    # hand: down 650, 2000 along at 450, up 650; the same six studs, the short ones now below the sill
    assert cost(network([room], points), "S1", "S2") == (3300, 6)


def test_a_riser_is_cut_strictly_between_the_edges_only() -> None:
    room = jobs.room(openings=[WINDOW])
    points = walls_of(room, S1=("back", 1000, 450), S2=("back", 1500, 450))
    points += [flat_point(room, "DL1", 1000, 3000), flat_point(room, "DL2", 1500, 3000)]
    found = network([room], points)
    # hand: 1000 is an edge: straight up 1950, then 1000 along the joists; one plate
    assert cost(found, "S1", "DL1") == (2950, 1)
    # hand: 1500 is not: back to the riser at 1000 (stud 1200), up 1950, 500 over (joist 1200) and 1000; one plate
    assert cost(found, "S2", "DL2") == (3950, 3)


def test_a_cut_riser_still_gives_the_void_its_lines() -> None:
    room = jobs.room(openings=[jobs.window("back", 2000, 2000)])
    points = walls_of(room, S1=("back", 3000, 1100))
    points += [soffit_point(room, "SO1", "back", 3000, 300), soffit_point(room, "SO2", "front", 3000, 300)]
    # hand: 420 out at each end and 4000 across on the line of S1's riser; a wall hole at each end
    assert cost(network([room], points), "SO1", "SO2") == (4840, 2)


def test_without_a_line_opposite_soffits_go_round_by_the_nearest_one() -> None:
    room = jobs.room()
    points = [soffit_point(room, "SO1", "back", 2800, 300), soffit_point(room, "SO2", "front", 3200, 300)]
    # hand: both at x = 2800; the walls' lines alone: 2800 to the left wall and back, 4000 across, 420 twice;
    # joists 400 to 2400 twice (six each), two wall holes
    assert cost(network([room], points), "SO1", "SO2") == (2 * 2800 + 4000 + 840, 14)


def test_without_a_ceiling_void_a_lane_runs_round_below_the_ceiling() -> None:
    room = jobs.room(ceiling=jobs.NO_VOID)
    # hand: up to 2300: 1850 twice; 3000 + 4000 + 3000 round; studs 3000 to 5400 (5), right 600 to 3600 (6), front 600
    # to 2400 (4; 3000 reached from below), two corners of 2. The other way round comes to the same
    assert between(room, ("back", 3000, 450), ("front", 3000, 450)) == (13700, 19)


def test_a_floor_void_is_reached_through_the_bottom_plate() -> None:
    room = jobs.room(floor=FLOOR)
    # hand: down 450, 4000 along the joists, up 450; two plates
    assert between(room, ("back", 3000, 450), ("front", 3000, 450)) == (4900, 2)


def test_a_floor_point_lies_in_the_floor_void() -> None:
    room = jobs.room(floor=FLOOR)
    points = [*walls_of(room, S1=("back", 3000, 450)), flat_point(room, "F1", 2000, 1000, "floor")]
    # hand: 450 down, 3000 + 1000; plate; joists from 2000 to 3000: 2000 (exactly there, going on), 2400, 2800
    assert cost(network([room], points), "F1", "S1") == (4450, 4)


def test_an_outside_point_counts_on_its_wall_and_takes_the_thickness() -> None:
    room = jobs.room()
    points = walls_of(room, S1=("front", 2000, 450))
    points.append(wall_point(room, "O1", "front", 3000, 450, "outside"))
    # hand: 1000 along (stud 2400) and 120 through; one wall hole
    assert cost(network([room], points), "S1", "O1") == (1120, 2)
    path = path_of(network([room], points), "S1", "O1")
    assert Holes(stud=1, wall=1) == path.holes
    assert [piece.kind for piece in path.pieces] == ["lane", "through"]
    assert path.points == ((4000, 0, 450), (3000, 0, 450), (3000, -120, 450))


def test_the_thickness_of_a_wall_is_rounded_half_up_once() -> None:
    room = jobs.room(walls=jobs.frame(outside=(Layer(Decimal("11.5"), "sheathing"),)))
    points = walls_of(room, S1=("front", 3000, 450))
    points += [wall_point(room, "O1", "front", 3000, 450, "outside"), soffit_point(room, "SO1", "front", 3000, 300)]
    # hand: 89 + 11.5 = 100.5: 101; with 300 out 400.5: 401
    assert cost(network([room], points), "S1", "O1") == (101, 1)
    assert cost(network([room], points), "S1", "SO1") == (1950 + 401, 2)


def test_a_soffit_point_is_reached_from_the_ceiling_void() -> None:
    room = jobs.room()
    points = [*walls_of(room, S1=("front", 3000, 450)), soffit_point(room, "SO1", "front", 3000, 300)]
    # hand: up 1950, out 120 + 300; plate and wall
    assert cost(network([room], points), "S1", "SO1") == (2370, 2)


def test_protected_cables_may_run_at_every_height_on_every_wall() -> None:
    one, other = ("left", 1000, 450), ("back", 1000, 1100)
    # hand: in zones over the ceiling: 1950 + 3000 + 1000 + 1300; plates 2. Down at once by the corner and along the
    # back wall's lane it passes the stud at 600, and not the joists at 400 and 800 above it: 3
    assert between(jobs.room(), one, other) == (7250, 3)
    # hand: 3000 + 1000 and 650 up at one of the points; studs 1200 to 3600 (5), 600, corner 2
    protected = jobs.room(walls=jobs.frame(cable_zones="protected"))
    assert between(protected, one, other) == (4650, 8)


def test_one_protected_wall_takes_the_heights_of_the_others() -> None:
    room = jobs.room(frames={"back": jobs.frame(cable_zones="protected")})
    # hand: the lane at 450 on the left wall meets one on the back wall; 3000 + 1000 + 650; holes as above
    assert between(room, ("left", 1000, 450), ("back", 1000, 1100)) == (4650, 8)


def side_by_side(gap: int = 120, **changes: int) -> tuple[Room, Room]:
    return jobs.room("a"), jobs.room("b", (3000, 4000), at=(6000 + gap, 0), height=changes.get("height", 2400))


def test_a_point_is_reached_through_a_shared_wall_at_its_own_height() -> None:
    a, b = side_by_side()
    points = [wall_point(a, "S1", "right", 1000, 450), wall_point(b, "S2", "left", 2000, 450)]
    # hand: y = 3000 and y = 2000. Through at S1, 120, then b's lane from along 3000 to 2000 (stud 2400): 2 holes;
    # a's lane from 1000 to 2000 would pass 1200 and 1800: 3 holes
    assert cost(network([a, b], points), "S1", "S2") == (1120, 2)


def test_rooms_back_to_back_share_their_ceiling_void() -> None:
    a, b = side_by_side()
    points = [flat_point(a, "DL1", 5000, 2000), flat_point(b, "DL2", 1000, 2000)]
    # hand: 1000 + 120 + 1000; joists 5200, 5600 in a, 400, 800 in b; one wall hole
    assert cost(network([a, b], points), "DL1", "DL2") == (2120, 5)
    kinds = [(piece.kind, piece.room) for piece in path_of(network([a, b], points), "DL1", "DL2").pieces]
    assert kinds == [("across-joists", "a"), ("through", "a"), ("across-joists", "b")]


def test_ceilings_of_two_heights_meet_in_the_wall_of_the_higher_room() -> None:
    a, b = side_by_side(height=2700)
    points = [flat_point(a, "DL1", 5000, 2000), flat_point(b, "DL2", 1000, 2000)]
    # hand: as before, and 300 up b's wall through its top plate
    assert cost(network([a, b], points), "DL1", "DL2") == (2420, 6)
    assert cost(network([b, a], points), "DL2", "DL1") == (2420, 6)


def test_walls_further_apart_than_the_rule_are_not_passed() -> None:
    for gap, joined in ((400, True), (401, False)):
        a, b = side_by_side(gap)
        points = [flat_point(a, "DL1", 5000, 2000), flat_point(b, "DL2", 1000, 2000)]
        found = network([a, b], points)
        assert joined == (cost(found, "DL1", "DL2") is not None)
        assert joined == (found.why_unreached("DL2") == "")


def test_walls_that_slope_may_lie_back_to_back() -> None:
    a = jobs.room("a", outline=((0, 3000), (4000, 0), (0, 0)))
    b = jobs.room("b", outline=((0, 3000), (4000, 3000), (4000, 0)), at=(60, 80))
    points = [wall_point(a, "S1", "wall-1", 2000, 450), wall_point(b, "S2", "wall-3", 3000, 450)]
    # hand: the long sides are 5000, their normal (0.6, 0.8): (60, 80) lies 100 out; 5000 - 2000 = 3000 opposite
    assert cost(network([a, b], points), "S1", "S2") == (100, 1)


def test_the_ceiling_void_of_a_storey_is_the_floor_void_of_the_room_above() -> None:
    low, high = jobs.room("low"), jobs.room("high", floor_level=2650, floor=FLOOR)
    points = [wall_point(low, "S1", "back", 3000, 450), wall_point(high, "S2", "back", 3000, 450)]
    # hand: up 1950 to the void, 250 to the floor above, 450 up its wall; plates 2
    assert cost(network([low, high], points), "S1", "S2") == (2650, 2)


def test_a_room_above_without_a_floor_void_is_cut_off() -> None:
    low, high = jobs.room("low"), jobs.room("high", floor_level=2650)
    points = walls_of(low, S1=("back", 3000, 450), S3=("back", 2000, 450))
    found = network([low, high], [*points, wall_point(high, "S2", "back", 3000, 450)])
    assert cost(found, "S1", "S2") is None
    assert (
        found.why_unreached("S2")
    ) == 'no void or shared wall leads out of room "high": it has no floor void to come up through'


def test_a_ceiling_without_joists_of_its_own_has_those_of_the_floor_above() -> None:
    low = jobs.room("low", ceiling=jobs.UNKNOWN_JOISTS)
    high = jobs.room("high", floor_level=2400, floor=FLOOR)
    points = [flat_point(low, "DL1", 1000, 2000), flat_point(low, "DL2", 2000, 2000)]
    # hand: joists 1200, 1600 (2000 reached from below); alone there are none to count
    assert cost(network([low, high], points), "DL1", "DL2") == (1000, 2)
    assert cost(network([low], points), "DL1", "DL2") == (1000, 0)


def test_the_void_lines_of_an_outline_stop_at_its_walls() -> None:
    room = jobs.room(
        outline=((0, 4000), (1000, 4000), (1000, 2000), (3000, 2000), (3000, 4000), (4000, 4000), (4000, 0), (0, 0))
    )
    points = [flat_point(room, "DL1", 500, 3500), flat_point(room, "DL2", 3500, 3500)]
    # hand: round the yard between: 1500 down, 3000 over, 1500 up; joists 800 to 3200
    assert cost(network([room], points), "DL1", "DL2") == (6000, 7)


def test_an_l_shaped_room_is_crossed_without_a_detour() -> None:
    room = jobs.room(outline=((0, 4000), (3000, 4000), (3000, 2000), (6000, 2000), (6000, 0), (0, 0)))
    points = [flat_point(room, "DL1", 1000, 3500), flat_point(room, "DL2", 5000, 1500)]
    # hand: 4000 + 2000; joists 1200 to 4800
    assert cost(network([room], points), "DL1", "DL2") == (6000, 10)


def test_a_sloping_wall_has_lanes_and_a_void_line_along_it() -> None:
    corners = ((0, 2000), (3000, 6000), (6000, 6000), (6000, 0), (0, 0))
    one, other = ("wall-1", 1000, 450), ("wall-1", 4000, 450)
    # hand: the wall is 5000 long (3-4-5); 3000 along, studs 1200 to 3600
    assert between(jobs.room(outline=corners), one, other) == (3000, 5)
    # hand: with a door from 2000 to 2900: up 1950, 3000 on the line along the wall, down 1950; plates 2; x from 600
    # to 2400: joists 800, 1200, 1600, 2000
    cut = jobs.room(outline=corners, openings=[jobs.door("wall-1", 2000, 900)])
    assert between(cut, one, other) == (6900, 6)
    path = path_of(network([cut], walls_of(cut, S1=one, S2=other)), "S1", "S2")
    assert path.points == ((600, 2800, 450), (600, 2800, 2400), (2400, 5200, 2400), (2400, 5200, 450))
    # hand: y at the joists: 2000 + x * 4 / 3, half up
    assert [hole.at[1] for hole in path.passages if hole.kind == "joist"] == [3067, 3600, 4133, 4667]


def test_of_equally_short_routes_the_one_with_fewest_holes_counts() -> None:
    room = jobs.room(walls=jobs.frame(centres=400), ceiling=jobs.void(centres=600), height=1100, floor=jobs.NO_VOID)
    # hand: at the height of the ceiling itself both ways are 2000 long: 5 studs on the lane (1200 to 2800), or plates
    # 2 and joists 1200, 1800, 2400 above it; with joists at 1000 mm those are 1000 and 2000, and 4 holes are fewest
    assert between(room, ("back", 1000, 1100), ("back", 3000, 1100)) == (2000, 5)
    wider = replace(room, ceiling=jobs.void(centres=1000))
    assert between(wider, ("back", 1000, 1100), ("back", 3000, 1100)) == (2000, 4)


def test_pieces_tell_what_surrounds_the_cable() -> None:
    room = jobs.room()
    points = [*walls_of(room, S1=("back", 3000, 450), S2=("back", 1000, 450)), flat_point(room, "DL1", 2500, 3000)]
    path = path_of(network([room], points), "S1", "DL1")
    assert [(piece.kind, piece.wall, piece.void, piece.length_mm) for piece in path.pieces] == [
        ("riser", "back", "", 1950),
        ("along-joists", "", "ceiling", 1000),
        ("across-joists", "", "ceiling", 500),
    ]
    assert [
        (("plate", "studio", "back", "3000", "2400"), "38 x 89 mm", Decimal(89), (3000, 4000, 2400)),
        (("joist", "studio", "ceiling", "2800", "y=3000"), "47 x 145 mm", Decimal(145), (2800, 3000, 2400)),
    ] == [(hole.key, hole.member, hole.depth_mm, hole.at) for hole in path.passages]


def test_legs_that_pass_one_place_share_its_key() -> None:
    room = jobs.room()
    places = {"S1": 700, "S2": 1500, "S3": 2000}
    found = network([room], walls_of(room, **{name: ("back", along, 450) for name, along in places.items()}))
    one, other = path_of(found, "S1", "S2"), path_of(found, "S3", "S1")
    assert [hole.key for hole in one.passages] == [("stud", "studio", "back", "1200", "450")]
    assert one.passages[0] in other.passages
    assert [hole.key[3] for hole in other.passages] == ["1800", "1200"]


def test_a_route_back_is_the_same_route() -> None:
    found, _ = whole_house()
    for one, other in combinations(found.terminals, 2):
        there, back = path_of(found, one, other), path_of(found, other, one)
        assert there.points == back.points[::-1]
        assert there.passages == back.passages[::-1]


def test_points_at_one_place_are_no_way_apart() -> None:
    room = jobs.room()
    points = walls_of(room, S1=("back", 3000, 450), T2=("back", 3000, 450))
    found = network([room], reversed(points))
    assert found.terminals == ("S1", "T2")
    assert Path(0, ((3000, 4000, 450), (3000, 4000, 450)), (), ()) == found.path("S1", "T2")


def test_terminals_stand_by_z_then_y_then_x_then_number() -> None:
    room = jobs.room()
    points = walls_of(room, S1=("back", 3000, 450), S2=("front", 1000, 450), S3=("front", 2000, 450))
    found = network([room], points, [placed_board(room, "CU", "left", 400, 300)])
    assert found.terminals == ("CU", "S3", "S2", "S1")


def test_a_table_of_costs_is_symmetric_with_noughts_on_its_diagonal() -> None:
    found, _ = whole_house()
    table = found.costs(found.terminals)
    for row, column in permutations(range(len(table)), 2):
        assert table[row][column] == table[column][row]
        assert table[row][row] == 0


@pytest.mark.parametrize(
    ("surface", "words"),
    [
        ("ceiling", 'room "studio" has no ceiling void, and a ceiling point is reached through it alone'),
        ("floor", 'room "studio" has no floor void, and a floor point is reached through it alone'),
        ("soffit", 'room "studio" has no ceiling void, and a soffit point is reached through it alone'),
    ],
)
def test_a_point_in_a_void_that_is_not_there_is_unreached(surface: str, words: str) -> None:
    room = jobs.room(ceiling=jobs.NO_VOID)
    lost = {
        "ceiling": flat_point(room, "L1", 1000, 1000),
        "floor": flat_point(room, "L1", 1000, 1000, "floor"),
        "soffit": soffit_point(room, "L1", "back", 1000, 300),
    }[surface]
    found = network([room], [*walls_of(room, S1=("back", 1000, 450), S2=("back", 2000, 450)), lost])
    assert cost(found, "S1", "L1") is None
    assert words == found.why_unreached("L1")
    assert found.why_unreached("S1") == ""


def test_a_point_in_an_opening_is_unreached_and_says_which() -> None:
    room = jobs.room(openings=[jobs.door()])
    found = network([room], walls_of(room, S1=("front", 1000, 450), S2=("back", 10, 450), S3=("back", 99, 450)))
    assert cost(found, "S1", "S2") is None
    door = 'the door of wall "front" (600 to 1500 mm along, 0 to 2100 mm high)'
    assert found.why_unreached("S1") == f"it lies in {door}, which cuts its lane and its riser"


def test_a_stretch_of_wall_between_two_tall_openings_is_unreached_and_says_so() -> None:
    doors = [jobs.door("front", 600, 900, 2350), jobs.door("front", 3000, 900, 2350)]
    room = jobs.room(ceiling=jobs.NO_VOID, openings=doors)
    found = network([room], walls_of(room, S1=("front", 2000, 450), S2=("back", 10, 450), S3=("back", 99, 450)))
    # hand: up its riser it comes to the lane 100 mm below the ceiling (2300), which both doors cut as well
    assert cost(found, "S1", "S2") is None
    one, other = (
        f'the door of wall "front" ({left} to {left + 900} mm along, 0 to 2350 mm high)' for left in (600, 3000)
    )
    assert found.why_unreached("S1") == f"its lane at 450 mm is cut by {one} and {other}, and no void leads round"


# --- against the network laid out line by line -----------------------------------------------------------------------


def compare(rooms: Sequence[Room], points: Sequence[Point], boards: Sequence[PlacedBoard], holes: bool = True) -> None:
    found = network(rooms, points, boards)
    names = list(found.terminals)
    theirs = oracle(rooms, points, boards).costs(names)
    ours = [[None if value is None else divmod(value, HOLE_BASE) for value in row] for row in found.costs(names)]
    if not holes:
        theirs, ours = _lengths(theirs), _lengths(ours)
    assert theirs == ours
    for one, other in combinations(names, 2):
        _check_path(found.path(one, other), ours[names.index(one)][names.index(other)], holes)


def _lengths(table: list[list[tuple[int, int] | None]]) -> list[list[tuple[int, int] | None]]:
    return [[None if value is None else (value[0], 0) for value in row] for row in table]


def _check_path(path: Path | None, value: tuple[int, int] | None, holes: bool) -> None:
    """A path adds up: its cost, its corner points, its pieces end to end."""
    if path is None or value is None:
        assert path is None
        assert value is None
        return
    assert (path.length_mm, path.holes.total if holes else 0) == value
    steps = zip(path.points, path.points[1:], strict=False)
    assert path.length_mm == sum(abs(a - b) for one, other in steps for a, b in zip(one, other, strict=True))
    assert all(one.end == other.start for one, other in zip(path.pieces, path.pieces[1:], strict=False))


def some_room(pick: random.Random, name: str, at: tuple[int, int], size: tuple[int, int], level: int = 0) -> Room:
    openings: list[Opening] = []
    if pick.random() < 0.6:
        openings.append(jobs.door(pick.choice(["front", "back", "left"]), pick.choice([300, 600, 700]), 900))
    if pick.random() < 0.4:
        sill, head = pick.choice([400, 900]), pick.choice([1300, 2100])
        openings.append(jobs.window("right", pick.choice([200, 800]), pick.choice([600, 1200]), sill, head))
    voids = [jobs.void(along="x"), jobs.void(along="y"), jobs.void(along="y", centres=600)]
    walls = jobs.frame(
        stud=jobs.section(pick.choice([38, 50]), 89), cable_zones=pick.choice(["keep", "keep", "protected"])
    )
    ceiling = pick.choice([*voids, jobs.NO_VOID, jobs.UNKNOWN_JOISTS])
    floor = pick.choice([jobs.NO_VOID, jobs.NO_VOID, *voids])
    return jobs.room(name, size, at=at, floor_level=level, openings=openings, ceiling=ceiling, floor=floor, walls=walls)


def some_points(pick: random.Random, room: Room, count: int, first: int) -> Iterable[Point]:
    width, depth = room.corners[1][0], room.corners[0][1]
    for number in range(first, first + count):
        wall = pick.choice(room.wall_names)
        length = width if wall in ("back", "front") else depth
        along = pick.choice([pick.randrange(length + 1), pick.randrange(length // 300) * 300])
        height = pick.choice([450, 450, 1100, 900, 2100, 0])
        x = pick.choice([pick.randrange(width + 1), pick.randrange(width // 400) * 400])
        kind = pick.random()
        if kind < 0.7:
            yield wall_point(room, f"P{number}", wall, along, height, "wall" if kind < 0.6 else "outside")
        elif kind < 0.8:
            yield soffit_point(room, f"P{number}", wall, along, 300)
        else:
            y = pick.randrange(depth + 1)
            yield flat_point(room, f"P{number}", x, y, "ceiling" if kind < 0.95 else "floor")


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False))
def test_one_room_agrees_with_its_lines_laid_out_in_full(pick: random.Random) -> None:
    size = pick.randrange(1500, 6000), pick.randrange(1500, 5000)
    room = some_room(pick, "a", (pick.choice([0, 1000]), pick.choice([0, -700])), size)
    boards = [placed_board(room, "CU", "left", pick.randrange(1400), 1400)]
    compare([room], list(some_points(pick, room, pick.randrange(2, 8), 1)), boards)


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_rooms_side_by_side_agree_with_their_lines_laid_out_in_full(pick: random.Random) -> None:
    gap = pick.choice([0, 100, 120, 400, 401])
    width, depth = pick.randrange(1500, 5000), pick.randrange(1500, 5000)
    a = some_room(pick, "a", (0, 0), (width, depth))
    b = some_room(pick, "b", (width + gap, pick.randrange(-1000, 1000)), (pick.randrange(1500, 4000), 3000))
    c = some_room(pick, "c", (pick.randrange(-1000, 1000), depth + gap), (pick.randrange(1500, 5000), 2000))
    points = [point for n, room in enumerate((a, b, c)) for point in some_points(pick, room, 4, 1 + 10 * n)]
    compare([a, b, c], points, [placed_board(a, "CU", "left", pick.randrange(1400), 1400)])


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False), st.booleans())
def test_storeys_agree_with_their_lines_laid_out_in_full(pick: random.Random, same: bool) -> None:
    joists = jobs.void(along=pick.choice(["x", "y"]))
    size = pick.randrange(2, 6) * 1200, pick.randrange(2, 4) * 1200
    at = (0, 0) if same else (pick.choice([0, 1200, -1200]), pick.choice([0, 1200]))
    other = size if same else (pick.choice([2400, 3600]), pick.choice([size[1], 2400]))
    low = replace(some_room(pick, "a", (0, 0), size), ceiling=joists)
    high = replace(some_room(pick, "b", at, other, 2400 + pick.choice([0, 250])), floor=joists)
    points = [*some_points(pick, low, 5, 1), *some_points(pick, high, 5, 11)]
    # where one room lies over part of another, which room's joists a cable passes is not laid down: lengths alone
    compare([low, high], points, [], holes=same)


OUTLINES = (
    ((0, 4000), (3000, 4000), (3000, 2000), (6000, 2000), (6000, 0), (0, 0)),
    ((0, 5000), (2000, 5000), (2000, 3000), (4000, 3000), (4000, 5000), (6000, 5000), (6000, 0), (0, 0)),
    ((0, 3000), (1500, 3000), (1500, 4500), (4500, 4500), (4500, 1500), (3000, 1500), (3000, 0), (0, 0)),
)


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_outlines_agree_with_their_lines_laid_out_in_full(pick: random.Random) -> None:
    corners = pick.choice(OUTLINES)
    joists = [jobs.void(along="x"), jobs.void(along="y", centres=600)]
    room = jobs.room(
        "a",
        outline=corners,
        at=(350, 0),
        openings=[jobs.door("wall-3", 300, 900)],
        ceiling=pick.choice([*joists, jobs.NO_VOID]),
        floor=pick.choice([*joists, jobs.NO_VOID]),
        walls=jobs.frame(stud=jobs.section(50, 89)),
    )
    points: list[Point] = []
    for number in range(1, 7):
        index = pick.randrange(len(corners))
        (x, y), (x2, y2) = corners[index], corners[(index + 1) % len(corners)]
        along = pick.randrange((abs(x - x2) + abs(y - y2)) // 50 + 1) * 50
        name, wall = f"P{number}", f"wall-{index + 1}"
        if pick.random() < 0.7:
            points.append(wall_point(room, name, wall, along, pick.choice([450, 1100, 2100])))
        elif pick.random() < 0.5:
            points.append(soffit_point(room, name, wall, along, 300))
        else:
            points.append(flat_point(room, name, pick.randrange(1, 30) * 50, pick.randrange(1, 60) * 50))
    compare([room], points, [placed_board(room, "CU", "wall-1", pick.randrange(20) * 50, 1400)])


# --- what must not change anything -----------------------------------------------------------------------------------


def whole_house(
    names: Sequence[str] = ("a", "b", "c", "d"), turned: bool = False, group: str = "P"
) -> tuple[Network, dict[str, str]]:
    """Two rooms, one of them an outline, under two; with the names by which the same points go."""
    pick = random.Random(7)
    a = some_room(pick, names[0], (0, 0), (4000, 3600))
    b = jobs.room(names[1], outline=((0, 3600), (3000, 3000), (3000, 0), (0, 0)), at=(4120, 0))
    c = jobs.room(names[2], (4000, 3600), floor_level=2650, floor=FLOOR)
    d = jobs.room(names[3], (3000, 3000), at=(4120, 0), floor_level=2650, floor=FLOOR)
    a = replace(a, ceiling=jobs.void(), openings=(jobs.door(),))
    points = [point for n, room in enumerate((a, c, d)) for point in some_points(pick, room, 5, 1 + 10 * n)]
    points = [p for p in points if p.surface != "floor" or p.room != a.name]
    points += walls_of(b, P41=("wall-1", 1000, 450), P42=("wall-3", 700, 1100), P43=("wall-4", 900, 450))
    known = {point.id: f"{group}{point.number}" for point in points}
    points = [replace(p, id=known[p.id], group=group) for p in points]
    rooms = [a, b, c, d]
    if turned:
        rooms.reverse()
        points.reverse()
    return network(rooms, points, [placed_board(a, "CU", "left", 400, 1400)]), known | {"CU": "CU"}


def test_names_and_the_order_of_a_file_change_neither_costs_nor_routes() -> None:
    first, _ = whole_house()
    second, known = whole_house(("z", "y", "x", "w"), turned=True, group="Q")
    assert tuple(known[name] for name in first.terminals) == second.terminals
    assert first.costs(first.terminals) == second.costs(second.terminals)
    for one, other in combinations(first.terminals, 2):
        assert path_of(first, one, other).points == path_of(second, known[one], known[other]).points


MIRRORED = {"back": "back", "front": "front", "left": "right", "right": "left"}


def mirrored(room: Room, width: int) -> Room:
    """The room as seen in a mirror that stands at x = width / 2 of the building."""
    own, depth = room.corners[1][0], room.corners[0][1]
    openings = tuple(
        replace(
            gap,
            wall=MIRRORED[gap.wall],
            along_mm=(own if gap.wall in ("back", "front") else depth) - gap.along_mm - gap.width_mm,
        )
        for gap in room.openings
    )
    return replace(room, at=(width - room.at[0] - own, room.at[1]), openings=openings)


def mirrored_point(point: Point, room: Room, seen: Room) -> Point:
    own, depth = room.corners[1][0], room.corners[0][1]
    if point.wall is None or point.along_mm is None:
        return flat_point(seen, point.id, own - point.at[0], point.at[1], point.surface)
    wall = MIRRORED[point.wall]
    along = (own if wall in ("back", "front") else depth) - point.along_mm
    if point.surface == "soffit":
        return soffit_point(seen, point.id, wall, along, point.out_mm or 0)
    return wall_point(seen, point.id, wall, along, point.height_mm or 0, point.surface)


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_a_mirrored_building_has_the_same_lengths(pick: random.Random) -> None:
    a = some_room(pick, "a", (0, 0), (pick.randrange(1500, 5000), 3000))
    b = some_room(pick, "b", (a.corners[1][0] + 120, 200), (pick.randrange(1500, 5000), 3000))
    rooms = [a, b]
    points = [*some_points(pick, a, 4, 1), *some_points(pick, b, 4, 11)]
    seen = [mirrored(room, 12000) for room in rooms]
    by_name = {room.name: (room, image) for room, image in zip(rooms, seen, strict=True)}
    images = [mirrored_point(point, *by_name[point.room]) for point in points]
    names = [point.id for point in points]
    lengths = [
        [[None if value is None else value // HOLE_BASE for value in row] for row in network(r, p).costs(names)]
        for r, p in ((rooms, points), (seen, images))
    ]
    assert lengths[0] == lengths[1]
