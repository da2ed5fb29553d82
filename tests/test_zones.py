"""Cable zones: rectangles by hand, what lies outside them against every millimetre, and plans of walls."""

import random
from collections.abc import Iterable, Sequence
from dataclasses import replace
from decimal import Decimal as D

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.building.build import build
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import At, Frame, Group, Job, Layer, Opening, Room, WallPlace
from estimator.routing.model import Routes, WallPlan, Zone
from estimator.routing.zone_distance import Kind, farthest_mm
from estimator.routing.zones import Mark, zones_of
from tests import jobs as j
from tests.shed import shipped, sockets, worked
from tests.wires import HOLE_RULES, routed, trade

WIDTH = D(150)  # published: BS 7671 522.6.202 (i), the row zone-width of the shipped rules


def rects(zones: Iterable[Zone]) -> list[tuple[D | int, ...]]:
    return [(zone.low_along_mm, zone.high_along_mm, zone.low_mm, zone.high_mm) for zone in zones]


def zones(room: Room, wall: str, *marks: Mark) -> tuple[Zone, ...]:
    shape = build(j.job([room])).room(room.name)
    return zones_of(shape, shape.wall(wall), marks, WIDTH)


def socket(name: str, along: int, up: int) -> Mark:
    return Mark(name, along, up, D(146), D(86))


# --- rectangles: `hand` ---------------------------------------------------------------------------------------------


def test_a_bare_wall_has_zones_along_its_top_and_beside_its_corners_and_none_along_the_floor() -> None:
    found = zones(j.room(), "back")

    assert rects(found) == [(0, 6000, 2250, 2400), (0, 150, 0, 2400), (5850, 6000, 0, 2400)]
    assert [zone.reason for zone in found] == [
        "within 150 mm of the top",
        'within 150 mm of the corner with wall "left"',
        'within 150 mm of the corner with wall "right"',
    ]


def test_a_point_has_a_level_and_an_upright_zone_as_wide_as_its_plate() -> None:
    found = zones(j.room(), "back", socket("S3", 1000, 450))[3:]

    assert rects(found) == [(0, 6000, 407, 493), (927, 1073, 0, 2400)]
    assert [zone.reason for zone in found] == ["level with S3", "in line with S3"]


def test_zones_end_where_the_wall_does() -> None:
    low, upright = zones(j.room(), "back", socket("S1", 40, 20))[3:]

    assert rects([low, upright]) == [(0, 6000, 0, 63), (0, 113, 0, 2400)]


def test_a_wall_whose_cables_are_guarded_is_one_zone() -> None:
    found = zones(j.room(walls=j.frame(cable_zones="protected")), "left", socket("S1", 1000, 450))

    assert rects(found) == [(0, 4000, 0, 2400)]
    assert "guarded mechanically" in found[0].reason


def test_walls_that_go_straight_on_make_no_angle() -> None:
    corners = ((0, 4000), (3000, 4000), (6000, 4000), (6000, 0), (0, 0))
    found = zones(j.room(outline=corners), "wall-1")

    assert [zone.reason for zone in found] == [
        "within 150 mm of the top",
        'within 150 mm of the corner with wall "wall-5"',
    ]


# --- what is on a wall ----------------------------------------------------------------------------------------------


def job(groups: Sequence[Group], rooms: Sequence[Room] = (), **more: object) -> Job:
    """Groups on one circuit from a board on the left wall of the first room."""
    first = rooms[0].name if rooms else "studio"
    whole = j.job(rooms, groups, boards=[j.board(height=1100, room=first)], circuits=[j.circuit("a")])
    return replace(whole, **more)  # type: ignore[arg-type]  # fields of Job


def plan(routes: Routes, room: str, wall: str) -> WallPlan:
    return next(plan for plan in routes.walls if (plan.room, plan.wall) == (room, wall))


def reasons(routes: Routes, room: str, wall: str) -> list[str]:
    return [zone.reason for zone in plan(routes, room, wall).zones[3:]]


def wall_sockets(name: str, *places: tuple[str, int, int], room: str = "studio", circuit: str = "a") -> Group:
    return j.group(name, "double-socket", j.at(*places), room=room, circuit=circuit)


