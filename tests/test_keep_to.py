"""Circuits that keep to walls or to ceilings: by hand, against the network laid out in full, and what cuts points off."""

import random
from collections.abc import Iterable, Sequence
from dataclasses import replace

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estimator.job.model import Job, KeepTo, Opening, Room
from estimator.problems import Refused
from estimator.routing.model import Path
from estimator.routing.network import HOLE_BASE, Network
from estimator.setout.model import PlacedBoard, Point
from tests import jobs as j
from tests.network_jobs import flat_point, network, placed_board, soffit_point, wall_point, walls_of
from tests.network_oracle import MM, Node, oracle
from tests.test_network import some_points, some_room
from tests.wires import routed

KINDS: tuple[KeepTo, ...] = ("walls", "ceiling")


def cost(found: Network, start: str, end: str) -> tuple[int, int] | None:
    value = found.costs([start, end])[0][1]
    return None if value is None else divmod(value, HOLE_BASE)


# --- by hand --------------------------------------------------------------------------------------------------------


def test_walls_lead_along_lanes_where_a_void_would_be_shorter() -> None:
    room = j.room()
    points = walls_of(room, S1=("back", 3000, 2100), S2=("front", 3000, 2100), S3=("left", 2000, 2100))
    points += walls_of(room, S4=("right", 2000, 2100))
    net = network([room], points)

    # hand: through the void 300 up, 4000 across, 300 down; by walls 3000 + 4000 + 3000. Holes: joists lie along y, so
    # the void has the two plates; each 6 m wall has studs at 600 ... 5400, four or five of them passed to its middle
    assert cost(net, "S1", "S2") == (4600, 2)
    found = net.kept_to("walls")
    length, holes = cost(found, "S1", "S2") or (0, 0)
    assert length == 10_000
    path = found.path("S1", "S2")
    assert path is not None
    assert {piece.kind for piece in path.pieces} == {"lane"}
    assert path.holes.plate == path.holes.joist == 0
    assert holes == path.holes.stud


def test_ceiling_leads_up_and_down_where_a_lane_would_be_shorter() -> None:
    room = j.room()
    net = network([room], walls_of(room, S1=("back", 1000, 450), S2=("back", 2000, 450)))

    # hand: along the lane 1 m and the stud at 1200 and 1800; by the ceiling twice 1950 and 1 m across joists at 1200,
    # 1600 and 2000 (the last is passed coming from lower x only where one goes on), two plates
    assert cost(net, "S1", "S2") == (1000, 2)
    assert cost(net.kept_to("ceiling"), "S1", "S2") == (4900, 4)
    path = net.kept_to("ceiling").path("S1", "S2")
    assert path is not None
    assert [piece.kind for piece in path.pieces] == ["riser", "across-joists", "riser"]


def test_any_is_the_whole_network() -> None:
    room = j.room()
    net = network([room], walls_of(room, S1=("back", 1000, 450), S2=("front", 2000, 1100)))

    assert net.kept_to("any").costs(["S1", "S2"]) == net.costs(["S1", "S2"])


def test_points_outside_and_in_soffits_keep_to_what_reaches_them() -> None:
    room = j.room(soffits=())
    points = [
        wall_point(room, "O1", "back", 1000, 450, "outside"),
        soffit_point(room, "L1", "back", 1000, 300),
        *walls_of(room, S1=("back", 1000, 1100)),
    ]
    net = network([room], points)

    # hand: 120 mm of wall and 650 mm of riser; the soffit is reached from the ceiling void alone
    assert cost(net.kept_to("walls"), "S1", "O1") == (770, 1)
    assert cost(net.kept_to("walls"), "S1", "L1") is None
    assert cost(net.kept_to("ceiling"), "S1", "O1") == (770, 1)
    assert cost(net.kept_to("ceiling"), "S1", "L1") == (1300 + 420, 2)


