"""Circuits: ends and legs by hand, sequences against every order there is, switched lights, what a user may bind."""

import os
import subprocess
import sys
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise, permutations, product
from pathlib import Path
from random import Random

import pytest

import tests.jobs as j
from estimator.building.build import build
from estimator.job.model import Circuit, Group, Job, Wiring
from estimator.problems import Place, Refused
from estimator.routing.model import CircuitRoute, Routes
from estimator.routing.network import HOLE_BASE, build_network
from estimator.routing.solving import Costs, round_the_ring
from tests.wires import apart, routed, set_by_hand, squared, trade

EIGHT = [(500, 500), (1500, 700), (2700, 400), (3900, 900), (600, 3000), (1800, 3300), (3000, 2600), (5200, 2400)]
FOURTEEN = [("back", 400 + 800 * i) for i in range(7)] + [("front", 300 + 850 * i) for i in range(7)]


def sockets(places: Sequence[tuple[str, int]], wiring: Wiring = "radial", **more: tuple[str, ...]) -> Job:
    """Double sockets S on one circuit; `more` goes to the circuit."""
    group = j.group("S", "double-socket", j.at(*places), circuit="bench")
    circuit = replace(j.circuit("bench", wiring), **more)  # type: ignore[arg-type]  # fields of Circuit
    return j.job(groups=[group], boards=[j.board()], circuits=[circuit])


def only(routes: Routes) -> CircuitRoute:
    (circuit,) = routes.circuits
    return circuit


def ends_at_points(circuit: CircuitRoute) -> int:
    return sum((leg.start != circuit.board) + (leg.end != circuit.board) for leg in circuit.legs)


def pairs(circuit: CircuitRoute) -> list[tuple[str, str]]:
    return [(leg.start, leg.end) for leg in circuit.legs]


# --- ends and legs, check values 8 to 10: `hand` --------------------------------------------------------------------


def test_a_radial_of_fourteen_has_27_ends_at_points_and_one_at_the_board() -> None:
    circuit = only(squared(sockets(FOURTEEN)))

    # hand: n legs of two ends, one of them at the board: 2 x 14 - 1 = 27
    assert (len(circuit.legs), ends_at_points(circuit)) == (14, 27)
    assert circuit.proven
    assert circuit.bound_mm == circuit.route_mm


def test_a_ring_of_fourteen_has_28_ends_at_points_and_two_at_the_board() -> None:
    circuit = only(squared(sockets(FOURTEEN, "ring")))

    assert (len(circuit.legs), ends_at_points(circuit)) == (15, 28)  # hand: 2 x 15 - 2
    assert [len(circuit.sequence), len({leg.owner for leg in circuit.legs})] == [14, 1]


def test_a_tree_of_eight_has_15_ends_at_points_and_one_at_the_board() -> None:
    group = j.group("DL", "downlight", j.at_xy(*EIGHT), surface="ceiling", circuit="lights")
    job = j.job(groups=[group], boards=[j.board()], circuits=[j.circuit("lights", "branching", "te-1.5")])
    circuit = only(squared(job))

    assert (len(circuit.legs), ends_at_points(circuit)) == (8, 15)  # hand: 2 x 8 - 1
    ends = [name for leg in circuit.legs for name in (leg.start, leg.end)]
    assert max(ends.count(f"DL{n}") for n in range(1, 9)) <= 3
    assert ends.count("CU") == 1


def test_a_star_gives_each_point_its_own_leg_from_the_board() -> None:
    circuit = only(squared(sockets(FOURTEEN[:4], "star")))

    assert sorted(pairs(circuit)) == [("CU", "S1"), ("CU", "S2"), ("CU", "S3"), ("CU", "S4")]
    assert circuit.proven


def test_a_ring_of_one_point_is_a_problem() -> None:
    with pytest.raises(
        Refused, match=r"circuit\.bench\.wiring: a ring goes round two points or more, and S1 is its only"
    ):
        squared(sockets([("back", 1000)], "ring"))


