"""Noggins behind boxes. Every expected value is `hand` (worked beside it) unless it says otherwise."""

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.building.build import build
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import Frame, Group, Room, Section
from estimator.setout.model import Noggin, SetOut
from estimator.setout.noggins import setback_mm, spacer_mm
from estimator.setout.place import set_out
from tests.jobs import (
    PLASTERBOARD,
    RULES_MM,
    SKIM,
    at,
    catalogue,
    frame,
    group,
    job,
    point_kind,
    room,
    rule,
    section,
    spread,
    window,
)

D = Decimal


def lay(
    *groups: Group, rooms: Room | None = None, walls: Frame | None = None, kinds: Catalogue | None = None
) -> SetOut:
    whole = job([rooms or room(walls=walls)], groups)
    return set_out(whole, kinds or catalogue(), build(whole))


def only_noggin(*groups: Group, walls: Frame | None = None) -> Noggin:
    [noggin] = lay(*groups, walls=walls).noggins
    return noggin


def told(found: SetOut, check: str) -> list[Finding]:
    return [finding for finding in found.findings if finding.check == check]


@pytest.mark.parametrize(
    ("centres", "thickness", "length"), [(600, 38, 562), (400, 38, 362), (600, 47, 553), (400, 47, 353)]
)
def test_a_noggin_is_as_long_as_its_bay_is_wide(centres: int, thickness: int, length: int) -> None:
    # hand, check values 1
    walls = frame(stud=section(thickness, 89), centres=centres)
    noggin = only_noggin(group("W", "switch", at(("back", centres * 3 // 2))), walls=walls)
    assert (noggin.length_mm, noggin.left_mm) == (D(length), centres + D(thickness) / 2)
    assert noggin.part == "timber-38x89"


def test_set_back_is_box_depth_less_what_covers_the_stud() -> None:
    # hand, check values 2: 25, 35, 47 mm boxes in 12.5 mm: 12.5, 22.5, 34.5 mm
    plain = frame()
    assert [setback_mm(plain, D(depth)) for depth in (25, 35, 47)] == [D("12.5"), D("22.5"), D("34.5")]
    # hand, check values 3: with 2 mm of skim, 35: 20.5 mm
    assert setback_mm(frame(inside=(PLASTERBOARD, SKIM)), D(35)) == D("20.5")
    # hand: a gap of 25 mm behind the lining as well: 35 - 25 - 12.5
    assert setback_mm(frame(gap=25), D(35)) == D("-2.5")


@pytest.mark.parametrize(
    ("stud", "noggin", "depth", "left"),
    [
        # hand, check values 4: a 63 stud, 38 flat
        (section(38, 63), section(38, 89), 25, "12.5"),
        (section(38, 63), section(38, 89), 35, "2.5"),
        (section(38, 63), section(38, 89), 47, "-9.5"),
        # hand, check values 5: an 89 stud, 38 flat
        (section(38, 89), section(38, 89), 25, "38.5"),
        (section(38, 89), section(38, 89), 35, "28.5"),
        (section(38, 89), section(38, 89), 47, "16.5"),
        # hand, check values 6: a timber of 97, 38 flat
        (section(47, 97), section(38, 89), 35, "36.5"),
    ],
)
def test_the_spacer_fills_what_is_left_of_the_stud(stud: Section, noggin: Section, depth: int, left: str) -> None:
    walls = frame(stud=stud, noggin=noggin)
    assert spacer_mm(walls, setback_mm(walls, D(depth))) == D(left)


def test_a_noggin_on_edge_reaches_through_by_its_depth() -> None:
    # hand: 38 x 63 on edge in a stud of 89, set back 22.5: 89 - 22.5 - 63 = 3.5
    noggin = only_noggin(
        group("S", "double-socket", at(("back", 900))), walls=frame(noggin=section(38, 63), on_edge=True)
    )
    assert (noggin.setback_mm, noggin.spacer_mm) == (D("22.5"), D("3.5"))


def test_fourteen_sockets_that_share_no_bay_take_7_868_m() -> None:
    # hand, check values 11 and 12: 14 x 562 mm = 7.868 m; the bays of a long wall from 600 to 5400
    back = [("back", along) for along in range(900, 5101, 600)]
    front = [("front", along) for along in range(900, 3901, 600)]
    found = lay(group("S", "double-socket", at(*back, *front)))
    assert len(found.noggins) == 14
    assert sum(noggin.length_mm for noggin in found.noggins) == 7868
    assert found.findings == ()


def test_places_of_one_bay_within_ten_millimetres_share_a_noggin() -> None:
    # hand: 1100 and 1110 share, at 1105; 1111 does not
    def lay_two(height: int) -> tuple[Noggin, ...]:
        return lay(group("A", "single-socket", at(("back", 800, 1100), ("back", 1000, height)))).noggins

    [shared] = lay_two(1110)
    assert list(shared.points) == ["A1", "A2"]
    assert (shared.height_mm, shared.length_mm) == (1105, D(562))
    assert [noggin.points for noggin in lay_two(1111)] == [("A1",), ("A2",)]


def test_places_in_two_bays_share_nothing() -> None:
    found = lay(group("A", "single-socket", at(("back", 1000), ("back", 1400))))
    assert [(noggin.points, noggin.left_mm) for noggin in found.noggins] == [(("A1",), D(619)), (("A2",), D(1219))]


def test_three_places_no_two_of_which_are_too_far_apart_share() -> None:
    # hand: from the lowest up: 1100 takes 1110; 1118 is 18 from 1100 and has its own, 13 from the first at 1105
    found = lay(group("A", "single-socket", at(("back", 700, 1100), ("back", 900, 1110), ("back", 1100, 1118))))
    assert [noggin.points for noggin in found.noggins] == [("A1", "A2"), ("A3",)]
    assert [finding.level for finding in told(found, "noggin-overlap")] == ["ask"]


def test_noggins_of_one_bay_that_would_overlap_are_told() -> None:
    # hand: a flat 89 mm face: 88 apart overlap, 89 touch
    over = lay(group("A", "single-socket", at(("back", 800, 1100), ("back", 1000, 1188))))
    clear = lay(group("A", "single-socket", at(("back", 800, 1100), ("back", 1000, 1189))))
    assert [finding.message for finding in over.findings] == [
        "A1 and A2 on wall back share a bay with their noggins 88 mm apart in height, less than the 89 mm they are "
        "high: give them one height, or move one to another bay?"
    ]
    assert clear.findings == ()


def test_boxes_of_two_depths_at_one_height_are_told_with_both_set_backs() -> None:
    # hand: 35 - 12.5 and 25 - 12.5
    found = lay(
        group("A", "single-socket", at(("back", 800))),
        group("W", "switch", at(("back", 1000))),
    )
    [only] = found.findings
    assert (only.check, only.level) == ("noggin-overlap", "ask")
    assert only.message == (
        "W1 and A1 on wall back share a bay at 1.10 m but need noggins set back 12.5 mm and 22.5 mm: "
        "use boxes of one depth, or move one to another bay?"
    )
    assert len(found.noggins) == 2


def test_boxes_of_two_depths_at_heights_far_apart_are_no_matter() -> None:
    found = lay(
        group("A", "single-socket", at(("back", 800, 450))),
        group("W", "switch", at(("back", 800, 1100))),
    )
    assert found.findings == ()


def test_a_box_shallower_than_the_lining_leaves_its_noggin_proud() -> None:
    # hand: 10 - 12.5 = -2.5
    found = lay(group("S", "shallow-socket", at(("back", 900), ("back", 1500))))
    [only] = found.findings
    assert (only.check, only.level, only.value) == ("noggin-proud", "ask", D("-2.5"))
    assert only.message == (
        "S1, S2 on wall back: the box is 10 mm deep behind 12.5 mm of lining and gap, so its noggin would stand 2.5 mm "
        "proud of the studs: take a box at least 12.5 mm deep?"
    )


def test_a_noggin_that_does_not_fit_is_a_stop_that_names_the_timber_that_would() -> None:
    # hand: 63 - 34.5 = 28.5 left for a noggin of 38, 9.5 too much; of 38, 25 and 47 mm timbers the 25 fits
    found = lay(group("S", "deep-socket", at(("back", 900))), walls=frame(stud=section(38, 63)))
    [only] = found.findings
    assert (only.check, only.level, only.value) == ("noggin-fit", "stop", D("-9.5"))
    assert only.message == (
        "S1 on wall back: a noggin 38 mm through the wall does not fit; set back 34.5 mm in a stud 63 mm deep it "
        "reaches 9.5 mm past the back; timber 28.5 mm thick or less, laid flat, would fit: timber-25x89 is 25 mm"
    )


def test_a_noggin_on_edge_that_does_not_fit_is_laid_flat() -> None:
    # hand: 89 - 22.5 - 89 = -22.5; flat it takes 38
    found = lay(group("S", "double-socket", at(("back", 900))), walls=frame(on_edge=True))
    [only] = found.findings
    assert only.message.endswith("timber-38x89 laid flat would fit")


def test_where_no_timber_of_the_catalogue_is_thin_enough_the_thickness_is_named() -> None:
    # hand: a stud of 47 less 34.5 leaves 12.5
    found = lay(group("S", "deep-socket", at(("back", 900))), walls=frame(stud=section(38, 47)))
    assert told(found, "noggin-fit")[0].message.endswith("timber 12.5 mm thick or less, laid flat, would fit")


def test_only_boxes_fixed_to_noggins_have_one() -> None:
    found = lay(
        group("L", "dry-lined-socket", at(("back", 900))),
        group("H", "panel-heater", at(("left", 1000)), height=400),
        group("O", "outdoor-socket", at(("back", 900)), surface="outside"),
    )
    assert found.noggins == ()


def test_a_place_inside_a_stud_or_an_opening_has_no_noggin() -> None:
    # hand: the window's space from 1600 to 2600 is no bay
    view = room(openings=[window("back", 1600, 1000)])
    found = lay(group("S", "double-socket", at(("back", 1200), ("back", 2100))), rooms=view)
    assert found.noggins == ()
    assert [finding.level for finding in found.findings] == ["stop", "stop"]


def test_above_an_opening_a_noggin_reaches_between_the_short_studs() -> None:
    # hand: short studs at 1800 and 2400 above the window: 1819 to 2381
    view = room(openings=[window("back", 1600, 1000)])
    [noggin] = lay(group("S", "double-socket", at(("back", 2100)), height=2250), rooms=view).noggins
    assert (noggin.left_mm, noggin.length_mm) == (D(1819), D(562))


def test_how_near_places_share_is_a_row_of_the_rules() -> None:
    near = catalogue(rules=[rule("noggin-share-height", 20)])
    group_of_two = group("A", "single-socket", at(("back", 800, 1100), ("back", 1000, 1115)))
    assert RULES_MM["noggin-share-height"] == 10
    assert len(lay(group_of_two).noggins) == 2
    assert len(lay(group_of_two, kinds=near).noggins) == 1


def test_noggins_are_sorted_by_wall_left_end_and_height() -> None:
    found = lay(
        group("A", "single-socket", at(("left", 900), ("back", 1500, 1400), ("back", 1500, 450), ("back", 900)))
    )
    assert [noggin.points for noggin in found.noggins] == [("A4",), ("A3",), ("A2",), ("A1",)]


@given(
    count=st.integers(1, 30),
    centres=st.sampled_from([400, 600]),
    depth=st.sampled_from([25, 35, 47]),
    height=st.integers(200, 2200),
)
@settings(max_examples=40, deadline=None)
def test_every_box_of_a_spread_is_carried_once_and_its_depths_add_up(
    count: int, centres: int, depth: int, height: int
) -> None:
    kinds = catalogue(points=[point_kind("single-socket", (72, 72, depth))])
    found = lay(group("A", "single-socket", spread(count), height=height), walls=frame(centres=centres), kinds=kinds)
    carried = [point for noggin in found.noggins for point in noggin.points]
    assert sorted(carried) == sorted(point.id for point in found.points)
    assert len({(noggin.wall, noggin.left_mm) for noggin in found.noggins}) == len(found.noggins)
    for noggin in found.noggins:
        assert noggin.setback_mm + noggin.spacer_mm + 38 == 89
        assert noggin.height_mm == height
