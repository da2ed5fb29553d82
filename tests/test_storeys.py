"""Rooms of a building: none in the place of another, no floor in the air; names that would make legs alike."""

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.job.overlap import common
from estimator.job.read import parse_job
from estimator.problems import Refused
from tests.job_texts import SMALL

Corners = tuple[tuple[int, int], ...]


def job(*rooms: str) -> str:
    """The small job with more rooms, each given by its keys after the name."""
    return SMALL + "".join(
        f'\n[[room]]\nname = "r{number}"\n{keys}\nheight = "2.4 m"\n'
        if "height" not in keys
        else f'\n[[room]]\nname = "r{number}"\n{keys}\n'
        for number, keys in enumerate(rooms, 1)
    )


def messages(*rooms: str) -> list[str]:
    with pytest.raises(Refused) as refused:
        parse_job(job(*rooms))
    return [f"{problem.where}: {problem.found}; {problem.write}" for problem in refused.value.problems]


def accepted(*rooms: str) -> bool:
    return len(parse_job(job(*rooms))[0].rooms) == 1 + len(rooms)


# The small job's own room is "shed": 4800 by 3000 mm, 2400 mm high, its lowest corner at 0, 0.


def test_a_room_in_the_place_of_another_says_by_how_much_and_where_it_could_stand() -> None:
    # hand: x from 4500 to 4800, y from 1000 to 3000; beside it is 4800 and a stud of 89
    assert messages('size = ["2 m", "2 m"]\nat = ["4.5 m", "1 m"]') == [
        'room.r1.at: it overlaps room "shed", by 300 mm along x and 2000 mm along y; write where its lowest corner '
        'lies, for example at = ["4889 mm", "1000 mm"] to stand beside it; '
        'or, if it lies above room "shed", floor_level = "2400 mm" or more'
    ]


def test_a_room_whose_place_was_forgotten_overlaps_the_first() -> None:
    assert messages('size = ["2 m", "2 m"]') == [
        'room.r1: it overlaps room "shed", by 2000 mm along x and 2000 mm along y; write where its lowest corner '
        'lies, for example at = ["4889 mm", "0 mm"] to stand beside it; '
        'or, if it lies above room "shed", floor_level = "2400 mm" or more'
    ]


def test_a_room_is_told_once_against_the_first_it_overlaps() -> None:
    beside = 'size = ["2 m", "3 m"]\nat = ["4.9 m", "0 m"]'
    found = messages(beside, 'size = ["2 m", "3 m"]\nat = ["4 m", "0 m"]')

    assert [line.split(";")[0] for line in found] == [
        'room.r2.at: it overlaps room "shed", by 800 mm along x and 3000 mm along y'
    ]


def test_rooms_that_touch_or_stand_over_one_another_do_not_overlap() -> None:
    assert accepted('size = ["2 m", "3 m"]\nat = ["4.8 m", "0 m"]', 'size = ["2 m", "3 m"]\nat = ["-2 m", "1 m"]')
    assert accepted('size = ["4.8 m", "3 m"]\nfloor_level = "2.4 m"', 'size = ["4.8 m", "3 m"]\nfloor_level = "5.05 m"')


def test_an_l_shaped_room_leaves_room_in_its_corner() -> None:
    ell = 'outline = [["0 m","4 m"], ["4 m","4 m"], ["4 m","2 m"], ["2 m","2 m"], ["2 m","0 m"], ["0 m","0 m"]]'
    assert accepted(f'{ell}\nat = ["5 m", "0 m"]', 'size = ["1.9 m", "1.9 m"]\nat = ["7.1 m", "0 m"]')
    assert messages(f'{ell}\nat = ["5 m", "0 m"]', 'size = ["2.1 m", "1.9 m"]\nat = ["6.9 m", "0 m"]')[0].startswith(
        'room.r2.at: it overlaps room "r1", by 2100 mm along x and 1900 mm along y'
    )


def test_a_storey_below_the_ceiling_under_it_says_how_high_it_must_be() -> None:
    assert messages('size = ["3 m", "3 m"]\nfloor_level = "2.3 m"') == [
        'room.r1.floor_level: its floor, at 2300 mm, is below the ceiling of room "shed" under it; write floor_level = '
        '"2400 mm" or more, or another at'
    ]
    # and the other way about: the room that was written first is the upper one
    under = messages('size = ["3 m", "3 m"]\nfloor_level = "-1.2 m"')
    assert under == [
        'room.shed.floor_level: its floor, at 0 mm, is below the ceiling of room "r1" under it; write floor_level = '
        '"1200 mm" or more, or another at'
    ]


def test_a_step_between_two_rooms_is_no_storey() -> None:
    assert messages('size = ["3 m", "3 m"]\nat = ["4 m", "0 m"]\nfloor_level = "150 mm"')[0].startswith("room.r1.at: ")
    assert accepted('size = ["3 m", "3 m"]\nat = ["4.9 m", "0 m"]\nfloor_level = "150 mm"')