def test_legs_of_a_ring_start_from_the_end_nearer_the_board_along_the_ring() -> None:
    # hand: board at (0, 400); S1 (1000, 4000) 4.6 m off, S2 (3000, 4000), S3 (6000, 3000): all at one height
    job = sockets([("back", 1000), ("back", 3000), ("right", 1000)], "ring", sequence=("S1", "S2", "S3"))
    circuit = only(squared(replace(job, boards=(j.board(height=1100),))))

    # 4.6, 2.0, 4.0, 8.6 m: walked 0, 4.6, 6.6, 10.6 of 19.2; S3 is 8.6 from the board the other way, S2 6.6
    assert pairs(circuit) == [("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("CU", "S3")]
    assert circuit.route_mm == 19_200
    back = only(squared(replace(job, boards=(j.board(height=1100),), circuits=(bound("ring", "S3", "S2", "S1"),))))
    assert pairs(back) == [("CU", "S3"), ("S2", "S3"), ("S1", "S2"), ("CU", "S1")]


def test_the_leg_that_closes_a_ring_starts_at_the_board_even_where_its_point_is_no_way_off() -> None:
    # hand: A stands where the board is
    assert round_the_ring(Costs({"CU": 0, "A": 1}, ((0, 0), (0, 0))), "CU", ("A",)) == (("CU", "A"), ("CU", "A"))


def test_costs_that_were_not_asked_for_are_never_taken_for_none() -> None:
    costs = Costs({"CU": 0, "W1": 1, "L1": 2}, ((0, 5, None), (5, 0, 7), (None, 7, 0)))
    assert costs.between(("W1", "L1")) == [[0, 7], [7, 0]]  # hand: rows and columns 2 and 3
    with pytest.raises(LookupError, match="CU, L1"):
        costs.between(("CU", "L1"))


# --- lengths: `hand` ------------------------------------------------------------------------------------------------


def test_a_leg_is_its_route_and_two_tails_and_its_cut_is_a_twentieth_and_300_mm_more_up_to_a_tenth() -> None:
    # hand: from the board (0, 400, 1400) to S1 (2000, 4000, 1100): 300 + 2000 + 3600 = 5.9 m
    leg = only(squared(sockets([("back", 2000)]))).legs[0]

    assert leg.route_mm == 5900
    assert leg.length_mm == 7100  # 5.9 + 1.0 at the board + 0.2 in the box
    assert leg.cut_mm == 7800  # 7.1 x 1.05 + 0.3 = 7.755
    assert leg.use == "feed"


def test_a_length_that_is_a_whole_tenth_already_is_not_rounded_up() -> None:
    # hand: 300 + 2900 + 3600 = 6.8 m of route, 8.0 m; x 1.05 + 0.3 = 8.7 m and no more; 1 mm longer is 8.70105
    assert only(squared(sockets([("back", 2900)]))).legs[0].cut_mm == 8700
    assert only(squared(sockets([("back", 2901)]))).legs[0].cut_mm == 8800


def test_a_light_has_the_tail_of_lights() -> None:
    group = j.group("DL", "downlight", j.at_xy((1000, 400)), surface="ceiling", circuit="lights")
    job = j.job(groups=[group], boards=[j.board()], circuits=[j.circuit("lights")])

    # hand: up 1000, along 1000, and 1000 + 500 mm of tails
    assert only(squared(job)).legs[0].length_mm == 3500


# --- sequences against every order there is -------------------------------------------------------------------------


def scattered(seed: int, wiring: Wiring) -> Job:
    """Four to six sockets somewhere on the walls and ceiling of the default room."""
    draw = Random(seed)
    walls = [
        (draw.choice(("back", "front", "right", "left")), draw.randrange(200, 3800, 50), draw.choice((450, 1100)))
        for _ in range(draw.randint(3, 4))
    ]
    ceiling = [(draw.randrange(300, 5700, 50), draw.randrange(300, 3700, 50)) for _ in range(draw.randint(1, 2))]
    groups = [
        j.group("S", "double-socket", j.at(*walls), circuit="a"),
        j.group("C", "double-socket", j.at_xy(*ceiling), surface="ceiling", circuit="a"),
    ]
    return j.job(groups=groups, boards=[j.board()], circuits=[j.circuit("a", wiring)])


def true_costs(job: Job) -> tuple[list[str], list[list[int]]]:
    building = build(job)
    setout = set_by_hand(job, building)
    names = ["CU", *(point.id for point in setout.points)]
    rows = build_network(job, trade(), building, setout).costs(names)
    return names, [[cost for cost in row if cost is not None] for row in rows]


def spent(routes: Routes) -> int:
    return sum(leg.route_mm * HOLE_BASE + leg.holes.total for leg in routes.legs)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("wiring", ["radial", "ring"])
def test_no_order_of_up_to_six_points_is_shorter_or_has_fewer_holes(seed: int, wiring: Wiring) -> None:
    job = scattered(seed, wiring)
    routes = routed(job)
    names, cost = true_costs(job)

    last = [0] if wiring == "ring" else []
    orders = ([0, *order, *last] for order in permutations(range(1, len(names))))
    least = min(sum(cost[a][b] for a, b in pairwise(order)) for order in orders)
    assert least == spent(routes)
    assert only(routes).proven
    assert least // HOLE_BASE == only(routes).bound_mm == only(routes).route_mm


@pytest.mark.parametrize("seed", range(6))
def test_no_tree_of_up_to_six_points_within_the_ends_allowed_is_shorter(seed: int) -> None:
    job = scattered(seed, "branching")
    routes = routed(job)
    _, cost = true_costs(job)

    assert least_tree_by_trial(cost, [1] + [3] * (len(cost) - 1)) == spent(routes)
    assert only(routes).proven


def least_tree_by_trial(cost: list[list[int]], caps: list[int]) -> int:
    """Every labelled tree, by its Pruefer code: a node stands in the code once less than it has ends."""
    count = len(cost)
    sums = []
    for code in product(range(count), repeat=count - 2):
        ends = [1 + code.count(node) for node in range(count)]
        if all(n <= cap for n, cap in zip(ends, caps, strict=True)):
            sums.append(sum(cost[a][b] for a, b in decoded(code, ends)))
    return min(sums)


def decoded(code: Iterable[int], ends: list[int]) -> list[tuple[int, int]]:
    edges = []
    for node in code:
        leaf = ends.index(1)
        edges.append((leaf, node))
        ends[leaf] -= 1
        ends[node] -= 1
    first, last = (node for node, n in enumerate(ends) if n == 1)
    return [*edges, (first, last)]


# --- what does not matter -------------------------------------------------------------------------------------------


def places_walked(routes: Routes) -> list[tuple[object, ...]]:
    return [(leg.path.points, leg.route_mm, leg.holes) for leg in routes.legs]


def test_names_and_the_order_of_the_file_change_no_route() -> None:
    job = scattered(3, "radial")
    renamed = replace(
        job,
        groups=tuple(replace(group, name={"S": "AA", "C": "Z"}[group.name]) for group in reversed(job.groups)),
    )

    assert places_walked(routed(job)) == places_walked(routed(renamed))


def test_points_at_one_place_come_in_number_order() -> None:
    circuit = only(squared(sockets([("back", 3000), ("back", 1000), ("back", 1000), ("back", 1000)])))

    assert circuit.sequence == ("S2", "S3", "S4", "S1")


def test_circuits_come_by_name_whatever_the_file_says() -> None:
    groups = [
        j.group("S", "double-socket", j.at(("back", 1000)), circuit="z"),
        j.group("T", "double-socket", j.at(("back", 2000)), circuit="a"),
    ]
    job = j.job(groups=groups, boards=[j.board()], circuits=[j.circuit("z"), j.circuit("a")])

    assert [circuit.name for circuit in squared(job).circuits] == ["a", "z"]


def test_the_same_under_any_hash_seed() -> None:
    here = Path(__file__).parent
    code = "from tests import test_circuits as t, wires; print(repr(wires.routed(t.two_sets())))"
    outputs = [
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(here.parent)},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "77")
    ]

    assert outputs[0] == outputs[1]
    assert "CircuitRoute" in outputs[0]