def test_ceilings_of_two_storeys_are_joined_by_the_risers_of_the_upper_one() -> None:
    low = j.room("low")
    high = j.room("high", floor_level=2650, floor=j.void())
    points = [wall_point(low, "S1", "back", 1000, 450), wall_point(high, "T1", "back", 1000, 450)]
    points.append(wall_point(high, "T2", "back", 3000, 450))
    net = network([low, high], points).kept_to("ceiling")

    # hand: 1950 up, 250 through the storey, 450 up; T2 2 m further along, in the lower ceiling or over the upper one
    assert cost(net, "S1", "T1") == (2650, 2)
    length, _ = cost(net, "S1", "T2") or (0, 0)
    assert length == 4650
    path = net.path("S1", "T2")
    assert path is not None
    assert [(piece.kind, piece.room) for piece in path.pieces if piece.void] == [
        ("across-joists", "low"),
        ("riser", "high"),
    ]
    assert cost(network([low, high], points).kept_to("walls"), "S1", "T1") is None


# --- against the network laid out in full ---------------------------------------------------------------------------


def keeps(kind: KeepTo, one: Node, other: Node) -> bool:
    """Whether a way of the oracle keeps to some surfaces; its nodes say what they are."""
    kinds = {one[0], other[0]}
    if kind == "walls":
        return "void" not in kinds
    same_room = one[1] == other[1]
    if kinds == {"wall"}:
        return not (same_room and one[4] == other[4])
    return not (kinds == {"void"} and same_room and one[2] == other[2] == "floor")


def compare(rooms: Sequence[Room], points: Sequence[Point], boards: Sequence[PlacedBoard], holes: bool = True) -> None:
    names = [*(point.id for point in points), *(board.name for board in boards)]
    net, lines = network(rooms, points, boards), oracle(rooms, points, boards)
    for kind in KINDS:
        found = net.kept_to(kind)
        ways = nx.subgraph_view(lines.graph, filter_edge=lambda a, b, kind=kind: keeps(kind, a, b))
        table = found.costs(names)
        for row, name in enumerate(names):
            reached = nx.single_source_dijkstra_path_length(ways, lines.node[name])
            for column, other in enumerate(names):
                value = reached.get(lines.node[other])
                ours = table[row][column]
                theirs = None if value is None else divmod(value, MM)
                whole = None if ours is None else divmod(ours, HOLE_BASE)
                assert (whole if holes or whole is None else whole[0]) == (
                    theirs if holes or theirs is None else theirs[0]
                ), (kind, name, other)
                check(found.path(name, other), whole, kind)
                assert bool(found.why_unreached(name, other)) == (ours is None)


def check(path: Path | None, value: tuple[int, int] | None, kind: KeepTo) -> None:
    """A path costs what the table says, and lies where it should."""
    assert (path is None) == (value is None)
    if path is not None:
        assert (path.length_mm, path.holes.total) == value
        kinds = {(piece.kind, piece.void) for piece in path.pieces}
        unwanted = {("lane", ""), ("along-joists", "floor"), ("across-joists", "floor")}
        if kind == "walls":
            unwanted = {(name, void) for name in ("along-joists", "across-joists") for void in ("floor", "ceiling")}
        assert kinds.isdisjoint(unwanted)


@settings(max_examples=40, deadline=None)
@given(st.randoms(use_true_random=False))
def test_one_room_agrees_with_its_lines_laid_out_in_full(pick: random.Random) -> None:
    room = some_room(pick, "a", (0, 0), (pick.randrange(1500, 6000), pick.randrange(1500, 5000)))
    boards = [placed_board(room, "CU", "left", pick.randrange(1400), pick.choice([450, 1100, 1400]))]
    compare([room], list(some_points(pick, room, pick.randrange(2, 8), 1)), boards)