def outside(name: str, *places: tuple[str, int, int]) -> Group:
    return j.group(name, "outdoor-socket", j.at(*places), surface="outside", circuit="a")


THIN = j.frame(stud=j.section(38, 63), outside=(Layer(D(11), "sheathing"),))


def test_boards_count_and_points_on_the_ceiling_do_not() -> None:
    lights = j.group("L", "downlight", j.at_xy((1000, 1000)), surface="ceiling", circuit="a")
    routes = routed(job([wall_sockets("S", ("left", 3000, 450)), lights]))

    assert reasons(routes, "studio", "left") == ["level with CU", "in line with CU", "level with S1", "in line with S1"]
    level, upright = plan(routes, "studio", "left").zones[3:5]
    # hand: the board is 260 by 240 mm, 400 along and 1100 up
    assert rects([level, upright]) == [(0, 4000, 980, 1220), (270, 530, 0, 2400)]


def test_a_point_outside_has_no_zone_inside_unless_the_wall_is_thin() -> None:
    groups = [wall_sockets("S", ("left", 3000, 450)), outside("O", ("back", 2000, 450))]

    assert reasons(routed(job(groups)), "studio", "back") == []
    # hand: 63 of stud, 11 of sheathing, 12.5 of lining: 86.5 mm; with a lining of 26 it is 100, with 26.5 over it
    thin = routed(job(groups, [j.room(walls=THIN)]))
    assert reasons(thin, "studio", "back")[0] == "level with O1 on the other face of a wall 86.5 mm thick"
    for lining, count in (("26", 2), ("26.5", 0)):
        frame = replace(THIN, inside=(Layer(D(lining), "boarding"),))
        assert len(reasons(routed(job(groups, [j.room(walls=frame)])), "studio", "back")) == count


def partition(frame: Frame, gap: int) -> Job:
    """Two rooms side by side; T1 stands on the far face of the wall between them, 400 mm higher up there."""
    rooms = [
        j.room("a", (3000, 3000), walls=frame),
        j.room("b", (3000, 3000), at=(3000 + gap, 500), floor_level=-400, walls=frame),
    ]
    groups = [
        wall_sockets("S", ("right", 500, 450), room="a"),
        wall_sockets("T", ("left", 1000, 850), room="b"),
    ]
    return job(groups, rooms)


def test_a_thin_wall_between_rooms_has_the_zones_of_both_faces() -> None:
    routes = routed(partition(j.frame(stud=j.section(38, 63)), 63))
    thick = "on the other face of a wall 88 mm thick"  # hand: 63 and twice 12.5

    assert reasons(routes, "a", "right") == [
        "level with S1",
        "in line with S1",
        f"level with T1 {thick}",
        f"in line with T1 {thick}",
    ]
    # hand: the wall of a runs from y = 3000 down; T1 stands at y = 500 + 1000, so 1500 along, and 850 - 400 up
    assert rects(plan(routes, "a", "right").zones[5:7]) == [(0, 3000, 407, 493), (1427, 1573, 0, 2400)]
    # and S1 at y = 2500 is 2000 along the wall of b, 850 up
    assert rects(plan(routes, "b", "left").zones[5:7]) == [(0, 3000, 807, 893), (1927, 2073, 0, 2400)]


def test_a_thicker_wall_between_rooms_has_those_of_its_own_face_alone() -> None:
    # hand: 89 and twice 12.5 are 114 mm
    assert reasons(routed(partition(j.frame(), 89)), "a", "right") == ["level with S1", "in line with S1"]
    # 63 mm studs, but the faces are 80 mm apart: 105 mm
    assert len(reasons(routed(partition(j.frame(stud=j.section(38, 63)), 80)), "a", "right")) == 2


# --- what lies outside: `hand` --------------------------------------------------------------------------------------


def told(routes: Routes) -> list[Finding]:
    return [finding for finding in routes.findings if finding.check == "cable-zone"]


