"""Rooms back to back: an opening of one is an opening of the other; walls and floors need their timber. All `hand`."""

from decimal import Decimal as D
from functools import cache

import pytest

from estimator.building.build import build
from estimator.building.openings import openings_through
from estimator.checks.model import Finding
from estimator.checks.rooms import meetings
from estimator.job.model import Opening, Room
from estimator.job.read import parse_job
from estimator.job.starter import starter_files
from estimator.problems import Refused
from estimator.result import Estimate
from tests import jobs as j
from tests.job_texts import SMALL
from tests.shed import shipped, worked

LIMIT = D(400)

HONEY = """
[[room]]
name = "honey"
size = ["3 m", "3 m"]
at = ["{x}", "0 m"]
height = "2.3 m"
ceiling = {{ joist = "47 x 122 mm", centres = "400 mm", span = "along y" }}

  [[room.opening]]
  kind = "doorway"
  wall = "left"
  along = "1.0 m"
  width = "0.8 m"
  head = "2.0 m"

[[points]]
name = "X"
kind = "double-socket"
circuit = "sockets"
room = "shed"
height = "450 mm"
at = [{{ wall = "right", along = "{along}" }}]
"""


@cache
def beside(x: str = "4889 mm", along: str = "2.6 m") -> Estimate:
    """The job that `studbay new` writes, with a second room beside the shed and a socket on the shed's face."""
    return worked(text(x, along))


def text(x: str = "4889 mm", along: str = "2.6 m") -> str:
    """Its heater outlet, on that wall too, is moved out of the doorway."""
    moved = starter_files()["job.toml"].replace('along = "1.5 m" }]', 'along = "0.95 m" }]')
    return moved + HONEY.format(x=x, along=along)


def doorway(wall: str, along: int, width: int = 800, sill: int = 0, head: int = 2000) -> Opening:
    return Opening("doorway", wall, along, width, sill, head)


def told(*rooms: Room) -> list[Finding]:
    job = j.job(rooms=rooms)
    return list(meetings(job, shipped(), build(job, LIMIT)))


def opened(*rooms: Room, limit: D | None = LIMIT) -> dict[str, list[tuple[int, int, int, int]]]:
    building = build(j.job(rooms=rooms), limit)
    return {
        f"{wall.room}, {wall.name}": [(o.along_mm, o.width_mm, o.sill_mm, o.head_mm) for o in wall.openings]
        for shape in building.rooms
        for wall in shape.walls
        if wall.openings
    }


# a: 6000 x 4000 at 0, 0; b beside it: 3000 x 3000 with its lowest corner at (6089, 500), so that 1000 to 1800 along b's
# left wall (from the front) is y 1500 to 2300, and 4000 - 2300 = 1700 to 2500 along a's right wall (from the back).


def room_b(*openings: Opening, level: int = 0, x: int = 6089, height: int = 2400) -> Room:
    return j.room("b", size=(3000, 3000), at=(x, 500), openings=openings, floor_level=level, height=height)


def test_an_opening_that_one_room_names_is_one_of_the_other_face_too() -> None:
    found = opened(j.room("a"), room_b(doorway("left", 1000)))
    assert {"a, right": [(1700, 800, 0, 2000)], "b, left": [(1000, 800, 0, 2000)]} == found


def test_without_the_rule_openings_are_where_they_are_named() -> None:
    assert {"b, left": [(1000, 800, 0, 2000)]} == opened(j.room("a"), room_b(doorway("left", 1000)), limit=None)


def test_studs_stand_beside_it_on_the_other_face() -> None:
    building = build(j.job(rooms=[j.room("a"), room_b(doorway("left", 1000))]), LIMIT)
    studs = building.room("a").wall("right").studs
    # 1700 - 38, and from 2500; the one on 1800 is within the doorway, the one on 2400 too: short, over it
    assert {(D(1662), D(1700)), (D(2500), D(2538))} <= {(s.left_mm, s.right_mm) for s in studs if s.gap_mm is None}
    assert [D(1800), D(2400)] == [s.centre_mm for s in studs if s.gap_mm == (0, 2000)]