# --- what a user may bind -------------------------------------------------------------------------------------------


def bound(wiring: Wiring, *sequence: str) -> Circuit:
    return j.circuit("bench", wiring, sequence=sequence)


LINE = [("back", 1000), ("back", 2000), ("back", 3000), ("back", 4000)]


def test_a_given_sequence_binds_and_is_proven_only_where_it_is_the_shortest() -> None:
    # hand, all at the height of the board: to S1 4.6 m, then 1 m each
    free = only(squared(replace(sockets(LINE), boards=(j.board(height=1100),))))
    same = only(squared(replace(sockets(LINE, sequence=("S1", "S2", "S3", "S4")), boards=(j.board(height=1100),))))
    odd = only(squared(replace(sockets(LINE, sequence=("S1", "S3", "S2", "S4")), boards=(j.board(height=1100),))))

    assert (free.route_mm, free.bound_mm, free.proven) == (7600, 7600, True)
    assert (same.route_mm, same.bound_mm, same.proven) == (7600, 7600, True)
    assert (odd.route_mm, odd.bound_mm, odd.proven) == (9600, 7600, False)
    assert odd.sequence == ("S1", "S3", "S2", "S4")


def test_first_and_last_fix_the_ends_and_the_rest_is_the_shortest_that_keeps_them() -> None:
    circuit = only(squared(replace(sockets(LINE, first=("S3",), last=("S2",)), boards=(j.board(height=1100),))))

    # hand: 6.6 to S3, then S1 (2.0), S4 (3.0), S2 (2.0) = 13.6; or S4 (1.0), S1 (3.0), S2 (1.0) = 11.6
    assert circuit.sequence == ("S3", "S4", "S1", "S2")
    assert (circuit.route_mm, circuit.bound_mm, circuit.proven) == (11600, 11600, True)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        ({"sequence": ("S1", "S2", "S3")}, "S4: fed on this circuit, but not in its sequence"),
        ({"sequence": ("S1", "S2", "S3", "S4", "X9")}, "X9: not fed on this circuit"),
        ({"sequence": ("S1", "S2", "S3", "S4", "S1")}, "S1: named more than once"),
        ({"first": ("S9",)}, "S9: not fed on this circuit"),
        ({"first": ("S1",), "last": ("S1",)}, "S1: both first and last"),
    ],
)
def test_a_sequence_or_end_that_cannot_be_kept_is_a_problem(more: dict[str, tuple[str, ...]], words: str) -> None:
    with pytest.raises(Refused) as refused:
        squared(sockets(LINE, "radial", **more))

    assert [words] == [problem.found for problem in refused.value.problems]