def test_lanes_and_risers_of_what_is_on_the_wall_lie_in_zones() -> None:
    lights = j.group("L", "downlight", j.at_xy((1000, 1000), (5000, 3500)), surface="ceiling", circuit="a")
    places = [("back", 700, 450), ("back", 3100, 450), ("right", 1900, 100), ("front", 3000, 2100)]
    for ceiling in (j.void(), j.NO_VOID):
        room = j.room(openings=[j.door(along=600)], ceiling=ceiling)
        groups = [wall_sockets("S", *places), *([lights] if ceiling.void else [])]
        assert told(routed(job(groups, [room]))) == []


def test_a_lane_that_belongs_to_a_point_outside_alone_is_told_with_its_wall_and_how_far_it_is_off() -> None:
    # hand: O1 and O2 are outside the back wall, 450 up. The leg from the board comes down beside the corner and along that
    # lane (one stud at 600, where the ceiling has joists at 400 and 800), the next goes on to 3000; the first 150 mm are
    # in the zone of the corner, and the only level zone of the wall is its top, 2250 up: 1800 mm away; from 1950 along
    # the corners are no nearer than that
    finding, *more = told(routed(job([outside("O", ("back", 1000, 450), ("back", 3000, 450))])))

    assert [(f.level, f.subject) for f in (finding, *more)] == [("ask", "studio, back")]
    assert (finding.value, finding.unit) == (D(1800), "mm")
    where = "the lane 450 mm up, 150 to 3000 mm along, up to 1800 mm from the nearest zone (a: CU to O1, a: O1 to O2)"
    assert finding.message.startswith(f"2850 mm of cable lie outside the cable zones of wall back: {where}. ")
    assert finding.message.endswith("Can it go another way, or be guarded mechanically?")


def test_a_riser_to_a_point_outside_is_out_of_zone_up_to_the_top_of_the_wall() -> None:
    # hand: from the board on the left by the ceiling to O1: the riser 1000 along, 450 up to 2250, where the top begins;
    # the nearest upright zone is the corner, 150 along; the top is nearer only from 1400 up
    (finding,) = told(routed(replace_keep(job([outside("O", ("back", 1000, 450))]))))

    assert finding.message.startswith("1800 mm of cable lie outside the cable zones of wall back: ")
    assert (
        "the riser 1000 mm along, 450 to 2250 mm up, up to 850 mm from the nearest zone (a: CU to O1)"
        in finding.message
    )
    assert finding.value == D(850)


def replace_keep(of: Job) -> Job:
    """Led by the ceiling, so that the way is known."""
    return replace(of, circuits=tuple(replace(circuit, keep_to="ceiling") for circuit in of.circuits))


def test_zones_of_other_points_cover_the_parts_of_a_lane_that_cross_them() -> None:
    # hand: S1 stands 2000 along and 1500 up, its plate is 146 wide: 1927 to 2073 of the lane below lie in its zone
    groups = [
        outside("O", ("back", 1000, 450), ("back", 3000, 450)),
        wall_sockets("S", ("back", 2000, 1500), circuit="none"),
    ]
    (finding,) = told(routed(job(groups)))

    assert "the lane 450 mm up, 150 to 1927, 2073 to 3000 mm along, " in finding.message
    # 3000 - 2073: at its end the upright zone of S1 is nearer than the level one, 1500 - 43 - 450 = 1007 mm off
    assert finding.value == D(927)
    assert finding.message.startswith("2704 mm of cable")


def test_cables_that_share_a_place_count_once_and_all_are_named() -> None:
    circuits = [j.circuit("a"), j.circuit("b")]
    groups = [
        outside("O", ("back", 1000, 450), ("back", 3000, 450)),
        replace(outside("P", ("back", 1000, 450), ("back", 3000, 450)), circuit="b"),
    ]
    (finding,) = told(routed(job(groups, circuits=tuple(circuits))))

    assert finding.message.startswith("2850 mm of cable")
    assert "up to 1800 mm from the nearest zone (a: CU to O1, a: O1 to O2, b: CU to P1 ...)" in finding.message


def test_there_is_one_finding_a_wall() -> None:
    groups = [outside("O", ("back", 1000, 450), ("back", 3000, 450), ("back", 2000, 1300), ("front", 2000, 700))]

    assert [finding.subject for finding in told(routed(job(groups)))] == ["studio, back", "studio, front"]


