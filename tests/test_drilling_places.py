"""Places of holes: where the second hole of a place goes, by hand; holes near one another; what holds wherever holes are."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal as D
from fractions import Fraction
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.building.build import build
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.documents.data_routes import drilling_data
from estimator.job.model import Room
from estimator.routing.drilling import drill
from estimator.routing.model import XYZ, Drilled, Passage, Path
from tests import jobs as j
from tests.test_drilling import passage, rows, through
from tests.test_workbook import pottery_studio, told

TWO = ("te-4", "te-1.5")
"""Too much for one hole of 22 mm: 13.0 wide and 7.2 + 5.4 high, 18.1, + 4; by themselves bits of 18 and 14."""


def joist(x: int, y: int, depth: str = "89", room: Room | None = None) -> Passage:
    """A line at `y` that passes the joist at `x`; joists lie along y."""
    left, front = room.at if room else (0, 0)
    key = ("joist", "studio", "ceiling", str(x), f"y={y}")
    return Passage(key, "joist", "studio", "", (x + left, y + front, 2400), "", D(depth), y)


def placed(
    laid: Iterable[tuple[str, str, Path]], room: Room | None = None, table: Catalogue | None = None
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    building = build(j.job([room] if room else ()))
    return drill(building, table or rows(), j.RULESET, tuple(laid))


def set_off(at: Passage, cables: Sequence[str] = TWO, room: Room | None = None) -> list[tuple[D | None, int, XYZ]]:
    """Bit, distance from the first hole and place of every hole that these cables take there."""
    holes, _ = placed([(str(number), name, through(at)) for number, name in enumerate(cables, 1)], room)
    return [(hole.bit_mm, hole.by_mm, hole.at) for hole in holes]


# --- in a stud: `hand` ----------------------------------------------------------------------------------------------


def test_a_second_hole_is_three_diameters_of_the_larger_up_or_down_the_stud() -> None:
    # hand: 3 x 18 = 54; zones of 2400 mm are 600 to 960 and 1440 to 1800: of 1100 the lower is the nearer one
    assert set_off(passage(600, height=1100)) == [(D(18), 0, (600, 4000, 1100)), (D(14), -54, (600, 4000, 1046))]
    # hand: 1200 is as far from either, so up
    assert set_off(passage(600, height=1200)) == [(D(18), 0, (600, 4000, 1200)), (D(14), 54, (600, 4000, 1254))]


def test_a_third_hole_goes_to_the_other_side() -> None:
    # hand: two and two of 2.5 take 22, the fifth 16; 3 x 22 = 66 either way, towards the zone first
    of = set_off(passage(600, height=450), ["te-2.5"] * 5)
    assert [(bit, by) for bit, by, _ in of] == [(D(22), 0), (D(22), 66), (D(16), -66)]


def test_holes_that_can_stay_in_the_drilling_zone_do() -> None:
    # hand: 930 is in the zone of 600 to 960, 996 is not, so both go down
    of = set_off(passage(600, height=930), ["te-2.5"] * 5)
    assert [by for _, by, _ in of] == [0, -66, -132]
    # hand: from 960, the edge, likewise, and from 600 both go up
    assert [by for _, by, _ in set_off(passage(600, height=960))] == [0, -54]
    assert [by for _, by, _ in set_off(passage(600, height=600), ["te-2.5"] * 5)] == [0, 66, 132]


def test_near_its_end_a_stud_is_drilled_inside() -> None:
    # hand: 2390 + 54 is above the ceiling at 2400
    assert [by for _, by, _ in set_off(passage(600, height=2390))] == [0, -54]
    # hand: 30 - 66 is below the floor: 96, then 162
    assert [by for _, by, _ in set_off(passage(600, height=30), ["te-2.5"] * 5)] == [0, 66, 132]


def test_a_stud_that_an_opening_cuts_is_drilled_in_its_own_part() -> None:
    # hand: above a door of 2100 the stud at 1200 is 300 long; zones 2175 to 2220, 2280 to 2325: 2120 has no room below
    room = j.room(openings=[j.door("back", 700, 900)])
    assert [by for _, by, _ in set_off(passage(1200, height=2120), ["te-2.5"] * 5, room)] == [0, 66, 132]
    # hand: under a window of sill 900 the stud ends at 900; zones 225 to 360, 540 to 675
    room = j.room(openings=[j.window("back", 700, 900)])
    assert [by for _, by, _ in set_off(passage(1200, height=880), ["te-2.5"] * 5, room)] == [0, -66, -132]


def test_a_hole_without_a_bit_keeps_the_room_it_would_need() -> None:
    # hand: a 63 mm stud takes 15.75; te-4 would need 18: 3 x 18
    assert [(bit, by) for bit, by, _ in set_off(passage(600, height=450, depth="63"))] == [(None, 0), (D(14), 54)]


def test_half_millimetres_of_spacing_go_up() -> None:
    table = rows()
    ratio = replace(table, rules={**table.rules, (j.RULESET, "stud-hole-spacing-ratio"): j.rule("x", "2.75", "ratio")})
    holes, findings = placed([(name, name, through(passage(600, height=450))) for name in TWO], table=ratio)

    # hand: 2.75 x 18 = 49.5
    assert [hole.by_mm for hole in holes] == [0, 50]
    assert not any(one.check == "hole-spacing" for one in findings)


# --- in a plate, a wall and a joist: `hand` -------------------------------------------------------------------------


def test_a_second_hole_of_a_riser_stays_in_its_bay() -> None:
    # hand: the stud at 600 begins at 581; 560 + 54 is in it
    assert set_off(passage(560, "plate", height=2400)) == [
        (D(18), 0, (560, 4000, 2400)),
        (D(14), -54, (506, 4000, 2400)),
    ]
    # hand: beside the end stud, which is 38 wide
    assert [by for _, by, _ in set_off(passage(38, "plate", height=2400))] == [0, 54]
    # hand: free on both sides: to the right
    assert [by for _, by, _ in set_off(passage(900, "plate", height=0), ["te-2.5"] * 5)] == [0, 66, -66]


def test_where_a_bay_is_too_narrow_for_the_spacing_holes_go_as_far_apart_as_it_allows() -> None:
    # hand: between the stud at 600 (to 619) and that of the door (from 682): 626 to 675 for a 14 mm hole; 640 + 35
    room = j.room(openings=[j.door("back", 720, 900)])
    holes, findings = placed([(name, name, through(passage(640, "plate", height=2400))) for name in TWO], room)
    assert [hole.by_mm for hole in holes] == [0, 35]
    assert [(one.check, one.value, one.limit) for one in findings] == [("hole-spacing", D(35), D(54))]


def test_where_two_holes_would_run_into_one_another_the_next_bay_takes_the_second() -> None:
    # hand: 619 to 662: at most 15 from 640, and the two need 16; the bay on the left ends at 581, less 7: 574, 66 off
    room = j.room(openings=[j.door("back", 700, 900)])
    assert [by for _, by, _ in set_off(passage(640, "plate", height=2400), room=room)] == [0, -66]


def test_holes_through_a_wall_go_along_it() -> None:
    # hand: four, four and two of 1.5 take bits of 32, 32 and 20: 3 x 32; the right wall runs from the back to the front
    at = passage(2000, "wall", depth=None, wall="right", height=700)
    of = set_off(at, ["te-1.5"] * 10)
    assert of == [
        (D(32), 0, (6000, 2000, 700)),
        (D(32), 96, (6000, 1904, 700)),
        (D(20), -96, (6000, 2096, 700)),
    ]


def test_along_a_sloping_wall_a_hole_is_on_the_wall() -> None:
    # hand: a wall from (0, 0) to (3000, 4000) is 5000 long; 54 along it are 32.4 and 43.2
    room = j.room(outline=((0, 0), (3000, 4000), (6000, 4000), (6000, 0)))
    key = ("plate", "studio", "wall-1", "1000", "2400")
    at = Passage(key, "plate", "studio", "wall-1", (600, 800, 2400), "", D(89), 1000)
    assert [xyz for _, _, xyz in set_off(at, room=room)] == [(600, 800, 2400), (632, 843, 2400)]


def test_holes_in_a_joist_go_along_it_and_stay_in_its_zone() -> None:
    # hand: of 4000 the zones are 1000 to 1600 and 2400 to 3000; 1590 + 54 leaves the first
    assert set_off(joist(400, 1590)) == [(D(18), 0, (400, 1590, 2400)), (D(14), -54, (400, 1536, 2400))]
    # hand: 2000 is as far from either
    assert [by for _, by, _ in set_off(joist(400, 2000))] == [0, 54]
    # hand: along the walls a line passes the joists at their ends
    assert [by for _, by, _ in set_off(joist(400, 0))] == [0, 54]
    assert [by for _, by, _ in set_off(joist(400, 4000))] == [0, -54]


def test_a_joist_of_an_outline_ends_where_the_room_does_wherever_that_lies() -> None:
    # hand: an L, 4 m deep on its left 3 m and 2 m on its right; a joist at 4000 ends at y = 2000
    corners = ((0, 4000), (3000, 4000), (3000, 2000), (6000, 2000), (6000, 0), (0, 0))
    room = j.room(outline=corners, at=(700, -300), ceiling=j.void())
    assert set_off(joist(4000, 2000, room=room), room=room)[1] == (D(14), -54, (4700, 1646, 2400))
    assert [by for _, by, _ in set_off(joist(2000, 2000, room=room), room=room)] == [0, 54]


# --- beside other places --------------------------------------------------------------------------------------------


def two_lanes(low: int, high: int, lone: str = "te-4") -> list[tuple[str, str, Path]]:
    """Two cables that take two holes at the height `high`, and a lone one at `low`, through the studs at 600 and 1200."""
    upper, lower = (through(*(passage(along, height=height) for along in (600, 1200))) for height in (high, low))
    return [("a", TWO[0], upper), ("b", TWO[1], upper), ("c", lone, lower)]


def test_a_set_off_keeps_its_distance_from_the_hole_of_another_lane() -> None:
    holes, findings = placed(two_lanes(1010, 1100))

    # hand: 1046 would be 36 mm from the lane at 1010 where 54 belong, so up: 1154; 1100 and 1010 are 90 apart
    assert [(hole.at[0], hole.at[2], hole.by_mm) for hole in holes] == [
        (600, 1010, 0),
        (600, 1100, 0),
        (600, 1154, 54),
        (1200, 1010, 0),
        (1200, 1100, 0),
        (1200, 1154, 54),
    ]
    assert [one.check for one in findings] == ["hole-off-lane"]


def test_lanes_too_near_to_each_other_are_told_once_for_a_wall_with_the_worst_of_them() -> None:
    lanes = (450, 500, 980)
    laid = [
        (str(height), "te-4", through(*(passage(along, height=height) for along in (600, 1200)))) for height in lanes
    ]
    laid += [
        ("d", "te-4", through(passage(600, height=470))),
        ("e", "te-4", through(passage(600, "plate", wall="left"))),
    ]
    holes, findings = placed(laid)

    # hand: 54 belong; at 600: 450, 470, 500 make three pairs, 20 the nearest; at 1200 one, 50
    assert [hole.set_off for hole in holes] == [None] * 8
    (one,) = findings
    assert (one.check, one.level, one.subject) == ("hole-spacing", "ask", "studio, back")
    assert (D(20), D(54), "mm", "common practice") == (one.value, one.limit, one.unit, one.source)
    assert one.message.startswith("4 pairs of holes are nearer to each other than 3 times the larger of them.")
    assert "20 mm apart between centres, where 54 mm belong: the stud at 600 mm, 450 and 470 mm up" in one.message


@pytest.mark.parametrize(
    ("one", "other", "words"),
    [
        (
            passage(900, "plate", height=2400),
            passage(910, "plate", height=2400),
            "the plate at 2400 mm up, 900 and 910 mm along",
        ),
        (joist(400, 900), joist(400, 910), "the joist at x = 400 mm, 900 and 910 mm along it"),
        (
            passage(900, "wall", depth=None, height=1100),
            passage(906, "wall", depth=None, height=1108),
            "900 mm along, 1100 mm up and 906 mm along, 1108 mm up",
        ),
    ],
)
def test_other_members_say_where_on_them_the_two_are(one: Passage, other: Passage, words: str) -> None:
    _, findings = placed([("a", "te-4", through(one)), ("b", "te-4", through(other))])

    # hand: 6 and 8 make 10
    assert [(of.check, of.value, of.limit) for of in findings[:1]] == [("hole-spacing", D(10), D(54))]
    assert {"hole-zone"} >= {of.check for of in findings[1:]}
    assert findings[0].message.startswith("Two holes are nearer")
    assert words in findings[0].message


@pytest.mark.parametrize(
    ("laid", "words"),
    [
        # hand: 54 belong, either could go 44 further from the other; of equals the second
        ((900, 910), "Both are where their cables run. The one at 910 mm would keep its distance at 954 mm: can"),
        # hand: studs at 600 and 1200 leave 619 to 1181, holes 628 to 1172 (bit 18); the first goes to 846 by 54, the other
        # would have to pass 950: 1004, by 104
        ((890, 900, 950), "The one at 890 mm would keep its distance at 846 mm: can"),
        # hand: from 628 every 50 to 1178 there is no gap of 108 in the bay; in the one before it 600 - 19 - 9 = 572 is free
        (tuple(range(628, 1179, 50)), "The one at 628 mm would keep its distance at 572 mm, in another bay: can"),
    ],
)
def test_holes_too_near_are_told_with_the_nearest_place_that_is_far_enough(laid: tuple[int, ...], words: str) -> None:
    _, findings = placed([(str(at), "te-4", through(passage(at, "plate", height=2400))) for at in laid])
    assert words in next(of.message for of in findings if of.check == "hole-spacing")


def test_where_no_place_is_far_enough_the_best_and_its_distance_are_told() -> None:
    # hand: along the whole plate of 6000 mm holes every 50 mm leave nowhere 54 from all others
    laid = [(str(at), "te-4", through(passage(at, "plate", height=2400))) for at in range(20, 5990, 50)]
    _, findings = placed(laid)
    (one,) = [of for of in findings if of.check == "hole-spacing"]
    assert "There is no place left that keeps the distance from every hole" in one.message
    assert "mm from the next. What does the frame's designer say?" in one.message


def test_holes_just_as_far_apart_as_they_belong_are_not_told() -> None:
    laid = [(str(up), "te-4", through(passage(600, height=up))) for up in (450, 504)]
    assert placed(laid)[1] == ()
    assert len(placed([*laid, ("d", "te-1.5", through(passage(600, height=557)))])[1]) == 1


def test_holes_that_leave_their_lane_are_asked_about_where_cable_zones_bind() -> None:
    laid = [(name, name, through(passage(600, height=450), passage(900, "plate", height=0))) for name in TWO]
    _, findings = placed(laid)
    guarded = placed(laid, j.room(walls=j.frame(cable_zones="protected")))[1]
    above = placed([(name, name, through(passage(900, "plate", height=2400))) for name in TWO])[1]

    # hand: one in the stud and one in the plate at the floor, 54 off; at the ceiling the whole wall is a zone
    assert [(one.check, one.level, one.subject, one.value) for one in findings] == [
        ("hole-off-lane", "ask", "studio, back", D(54))
    ]
    assert findings[0].message.startswith("2 holes are set off from the lane or riser of the cables, by 54 mm at most")
    assert (guarded, above) == ((), ())


def test_without_a_spacing_holes_do_not_run_into_one_another_and_that_is_told() -> None:
    table = rows()
    silent = replace(table, rules={key: rule for key, rule in table.rules.items() if "spacing" not in key[1]})
    holes, findings = placed([(name, name, through(passage(600, height=450))) for name in TWO], table=silent)
    lone = placed([("a", "te-4", through(passage(600)))], table=silent)

    # hand: half of 18 and half of 14
    assert [hole.by_mm for hole in holes] == [0, 16]
    words = (
        'rules.csv has no value for "stud-hole-spacing-ratio" in ruleset "uk": how far apart holes belong is not known'
    )
    assert [one.message for one in findings if one.level == "unchecked"] == [words]
    assert lone[1] == ()


# --- wherever holes are ---------------------------------------------------------------------------------------------

CABLES = ("te-1.5", "te-2.5", "te-4", "te-10")
PLACES = st.one_of(
    st.builds(lambda along, up: passage(along, height=up), st.sampled_from((600, 1200)), st.integers(20, 2380)),
    st.builds(lambda along, up: passage(along, "plate", height=up), st.integers(38, 5962), st.sampled_from((0, 2400))),
    st.builds(
        lambda along, up: passage(along, "wall", None, height=up), st.integers(60, 5940), st.sampled_from((700, 720))
    ),
    st.builds(joist, st.sampled_from((400, 800)), st.integers(0, 4000)),
)
LAID = st.lists(st.tuples(PLACES, st.lists(st.sampled_from(CABLES), min_size=1, max_size=9)), min_size=1, max_size=6)


def as_laid(of: Sequence[tuple[Passage, Sequence[str]]]) -> list[tuple[str, str, Path]]:
    return [(f"{n}-{m}", cable, through(at)) for n, (at, cables) in enumerate(of) for m, cable in enumerate(cables)]


def wide(hole: Drilled) -> D:
    """hand: what none of the bits allowed passes is te-10 (25 mm), te-4 (18) or te-2.5 (16)."""
    return hole.bit_mm or D({"te-10": 25, "te-4": 18, "te-2.5": 16}[hole.cables[0]])


def member(hole: Drilled) -> tuple[object, ...]:
    x, _, z = hole.passage.at
    where = {"stud": x, "joist": x, "plate": z, "wall": None}[hole.passage.kind]
    return hole.passage.kind, where


@settings(max_examples=150, deadline=None)
@given(LAID)
def test_no_two_holes_of_a_member_share_a_place_and_all_lie_within_it(
    of: Sequence[tuple[Passage, Sequence[str]]],
) -> None:
    holes, _ = placed(as_laid(of))
    studs = build(j.job()).room("studio").wall("back").studs

    assert len(holes) == len({(member(hole), hole.at) for hole in holes})
    for hole in (hole for hole in holes if hole.by_mm):
        x, y, z = hole.at
        half = wide(hole) / 2
        if hole.passage.kind == "stud":
            assert half <= z <= 2400 - half
        elif hole.passage.kind == "joist":
            assert half <= y <= 4000 - half
        else:
            assert all(x + half <= stud.left_mm or stud.right_mm <= x - half for stud in studs)


@settings(max_examples=150, deadline=None)
@given(LAID)
def test_of_one_place_the_first_is_on_the_line_and_its_others_follow_it(
    of: Sequence[tuple[Passage, Sequence[str]]],
) -> None:
    holes, _ = placed(as_laid(of))
    for key in dict.fromkeys(hole.passage.key for hole in holes):
        places = [number for number, hole in enumerate(holes) if hole.passage.key == key]
        mine = [holes[number] for number in places]
        assert list(range(places[0], places[0] + len(mine))) == places
        assert mine[0].at == mine[0].passage.at
        numbers = [(hole.set_off.number, hole.set_off.of) for hole in mine if hole.set_off]
        assert numbers == ([(n, len(mine)) for n in range(1, len(mine) + 1)] if len(mine) > 1 else [])
        assert all((hole.by_mm != 0) == (hole is not mine[0]) for hole in mine)


@settings(max_examples=150, deadline=None)
@given(LAID)
def test_every_wall_with_holes_too_near_is_told_with_the_worst_and_no_other(
    of: Sequence[tuple[Passage, Sequence[str]]],
) -> None:
    holes, findings = placed(as_laid(of))
    worst: dict[str, Fraction] = {}
    for one, other in combinations(holes, 2):
        square = sum((a - b) ** 2 for a, b in zip(one.at, other.at, strict=True))
        share = Fraction(square) / Fraction(3 * max(wide(one), wide(other))) ** 2
        if member(one) == member(other) and share < 1:
            face = f"studio, {one.passage.face}"
            worst[face] = min(share, worst.get(face, share))
    near = {one.subject: one for one in findings if one.check == "hole-spacing"}

    assert set(worst) == set(near)
    for face, share in worst.items():
        value, limit = near[face].value, near[face].limit
        assert value is not None
        assert limit is not None
        assert Fraction(value) ** 2 <= share * Fraction(limit) ** 2 < Fraction(value + 1) ** 2


@settings(max_examples=100, deadline=None)
@given(LAID, st.randoms(use_true_random=False))
def test_names_and_the_order_of_cables_change_no_place_and_no_bit(
    of: Sequence[tuple[Passage, Sequence[str]]], turn: object
) -> None:
    laid = as_laid(of)
    mixed = [(f"x{number}", cable, path) for number, (_, cable, path) in enumerate(laid)]
    turn.shuffle(mixed)  # type: ignore[attr-defined]  # what `randoms` makes

    def places(holes: Iterable[Drilled]) -> list[tuple[object, ...]]:
        return [(hole.passage.key, hole.at, hole.bit_mm, sorted(hole.cables)) for hole in holes]

    assert places(placed(laid)[0]) == places(placed(mixed)[0])


def test_of_cables_alike_the_one_whose_route_comes_first_is_on_the_line_whatever_it_is_called() -> None:
    at = passage(600, height=450)
    ways = [replace(through(at), points=((x, 4000, 450), (2000, 4000, 450))) for x in (0, 100)]
    for names, order in ((("a", "b"), 1), (("b", "a"), 1), (("a", "b"), -1)):
        laid = [(name, "te-4", way) for name, way in zip(names, ways, strict=True)]
        holes, _ = placed(laid[::order])
        # hand: two of 4 mm2 need 13.0 by 14.4 (19.4) and 4: over 22, so two holes of 18
        assert [((names[0],), 0), ((names[1],), 54)] == [(hole.legs, hole.by_mm) for hole in holes]


# --- as people are told ---------------------------------------------------------------------------------------------


def test_the_data_has_a_place_of_its_own_for_every_hole() -> None:
    holes, _ = placed([(name, name, through(passage(600, height=450))) for name in TWO])
    assert [[0.6, 4, 0.45], [0.6, 4, 0.504]] == [drilling_data(hole)["at"] for hole in holes]


def test_the_drilling_list_says_which_hole_it_is_and_where() -> None:
    of = pottery_studio()
    listed = [row for row in told(of, "Drilling") if "\n" in str(row[1])]
    beside = [row for row in listed if row[2:4] == [5400, 510]]

    # hand: of 1.5 and twice 2.5 on the lane at 450, 1.5 and 2.5 take a bit of 20, the other 14; 3 x 20 = 60
    assert [("stud 38 x 89 mm\nhole 2 of 2, 60 mm above the lane", 14)] == [(row[1], row[4]) for row in beside]
    of_several = [row for row in listed if "\nhole " in str(row[1])]
    assert len(of_several) == sum(hole.set_off is not None for hole in of.routes.drilled)
    assert ["stud 38 x 89 mm\nhole 1 of 2, on the lane"] == [row[1] for row in listed if row[2:4] == [5400, 450]]
