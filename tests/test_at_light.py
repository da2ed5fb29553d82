"""Feeds that loop at the lights: by hand, against every tree there is, and what a user may bind there."""

from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest

from estimator.job.model import Job, Wiring
from estimator.job.read import parse_job
from estimator.problems import Refused
from estimator.routing.model import CircuitRoute, Routes
from estimator.routing.network import HOLE_BASE
from tests import jobs as j
from tests.job_texts import changed
from tests.test_circuits import KINDS, least_tree_by_trial, lights, lit, switch, true_costs, two_sets
from tests.wires import routed, squared, trade


def at_light(job: Job, **more: object) -> Job:
    """The job's one circuit with its feed looped at the lights."""
    circuit = replace(job.circuits[0], switching="at-light", **more)  # type: ignore[arg-type]  # fields of Circuit
    return replace(job, circuits=(circuit,))


def only(routes: Routes) -> CircuitRoute:
    (circuit,) = routes.circuits
    return circuit


def pairs(circuit: CircuitRoute, use: str) -> list[tuple[str, str]]:
    return [(leg.start, leg.end) for leg in circuit.legs if leg.use == use]


# --- by hand --------------------------------------------------------------------------------------------------------


def test_lights_are_fed_from_the_board_and_each_fed_switch_hangs_from_its_nearest_light() -> None:
    circuit = only(squared(at_light(two_sets()), trade(points=KINDS)))
    route = {(leg.start, leg.end): leg.route_mm for leg in circuit.legs}

    assert {end for _, end in pairs(circuit, "feed")} == {"DL1", "DL2", "DL3", "EL1", "EL2", "FAN1"}
    # hand: W1 stands at (1, 0), right below DL1 (1, 1): 1.2 m up, 1.0 m in; U1 at (4, 4) below EL1 (4, 3)
    assert pairs(circuit, "switched") == [("DL1", "W1"), ("EL1", "U1")]
    assert (route["DL1", "W1"], route["EL1", "U1"]) == (2200, 2200)
    assert pairs(circuit, "strapper") == [("W1", "V1")]
    # hand: board (0, 0.4) up 1.2 to DL1 1.6 = 2.8; 1 and 1 to DL3; DL3 (3, 1) to EL1 (4, 3) 3.0; 1 to EL2; EL2 (5, 3)
    # to the fan (5.5, 2) 1.5: 10.3; the switches 4.4, the strap 4.5
    assert (circuit.route_mm, circuit.bound_mm, circuit.proven) == (19_200, 19_200, True)


def test_cables_are_those_of_the_feed_the_switches_and_the_straps() -> None:
    circuit = only(squared(at_light(two_sets(), switch_cable="te-2.5"), trade(points=KINDS)))

    assert {(leg.use, leg.cable) for leg in circuit.legs} == {
        ("feed", "te-1.5"),
        ("switched", "te-2.5"),
        ("strapper", "te3-1.5"),
    }


def test_the_sequence_tells_the_feed_then_each_fed_switch_and_its_chain_by_the_place_of_the_switch() -> None:
    circuit = only(squared(at_light(two_sets()), trade(points=KINDS)))

    assert circuit.sequence[-3:] == ("W1", "V1", "U1")
    assert sorted(circuit.sequence[:-3]) == ["DL1", "DL2", "DL3", "EL1", "EL2", "FAN1"]


def test_a_switch_that_heads_two_lists_hangs_once_from_the_nearest_light_of_both() -> None:
    groups = [
        lights("DL", [(3000, 1000)], "W1", "V1"),
        lights("EL", [(1000, 1500)], "W1", "U1", "V1"),
        switch("W", "front", 5000),
        switch("V", "front", 500),
        switch("U", "front", 3000, "between"),
    ]
    circuit = only(squared(at_light(lit(groups)), trade(points=KINDS)))

    # hand: W1 at (1, 0): EL1 1.5 m in, DL1 3.0 m
    assert pairs(circuit, "switched") == [("EL1", "W1")]
    assert pairs(circuit, "strapper") == [("W1", "U1"), ("U1", "V1"), ("W1", "V1")]
    assert len(set(circuit.sequence)) == len(circuit.sequence) == 5