def test_a_wall_whose_cables_are_guarded_and_a_thin_one_have_none() -> None:
    groups = [outside("O", ("back", 1000, 450), ("back", 3000, 450))]

    assert told(routed(job(groups, [j.room(walls=j.frame(cable_zones="protected"))]))) == []
    assert told(routed(job(groups, [j.room(walls=THIN)]))) == []


def test_a_rise_from_a_lower_ceiling_next_door_is_told() -> None:
    # hand: the ceiling of b is 300 mm lower; a cable comes through the wall at 2100 and rises 300 mm in the wall of a,
    # 150 of them below the top of that wall, at the y of the light: 1500, in line with nothing; the top is 150 mm off
    rooms = [j.room("a", (3000, 3000)), j.room("b", (3000, 3000), at=(3120, 0), height=2100)]
    groups = [
        j.group("L", "downlight", j.at_xy((1500, 1500)), surface="ceiling", room="a", circuit="a"),
        j.group("M", "downlight", j.at_xy((1500, 1500)), surface="ceiling", room="b", circuit="a"),
    ]
    (finding,) = told(routed(job(groups, rooms)))

    assert finding.subject == "a, right"
    assert "the riser 1500 mm along, 2100 to 2250 mm up, up to 150 mm from the nearest zone" in finding.message


def test_without_the_rule_zones_are_not_known() -> None:
    rows = j.catalogue(rules=[rule for rule in HOLE_RULES if rule.rule != "zone-width"])
    routes = routed(job([wall_sockets("S", ("back", 1000, 450))]), rows)

    assert [(f.level, f.subject, f.message) for f in told(routes)] == [
        ("unchecked", "job", 'rules.csv has no value for "zone-width" in ruleset "uk": cable zones are not known')
    ]
    assert all(plan.zones == () and plan.lines for plan in routes.walls if plan.wall == "back")


def test_the_shipped_rules_know_the_zones_and_where_they_are_from() -> None:
    more = (
        '\n[[points]]\nname = "O"\nkind = "outdoor-socket"\ncircuit = "sockets"\nroom = "shed"\nsurface = "outside"\n'
        'height = "450 mm"\nat = [{ wall = "back", along = "1.3 m" }, { wall = "back", along = "4.1 m" }]\n'
    )
    found = [finding for finding in worked(sockets(2, more=more)).findings if finding.check == "cable-zone"]

    assert [finding.subject for finding in found] == ["shed, back"]
    assert found[0].source == shipped().rules["uk", "zone-width"].source
    assert [f for f in worked(sockets(12)).findings if f.check == "cable-zone"] == []


# --- how far out: `hand` --------------------------------------------------------------------------------------------


def strip(low: int, high: int, foot: int, head: int) -> Zone:
    return Zone(D(low), D(high), D(foot), D(head), "")


def far(found: Sequence[Zone], kind: Kind, at: int, *spans: tuple[int, int], openings: Sequence[Opening] = ()) -> int:
    return farthest_mm(found, openings, kind, at, [(D(low), D(high)) for low, high in spans])


CORNER, TOP = strip(0, 150, 0, 2400), strip(0, 6000, 2250, 2400)


def test_between_two_zones_the_middle_is_farthest_and_half_a_millimetre_goes_up() -> None:
    upright = strip(617, 703, 0, 2400)

    # (617 - 150) / 2 = 233.5; the top, 350 off, is farther
    assert far([CORNER, TOP, upright], "lane", 1900, (150, 617)) == 234
    # 150 + 350 = 500: from there on the top is the nearest
    assert far([CORNER, TOP, strip(1617, 1703, 0, 2400)], "lane", 1900, (150, 1617)) == 350


def test_a_zone_along_the_way_counts_where_it_is_nearer_than_one_that_lies_beside_all_of_it() -> None:
    # the riser 600 along is 450 from the corner all the way; half-way up, the level zones are farther: (2250 - 493) / 2
    assert far([CORNER, TOP, strip(0, 6000, 407, 493)], "riser", 600, (493, 2250)) == 450
    # from 1943 up the top is 307 off, nearer than the corner
    assert far([CORNER, TOP], "riser", 600, (1943, 2250)) == 307


