"""One frame with a room on each side: rows of studs, noggins back to back, sizes of studs. All `hand`."""

from decimal import Decimal as D
from functools import cache

import pytest

from estimator.building.build import build
from estimator.checks.model import Finding
from estimator.checks.shared_walls import two_faces
from estimator.estimate import estimate
from estimator.job.model import Frame, Room
from estimator.result import Estimate
from estimator.setout.model import Noggin, Point, SetOut
from tests import jobs as j
from tests.houses import house
from tests.shed import shipped

LIMIT = D(400)
EMPTY = SetOut((), (), (), ())

# a: 6000 x 4000 at 0, 0; b right of it, 3000 x 3000, its front at y: an along s of a's right wall (from the back) is
# 4000 - y - s along b's left wall (from the front), so the two rows of 600 agree where 4000 - y is a multiple of 600.


def room_b(y: int = 400, gap: int = 89, level: int = 0, frame: Frame | None = None) -> Room:
    frames = {"left": frame} if frame else None
    return j.room("b", size=(3000, 3000), at=(6000 + gap, y), floor_level=level, frames=frames)


def told(b: Room, a_frame: Frame | None = None, placed: SetOut = EMPTY) -> list[Finding]:
    a = j.room("a", frames={"right": a_frame} if a_frame else None)
    job = j.job(rooms=(a, b))
    return list(two_faces(job, shipped(), build(job, LIMIT), placed))


def kinds(found: list[Finding]) -> list[tuple[str, str, D | None]]:
    return [(of.check, of.level, of.value) for of in found]


@cache
def worked_house() -> Estimate:
    return estimate(house(), shipped())


@pytest.mark.parametrize(
    ("y", "apart"),
    [
        (400, None),  # 3600 = 6 x 600
        (399, None),  # 3601: 1 mm, one stud
        (398, 2),
        (500, 100),  # 3500: b's studs at 2900, 2300, 1700, 1100 of a, whose own are at 3000, 2400, 1800, 1200
        (700, 300),  # 3300: at 2700, 2100 ..., half way
    ],
)
def test_rows_of_studs_agree_only_where_what_overlaps_fits(y: int, apart: int | None) -> None:
    assert ([("studs-of-two-faces", "ask", D(apart))] if apart else []) == kinds(told(room_b(y)))


def test_it_names_the_wall_the_distance_and_what_to_do() -> None:
    (found,) = told(room_b(500))
    assert ("b, left", D(1)) == (found.subject, found.limit)
    assert found.message == (
        "The wall between a (right) and b (left) is one frame, but each face counts studs from its own left end: the rows "
        "are up to 100 mm apart, and boxes, holes and noggins of one face are not where it says. Mark the studs from the "
        "left end in a, and ask for those of b to be measured again."
    )


def test_centres_that_settle_it_are_named_and_do() -> None:
    (found,) = told(room_b(700))
    assert 'write centres = "300 mm" for both walls' in found.message  # 3300 = 11 x 300; 400 leaves 100
    assert [] == told(room_b(700, frame=j.frame(centres=300)), j.frame(centres=300))


def test_other_centres_on_one_face_are_another_row() -> None:
    # 3600: b's studs at 3200, 2800, 2400 ... of a; a's at 3000, 1800 and 600 are 200 from any
    (found,) = told(room_b(frame=j.frame(centres=400)))
    assert D(200) == found.value
    assert 'write centres = "400 mm" for both' in found.message


def test_openings_do_not_make_two_rows() -> None:
    a, b = j.room("a", openings=[j.door("right", 1555)]), room_b()
    job = j.job(rooms=(a, b))
    assert () == two_faces(job, shipped(), build(job, LIMIT), EMPTY)


def test_rooms_of_two_storeys_and_rooms_too_near_are_not_compared() -> None:
    assert [] == told(room_b(500, level=2642))
    assert [] == told(room_b(500, gap=88))  # told as a wall with no room for its studs


@pytest.mark.parametrize(
    ("gap", "a", "b", "says"),
    [
        (89, (38, 140), (38, 89), 'write stud = "38 x 89 mm" for the right wall of a'),
        (140, (38, 140), (38, 89), 'write stud = "38 x 140 mm" for the left wall of b'),
        (63, (38, 89), (38, 63), 'write stud = "38 x 63 mm" for the right wall of a'),
        (89, (38, 89), (47, 89), "write one size for both, 89 mm deep"),
        (120, (38, 140), (38, 89), "write one size for both, 120 mm deep"),
        (120, (38, 89), (38, 89), 'For one, write at = ["6089 mm", "400 mm"] for b, or write stud = "38 x 120 mm" for'),
        (177, (38, 89), (38, 89), "two need 178 mm or more"),
    ],
)
def test_a_wall_of_two_sizes_is_asked_about(gap: int, a: tuple[int, int], b: tuple[int, int], says: str) -> None:
    found = told(room_b(gap=gap, frame=j.frame(stud=j.section(*b))), j.frame(stud=j.section(*a)))
    assert [("frames-of-two-faces", "ask", D(gap))] == kinds(found)
    assert says in found[0].message
    assert f"is {gap} mm" in found[0].message