def test_of_lights_equally_near_the_first_by_coordinates_holds_the_switch() -> None:
    groups = [lights("DL", [(4000, 2000), (2000, 2000)], "W1"), switch("W", "back", 3000, "one")]
    circuit = only(squared(at_light(lit(groups))))

    # hand: both 2 m in and 1 m to the side; y alike, x = 2.0 comes first
    assert pairs(circuit, "switched") == [("DL2", "W1")]


def test_a_light_keeps_one_of_its_ends_for_the_switch_that_hangs_from_it() -> None:
    # hand: three lights 1 m round DL1, above the switch; with three ends DL1 feeds one less of them than with four
    places = [(3000, 2000), (2000, 2000), (4000, 2000), (3000, 3000)]
    groups = [lights("DL", places, "W1"), switch("W", "front", 3000, "one")]

    def feed_ends(max_ends: int) -> int:
        kind = j.point_kind("downlight", (0, 0, 0), (85, 85), "lining", use="lighting", tail="light", max_ends=max_ends)
        circuit = only(squared(at_light(lit(groups)), trade(points=[kind])))
        assert pairs(circuit, "switched") == [("DL1", "W1")]
        return sum("DL1" in pair for pair in pairs(circuit, "feed"))

    assert [feed_ends(4), feed_ends(3), feed_ends(2)] == [3, 2, 1]


def test_rings_and_radials_loop_at_lights_too() -> None:
    for wiring in ("radial", "ring"):
        job = two_sets()
        job = replace(job, circuits=(replace(job.circuits[0], wiring=wiring),))
        circuit = only(squared(at_light(job), trade(points=KINDS)))
        assert len(pairs(circuit, "feed")) == 6 + (wiring == "ring")
        assert circuit.proven


def test_a_circuit_without_switched_lights_is_the_same_at_either() -> None:
    group = j.group("S", "double-socket", j.at(("back", 1000), ("back", 3000)), circuit="lights")
    job = lit([group])

    assert only(squared(at_light(job))) == only(squared(job))


# --- against every tree there is ------------------------------------------------------------------------------------


def scattered(seed: int) -> Job:
    """Three or four lights of one or two lists, a fan, and their switches, anywhere in the default room."""
    draw = Random(seed)

    def places(count: int) -> Sequence[tuple[int, int]]:
        return [(draw.randrange(300, 5700, 50), draw.randrange(300, 3700, 50)) for _ in range(count)]

    groups = [
        lights("DL", places(2), "W1"),
        lights("EL", places(draw.randint(1, 2)), "U1", "V1"),
        lights("FAN", places(1)),
        switch("W", draw.choice(("back", "front")), draw.randrange(200, 5800, 50), "one"),
        switch("U", draw.choice(("left", "right")), draw.randrange(600, 3800, 50)),
        switch("V", "front", draw.randrange(2000, 5800, 50)),
    ]
    return at_light(lit(groups))


@pytest.mark.parametrize("max_ends", [3, 4])
@pytest.mark.parametrize("seed", range(6))
def test_no_tree_over_the_lights_within_their_ends_is_shorter(seed: int, max_ends: int) -> None:
    kind = j.point_kind("downlight", (0, 0, 0), (85, 85), "lining", use="lighting", tail="light", max_ends=max_ends)
    job = scattered(seed)
    routes = routed(job, trade(points=[*KINDS, kind]))
    names, cost = true_costs(job)

    def far(one: str, other: str) -> int:
        return cost[names.index(one)][names.index(other)]

    looped = [name for name in names if name[0] not in "WUV"]
    hosts = {}
    for head, group in (("W1", "DL"), ("U1", "EL")):
        hosts[head] = min((far(head, name), name) for name in names if name.startswith(group))
    table = [[far(one, other) for other in looped] for one in looped]
    taken = [name for _, name in hosts.values()]
    caps = [1, *(max_ends - (name in taken) for name in looped[1:])]
    least = least_tree_by_trial(table, caps) + sum(length for length, _ in hosts.values()) + far("U1", "V1")

    assert least == sum(leg.route_mm * HOLE_BASE + leg.holes.total for leg in routes.legs)
    assert only(routes).proven
    assert only(routes).bound_mm == only(routes).route_mm