def test_one_that_both_name_stays_as_each_has_it() -> None:
    a = j.room("a", openings=[doorway("right", 1710)])
    assert {"a, right": [(1710, 800, 0, 2000)], "b, left": [(1000, 800, 0, 2000)]} == opened(
        a, room_b(doorway("left", 1000))
    )
    assert [] == told(a, room_b(doorway("left", 1000)))  # 10 mm apart: measured twice


def test_edges_that_do_not_meet_are_asked_about_once() -> None:
    found = told(j.room("a", openings=[doorway("right", 1650)]), room_b(doorway("left", 1000)))
    assert [("opening-both-faces", "ask", D(50))] == [(of.check, of.level, of.value) for of in found]
    assert "Seen from b the first is 1050 to 1850 mm along" in found[0].message


def test_it_is_cut_where_the_other_wall_ends_and_told_at_its_level() -> None:
    # b's floor is 300 lower: a sill of 900 is 600 over a's floor; from b's 2600 on is y 3100, and on to 3500 of a's 4000
    found = opened(j.room("a"), room_b(Opening("window", "left", 2600, 400, 900, 2100), level=-300))
    assert [(500, 400, 600, 1800)] == found["a, right"]
    # the front of b stands 500 in from a's; a door of a at y 300 to 1100 reaches b's wall from y 500: 0 to 600 along
    assert [(0, 600, 0, 2000)] == opened(j.room("a", openings=[doorway("right", 2900)]), room_b())["b, left"]


def test_rooms_further_apart_or_on_another_storey_share_nothing() -> None:
    door = doorway("left", 1000)
    assert ["b, left"] == list(opened(j.room("a"), room_b(door, x=6401)))
    assert ["b, left"] == list(opened(j.room("a"), room_b(door, level=2642)))


def test_what_is_seen_through_is_seen_through_no_further() -> None:
    # three leaves, 89 apart: the opening of the first is in the second alone
    thin = [j.room("a"), j.room("b", size=(100, 4000), at=(6089, 0)), j.room("c", size=(3000, 4000), at=(6278, 0))]
    job = j.job(rooms=[j.room("a", openings=[doorway("right", 1000)]), *thin[1:]])
    building = build(job, LIMIT)
    assert ["b"] == [of.far.room for of in openings_through(building, D(100)) if of.own is None]


def test_a_socket_in_the_middle_of_a_doorway_of_the_room_behind_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        beside(along="1.6 m")
    assert [
        'X1 cannot be reached from CU: it lies in the doorway of wall "right" (1200 to 2000 mm along, 0 to 2000 mm high; '
        'room "honey" names it), which cuts its lane and its riser'
    ] == [of.found for of in refused.value.problems]


def test_a_socket_beside_it_is_asked_about_as_beside_any_opening() -> None:
    # hand: the box is 135 wide; from 2040 - 67.5 to the edge at 2000 are -27.5; at 2130, 62.5 of 100
    lying, near = beside(along="2.04 m"), beside(along="2.13 m")
    assert [("box-to-opening", "stop")] == [(of.check, of.level) for of in lying.findings if of.subject == "X1"]
    asked = next(of for of in near.findings if of.subject == "X1" and of.check == "box-to-opening")
    assert ("ask", D("62.5")) == (asked.level, asked.value)
    assert "from the doorway that honey names at 1.20 m" in asked.message


def test_the_note_says_what_is_counted_and_what_to_write() -> None:
    note = next(of for of in beside().findings if of.check == "opening-both-faces")
    assert ("note", "shed, right") == (note.level, note.subject)
    assert note.message.startswith(
        "The doorway in the left wall of honey, 1000 to 1800 mm along, goes through the right wall of shed too, 1200 to "
        "2000 mm along there; it is counted as an opening of both."
    )
    assert note.message.endswith(
        'write it in shed as well: kind = "doorway", wall = "right", along = "1200 mm", width = "800 mm", sill = "0 mm", '
        'head = "2000 mm".'
    )


def test_what_the_note_says_to_write_settles_it() -> None:
    named = '\n  [[room.opening]]\n  kind = "doorway"\n  wall = "right"\n  along = "1200 mm"\n  width = "800 mm"\n  sill = "0 mm"\n  head = "2000 mm"\n'
    both = worked(text().replace("\n  [[room.fitted]]", f"{named}\n  [[room.fitted]]", 1))
    assert not [of for of in both.findings if of.check == "opening-both-faces"]
    assert both.routes == beside().routes