def test_a_tree_has_no_sequence_to_bind() -> None:
    with pytest.raises(Refused, match=r"circuit\.bench\.sequence: a branching circuit has no sequence"):
        squared(sockets(LINE, "branching", sequence=("S1", "S2", "S3", "S4")))


# --- what cannot be laid --------------------------------------------------------------------------------------------


def test_points_that_nothing_reaches_are_told_all_at_once_each_at_its_place() -> None:
    groups = [
        j.group("S", "double-socket", j.at(("back", 1000), ("back", 2000)), circuit="a"),
        j.group("T", "double-socket", j.at(("back", 3000)), circuit="b"),
    ]
    job = j.job(groups=groups, boards=[j.board()], circuits=[j.circuit("b"), j.circuit("a")])
    with pytest.raises(Refused) as refused:
        squared(job, cut_off=("S2", "T1"))

    expected = [
        (Place("job.toml", 10, 1), "points.T", "T1 cannot be reached from CU: nothing leads to T1"),
        (Place("job.toml", 10, 2), "points.S", "S2 cannot be reached from CU: nothing leads to S2"),
    ]
    assert expected == [(problem.place, problem.where, problem.found) for problem in refused.value.problems]


@pytest.mark.parametrize("wiring", ["radial", "ring", "branching", "star"])
def test_a_circuit_without_points_is_a_problem(wiring: Wiring) -> None:
    with pytest.raises(Refused, match=r"circuit\.empty: no point is on this circuit"):
        squared(j.job(boards=[j.board()], circuits=[j.circuit("empty", wiring)]))


def test_ends_that_no_tree_keeps_to_are_a_problem() -> None:
    rows = trade(points=[j.point_kind("double-socket", max_ends=1)])
    with pytest.raises(Refused, match="no tree joins these places"):
        squared(sockets(LINE, "branching"), rows)