@pytest.mark.parametrize("gap", [178, 200])
def test_two_frames_with_room_for_both_are_only_noted(gap: int) -> None:
    # rows that differ, and noggins that reach past the middle, are no matter of two frames
    placed = SetOut((point("A1", "a", "right", 1500), point("B1", "b", "left", 2000)), (), pair(450, 450), ())
    found = told(room_b(500, gap=gap), placed=placed)
    assert [("frames-of-two-faces", "note", D(gap))] == kinds(found)
    assert f"{gap} mm apart, room for two frames (89 mm and 89 mm)" in found[0].message


def point(id_: str, room: str, wall: str, along: int) -> Point:
    at = (0, 0, 0)
    return Point(id_, id_[:-1], 1, "double-socket", None, room, "wall", wall, along, 450, None, at, at, 0)


def noggin(id_: str, room: str, wall: str, left: int, height: int, back: D) -> Noggin:
    return Noggin((id_,), room, wall, "timber-38x89", D(left), D(562), height, back, D(0))


def pair(a_height: int, b_height: int, back: D = D("22.5")) -> tuple[Noggin, Noggin]:
    """One in the bay 1219 to 1781 of a; one in the bay 1819 to 2381 of b, which is 3600 - 2381 = 1219 to 1781 of a."""
    return noggin("A1", "a", "right", 1219, a_height, back), noggin("B1", "b", "left", 1819, b_height, back)


def back_to_back(
    noggins: tuple[Noggin, ...], b_along: int = 2000, level: int = 0, frame: Frame | None = None
) -> list[Finding]:
    points = point("A1", "a", "right", 1500), point("B1", "b", "left", b_along)
    return told(room_b(level=level, frame=frame), frame, SetOut(points, (), noggins, ()))


def test_noggins_back_to_back_that_do_not_both_fit_are_asked_about() -> None:
    (found,) = back_to_back(pair(450, 450))
    assert ("noggins-back-to-back", "ask", D(121), D(89)) == (found.check, found.level, found.value, found.limit)
    assert found.message.startswith(
        "The wall between a (right) and b (left), 89 mm: the noggins of A1 and B1 want one place, 60.5 + 60.5 mm = 121 mm "
        "with their set-backs. Settle it first:"
    )


@pytest.mark.parametrize(
    ("a", "b", "back", "level", "clash"),
    [
        (450, 538, D("22.5"), 0, True),  # flat, 89 high: 1 mm of them meets
        (450, 539, D("22.5"), 0, False),
        (450, 450, D("6.5"), 0, False),  # 2 x (6.5 + 38) = 89 fits to the millimetre
        (450, 450, D(7), 0, True),
        (450, 750, D("22.5"), -300, True),  # one height from a floor 300 lower
        (450, 450, D("22.5"), -300, False),
    ],
)
def test_they_meet_where_heights_and_depths_do(a: int, b: int, back: D, level: int, clash: bool) -> None:
    assert (["noggins-back-to-back"] if clash else []) == [
        of.check for of in back_to_back(pair(a, b, back), level=level)
    ]


@pytest.mark.parametrize(("b", "clash"), [(487, True), (488, False)])
def test_a_noggin_on_edge_is_as_high_as_it_is_thick(b: int, clash: bool) -> None:
    # 38 x 63 on edge: 38 high, 63 through
    edge = j.frame(noggin=j.section(38, 63), on_edge=True)
    found = back_to_back(pair(450, b, D(0)), frame=edge)
    assert ([("noggins-back-to-back", "ask", D(126))] if clash else []) == kinds(found)


def test_boxes_of_two_bays_are_no_pair() -> None:
    a, _ = pair(450, 450)
    assert [] == back_to_back((a, noggin("B1", "b", "left", 2419, 450, D("22.5"))), b_along=2500)


def test_all_pairs_of_a_wall_are_one_finding_the_deepest_first() -> None:
    a, b = pair(450, 450)
    low = noggin("C1", "a", "right", 1219, 1200, D(10)), noggin("D1", "b", "left", 1819, 1200, D(10))
    points = (
        point("A1", "a", "right", 1500),
        point("B1", "b", "left", 2000),
        point("C1", "a", "right", 1500),
        point("D1", "b", "left", 2000),
    )
    (found,) = told(room_b(), placed=SetOut(points, (), (*low, a, b), ()))
    assert "the noggins of A1 and B1 want" in found.message
    assert "; so do those of C1 and D1." in found.message


def test_the_pairs_of_the_house_are_asked_about_and_none_is_a_stop() -> None:
    # hand: 35 deep less 12.5 + 2 of lining is 20.5, with 38 of timber 58.5 from each face
    found = [of for of in worked_house().findings if of.check == "noggins-back-to-back"]
    assert {("ask", D(117), D(89))} == {(of.level, of.value, of.limit) for of in found}
    said = " ".join(of.message for of in found)
    assert all(pair in said for pair in ("MS3 and GS2", "MW1 and GX1", "TS1 and NS4"))
    assert "LS1" not in said  # its box and KD5's are in two bays, whichever row is kept
    assert [] == [of for of in worked_house().findings if of.level == "stop"]


def test_at_most_one_of_each_sort_is_told_of_a_wall() -> None:
    sorts = ("studs-of-two-faces", "noggins-back-to-back", "frames-of-two-faces")
    told = [(of.check, of.message.split(" is one frame")[0].split(",")[0]) for of in worked_house().findings]
    ours = [of for of in told if of[0] in sorts]
    assert ours
    assert len(set(ours)) == len(ours)