@settings(max_examples=20, deadline=None)
@given(st.randoms(use_true_random=False))
def test_rooms_side_by_side_agree_with_their_lines_laid_out_in_full(pick: random.Random) -> None:
    gap, width, depth = pick.choice([0, 120, 400]), pick.randrange(1500, 5000), pick.randrange(1500, 5000)
    a = some_room(pick, "a", (0, 0), (width, depth))
    b = some_room(pick, "b", (width + gap, pick.randrange(-1000, 1000)), (pick.randrange(1500, 4000), 3000))
    points = [point for n, room in enumerate((a, b)) for point in some_points(pick, room, 5, 1 + 10 * n)]
    compare([a, b], points, [placed_board(a, "CU", "left", pick.randrange(1400), 1400)])


@settings(max_examples=20, deadline=None)
@given(st.randoms(use_true_random=False))
def test_storeys_agree_with_their_lines_laid_out_in_full(pick: random.Random) -> None:
    joists = j.void(along=pick.choice(["x", "y"]))
    size = pick.randrange(2, 6) * 1200, pick.randrange(2, 4) * 1200
    low = replace(some_room(pick, "a", (0, 0), size), ceiling=joists)
    high = replace(some_room(pick, "b", (0, 0), size, 2650), floor=joists)
    compare([low, high], [*some_points(pick, low, 5, 1), *some_points(pick, high, 5, 11)], [])


# --- what cuts a point off ------------------------------------------------------------------------------------------

DOOR = 'the door of wall "back" (2000 to 2900 mm along, 0 to 2100 mm high)'
WINDOW = 'the window of wall "back" (500 to 1700 mm along, 900 to 2100 mm high)'


def why(kind: KeepTo, rooms: Sequence[Room], points: Iterable[Point], start: str, end: str) -> str:
    net = network(rooms, points).kept_to(kind)
    assert net.costs([start, end])[0][1] is None
    return net.why_unreached(end, start)


def test_a_point_in_a_void_says_so_where_a_circuit_keeps_to_walls() -> None:
    room = j.room()
    points = [*walls_of(room, S1=("back", 1000, 450)), flat_point(room, "L1", 2000, 2000)]

    assert why("walls", [room], points, "S1", "L1") == 'L1 is on the ceiling, and keep_to = "walls" leaves out voids'
    assert why("walls", [room], points, "L1", "S1") == 'L1 is on the ceiling, and keep_to = "walls" leaves out voids'


def walls_room(*openings: Opening) -> Room:
    return j.room(openings=openings)


def test_the_opening_that_cuts_a_lane_is_named() -> None:
    room = walls_room(j.door("back", 2000, 900), j.door("right", 1000, 900))
    points = walls_of(room, S1=("back", 1000, 450), S2=("back", 4000, 450))

    assert why("walls", [room], points, "S1", "S2") == (
        f'its lane at 450 mm is cut by {DOOR}, and keep_to = "walls" leaves out a way round by a void'
    )


def test_walls_with_no_lanes_of_one_height_do_not_meet() -> None:
    room = j.room()
    points = walls_of(room, S1=("back", 1000, 450), S2=("right", 1000, 1100), S3=("left", 1000, 450))

    assert why("walls", [room], points, "S1", "S2") == (
        'no lane of wall "right" is as high as one of wall "back" or "left" beside it, and keep_to = "walls" '
        "leaves out voids"
    )


def test_a_room_that_no_wall_leads_to_is_named() -> None:
    a, b = j.room("a"), j.room("b", at=(6120, 0))
    points = [wall_point(a, "S1", "back", 1000, 450), wall_point(b, "T1", "back", 1000, 450)]

    assert why("walls", [a, b], points, "S1", "T1") == (
        'no lane leads from room "a" through a wall into room "b", and keep_to = "walls" leaves out voids'
    )


def test_the_window_over_a_point_cuts_its_riser_and_is_named() -> None:
    room = walls_room(j.window("back", 500, 1200))
    points = walls_of(room, S1=("back", 1000, 450), S2=("back", 4000, 450))
    words = f'the riser of S1, 1000 mm along, is cut by {WINDOW}, and keep_to = "ceiling" leaves out lanes round it'

    assert why("ceiling", [room], points, "S2", "S1") == words
    assert why("ceiling", [room], points, "S1", "S2") == words