def test_ends_allowed_bind_a_tree() -> None:
    # hand: three sockets 1 m from S1 all round; with three ends at S1 they all hang from it, with two they cannot
    places = [("back", 3000, 1100), ("back", 2000, 1100), ("back", 4000, 1100), ("back", 3000, 100)]
    group = j.group("S", "double-socket", j.at(*places), circuit="bench")
    job = j.job(groups=[group], boards=[j.board(height=1100)], circuits=[j.circuit("bench", "branching")])

    def most(max_ends: int) -> tuple[int, int]:
        circuit = only(squared(job, trade(points=[j.point_kind("double-socket", max_ends=max_ends)])))
        ends = [name for leg in circuit.legs for name in (leg.start, leg.end)]
        return max(ends.count(f"S{n}") for n in range(1, 5)), circuit.route_mm

    # board to S2 5.6 m, S2 to S1, S1 to S3 and to S4 1 m each = 8.6; with two ends at S1, S4 is 2 m from the next: 9.6
    assert most(3) == (3, 8600)
    assert most(2) == (2, 9600)


def test_a_tail_a_cable_and_a_board_that_are_not_there_are_problems() -> None:
    job = sockets(LINE)
    with pytest.raises(Refused, match='"loft" is no tail'):
        squared(job, trade(points=[j.point_kind("double-socket", tail="loft")]))
    with pytest.raises(Refused, match='"te-2,5" is no cable') as refused:
        squared(replace(job, circuits=(j.circuit("bench", cable="te-2,5", board="CV"),)))
    assert len(refused.value.problems) == 2


# --- switched lights ------------------------------------------------------------------------------------------------

SWITCHES = {"one": "switch", "two": "switch-two-way", "between": "switch-intermediate"}
KINDS = [j.point_kind("switch-intermediate", use="lighting", max_ends=4)]


def switch(name: str, wall: str, along: int, kind: str = "two") -> Group:
    return j.group(name, SWITCHES[kind], j.at((wall, along)), height=1200, circuit="lights")


def lights(name: str, places: Sequence[tuple[int, int]], *switched_by: str) -> Group:
    return j.group(name, "downlight", j.at_xy(*places), surface="ceiling", circuit="lights", switched_by=switched_by)


def lit(groups: Sequence[Group], wiring: Wiring = "branching", **more: str) -> Job:
    circuit = replace(j.circuit("lights", wiring, "te-1.5"), **more)  # type: ignore[arg-type]  # fields of Circuit
    return j.job(groups=groups, boards=[j.board(height=1200)], circuits=[circuit])


def two_sets() -> Job:
    """Lights DL on W1 and V1 (two ways), lights EL on U1 alone, and an unswitched FAN."""
    return lit(
        [
            lights("DL", [(1000, 1000), (2000, 1000), (3000, 1000)], "W1", "V1"),
            lights("EL", [(4000, 3000), (5000, 3000)], "U1"),
            lights("FAN", [(5500, 2000)]),
            switch("W", "front", 5000),
            switch("V", "front", 500),
            switch("U", "back", 4000, "one"),
        ]
    )


def test_switched_lights_are_fed_at_the_switch_hang_from_it_and_their_switches_are_strapped() -> None:
    circuit = only(squared(two_sets(), trade(points=KINDS)))
    by_use = {use: {leg.end for leg in circuit.legs if leg.use == use} for use in ("feed", "switched", "strapper")}

    assert {"W1", "U1", "FAN1"} == by_use["feed"]
    assert {"DL1", "DL2", "DL3", "EL1", "EL2"} == by_use["switched"]
    assert {"V1"} == by_use["strapper"]
    assert [next(leg.cable for leg in circuit.legs if leg.use == use) for use in ("feed", "switched", "strapper")] == [
        "te-1.5",
        "te-1.5",
        "te3-1.5",
    ]
    assert circuit.proven
    assert circuit.bound_mm == circuit.route_mm