def test_of_several_stretches_the_farthest_is_told_and_it_is_never_nought() -> None:
    assert far([CORNER, TOP], "lane", 2000, (150, 200), (300, 350)) == 200
    sliver = Zone(D(0), D(6000), D("450.25"), D(2400), "")
    assert far([sliver], "lane", 450, (0, 6000)) == 1


def test_round_a_window_the_nearest_place_of_a_zone_is_askew() -> None:
    # a window from 2000 to 3200 along, 900 to 2100 up, takes the middle out of a zone 1250 up; the lane passes 450 up:
    # from the middle it is 600 along and 800 up to the edge, 1000 mm askew (6, 8, 10); from the ends 800
    level, window = strip(0, 6000, 1250, 1300), j.window("back", 2000, 1200)

    assert far([level], "lane", 450, (2000, 3200)) == 800
    assert far([level], "lane", 450, (2000, 3200), openings=[window]) == 1000
    # 1250 - 43 - 450 to a zone in line with a socket at 1250: 600 and 757, the root of 933049 is 965.9
    assert far([strip(0, 6000, 1207, 1293)], "lane", 450, (2000, 3200), openings=[window]) == 966
    # a zone in line with something under the window ends at its sill: from 1500 up, beside it, 600 down and 200 along,
    # the root of 400000 is 632.5
    under = strip(2200, 2300, 0, 2400)
    assert far([strip(2200, 2300, 0, 900)], "riser", 2000, (900, 1500)) == 632
    assert far([under], "riser", 2000, (900, 1500), openings=[window]) == 632
    # and goes on above the head: half-way between sill and head both are as far
    assert far([under], "riser", 2000, (900, 2100), openings=[window]) == 632


def test_where_openings_leave_nothing_zones_count_whole() -> None:
    gate = j.door("back", 0, 6000, head=2400)

    assert far([TOP], "lane", 450, (0, 100), openings=[gate]) == 1800


def by_the_millimetre(
    found: Sequence[Zone], openings: Sequence[Opening], kind: Kind, at: int, span: tuple[int, int]
) -> D:
    """The farthest of all whole places of a span, each to the nearest corner of a square millimetre of zone on the wall."""
    squares = {
        (x, y)
        for zone in found
        for x in range(int(zone.low_along_mm), int(zone.high_along_mm))
        for y in range(int(zone.low_mm), int(zone.high_mm))
        if not any(
            gap.along_mm <= x < gap.along_mm + gap.width_mm and gap.sill_mm <= y < gap.head_mm for gap in openings
        )
    }
    free = {(x + right, y + up) for x, y in squares for right in (0, 1) for up in (0, 1)}
    places = [(place, at) if kind == "lane" else (at, place) for place in range(span[0], span[1] + 1)]
    squared = max(min((x - a) ** 2 + (y - b) ** 2 for a, b in free) for x, y in places)
    return D(squared).sqrt()


@settings(max_examples=60, deadline=None)
@given(st.randoms(use_true_random=False))
def test_how_far_out_agrees_with_every_millimetre_of_small_walls(pick: random.Random) -> None:
    def between(most: int) -> tuple[int, int]:
        low, high = sorted(pick.sample(range(most + 1), 2))
        return low, high

    wall = 24, 16
    found = [strip(*between(wall[0]), *between(wall[1])) for _ in range(pick.randrange(1, 4))]
    low, high = between(wall[0])
    foot, head = between(wall[1])
    gap = replace(j.window("back", low, high - low), sill_mm=foot, head_mm=head)
    kind: Kind = pick.choice(("lane", "riser"))
    span, at = between(wall[0] if kind == "lane" else wall[1]), pick.randrange(wall[1] + 1)
    openings = [gap] if pick.random() < 0.7 and any(not inside(zone, gap) for zone in found) else []

    seen = by_the_millimetre(found, openings, kind, at, span)
    # between two whole places it can be half a millimetre farther, and half of one is rounded away
    assert seen - D("0.5") <= far(found, kind, at, span, openings=openings) <= max(seen + 1, D(1))


