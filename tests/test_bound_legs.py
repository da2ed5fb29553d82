"""Spurs and bound legs: what hangs from what, by hand and against every tree there is, and all that cannot hang so."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest

from estimator.job.model import Circuit, Job, Wiring
from estimator.job.read import parse_job
from estimator.job.trees import Part, leg_faults, spur_faults
from estimator.problems import Refused
from estimator.routing.model import CircuitRoute, Routes
from estimator.routing.network import HOLE_BASE
from tests import jobs as j
from tests.job_texts import changed
from tests.test_circuits import KINDS, least_tree_by_trial, lights, lit, scattered, switch, true_costs, two_sets
from tests.wires import routed, squared, trade

LINE = [("back", 1000), ("back", 2000), ("back", 3000), ("back", 4000)]
Pairs = tuple[tuple[str, str], ...]


def bench(
    wiring: Wiring = "radial",
    spurs: Pairs = (),
    legs: Pairs = (),
    places: Sequence[tuple[str, int]] = (),
    **more: object,
) -> Job:
    """Sockets S in a line at the height of the board, one circuit."""
    group = j.group("S", "double-socket", j.at(*(places or LINE)), circuit="bench")
    circuit = replace(j.circuit("bench", wiring), spurs=spurs, legs=legs, **more)  # type: ignore[arg-type]  # fields
    return j.job(groups=[group], boards=[j.board(height=1100)], circuits=[circuit])


def only(routes: Routes) -> CircuitRoute:
    (circuit,) = routes.circuits
    return circuit


def pairs(circuit: CircuitRoute) -> list[tuple[str, str]]:
    return [(leg.start, leg.end) for leg in circuit.legs]


def ends_at(circuit: CircuitRoute, name: str) -> int:
    return sum((leg.start == name) + (leg.end == name) for leg in circuit.legs)


def refusals(job: Job) -> list[tuple[str, str]]:
    with pytest.raises(Refused) as refused:
        squared(job, trade(points=KINDS))
    return [(problem.where, problem.found) for problem in refused.value.problems]


# --- spurs: `hand` --------------------------------------------------------------------------------------------------


def test_a_spur_hangs_from_its_host_and_the_rest_is_the_shortest_without_it() -> None:
    # hand: S2 apart, the line is 4.6 m to S1, 2.0 to S3, 1.0 to S4; S2 hangs 2.0 m from S4
    circuit = only(squared(bench(spurs=(("S2", "S4"),))))

    assert pairs(circuit) == [("CU", "S1"), ("S1", "S3"), ("S3", "S4"), ("S4", "S2")]
    assert (circuit.route_mm, circuit.bound_mm, circuit.proven) == (9600, 9600, True)
    assert circuit.sequence == ("S1", "S3", "S4", "S2")
    assert [leg.use for leg in circuit.legs] == ["feed"] * 4


def test_a_ring_goes_round_without_its_spur() -> None:
    # hand: board (0, 400), sockets at y = 4000: 4.6 out, 1 + 1 along, 6.6 back from S3 = 13.2; the spur 1.0
    circuit = only(squared(bench("ring", spurs=(("S4", "S3"),))))

    assert sorted(pairs(circuit)) == [("CU", "S1"), ("CU", "S3"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4")]
    assert circuit.route_mm == 14_200
    assert ends_at(circuit, "CU") == 2


def test_spurs_do_not_count_against_max_ends() -> None:
    # hand: with two ends each, a tree of S1, S2, S3 is a chain; S2 has both of its ends and two spurs beside
    rows = trade(points=[j.point_kind("double-socket", max_ends=2)])
    places = [*LINE[:3], ("back", 2000), ("back", 2200)]
    circuit = only(squared(bench("branching", spurs=(("S4", "S2"), ("S5", "S2")), places=places), rows))

    assert ends_at(circuit, "S2") == 4
    assert pairs(circuit)[-2:] == [("S2", "S4"), ("S2", "S5")]
    assert circuit.proven


def test_spurs_are_told_by_the_place_of_their_hosts_whatever_the_order_they_are_written_in() -> None:
    spurs = (("S4", "S3"), ("S1", "S2"))

    assert pairs(only(squared(bench(spurs=spurs))))[-2:] == [("S2", "S1"), ("S3", "S4")]
    assert only(squared(bench(spurs=spurs))) == only(squared(bench(spurs=spurs[::-1])))


@pytest.mark.parametrize("wiring", ["radial", "ring", "branching", "star"])
@pytest.mark.parametrize("seed", range(4))
def test_a_spur_costs_its_own_leg_and_what_the_circuit_without_it_costs(seed: int, wiring: Wiring) -> None:
    job = scattered(seed, wiring)
    host = Random(seed).choice(["S1", "S2", "C1"])
    hung = replace(job, circuits=(replace(job.circuits[0], spurs=(("Z1", host),)),))
    names, cost = true_costs(with_one_more(job, "a"))

    whole, rest = routed(with_one_more(hung, "a")), routed(with_one_more(job, "none"))
    assert spent(whole) == spent(rest) + cost[names.index("Z1")][names.index(host)]
    assert only(whole).bound_mm == only(whole).route_mm


def with_one_more(job: Job, circuit: str) -> Job:
    """With a socket Z1, on a circuit or on none; lanes are the same in either case."""
    return replace(
        job, groups=(*job.groups, j.group("Z", "double-socket", j.at(("front", 2650, 800)), circuit=circuit))
    )


def spent(routes: Routes) -> int:
    return sum(leg.route_mm * HOLE_BASE + leg.holes.total for leg in routes.legs)


def test_a_light_hangs_from_a_light_of_its_list_or_from_its_switch_in_the_cable_of_lights() -> None:
    job = two_sets()
    circuit = replace(job.circuits[0], spurs=(("DL3", "DL1"), ("EL2", "U1")), switch_cable="te-2.5")
    laid = only(squared(replace(job, circuits=(circuit,)), trade(points=KINDS)))
    found = {(leg.start, leg.end): (leg.use, leg.cable) for leg in laid.legs}

    assert found["DL1", "DL3"] == found["U1", "EL2"] == ("switched", "te-2.5")
    assert sorted(laid.sequence) == sorted(["W1", "U1", "FAN1", "DL1", "DL2", "DL3", "V1", "EL1", "EL2"])
    assert laid.proven


def test_all_lights_of_a_list_may_be_spurs_of_their_switch() -> None:
    job = lit([switch("W", "back", 3000, "one"), lights("DL", [(100, 4000), (5900, 4000)], "W1")])
    circuit = replace(job.circuits[0], spurs=(("DL1", "W1"), ("DL2", "W1")))
    laid = only(squared(replace(job, circuits=(circuit,))))

    # hand: from the switch up 1.2 m and 2.9 m to either side, where one cable would need 9.9 m
    assert [leg.route_mm for leg in laid.legs if leg.use == "switched"] == [4100, 4100]
    assert laid.legs[0].use == "feed"


def test_a_fed_switch_may_be_a_spur_and_feeds_its_lights_all_the_same() -> None:
    job = two_sets()
    laid = only(squared(replace(job, circuits=(replace(job.circuits[0], spurs=(("U1", "W1"),)),)), trade(points=KINDS)))

    assert ("W1", "U1") in pairs(laid)
    assert {leg.end for leg in laid.legs if leg.use == "switched"} == {"DL1", "DL2", "DL3", "EL1", "EL2"}


@pytest.mark.parametrize(
    ("spurs", "found"),
    [
        ((("S9", "S1"),), "S9 is not fed on this circuit"),
        ((("S1", "S1"),), "S1 hangs from itself"),
        ((("S1", "CU"),), "a spur hangs from a point, and CU is the board"),
        ((("S1", "X1"),), "S1 cannot hang from X1: they are not fed together"),
        ((("S1", "S2"), ("S3", "S1")), "S1 is a spur itself"),
    ],
)
def test_spurs_that_cannot_hang_so_are_problems(spurs: Pairs, found: str) -> None:
    assert [found] == [words for _, words in refusals(bench(spurs=spurs))]


def test_every_spur_that_is_wrong_is_told_at_once_with_its_address() -> None:
    assert refusals(bench(spurs=(("S1", "S1"), ("S9", "S2")))) == [
        ("circuit.bench.spurs.S1", "S1 hangs from itself"),
        ("circuit.bench.spurs.S9", "S9 is not fed on this circuit"),
    ]


def test_a_light_cannot_hang_from_a_light_of_another_list_nor_from_what_is_only_strapped() -> None:
    job = two_sets()
    spurs = (("DL1", "EL1"), ("EL1", "W1"), ("V1", "W1"))
    found = refusals(replace(job, circuits=(replace(job.circuits[0], spurs=spurs),)))

    assert [where.rsplit(".", 1)[1] for where, _ in found] == ["DL1", "EL1", "V1"]


def test_a_sequence_does_not_name_a_spur_and_need_not() -> None:
    assert only(squared(bench(spurs=(("S2", "S4"),), sequence=("S4", "S3", "S1")))).route_mm == 7600 + 3000 + 2000
    assert [words for _, words in refusals(bench(spurs=(("S2", "S4"),), sequence=("S4", "S3", "S2", "S1")))] == [
        "S2: not fed on this circuit"
    ]


def test_a_ring_whose_other_points_are_spurs_is_a_ring_of_one() -> None:
    assert [where for where, _ in refusals(bench("ring", spurs=(("S2", "S1"), ("S3", "S1"), ("S4", "S1"))))] == [
        "circuit.bench.wiring"
    ]


# --- bound legs: `hand` and every tree ------------------------------------------------------------------------------


def test_bound_legs_are_laid_as_written_from_the_board_outwards_and_depth_first() -> None:
    legs = (("S4", "S2"), ("CU", "S4"), ("S1", "S4"), ("S3", "S1"))
    circuit = only(squared(bench("branching", legs=legs)))

    # hand: to S4 3.6 + 4.0 m, then 3 to S1, 2 to S3, 2 to S2; free it is 7.6 m
    assert pairs(circuit) == [("CU", "S4"), ("S4", "S1"), ("S1", "S3"), ("S4", "S2")]
    assert (circuit.route_mm, circuit.bound_mm, circuit.proven) == (14_600, 7600, False)
    assert circuit.sequence == ("S4", "S1", "S3", "S2")


def test_bound_legs_that_are_the_least_tree_are_proven() -> None:
    free = only(squared(bench("branching")))
    circuit = only(squared(bench("branching", legs=tuple((end, start) for start, end in pairs(free)))))

    assert circuit == free


@pytest.mark.parametrize("seed", range(4))
def test_bounds_of_bound_trees_are_those_of_the_least_tree(seed: int) -> None:
    job = scattered(seed, "branching")
    names, cost = true_costs(job)
    draw = Random(seed)
    rest = draw.sample(names[1:], len(names) - 1)
    legs = tuple(zip(["CU", *rest], rest, strict=False))
    circuit = only(routed(replace(job, circuits=(replace(job.circuits[0], legs=legs),))))

    least = least_tree_by_trial(cost, [1] + [3] * (len(cost) - 1))
    assert circuit.bound_mm == least // HOLE_BASE
    assert circuit.route_mm == sum(cost[names.index(a)][names.index(b)] for a, b in legs) // HOLE_BASE
    assert circuit.bound_mm <= circuit.route_mm


def test_legs_of_a_star_may_chain_points_and_its_bound_is_that_of_any_tree() -> None:
    legs = (("CU", "S1"), ("CU", "S2"), ("S2", "S3"), ("S3", "S4"))
    circuit = only(squared(bench("star", legs=legs)))

    # hand: 4.6, 5.6, 1, 1; the least tree with any number of cables at the board is the chain of 7.6
    assert (circuit.route_mm, circuit.bound_mm, circuit.proven) == (12_200, 7600, False)
    assert ends_at(circuit, "CU") == 2


def test_legs_may_bind_the_lights_of_one_list_and_leave_the_rest_free() -> None:
    job = two_sets()
    legs = (("W1", "DL3"), ("DL3", "DL1"), ("DL1", "DL2"))
    free = only(squared(job, trade(points=KINDS)))
    laid = only(squared(replace(job, circuits=(replace(job.circuits[0], legs=legs),)), trade(points=KINDS)))

    # hand: W1 at (1, 0), up 1.2; to DL3 (3, 1) 4.2 m, 2 m back to DL1, 1 m to DL2: 7.2 in place of 4.2
    assert laid.route_mm == free.route_mm + 3000
    assert [pair for pair in pairs(laid) if pair in legs] == list(legs)
    assert not laid.proven
    assert laid.bound_mm == free.bound_mm


def test_a_bound_leg_that_ends_where_no_more_may_is_a_problem() -> None:
    legs = (("CU", "S2"), ("S2", "S1"), ("S2", "S3"), ("S2", "S4"))

    assert refusals(bench("branching", legs=legs)) == [("circuit.bench.legs", "4 legs end at S2, which takes 3")]


@pytest.mark.parametrize(
    ("legs", "found"),
    [
        ((("CU", "S1"), ("S1", "S2"), ("S2", "S3")), ("circuit.bench.legs", "S4: no leg joins it to CU")),
        (
            (("CU", "S1"), ("S1", "S2"), ("S3", "S4")),
            ("circuit.bench.legs", "S3, S4: no leg joins them to CU"),
        ),
        (
            (("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4"), ("S4", "S1")),
            ("circuit.bench.legs[5]", "S4 and S1 are joined already by the legs before it"),
        ),
        (
            (("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4"), ("S2", "S1")),
            ("circuit.bench.legs[5]", "S2 and S1 are joined already by the legs before it"),
        ),
        (
            (("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4"), ("S4", "S4")),
            ("circuit.bench.legs[5]", "S4 is joined to itself"),
        ),
        (
            (("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4"), ("S4", "X1")),
            ("circuit.bench.legs[5]", "no cable goes from S4 to X1: they are not fed together"),
        ),
        (
            (("CU", "S1"), ("CU", "S2"), ("S2", "S3"), ("S3", "S4")),
            ("circuit.bench.legs", "more than one leg leaves CU"),
        ),
    ],
)
def test_legs_that_are_no_tree_are_problems(legs: Pairs, found: tuple[str, str]) -> None:
    assert refusals(bench("branching", legs=legs)) == [found]


def test_a_chain_has_no_legs_to_bind() -> None:
    assert refusals(bench("radial", legs=(("CU", "S1"),)))[0][1] == "S2, S3, S4: no leg joins them to CU"
    whole = (("CU", "S1"), ("S1", "S2"), ("S2", "S3"), ("S3", "S4"))
    assert refusals(bench("radial", legs=whole)) == [("circuit.bench.legs", "a radial circuit has no legs")]


def test_names_and_the_order_of_the_file_change_no_bound_leg() -> None:
    legs = (("S4", "S2"), ("CU", "S4"), ("S1", "S4"), ("S3", "S1"))
    job = bench("branching", legs=legs)
    renamed = replace(
        job,
        groups=tuple(replace(group, name="A") for group in job.groups),
        circuits=(replace(job.circuits[0], legs=tuple(_renamed(leg) for leg in reversed(legs))),),
    )

    def walked(job: Job) -> list[object]:
        return [leg.path.points for leg in only(squared(job)).legs]

    assert walked(job) == walked(renamed)


def _renamed(leg: tuple[str, str]) -> tuple[str, str]:
    one, other = (name.replace("S", "A") for name in leg)
    return one, other


# --- the rules alone ------------------------------------------------------------------------------------------------


def test_parts_that_no_leg_touches_are_free() -> None:
    parts = (Part("CU", ("W1", "U1")), Part("W1", ("DL1", "DL2")), Part("U1", ("EL1",)))

    assert [*leg_faults((("CU", "W1"), ("W1", "U1")), parts, one_leaves_the_board=True)] == []
    (fault,) = leg_faults((("DL1", "W1"),), parts, one_leaves_the_board=True)
    assert fault.found == "DL2: no leg joins it to W1"
    (fault,) = leg_faults((("DL1", "W1"), ("W1", "DL2")), parts, one_leaves_the_board=False)
    assert fault.found == "more than one leg leaves W1"


def test_spurs_of_one_part_hang_within_it() -> None:
    parts = (Part("CU", ("W1", "F1")), Part("W1", ("DL1", "DL2")))

    assert [*spur_faults((("F1", "W1"), ("DL1", "W1")), parts)] == []
    (fault,) = spur_faults((("F1", "DL1"),), parts)
    assert (fault.at, fault.write) == ("F1", "choose from W1")


# --- as a user writes it --------------------------------------------------------------------------------------------


def circuit_of(line: str, wiring: str = "radial") -> Circuit:
    text = changed('wiring = "radial"', f'wiring = "{wiring}"\n{line}')
    job, notes = parse_job(text)
    assert [note for note in notes if "circuit" in note.where] == []
    return next(circuit for circuit in job.circuits if circuit.name == "sockets")


def messages(line: str, wiring: str = "radial") -> list[str]:
    with pytest.raises(Refused) as refused:
        circuit_of(line, wiring)
    return [f"{problem.where}: {problem.found}" for problem in refused.value.problems]


def test_spurs_and_legs_are_read_and_are_used() -> None:
    assert circuit_of('spurs = { S3 = "S1" }').spurs == (("S3", "S1"),)
    assert circuit_of('legs = [["CU", "S2"], ["S2", "S1"], ["S1", "S3"]]', "branching").legs == (
        ("CU", "S2"),
        ("S2", "S1"),
        ("S1", "S3"),
    )


@pytest.mark.parametrize(
    ("line", "wiring", "found"),
    [
        ('spurs = { S9 = "S1" }', "radial", ['circuit.sockets.spurs.S9: there is no point "S9"']),
        ('spurs = { S3 = "S9" }', "radial", ['circuit.sockets.spurs.S3: there is no point "S9"']),
        ('spurs = { S3 = "S3" }', "radial", ["circuit.sockets.spurs.S3: S3 hangs from itself"]),
        (
            'spurs = { S3 = "CU" }',
            "radial",
            ["circuit.sockets.spurs.S3: a spur hangs from a point, and CU is the board"],
        ),
        ('spurs = { S3 = "S2", S2 = "S1" }', "radial", ["circuit.sockets.spurs.S3: S2 is a spur itself"]),
        (
            'spurs = { S3 = "S2" }\nfirst = ["S3"]',
            "radial",
            ["circuit.sockets.first[1]: S3 is a spur, outside the sequence"],
        ),
        (
            'spurs = { S3 = "S2" }\nsequence = ["S1"]',
            "radial",
            ["circuit.sockets.sequence: S2 is left out"],
        ),
        (
            'spurs = { S3 = "S1", S2 = "S1" }',
            "ring",
            ["circuit.sockets.wiring: a ring goes round two points or more, and S1 is its only one"],
        ),
        (
            'legs = [["CU", "S1"], ["S1", "S2"]]',
            "branching",
            ["circuit.sockets.legs: S3: no leg joins it to CU"],
        ),
        (
            'legs = [["CU", "S1"], ["S1", "S2"], ["S2", "S3"], ["S1", "S3"]]',
            "star",
            ["circuit.sockets.legs[4]: S1 and S3 are joined already by the legs before it"],
        ),
        ('legs = [["CU", "S1"], ["S1", "S9"]]', "branching", ['circuit.sockets.legs[2][2]: there is no point "S9"']),
        (
            'legs = [["house", "S1"], ["S1", "S2"]]',
            "branching",
            ['circuit.sockets.legs[1][1]: the circuit starts at board "CU"'],
        ),
        (
            'legs = [["CU", "S1"], ["S1", "S3"]]\nspurs = { S3 = "S1" }',
            "branching",
            ["circuit.sockets.legs[2][2]: S3 is a spur, and hangs from S1"],
        ),
        (
            'legs = [["CU", "S1"], ["S1", "S2"], ["S2", "S3"]]',
            "ring",
            ["circuit.sockets.legs: legs go with branching and star, not with ring"],
        ),
    ],
)
def test_spurs_and_legs_that_cannot_be_are_told_where_they_stand(line: str, wiring: str, found: list[str]) -> None:
    assert messages(line, wiring) == found