def test_lights_and_straps_by_hand() -> None:
    circuit = only(squared(two_sets(), trade(points=KINDS)))
    route = {(leg.start, leg.end): leg.route_mm for leg in circuit.legs}

    # hand: W1 stands at the front wall, 5.0 m from its left end seen from inside (x = 6.0), so at x = 1.0; up 1.2 m,
    # in 1.0 m to DL1, then 1 m to each next
    assert route["W1", "DL1"] == 2200
    assert (route["DL1", "DL2"], route["DL2", "DL3"]) == (1000, 1000)
    assert route["W1", "V1"] == 4500  # from x = 1.0 to x = 5.5 at one height
    assert route["U1", "EL1"] == 2200  # x = 4.0 at the back: up 1.2 m, in 1.0 m
    # feed: the board at (0, 0.4) to W1 1.0 + 0.4 m, W1 to U1 3.0 + 4.0 m, U1 to FAN1 1.2 + 1.5 + 2.0 m = 13.1 m; any
    # other tree with one cable at the board is longer (FAN1 from W1 7.7 m, U1 from the board 7.6 m)
    assert (route["CU", "W1"], route["W1", "U1"], route["U1", "FAN1"]) == (1400, 7000, 4700)


def test_the_sequence_tells_the_feed_then_each_set_by_the_place_of_its_fed_switch_each_id_once() -> None:
    circuit = only(squared(two_sets(), trade(points=KINDS)))
    feed, rest = circuit.sequence[:3], circuit.sequence[3:]

    # both fed switches are 1.2 m high; W1 has the lower y, so its lights and its strap come first
    assert {"W1", "U1", "FAN1"} == set(feed)
    assert rest == ("DL1", "DL2", "DL3", "V1", "EL1", "EL2")
    assert [leg.use for leg in circuit.legs] == [*["feed"] * 3, *["switched"] * 3, "strapper", *["switched"] * 2]


def test_a_fed_switch_in_a_tree_has_one_feed_end_less_than_it_may_have() -> None:
    def feed_ends(max_ends: int) -> int:
        rows = trade(points=[*KINDS, j.point_kind("switch", use="lighting", max_ends=max_ends)])
        groups = [
            switch("W", "back", 3000, "one"),
            lights("DL", [(3000, 3000)], "W1"),
            *(switch(name, "back", along, "one") for name, along in (("A", 2000), ("B", 4000), ("C", 3000))),
        ]
        low = j.group("C", "switch", j.at(("back", 3000)), height=200, circuit="lights")
        circuit = only(squared(lit([*groups[:-1], low]), rows))
        ends = [name for leg in circuit.legs if leg.use == "feed" for name in (leg.start, leg.end)]
        return ends.count("W1")

    # hand: A, B and C are 1 m from W1 on three sides, so the shortest feed has three ends at W1 if it may
    assert feed_ends(4) == 3
    assert feed_ends(3) == 2


def test_one_cable_leaves_the_switch_for_its_lights_even_where_two_would_be_shorter() -> None:
    # hand: the switch stands between two lights, 3 m of ceiling to either side
    job = lit([switch("W", "back", 3000, "one"), lights("DL", [(100, 4000), (5900, 4000)], "W1")])
    circuit = only(squared(job))

    starts = [leg.start for leg in circuit.legs if leg.use == "switched"]
    assert starts.count("W1") == 1
    # 1.2 + 2.9 m to one, 5.8 m to the other
    assert sum(leg.route_mm for leg in circuit.legs if leg.use == "switched") == 9900


def test_a_radial_feeds_switches_in_a_chain_and_lights_still_branch() -> None:
    job = replace(two_sets(), circuits=(j.circuit("lights", "radial", "te-1.5"),))
    circuit = only(squared(job, trade(points=KINDS)))
    feed = [leg for leg in circuit.legs if leg.use == "feed"]

    assert [leg.end for leg in feed[:-1]] == [leg.start for leg in feed[1:]]
    assert len(circuit.legs) == 9


def test_lists_that_share_a_switch_each_have_their_lights_and_straps() -> None:
    groups = [
        lights("DL", [(1000, 1000)], "W1", "V1"),
        lights("EL", [(2000, 1000)], "W1", "U1", "V1"),
        lights("FL", [(3000, 1000)], "W1", "V1"),
        switch("W", "front", 5000),
        switch("V", "front", 500),
        switch("U", "front", 3000, "between"),
    ]
    circuit = only(squared(lit(groups), trade(points=KINDS)))

    straps = [leg.id for leg in circuit.legs if leg.use == "strapper"]
    # sets in the order of their switches' places: V1 (x = 5.5) after U1 (x = 3.0), all at one height and y
    assert straps == ["lights: W1 to U1", "lights: U1 to V1", "lights: W1 to V1"]
    assert tuple(leg.end for leg in circuit.legs if leg.use == "feed") == ("W1",)
    # DL and FL name one list and make one tree
    assert sum(leg.start == "W1" for leg in circuit.legs if leg.use == "switched") == 2