def inside(zone: Zone, gap: Opening) -> bool:
    across = gap.along_mm <= zone.low_along_mm and zone.high_along_mm <= gap.along_mm + gap.width_mm
    return across and gap.sill_mm <= zone.low_mm and zone.high_mm <= gap.head_mm


# --- against every millimetre ---------------------------------------------------------------------------------------


def some_job(pick: random.Random) -> Job:
    """Sockets inside and outside on all walls of a room with a door, some at the same heights."""
    walls = ("back", "right", "front", "left")
    heights = (100, 450, 1100, 2300)

    def places(count: int) -> tuple[tuple[str, int, int], ...]:
        return tuple((pick.choice(walls), pick.randrange(40, 3960), pick.choice(heights)) for _ in range(count))

    room = j.room(openings=[j.door("front", 4200, 900)], ceiling=pick.choice([j.void(), j.void(), j.NO_VOID]))
    return job([wall_sockets("S", *places(pick.randrange(1, 4))), outside("O", *places(pick.randrange(1, 4)))], [room])


def out_by_millimetre(routes: Routes, rows: Catalogue, of: Job) -> dict[str, int]:
    """By wall, the half-millimetre places of routes that lie in no zone, worked out from points alone."""
    shape = build(of).room("studio")
    seen: dict[str, set[tuple[str, int, int]]] = {}
    for leg in routes.legs:
        for piece in leg.path.pieces:
            if piece.kind not in ("lane", "riser") or not piece.wall:
                continue
            wall = shape.wall(piece.wall)
            ends = [abs(x - wall.start[0]) + abs(y - wall.start[1]) for x, y, _ in (piece.start, piece.end)]
            ups = [piece.start[2], piece.end[2]]
            span = ends if piece.kind == "lane" else ups
            for place in range(min(span), max(span)):
                at = (place, ups[0]) if piece.kind == "lane" else (ends[0], place)
                seen.setdefault(piece.wall, set()).add((piece.kind, *at))
    inside = [g for g in of.groups if g.surface == "wall" and isinstance(g.placing, At)]
    marks = [(p, rows.points[g.kind]) for g in inside if isinstance(g.placing, At) for p in g.placing.places]
    found = {}
    for name, places in seen.items():
        length = shape.wall(name).length_mm
        own = [
            (p.along_mm, p.height.mm, kind)
            for p, kind in marks
            if isinstance(p, WallPlace) and p.height and p.wall == name
        ]
        boards = [(400, 1100, rows.boards["consumer-unit-8"])] if name == "left" else []
        out = 0
        for kind, along, up in places:
            a, h = (D(along) + D("0.5"), D(up)) if kind == "lane" else (D(along), D(up) + D("0.5"))
            # a place just 150 mm from the edge is within 150 mm of it (BS 7671 522.6.202 (i))
            near = h >= 2250 or a <= 150 or a >= length - 150
            for x, y, plate in own:
                near |= abs(a - x) <= plate.plate_width_mm / 2 or abs(h - y) <= plate.plate_height_mm / 2
            for x, y, board in boards:
                near |= abs(a - x) <= board.width_mm / 2 or abs(h - y) <= board.height_mm / 2
            out += not near
        if out:
            found[f"studio, {name}"] = out
    return found


@settings(max_examples=25, deadline=None)
@given(st.randoms(use_true_random=False))
def test_lengths_outside_agree_with_every_millimetre_of_every_route(pick: random.Random) -> None:
    of = some_job(pick)
    routes = routed(of)
    lengths = {finding.subject: D(finding.message.split(" ")[0]) for finding in told(routes)}

    assert lengths == {wall: D(count) for wall, count in out_by_millimetre(routes, trade(), of).items()}
    assert all(finding.value is not None and finding.value > 0 for finding in told(routes))


def test_a_riser_just_150_mm_from_the_corner_is_in_the_zone_of_the_corner() -> None:
    of = some_job(random.Random(4122))  # a point outside at 150 along the back wall, reached by a riser there
    assert "studio, back" not in {finding.subject for finding in told(routed(of))}
    assert "studio, back" not in out_by_millimetre(routed(of), trade(), of)