def test_lights_that_cannot_take_a_switch_and_two_cables_are_told() -> None:
    kind = j.point_kind("downlight", (0, 0, 0), (85, 85), "lining", use="lighting", tail="light", max_ends=2)
    with pytest.raises(Refused) as refused:
        squared(at_light(two_sets()), trade(points=[*KINDS, kind]))

    # hand: DL1 and EL1 hold a switch each and end a chain each, and the board starts it: three ends of one chain
    (problem,) = refused.value.problems
    assert problem.found.endswith("; of those at DL1, EL1 one is kept between switch and lights")


def test_names_and_the_order_of_the_file_change_no_route() -> None:
    job = scattered(3)
    swapped = {"DL": "A", "EL": "Z", "FAN": "M", "W": "Q", "U": "P", "V": "B"}
    groups = [
        replace(group, name=swapped[group.name], switched_by=tuple(f"{swapped[s[0]]}1" for s in group.switched_by))
        for group in reversed(job.groups)
    ]

    def walked(job: Job) -> list[object]:
        return [(leg.use, leg.path.points) for leg in routed(job, trade(points=KINDS)).legs]

    assert walked(job) == walked(replace(job, groups=tuple(groups)))


# --- what a user may bind -------------------------------------------------------------------------------------------


def test_spurs_and_legs_bind_the_one_tree_of_board_and_lights() -> None:
    legs = (("CU", "FAN1"), ("FAN1", "EL1"), ("EL1", "DL1"), ("DL1", "DL2"), ("DL2", "DL3"))
    circuit = only(squared(at_light(two_sets(), legs=legs, spurs=(("EL2", "FAN1"),)), trade(points=KINDS)))

    assert pairs(circuit, "feed") == [*legs, ("FAN1", "EL2")]
    assert pairs(circuit, "switched") == [("DL1", "W1"), ("EL1", "U1")]
    assert not circuit.proven


@pytest.mark.parametrize(
    ("more", "found"),
    [
        ({"spurs": (("W1", "DL1"),)}, "W1 is not fed on this circuit"),
        ({"legs": (("CU", "W1"),)}, "no cable goes from CU to W1: they are not fed together"),
    ],
)
def test_a_switch_is_no_part_of_the_feed(more: dict[str, object], found: str) -> None:
    with pytest.raises(Refused) as refused:
        squared(at_light(two_sets(), **more), trade(points=KINDS))
    assert [problem.found for problem in refused.value.problems] == [found]


@pytest.mark.parametrize(
    ("wiring", "line", "found"),
    [
        ("radial", 'first = ["L2"]', []),
        ("radial", 'sequence = ["L2", "L1"]', []),
        ("radial", 'first = ["W1"]', ["W1 hangs from its nearest light, not along the circuit"]),
        ("radial", 'sequence = ["L2"]', ["L1 is left out"]),
        ("branching", 'legs = [["CU", "L2"], ["L2", "L1"]]', []),
        ("branching", 'legs = [["CU", "L2"], ["L2", "W1"]]', [
            "no cable goes from L2 to W1: they are not fed together",
            "L1: no leg joins it to CU",
        ]),
        ("ring", 'spurs = { L2 = "L1" }', ["a ring goes round two points or more, and L1 is its only one"]),
    ],
)  # fmt: skip
def test_rules_know_what_is_fed_where_the_feed_loops_at_the_lights(wiring: Wiring, line: str, found: list[str]) -> None:
    text = changed('wiring = "branching"', f'wiring = "{wiring}"\nswitching = "at-light"\n{line}')
    if not found:
        assert parse_job(text)[0].circuits[1].switching == "at-light"
        return
    with pytest.raises(Refused) as refused:
        parse_job(text)
    assert sorted(found) == sorted(problem.found for problem in refused.value.problems)
