"""The drilling list: where on each member a hole goes, which rule its bit goes by, totals by bit, the walk round a room."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal as D

import pytest

from estimator.building.build import build
from estimator.job.model import Job, Room
from estimator.routing.drilling import drill
from estimator.routing.model import BitTotal, Drilled, Passage, Path, Routes
from tests import jobs as j
from tests.network_jobs import flat_point, network, walls_of
from tests.test_drilling import passage, rows, through
from tests.wires import routed, trade


def bench(*places: tuple[str, int, int], room: Room | None = None, **more: object) -> Job:
    group = j.group("S", "double-socket", j.at(*places), circuit="bench")
    job = j.job([room] if room else [], [group], boards=[j.board(height=1100)], circuits=[j.circuit("bench")])
    return replace(job, **more)  # type: ignore[arg-type]  # fields of Job


def holes(routes: Routes, kind: str) -> list[Drilled]:
    return [hole for hole in routes.drilled if hole.passage.kind == kind]


def path(room: Room, points: Sequence[object], start: str, end: str) -> Path:
    found = network([room], points).path(start, end)  # type: ignore[arg-type]  # points
    assert found is not None
    return found


# --- where on the member: `hand` ------------------------------------------------------------------------------------


def test_a_stud_is_drilled_at_the_height_of_its_lane() -> None:
    found = path(
        j.room(floor_level=2650),
        walls_of(j.room(floor_level=2650), S1=("back", 500, 450), S2=("back", 2000, 450)),
        "S1",
        "S2",
    )

    # hand: studs at 600, 1200, 1800; the height counts from the floor of the room
    assert [(p.kind, p.key[3], p.on_member_mm) for p in found.passages] == [
        ("stud", "600", 450),
        ("stud", "1200", 450),
        ("stud", "1800", 450),
    ]


def test_a_plate_is_drilled_along_its_wall_and_a_joist_from_its_end() -> None:
    room = j.room()
    points = [*walls_of(room, S1=("back", 1000, 450)), flat_point(room, "L1", 2500, 1500)]
    found = path(room, points, "S1", "L1")

    # hand: up at x = 1000, 2400 up the wall; joists lie along y at multiples of 400, from the front wall on: whichever
    # line is taken, either 4000 mm (along the back wall) or 1500 mm (the light's line) from there
    plate, *joists = found.passages
    assert (plate.kind, plate.on_member_mm) == ("plate", 1000)
    assert [p.kind for p in joists] == ["joist"] * 4
    assert [p.key[3] for p in joists] == ["1200", "1600", "2000", "2400"]
    assert {p.on_member_mm for p in joists} <= {1500, 4000}
    assert all(p.on_member_mm == p.at[1] for p in joists)


def test_a_joist_along_x_is_measured_from_the_left_of_its_room_wherever_the_room_lies() -> None:
    room = j.room(at=(700, -300), ceiling=j.void(along="x"))
    points = [flat_point(room, "L1", 2500, 1500), flat_point(room, "L2", 2500, 2700)]
    found = path(room, points, "L1", "L2")

    assert [(p.key[3], p.on_member_mm) for p in found.passages] == [("1600", 2500), ("2000", 2500), ("2400", 2500)]


def test_a_joist_of_an_outline_begins_where_the_room_does() -> None:
    # an L: 6 m wide at the front, its left 3 m reach back to 4 m; joists along x, so those over the notch end at x = 3
    corners = ((0, 4000), (3000, 4000), (3000, 2000), (6000, 2000), (6000, 0), (0, 0))
    turned = tuple((6000 - x, y) for x, y in reversed(corners))  # the notch at the left
    for outline, own in ((corners, 2500), (turned, 500)):
        room = j.room(outline=outline, ceiling=j.void(along="x"))
        x = 2500 if outline is corners else 3500
        points = [flat_point(room, "L1", x, 2500), flat_point(room, "L2", x, 3500)]
        # hand: joists at 2800 and 3200; in the second room they begin at x = 3000
        assert [(p.key[3], p.on_member_mm) for p in path(room, points, "L1", "L2").passages] == [
            ("2800", own),
            ("3200", own),
        ]


def test_a_joist_begins_at_a_sloping_wall() -> None:
    # hand: the left wall leans from (0, 0) to (2000, 4000), so at y = 2000 the room begins at x = 1000
    room = j.room(outline=((2000, 4000), (6000, 4000), (6000, 0), (0, 0)), ceiling=j.void(along="x", centres=1000))
    points = [flat_point(room, "L1", 4000, 1500), flat_point(room, "L2", 4000, 2500)]

    assert [(p.key[3], p.on_member_mm) for p in path(room, points, "L1", "L2").passages] == [("2000", 3000)]


def test_a_wall_is_drilled_at_the_height_of_what_is_reached() -> None:
    group = j.group("O", "outdoor-socket", j.at(("back", 2000, 700)), surface="outside", circuit="bench")
    job = bench(("back", 1000, 700))
    routes = routed(replace(job, groups=(*job.groups, group)))

    assert [(hole.passage.key[3], hole.passage.on_member_mm) for hole in holes(routes, "wall")] == [("2000", 700)]


# --- the rule that binds: `hand` ------------------------------------------------------------------------------------


def bound(cables: Sequence[str], at: Passage) -> list[tuple[D | None, str]]:
    laid = [(str(number), name, through(at)) for number, name in enumerate(cables, 1)]
    found, _ = drill(build(j.job()), rows(), j.RULESET, laid)
    return [(hole.bit_mm, hole.bound_by) for hole in found]


def test_one_cable_goes_by_its_air() -> None:
    # hand: 11.5 and 4 of air are 15.5: the bit of 16
    assert bound(["te-2.5"], passage()) == [(D(16), "hole-air: a cable 11.5 mm wide and 4 mm of air, next bit up")]


def test_a_bundle_that_fits_goes_by_its_air() -> None:
    assert bound(["te-2.5", "te-2.5"], passage()) == [
        (D(22), "hole-air: 2 cables 11.5 mm wide and 12.4 mm high together and 4 mm of air, next bit up")
    ]


def test_cables_that_share_out_go_by_the_rule_of_the_member() -> None:
    # hand: a quarter of 89 is 22.25
    words = "stud-hole-max-ratio: a hole of at most 22.25 mm in this stud, too little for all 2 cables"
    assert bound(["te-4", "te-1.5"], passage()) == [(D(18), words), (D(14), words)]


def test_a_cable_too_wide_for_a_member_goes_by_the_rule_of_the_member() -> None:
    assert bound(["te-10"], passage(depth="63")) == [
        (
            None,
            "stud-hole-max-ratio: a hole of at most 15.75 mm in this stud, too little for a cable 19 mm wide and 4 mm of air",
        )
    ]


def test_a_joist_goes_by_its_depth_or_by_the_most_there_is_and_a_plate_by_its_own_rule() -> None:
    at = {
        "deep": passage(kind="joist", wall="", depth="400"),
        "low": passage(kind="joist", wall="", depth="60"),
        "plate": passage(kind="plate", depth="60"),
    }
    many = ["te-10"] * 9

    # a quarter of 400 is 100, more than 65, and both more than the largest bit, 32
    assert bound(many, at["deep"])[0][1] == "bit-sizes: no bit is larger than 32 mm, too little for all 9 cables"
    assert bound(["te-4"], at["low"])[0][1].startswith("joist-hole-max-ratio: a hole of at most 15 mm in this joist")
    assert bound(["te-4"], at["plate"])[0][1].startswith("plate-hole-max-ratio: a hole of at most 15 mm in this plate")


def test_the_strictest_of_two_rules_of_a_joist_binds() -> None:
    strict = trade(cables=[j.cable("te-10", "10", "4", "19", "9.6")])
    small = replace(strict, rules={**strict.rules, (j.RULESET, "joist-hole-max"): j.rule("joist-hole-max", 20)})
    at = passage(kind="joist", wall="", depth="145")
    (hole,), _ = drill(build(j.job()), small, j.RULESET, [("1", "te-10", through(at))])

    assert hole.bound_by.startswith("joist-hole-max: a hole of at most 20 mm in this joist")


@pytest.mark.parametrize(
    ("left_out", "words"), [("hole-air", "hole-air: not in the ruleset"), ("", "bit-sizes: not in the ruleset")]
)
def test_where_the_ruleset_is_silent_the_hole_says_so(left_out: str, words: str) -> None:
    table = rows()
    silent = replace(table, rules={key: rule for key, rule in table.rules.items() if key[1] != left_out})
    if not left_out:
        silent = replace(table, cells={})
    (hole,), _ = drill(build(j.job()), silent, j.RULESET, [("1", "te-4", through(passage()))])

    assert (hole.bit_mm, hole.bound_by) == (None, words)


# --- totals and the walk --------------------------------------------------------------------------------------------


def test_totals_by_bit_count_every_drilled_hole_once_smallest_bit_first() -> None:
    def hole(bit: int | None, kind: str) -> Drilled:
        return Drilled(passage(kind=kind), ("a",), ("te-4",), None if bit is None else D(bit))  # type: ignore[arg-type]

    drilled = tuple(hole(*row) for row in ((20, "stud"), (16, "wall"), (None, "stud"), (16, "joist"), (20, "stud")))

    assert Routes((), (), (), drilled, ()).bits == (
        BitTotal(D(16), "joist", 1),
        BitTotal(D(16), "wall", 1),
        BitTotal(D(20), "stud", 2),
        BitTotal(None, "stud", 1),
    )
    assert Routes((), (), (), (), ()).bits == ()


def house() -> Job:
    """Two rooms side by side, sockets on every wall and a light each, one radial."""
    rooms = [j.room("hall", (3000, 3000)), j.room("den", (4000, 3000), at=(3120, 0))]
    groups = [
        j.group("S", "double-socket", j.at(("left", 1500), ("back", 1500), ("front", 1500)), room="hall", circuit="a"),
        j.group("T", "double-socket", j.at(("right", 1500), ("back", 2000), ("front", 700)), room="den", circuit="a"),
        j.group("L", "downlight", j.at_xy((1500, 1500)), room="hall", surface="ceiling", circuit="a"),
        j.group("M", "downlight", j.at_xy((2000, 1500)), room="den", surface="ceiling", circuit="a"),
    ]
    board = j.board(room="hall", wall="left", along=600, height=1100)
    return j.job(rooms, groups, boards=[board], circuits=[j.circuit("a")])


def test_holes_come_room_by_room_wall_by_wall_clockwise_then_the_ceiling() -> None:
    routes = routed(house())
    order = [(hole.passage.room, hole.passage.wall or "ceiling") for hole in routes.drilled]
    walk = [(room, face) for room in ("hall", "den") for face in ("back", "right", "front", "left", "ceiling")]

    assert [walk.index(place) for place in order] == sorted(walk.index(place) for place in order)
    assert len(set(order)) > 4
    for room, wall in dict.fromkeys(place for place in order if place[1] != "ceiling"):
        along = [
            float(hole.passage.key[3])
            for hole in routes.drilled
            if (hole.passage.room, hole.passage.wall) == (room, wall)
        ]
        assert along == sorted(along)


def test_totals_of_a_job_are_those_of_its_list_and_no_more() -> None:
    routes = routed(house())
    counted = Counter((hole.bit_mm, hole.passage.kind) for hole in routes.drilled)

    assert {(total.bit_mm, total.kind): total.count for total in routes.bits} == counted
    assert all(hole.bound_by for hole in routes.drilled)


def test_names_and_the_order_of_a_file_change_no_place_on_a_member() -> None:
    job = house()
    turned = replace(job, rooms=job.rooms[::-1], groups=job.groups[::-1])

    def places(of: Job) -> list[tuple[object, ...]]:
        return sorted((h.passage.key, h.passage.on_member_mm, h.bit_mm or D(0), h.bound_by) for h in routed(of).drilled)

    assert places(job) == places(turned)
