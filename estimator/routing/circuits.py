"""Circuits: a circuit and the places of its points go in; its sequence, legs, length and lower bound come out."""

from collections.abc import Sequence
from itertools import pairwise

from estimator.checks.model import Finding
from estimator.job.model import Circuit
from estimator.job.tree import address
from estimator.problems import Problem, Refused
from estimator.routing.legs import Setting, Step, write_legs
from estimator.routing.model import CircuitRoute, Use
from estimator.routing.network import HOLE_BASE
from estimator.routing.sequences import Answer, chain, ring, star
from estimator.routing.solving import Costs, Solved, costs_from, least_tree, named, round_the_ring
from estimator.routing.switching import Lights, split, strap_cable, switch_findings


def route_circuit(setting: Setting, circuit: Circuit) -> tuple[CircuitRoute, tuple[Finding, ...]]:
    """The circuit laid out, and what there is to say about its switches.

    A circuit without switched lights is one problem by its `wiring`; switched lights make more (see `switching`), and
    the circuit's bound is the sum of theirs, in whole mm. Straps are fixed by their list and count at their length.

    Raises:
        Refused: no point, a point that no lane reaches, ends that cannot be had, or a `sequence` that is not whole.
    """
    members = [point.id for point in setting.setout.points if point.circuit == circuit.name]
    if not members:
        write = f'write circuit = "{circuit.name}" in a [[points]], or take the circuit out'
        raise _refused(circuit, "no point is on this circuit", write)
    costs = costs_from(setting, circuit.board, members)
    feed, sets = split(setting, circuit, members)
    fed = _feed(setting, circuit, costs, feed, {one.switches[0] for one in sets})
    solved, steps = [fed], _steps(fed, circuit.cable, "feed")
    for one in sets:
        lit, straps = _lights(setting, circuit, costs, one), _straps(costs, one)
        solved += [lit, straps]
        steps += _steps(lit, circuit.switch_cable or circuit.cable, "switched")
        if straps.pairs:
            steps += _steps(straps, strap_cable(setting, circuit), "strapper")
    return _laid(setting, circuit, solved, steps), switch_findings(setting, sets)


def _laid(setting: Setting, circuit: Circuit, solved: Sequence[Solved], steps: Sequence[Step]) -> CircuitRoute:
    legs = write_legs(setting, circuit.name, steps)
    return CircuitRoute(
        name=circuit.name,
        board=circuit.board,
        wiring=circuit.wiring,
        cable=circuit.cable,
        sequence=tuple(dict.fromkeys(name for one in solved for name in one.order)),
        route_mm=sum(leg.route_mm for leg in legs),
        bound_mm=sum(one.bound for one in solved) // HOLE_BASE,
        proven=all(one.proven for one in solved),
        legs=legs,
        place=circuit.place,
    )


def _refused(circuit: Circuit, found: str, write: str, *key: str) -> Refused:
    return Refused([Problem(circuit.place, address(("circuit", circuit.name, *key)), found, write)])


def _steps(solved: Solved, cable: str, use: Use) -> list[Step]:
    return [Step(start, end, cable, use) for start, end in solved.pairs]


def _feed(setting: Setting, circuit: Circuit, costs: Costs, feed: Sequence[str], heads: set[str]) -> Solved:
    """The board and what it feeds, by the circuit's wiring; in a tree a switch of `heads` has one end less for it."""
    nodes = (circuit.board, *setting.in_order(feed))
    ordered = circuit.wiring in ("radial", "ring")
    asked = [key for key in ("sequence", "first", "last") if getattr(circuit, key)]
    if asked and not ordered:
        found = f"a {circuit.wiring} circuit has no {asked[0]}"
        raise _refused(circuit, found, "write a radial or ring, or take it out", asked[0])
    if circuit.sequence:
        return _as_given(circuit, costs, nodes)
    if ordered:
        return _in_order(circuit, costs, nodes, _ends(circuit, "first", nodes), _ends(circuit, "last", nodes))
    cost = costs.between(nodes)
    if circuit.wiring == "star":
        return named(nodes, star(cost, root=0))
    caps = [1, *(setting.ends[name].ends_allowed - (name in heads) for name in nodes[1:])]
    return named(nodes, least_tree(circuit.place, address(("circuit", circuit.name)), nodes, cost, caps))


def _in_order(circuit: Circuit, costs: Costs, nodes: Sequence[str], head: list[int], tail: list[int]) -> Solved:
    if set(head) & set(tail):
        both = ", ".join(nodes[node] for node in head if node in tail)
        raise _refused(circuit, f"{both}: both first and last", "name it once", "last")
    answer = _free(circuit, costs, nodes, head, tail)
    if circuit.wiring == "radial" or answer.order is None:
        return named(nodes, answer)
    order = tuple(nodes[node] for node in answer.order[1:])
    return Solved(order, round_the_ring(costs, nodes[0], order), answer.cost, answer.bound, answer.proven)


def _free(circuit: Circuit, costs: Costs, nodes: Sequence[str], head: Sequence[int], tail: Sequence[int]) -> Answer:
    solve = ring if circuit.wiring == "ring" else chain
    return solve(costs.between(nodes), start=0, head=head, tail=tail)


def _ends(circuit: Circuit, key: str, nodes: Sequence[str]) -> list[int]:
    """The points that `first`, `last` or `sequence` names, as numbers of nodes."""
    names: tuple[str, ...] = getattr(circuit, key)
    strange = [name for name in names if name not in nodes[1:]]
    if strange:
        write = f"choose from {', '.join(nodes[1:])}"
        raise _refused(circuit, f"{', '.join(strange)}: not fed on this circuit", write, key)
    twice = [name for name in dict.fromkeys(names) if names.count(name) > 1]
    if twice:
        raise _refused(circuit, f"{', '.join(twice)}: named more than once", "name each point once", key)
    return [nodes.index(name) for name in names]


def _as_given(circuit: Circuit, costs: Costs, nodes: Sequence[str]) -> Solved:
    """The sequence the user wrote; its bound is that of the free problem, and it is proven where it meets it."""
    _ends(circuit, "sequence", nodes)
    missing = [name for name in nodes[1:] if name not in circuit.sequence]
    if missing:
        found = f"{', '.join(missing)}: fed on this circuit, but not in its sequence"
        raise _refused(circuit, found, "name every point that is fed", "sequence")
    pairs = tuple(pairwise((nodes[0], *circuit.sequence)))
    if circuit.wiring == "ring":
        pairs = round_the_ring(costs, nodes[0], circuit.sequence)
    spent = sum(costs.between(pair)[0][1] for pair in pairs)
    bound = _free(circuit, costs, nodes, (), ()).bound
    return Solved(circuit.sequence, pairs, spent, bound, spent == bound)


def _lights(setting: Setting, circuit: Circuit, costs: Costs, one: Lights) -> Solved:
    """The least tree from the fed switch over the lights of its list, one cable leaving the switch."""
    nodes = (one.switches[0], *setting.in_order(one.lights))
    caps = [1, *(setting.ends[name].ends_allowed for name in nodes[1:])]
    where = address(("points", setting.group_of(one.lights[0]), "switched_by"))
    return named(nodes, least_tree(circuit.place, where, nodes, costs.between(nodes), caps))


def _straps(costs: Costs, one: Lights) -> Solved:
    pairs = tuple(pairwise(one.switches))
    spent = sum(costs.between(pair)[0][1] for pair in pairs)
    return Solved(one.switches[1:], pairs, spent, spent, proven=True)