def test_a_room_without_a_ceiling_void_and_a_point_on_the_floor_are_named() -> None:
    bare = j.room("bare", ceiling=j.NO_VOID)
    points = walls_of(bare, S1=("back", 1000, 450), S2=("back", 4000, 450))
    assert why("ceiling", [bare], points, "S1", "S2") == (
        'room "bare" of S2 has no ceiling void, and keep_to = "ceiling" leaves out all else'
    )
    room = j.room(floor=j.void())
    points = [*walls_of(room, S1=("back", 1000, 450)), flat_point(room, "F1", 2000, 2000, "floor")]
    assert why("ceiling", [room], points, "S1", "F1") == (
        'F1 is on the floor, and keep_to = "ceiling" leaves out the lines of floor voids'
    )


def test_ceilings_that_do_not_meet_are_named() -> None:
    a, b = j.room("a", floor=j.void()), j.room("b", at=(20_000, 0), floor=j.void())
    points = [wall_point(a, "S1", "back", 1000, 450), wall_point(b, "T1", "back", 1000, 450)]
    net = network([a, b], points).kept_to("ceiling")

    # nothing joins the two at all, so it is not the ceiling that is to blame
    assert "keep_to" not in net.why_unreached("T1", "S1")
    assert net.why_unreached("T1", "S1") == network([a, b], points).why_unreached("T1")


def test_the_place_that_is_cut_off_is_named_though_most_others_are_with_the_point() -> None:
    room = walls_room(j.window("back", 500, 1200))
    points = [*walls_of(room, S1=("front", 1000, 1100), S2=("front", 2000, 1100), S3=("back", 1000, 1500))]

    assert network([room], points).why_unreached("S1", "S3") == (
        f"S3 is cut off: it lies in {WINDOW}, which cuts its lane and its riser"
    )


# --- circuits -------------------------------------------------------------------------------------------------------


def bench(keep_to: KeepTo, openings: Iterable[Opening] = ()) -> Job:
    group = j.group("S", "double-socket", j.at(("back", 1000), ("back", 2000), ("front", 3000)), circuit="bench")
    circuit = replace(j.circuit("bench"), keep_to=keep_to)
    return j.job([j.room(openings=openings)], [group], boards=[j.board(height=1100)], circuits=[circuit])


def test_all_legs_of_a_circuit_keep_to_its_surfaces_and_it_is_proven_for_them() -> None:
    for keep_to in KINDS:
        (circuit,) = routed(bench(keep_to)).circuits
        kinds = {piece.kind for leg in circuit.legs for piece in leg.path.pieces}
        assert kinds == ({"lane"} if keep_to == "walls" else {"riser", "along-joists", "across-joists"})
        assert circuit.proven
        assert circuit.bound_mm == circuit.route_mm > routed(bench("any")).circuits[0].route_mm - 1


def test_other_circuits_go_where_they_like() -> None:
    job = bench("ceiling")
    other = j.group("T", "double-socket", j.at(("left", 1000)), circuit="other")
    both = replace(job, groups=(*job.groups, other), circuits=(*job.circuits, j.circuit("other")))

    assert {piece.kind for leg in routed(both).circuits[1].legs for piece in leg.path.pieces} == {"lane"}


def test_a_point_that_its_surfaces_do_not_reach_is_a_problem_that_says_what_cuts_it_off() -> None:
    with pytest.raises(Refused) as refused:
        routed(bench("ceiling", [j.window("back", 500, 1200, 1200)]))

    (problem,) = refused.value.problems
    assert problem.where == "points.S"
    assert problem.found.startswith(
        "S1 cannot be reached from CU: the riser of S1, 1000 mm along, is cut by the window"
    )
    assert problem.write.startswith('write keep_to = "any" in its circuit, or ')