def test_names_and_the_order_of_a_file_change_no_zone_and_no_length() -> None:
    of = some_job(random.Random(5))
    renamed = replace(of, groups=tuple(replace(g, name={"S": "B", "O": "A"}[g.name]) for g in reversed(of.groups)))

    def seen(routes: Routes) -> list[object]:
        return [sorted(rects(plan.zones)) for plan in routes.walls]

    assert seen(routed(of)) == seen(routed(renamed))
    assert [(f.subject, f.value) for f in told(routed(of))] == [(f.subject, f.value) for f in told(routed(renamed))]


# --- plans of walls -------------------------------------------------------------------------------------------------


def lines(of: WallPlan, kind: str) -> list[tuple[int, tuple[tuple[int, int], ...], str]]:
    return [(line.at_mm, line.stretches, line.reason) for line in of.lines if line.kind == kind]


def test_the_plan_of_a_wall_shows_its_lanes_and_risers_what_openings_leave_of_them_and_why_they_are_there() -> None:
    room = j.room(openings=[j.window("back", 2000, 1200)])
    groups = [wall_sockets("S", ("back", 1000, 450), ("back", 2600, 450)), outside("O", ("back", 4000, 1100))]
    found = plan(routed(job(groups, [room])), "studio", "back")

    # hand: the window is 2000 to 3200 along, 900 to 2100 up; end studs are 38 mm thick
    assert lines(found, "lane") == [
        (450, ((0, 6000),), "level with S1, S2"),
        (1100, ((0, 2000), (3200, 6000)), "level with O1"),
    ]
    assert lines(found, "riser") == [
        (38, ((450, 2400),), "beside the stud at the end of the wall"),
        (1000, ((450, 2400),), "in line with S1"),
        (2600, ((450, 900), (2100, 2400)), "in line with S2"),
        (4000, ((450, 2400),), "in line with O1"),
        (5962, ((450, 2400),), "beside the stud at the end of the wall"),
    ]


def test_lanes_below_a_ceiling_and_of_guarded_walls_say_why_they_are_there() -> None:
    room = j.room(walls=j.frame(cable_zones="protected"), ceiling=j.NO_VOID, floor=j.void())
    found = plan(routed(job([wall_sockets("S", ("back", 1000, 450))], [room])), "studio", "front")

    assert lines(found, "lane") == [
        (450, ((0, 6000),), "level with S1, guarded mechanically"),
        (1100, ((0, 6000),), "level with CU, guarded mechanically"),
        (2300, ((0, 6000),), "100 mm below a ceiling without a void"),
    ]
    # from the floor void to the highest lane
    assert [stretches for _, stretches, _ in lines(found, "riser")] == [((0, 2300),), ((0, 2300),)]


@pytest.mark.parametrize("wall", ["right", "front"])
def test_a_wall_with_nothing_on_it_has_zones_and_no_lines(wall: str) -> None:
    found = plan(routed(job([wall_sockets("S", ("back", 1000, 450))])), "studio", wall)

    assert (len(found.zones), found.lines) == (3, ())


@pytest.mark.parametrize("seed", range(6))
def test_every_route_on_a_wall_follows_a_lane_or_riser_of_its_plan(seed: int) -> None:
    of = some_job(random.Random(seed))
    routes, shape = routed(of), build(of).room("studio")
    followed = 0
    for leg in routes.legs:
        for piece in leg.path.pieces:
            if piece.kind in ("lane", "riser") and piece.wall:
                x0, y0 = shape.wall(piece.wall).start
                alongs = sorted(abs(x - x0) + abs(y - y0) for x, y, _ in (piece.start, piece.end))
                ups = sorted((piece.start[2], piece.end[2]))
                at, span = (ups[0], alongs) if piece.kind == "lane" else (alongs[0], ups)
                known = [s for s in plan(routes, "studio", piece.wall).lines if (s.kind, s.at_mm) == (piece.kind, at)]
                assert any(low <= span[0] and span[1] <= high for line in known for low, high in line.stretches)
                followed += 1
    assert followed