def test_two_lists_with_one_strap_in_common_have_it_twice() -> None:
    groups = [
        lights("DL", [(1000, 1000)], "W1", "V1"),
        lights("EL", [(2000, 1000)], "W1", "V1", "U1"),
        *(switch(name, "front", along) for name, along in (("W", 5000), ("V", 3000), ("U", 500))),
    ]
    straps = [leg.id for leg in squared(lit(groups), trade(points=KINDS)).legs if leg.use == "strapper"]

    assert straps == ["lights: W1 to V1", "lights: W1 to V1 (2)", "lights: V1 to U1"]


@pytest.mark.parametrize(
    ("kinds", "wrong"),
    [
        (("one",), []),
        (("two", "two"), []),
        (("one", "two"), ["W1"]),
        (("two", "between", "two"), []),
        (("two", "two", "two"), ["V1"]),
        (("between", "one", "between"), ["W1", "V1", "U1"]),
    ],
)
def test_a_switch_of_a_kind_that_does_not_fit_its_place_in_the_list_is_a_finding(
    kinds: tuple[str, ...], wrong: list[str]
) -> None:
    names = ("W", "V", "U")[: len(kinds)]
    groups = [
        lights("DL", [(1000, 1000)], *(f"{name}1" for name in names)),
        *(switch(name, "front", 5000 - 1500 * i, kinds[i]) for i, name in enumerate(names)),
    ]
    findings = squared(lit(groups), trade(points=KINDS)).findings

    assert sorted(wrong) == [finding.subject for finding in findings if finding.check == "switch-kind"]
    assert all(finding.level == "ask" for finding in findings if finding.check == "switch-kind")


def test_switch_and_strap_cables_may_be_named_and_a_size_without_three_core_must_be() -> None:
    rows = trade(points=KINDS)
    named = only(squared(replace(two_sets(), circuits=(named_cables(),)), rows))
    assert {"te-1.5", "te-2.5", "te-4"} == {leg.cable for leg in named.legs}
    assert {"te-4"} == {leg.cable for leg in named.legs if leg.use == "strapper"}

    with pytest.raises(Refused, match=r"circuit\.lights\.strap_cable: not given, and cables\.csv has no te3-4"):
        squared(replace(two_sets(), circuits=(j.circuit("lights", "branching", "te-4"),)), rows)


def named_cables() -> Circuit:
    return replace(j.circuit("lights", "branching", "te-1.5"), switch_cable="te-2.5", strap_cable="te-4")


@pytest.mark.parametrize(
    ("switched_by", "words"),
    [
        (("W9",), '"W9" is no point'),
        (("K1",), 'K1 is on "other"'),
        (("DL1",), "DL1 is itself a switched light"),
        (("W1", "W1"), "W1 is named twice"),
    ],
)
def test_a_list_that_names_no_switch_of_the_circuit_is_a_problem(switched_by: tuple[str, ...], words: str) -> None:
    other = j.group("K", "switch", j.at(("back", 1000)), circuit="other")
    job = lit([lights("DL", [(1000, 1000)], *switched_by), switch("W", "front", 5000), other])
    with pytest.raises(Refused, match=words) as refused:
        squared(replace(job, circuits=(*job.circuits, j.circuit("other"))))

    assert [problem.where for problem in refused.value.problems] == ["points.DL.switched_by"]


def test_a_given_sequence_of_a_radial_with_lights_names_what_is_fed_and_no_more() -> None:
    circuit = j.circuit("lights", "radial", "te-1.5", sequence=("FAN1", "U1", "W1"))
    laid = only(squared(replace(two_sets(), circuits=(circuit,)), trade(points=KINDS)))

    assert laid.sequence == ("FAN1", "U1", "W1", "DL1", "DL2", "DL3", "V1", "EL1", "EL2")
    assert not laid.proven
    assert laid.bound_mm < laid.route_mm


def test_the_helper_measures_by_right_angles() -> None:
    assert apart((0, 0, 0), (1, 2, 3)) == 6