def test_a_storey_in_the_air_is_told_with_the_room_below_it() -> None:
    # hand: 26.5 - 2.4 m
    assert messages('size = ["3 m", "3 m"]\nfloor_level = "26.5 m"') == [
        'room.r1.floor_level: its floor is 24100 mm above the ceiling of room "shed" below it; write the level of its '
        "floor over the floor that heights count from"
    ]
    assert messages('size = ["3 m", "3 m"]\nfloor_level = "-26.5 m"') == [
        'room.r1.floor_level: its ceiling is 24100 mm below the floor of room "shed"; write the level of its floor over '
        "the floor that heights count from"
    ]


def test_the_room_right_below_counts_and_not_a_higher_one_beside_it() -> None:
    tall = 'size = ["3 m", "3 m"]\nat = ["10 m", "0 m"]\nheight = "5 m"'
    assert messages(tall, 'size = ["3 m", "3 m"]\nfloor_level = "5.2 m"')[0].startswith(
        'room.r2.floor_level: its floor is 2800 mm above the ceiling of room "shed"'
    )
    assert accepted(tall, 'size = ["3 m", "3 m"]\nat = ["10 m", "0 m"]\nfloor_level = "5.2 m"')


def test_a_loft_and_a_room_up_the_garden_stand_on_something() -> None:
    assert accepted('size = ["3 m", "3 m"]\nfloor_level = "3.9 m"')  # hand: 1500 mm over the ceiling, no more
    far = 'size = ["3 m", "3 m"]\nat = ["30 m", "0 m"]\nfloor_level = "9 m"'
    assert messages(far)[0].startswith("room.r1.floor_level: its floor is 6600 mm above")
    assert accepted(f'{far}\nground = "-200 mm"')


def test_rooms_that_are_wrong_in_themselves_are_not_held_against_others() -> None:
    found = messages('size = ["2 m"]', 'outline = [["0 m","0 m"], ["2 m","2 m"], ["2 m","0 m"], ["0 m","2 m"]]')
    assert not any("overlaps" in line for line in found)


def test_a_control_and_a_circuit_do_not_share_a_name() -> None:
    with pytest.raises(Refused) as refused:
        parse_job(SMALL.replace('name = "stop"', 'name = "lights"'))

    assert [(problem.where, problem.found) for problem in refused.value.problems] == [
        ("control.lights.name", 'a circuit is called "lights" too, and their legs could not be told apart')
    ]


# --- overlaps against a grid ----------------------------------------------------------------------------------------

SHAPES: tuple[Corners, ...] = (
    ((0, 3), (4, 3), (4, 0), (0, 0)),
    ((0, 4), (4, 4), (4, 2), (2, 2), (2, 0), (0, 0)),
    ((0, 4), (1, 4), (1, 1), (3, 1), (3, 4), (4, 4), (4, 0), (0, 0)),
)


def cells(corners: Corners, at: tuple[int, int]) -> set[tuple[int, int]]:
    """The unit squares of a room of walls along x and y."""
    found = set()
    for x in range(5):
        for y in range(5):
            sides = zip(corners, corners[1:] + corners[:1], strict=True)
            crossed = sum(a == b and a > x and min(p, q) <= y < max(p, q) for (a, p), (b, q) in sides)
            if crossed % 2:
                found.add((x + at[0], y + at[1]))
    return found


def moved(corners: Corners, at: tuple[int, int]) -> Corners:
    return tuple((x + at[0], y + at[1]) for x, y in corners)


@settings(max_examples=200, deadline=None)
@given(st.randoms(use_true_random=False))
def test_rooms_overlap_where_they_share_a_square(pick: random.Random) -> None:
    one, other = pick.choice(SHAPES), pick.choice(SHAPES)
    at = pick.randrange(-5, 6), pick.randrange(-5, 6)
    shared = cells(one, (0, 0)) & cells(other, at)
    turned = tuple((y, x) for x, y in moved(other, at))

    assert (common(one, moved(other, at)) is not None) == bool(shared)
    assert (common(tuple((y, x) for x, y in one), turned) is not None) == bool(shared)
    assert common(moved(other, at), one) == common(one, moved(other, at))


@pytest.mark.parametrize(
    ("other", "overlap"),
    [
        (((0, 0), (3, 3), (3, 0)), False),  # hand: the other half of a square cut along its diagonal
        (((0, 1), (3, 4), (3, 0), (0, 0)), True),
        (((0, 0), (0, 3), (3, 3)), True),  # itself
        (((1, 1), (1, 2), (2, 2)), True),  # within, a corner of it on the slope
        (((2, 1), (3, 2), (3, 1)), False),
    ],
)
def test_sloping_walls_are_held_against_one_another_exactly(other: Corners, overlap: bool) -> None:
    assert (common(((0, 0), (0, 3), (3, 3)), other) is not None) == overlap