@pytest.mark.parametrize(("x", "gap"), [("4800 mm", 0), ("4820 mm", 20), ("4888 mm", 88)])
def test_a_wall_with_no_room_for_its_studs_says_where_the_room_must_stand(x: str, gap: int) -> None:
    found = [of for of in beside(x).findings if of.check == "wall-between-rooms"]
    assert [("stop", "honey, left", D(gap), D(89))] == [(of.level, of.subject, of.value, of.limit) for of in found]
    assert 'write at = ["4889 mm", "0 mm"] for honey' in found[0].message


def test_rooms_a_stud_apart_are_not_told() -> None:
    assert not [of for of in beside().findings if of.check == "wall-between-rooms"]


@pytest.mark.parametrize(
    ("at", "says"),
    [
        ((0, 4020), 'write at = ["0 mm", "4089 mm"] for b'),
        # rooms go by y, then x, and the later one is told: a, at 0, 0, is over b by 50 of 89, then beside it by nothing
        ((0, -3050), 'write at = ["0 mm", "39 mm"] for a'),
        ((-3000, 0), 'write at = ["89 mm", "0 mm"] for a'),
    ],
)
def test_it_is_moved_away_on_whatever_side_it_stands(at: tuple[int, int], says: str) -> None:
    found = told(j.room("a"), j.room("b", size=(3000, 3000), at=at))
    assert ["wall-between-rooms"] == [of.check for of in found]
    assert says in found[0].message


def test_the_thinner_of_the_two_frames_is_the_wall_between() -> None:
    thin = j.frame(stud=j.section(38, 63))
    b = j.room("b", size=(3000, 3000), at=(6063, 0), frames={"left": thin})
    assert [] == told(j.room("a"), b)


@pytest.mark.parametrize(("level", "short"), [(2400, True), (2544, True), (2545, False)])
def test_a_floor_leaves_room_for_the_joists_under_it(level: int, short: bool) -> None:
    # 2400 high, joists of 145
    found = told(j.room("a"), j.room("loft", floor_level=level))
    assert ([("floor-between-rooms", "stop", "loft", D(level - 2400), D(145))] if short else []) == [
        (of.check, of.level, of.subject, of.value, of.limit) for of in found
    ]
    assert not short or 'write floor_level = "2545 mm" or more' in found[0].message


def test_a_floor_right_on_a_ceiling_is_told_though_nothing_says_its_joists() -> None:
    rooms = j.room("a", ceiling=j.UNKNOWN_JOISTS), j.room("loft", floor_level=2400)
    assert ["floor-between-rooms"] == [of.check for of in told(*rooms)]


def test_a_room_beside_and_higher_is_over_no_one() -> None:
    assert [] == told(j.room("a"), j.room("b", at=(6089, 0), floor_level=2400))


@pytest.mark.parametrize(
    ("keys", "says"),
    [
        (
            'size = ["20 mm", "3 m"]\nheight = "2.4 m"',
            'size[1]: "20 mm" is too small here; check the unit: write "20 m" if that is meant, or something from '
            '"300 mm" to "200 m"',
        ),
        (
            'size = ["3 m", "3 m"]\nheight = "24 mm"',
            'height: "24 mm" is too small here; check the unit: write "24 m" if that is meant, or something from '
            '"1 m" to "30 m"',
        ),
        (
            'outline = [["0 m","30 mm"], ["3 m","30 mm"], ["3 m","0 m"]]\nheight = "2.4 m"',
            'outline: the room is only 30 mm wide along y; check the unit; write at least "300 mm"',
        ),
    ],
)
def test_a_room_too_small_to_stand_in_has_the_wrong_unit(keys: str, says: str) -> None:
    with pytest.raises(Refused) as refused:
        parse_job(SMALL + f'\n[[room]]\nname = "r1"\nat = ["9 m", "0 m"]\n{keys}\n')
    assert [f"room.r1.{says}"] == [f"{of.where}: {of.found}; {of.write}" for of in refused.value.problems]
