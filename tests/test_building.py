"""Walls, studs, joists and places on walls. Every expected value is `hand` unless it says otherwise."""

from decimal import Decimal
from fractions import Fraction
from itertools import pairwise
from math import isqrt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.building.build import build, shape_of
from estimator.building.model import Stud, Wall
from estimator.building.studs import bay_at, bays, meets
from estimator.building.walls import distance_mm, point_on
from estimator.job.model import Opening
from tests.jobs import UNKNOWN_JOISTS, door, frame, job, room, section, void, window

D = Decimal


def faces(studs: tuple[Stud, ...]) -> list[tuple[Decimal, Decimal]]:
    return [(stud.left_mm, stud.right_mm) for stud in studs]


def wall_of(name: str, *openings: Opening, size: tuple[int, int] = (6000, 4000)) -> Wall:
    return shape_of(room(size=size, openings=openings)).wall(name)


def test_a_rectangle_has_four_walls_clockwise_from_the_left_end_of_the_back() -> None:
    shape = shape_of(room())
    # hand: 6000, 4000, 6000, 4000 end to end
    assert [(wall.name, wall.length_mm, wall.offset_mm) for wall in shape.walls] == [
        ("back", 6000, 0),
        ("right", 4000, 6000),
        ("front", 6000, 10000),
        ("left", 4000, 16000),
    ]
    assert shape.perimeter_mm == 20000


@pytest.mark.parametrize(
    ("wall", "inside", "outside"),
    [
        ("back", (1000, 4000), (1000, 4120)),
        ("right", (6000, 3000), (6120, 3000)),
        ("front", (5000, 0), (5000, -120)),
        ("left", (0, 1000), (-120, 1000)),
    ],
)
def test_along_grows_clockwise_and_out_leads_out_of_the_room(
    wall: str, inside: tuple[int, int], outside: tuple[int, int]
) -> None:
    found = wall_of(wall)
    assert inside == found.point_at(1000)
    assert outside == found.point_at(1000, found.frame.thickness_mm)  # 89 + 11 + 20 mm


def test_studs_stand_at_both_ends_and_on_every_multiple_of_the_centres() -> None:
    # hand: 1300 long, 38 thick, centres 600: 0-38, 581-619, 1181-1219, 1262-1300
    found = wall_of("back", size=(1300, 4000)).studs
    assert [(D(0), D(38)), (D(581), D(619)), (D(1181), D(1219)), (D(1262), D(1300))] == faces(found)
    assert [stud.end for stud in found] == [True, False, False, True]


def test_bays_between_studs_are_as_wide_as_centres_less_a_stud() -> None:
    # hand, check values 1: 600 or 400 centres less 38 or 47 mm: 562, 362, 553, 353 mm
    widths = []
    for thickness in (38, 47):
        for centres in (600, 400):
            timber = frame(stud=section(thickness, 89), centres=centres)
            wall = shape_of(room(walls=timber)).wall("back")
            bay = bay_at(wall, 3 * centres // 2, 1000)
            assert bay is not None
            widths.append(bay[1] - bay[0])
    assert widths == [562, 362, 553, 353]


def test_an_opening_has_a_stud_each_side_and_short_studs_above_and_below() -> None:
    # hand: a window from 1000 to 2000: 962-1000 and 2000-2038; the stud at 1200 (and 1800) is short
    wall = wall_of("back", window("back", 1000, 1000), size=(2600, 4000))
    assert [
        (D(0), D(38), None),
        (D(581), D(619), None),
        (D(962), D(1000), None),
        (D(1181), D(1219), (900, 2100)),
        (D(1781), D(1819), (900, 2100)),
        (D(2000), D(2038), None),
        (D(2381), D(2419), None),
        (D(2562), D(2600), None),
    ] == [(stud.left_mm, stud.right_mm, stud.gap_mm) for stud in wall.studs]


def test_bays_are_those_of_the_studs_at_the_height() -> None:
    wall = wall_of("back", window("back", 1000, 1000), size=(2600, 4000))
    assert (D(1000), D(2000)) == bay_at(wall, 1500, 1500)  # the window itself
    assert (D(1219), D(1781)) == bay_at(wall, 1500, 2300)  # above it, between the short studs
    assert (D(1219), D(1781)) == bay_at(wall, 1500, 300)
    assert bay_at(wall, 1200, 300) is None
    assert (D(1000), D(1181)) in bays(wall, 864, 936)  # from below the sill to above it: the short ones count


def test_a_stud_that_overlaps_the_one_beside_an_opening_is_one_with_it() -> None:
    # hand: a door from 600 to 1500: 562-600 and 581-619 are 562-619; 1500-1538 stands alone, 1200 is short
    wall = wall_of("front", door())
    assert [(D(0), D(38)), (D(562), D(619)), (D(1181), D(1219)), (D(1500), D(1538)), (D(1781), D(1819))] == faces(
        wall.studs[:5]
    )
    assert D("590.5") == wall.studs[1].centre_mm
    assert [stud.gap_mm for stud in wall.studs[:4]] == [None, None, (0, 2100), None]


def test_studs_that_touch_are_one() -> None:
    # hand: a window from 657: its left stud is 619-657 and touches 581-619
    wall = wall_of("back", window("back", 657, 400))
    assert (D(581), D(657)) in faces(wall.studs)


def test_what_touches_an_end_stud_is_part_of_it() -> None:
    # hand: a door from 76 to 976: 0-38 and 38-76 are one end stud, 0-76
    wall = wall_of("front", door(along=76))
    assert (D(0), D(76), True) == (wall.studs[0].left_mm, wall.studs[0].right_mm, wall.studs[0].end)
    # hand: a wall of 6010 mm: the stud at 6000 (5981-6019) is part of the last, 5972-6010, and ends with the wall
    last = wall_of("back", size=(6010, 4000)).studs[-1]
    assert (D(5972), D(6010), True) == (last.left_mm, last.right_mm, last.end)


def test_half_a_millimetre_of_stud_stays_exact() -> None:
    wall = shape_of(room(walls=frame(stud=section("37.5", 89)))).wall("back")
    assert (D("581.25"), D("618.75")) == faces(wall.studs)[1]


def test_joists_stand_on_multiples_from_the_first_on_and_inside_the_room() -> None:
    # hand: joists along y stand along x: 400 ... 5600 in 6000 (6000 is the wall); along x: 400 ... 3600 in 4000
    along_y, along_x = shape_of(room()).ceiling, shape_of(room(ceiling=void(along="x"))).ceiling
    assert along_y is not None
    assert along_x is not None
    assert tuple(range(400, 5601, 400)) == along_y.places_mm
    assert tuple(range(400, 3601, 400)) == along_x.places_mm


def test_joists_nobody_described_are_not_there() -> None:
    assert shape_of(room(ceiling=UNKNOWN_JOISTS)).ceiling is None
    assert shape_of(room()).floor is None
    floor = shape_of(room(floor=void(centres=450))).floor
    assert floor is not None
    assert (floor.level, floor.places_mm[0]) == ("floor", 450)


TENT = ((0, 3000), (2000, 5000), (4000, 3000), (4000, 0), (0, 0))


def test_a_sloping_wall_is_as_long_as_its_hypotenuse_half_up() -> None:
    # hand: 2000 x 2000: 2828.43 mm, so 2828
    shape = shape_of(room(outline=TENT))
    assert [wall.name for wall in shape.walls] == ["wall-1", "wall-2", "wall-3", "wall-4", "wall-5"]
    assert [wall.length_mm for wall in shape.walls] == [2828, 2828, 3000, 4000, 3000]


def test_places_on_a_sloping_wall_are_half_up_in_x_and_y() -> None:
    wall = shape_of(room(outline=TENT)).wall("wall-1")
    assert wall.point_at(0) == (0, 3000)
    assert wall.point_at(1000) == (707, 3707)  # hand: 1000 / sqrt 2 = 707.11
    assert wall.point_at(1000, 120) == (622, 3792)  # hand: 707.11 - 84.85 = 622.25; 3707.11 + 84.85 = 3791.96
    assert wall.point_at(wall.length_mm) == (2000, 5000)


def test_half_a_millimetre_goes_up_whichever_way_the_wall_runs() -> None:
    # hand: a 3-4-5 triangle; 2.5 mm out of it are -2 and 1.5 one way (11.5 goes to 12), 2 and -1.5 the other (8.5 to 9)
    assert point_on((10, 10), (40, 50), 0, Decimal("2.5")) == (8, 12)
    assert point_on((10, 10), (-20, -30), 0, Decimal("2.5")) == (12, 9)
    assert point_on((10, 10), (20, 10), 0, Decimal("0.5")) == (10, 11)  # hand: out of a back wall, 10.5 goes to 11
    assert point_on((10, 10), (0, 10), 0, Decimal("0.5")) == (10, 10)  # hand: out of a front wall, 9.5 goes to 10


@given(
    st.tuples(st.integers(-9000, 9000), st.integers(-9000, 9000)),
    st.tuples(st.integers(-9000, 9000), st.integers(-9000, 9000)),
    st.integers(0, 9000),
    st.integers(-500, 500),
)
@settings(max_examples=200, deadline=None)
def test_every_place_is_the_nearest_whole_millimetre_to_the_exact_one(
    start: tuple[int, int], end: tuple[int, int], along: int, out: int
) -> None:
    dx, dy = end[0] - start[0], end[1] - start[1]
    squared = dx * dx + dy * dy
    if squared == 0:
        return
    scale = 10**12
    # Ours: the same sum with the root of a very large whole number, right to far below half a millimetre.
    root = Fraction(isqrt(squared * scale * scale), scale)
    x, y = point_on(start, end, along, out)
    assert abs(start[0] + (along * dx - out * dy) / root - x) <= Fraction(1, 2) + Fraction(1, 10**6)
    assert abs(start[1] + (along * dy + out * dx) / root - y) <= Fraction(1, 2) + Fraction(1, 10**6)


def test_distances_of_places_are_half_up() -> None:
    assert distance_mm((0, 0), (3, 4)) == 5
    assert distance_mm((0, 0), (1, 1)) == 1  # hand: 1.41
    assert distance_mm((0, 0), (2, 2)) == 3  # hand: 2.83


def test_rooms_are_in_the_order_of_the_plan_then_name() -> None:
    rooms = [
        room("attic", floor_level=2600),
        room("east", at=(7000, 0)),
        room("north", at=(0, 5000)),
        room("b", at=(0, 0)),
        room("a", at=(0, 0)),
    ]
    assert [shape.room.name for shape in build(job(rooms)).rooms] == ["a", "b", "east", "north", "attic"]
    assert build(job(rooms)) == build(job(reversed(rooms)))


@given(
    st.integers(900, 8000),
    st.sampled_from([38, 45, 47]),
    st.sampled_from([300, 400, 450, 600]),
    st.lists(st.tuples(st.integers(0, 7000), st.integers(200, 1500)), max_size=3),
)
@settings(max_examples=150, deadline=None)
def test_studs_ascend_stay_on_the_wall_and_never_touch(
    length: int, thickness: int, centres: int, spots: list[tuple[int, int]]
) -> None:
    openings = [window("back", along, width) for along, width in spots if along + width <= length]
    timber = frame(stud=section(thickness, 89), centres=centres)
    studs = shape_of(room(size=(length, 4000), openings=openings, walls=timber)).wall("back").studs
    assert all(a.right_mm < b.left_mm for a, b in pairwise(studs))
    assert (D(0), D(length)) == (studs[0].left_mm, studs[-1].right_mm)
    assert all(stud.right_mm - stud.left_mm >= thickness for stud in studs)
    for place in range(centres, length, centres):
        assert any(stud.left_mm <= place <= stud.right_mm for stud in studs)
    for opening in openings:
        edges = (opening.along_mm, opening.along_mm + opening.width_mm)
        for stud in studs:
            inside = edges[0] < stud.left_mm and stud.right_mm < edges[1]
            assert not (inside and meets(stud, opening.sill_mm, opening.head_mm))
