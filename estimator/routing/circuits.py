"""Circuits: a circuit and the places of its points go in; its sequence, legs, length and lower bound come out."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from estimator.checks.model import Finding
from estimator.job.model import Circuit
from estimator.job.tree import address
from estimator.job.trees import Part
from estimator.routing.bound import bound_tree, free_parts, hanging, legs_in, refused
from estimator.routing.feeds import feed
from estimator.routing.legs import Setting, Step, write_legs
from estimator.routing.model import CircuitRoute, Use
from estimator.routing.network import HOLE_BASE
from estimator.routing.solving import Costs, Pair, Solved, costs_from, fixed, least_tree, named
from estimator.routing.switching import Lights, nearest_light, split, strap_cable, switch_findings


@dataclass(frozen=True, slots=True)
class Lot:
    """One problem solved, and what its legs are laid in."""

    solved: Solved
    cable: str
    use: Use


def route_circuit(setting: Setting, circuit: Circuit) -> tuple[CircuitRoute, tuple[Finding, ...]]:
    """The circuit laid out, and what there is to say about its switches.

    A circuit without switched lights is one problem by its `wiring`; switched lights make more (see `switching`), and
    the circuit's bound is the sum of theirs, in whole mm. Straps and spurs are fixed and count at their length. Spurs
    come after the rest of their problem.

    Raises:
        Refused: no point, a point that no lane reaches, ends that cannot be had, a `sequence` that is not whole, spurs
            or legs that do not hang together.
    """
    members = [point.id for point in setting.setout.points if point.circuit == circuit.name]
    if not members:
        write = f'write circuit = "{circuit.name}" in a [[points]], or take the circuit out'
        raise refused(circuit, "no point is on this circuit", write)
    if circuit.keep_to != "any":
        setting = setting.kept_to(circuit.keep_to)
    fed, sets = split(setting, circuit, members)
    lay = _at_light if circuit.switching == "at-light" else _at_switch
    return _laid(setting, circuit, lay(setting, circuit, members, fed, sets)), switch_findings(setting, sets)


def _at_switch(
    setting: Setting, circuit: Circuit, members: Sequence[str], fed: Sequence[str], sets: Sequence[Lights]
) -> list[Lot]:
    """The feed, with the first switch of every list in it; then for each list its lights, their spurs, its straps."""
    parts = (Part(circuit.board, tuple(fed)), *(Part(one.switches[0], one.lights) for one in sets))
    free = free_parts(circuit, parts)
    asked = [*((part.root, *part.nodes) for part in parts), *(one.switches for one in sets)]
    costs = costs_from(setting, circuit.board, members, asked if sets else ())
    lots = _fed(setting, circuit, costs, parts, free, [one.switches[0] for one in sets])
    for one, part, whole in zip(sets, free[1:], parts[1:], strict=True):
        lights = _lights(setting, circuit, costs, part, legs_in(circuit, part, free))
        lots.append(Lot(lights, _to_lights(circuit), "switched"))
        lots.append(Lot(hanging(setting, circuit, costs, whole), _to_lights(circuit), "switched"))
        lots += _straps(setting, circuit, costs, one)
    return lots


def _at_light(
    setting: Setting, circuit: Circuit, members: Sequence[str], fed: Sequence[str], sets: Sequence[Lights]
) -> list[Lot]:
    """The feed, with all lights in it; then each fed switch from the nearest light it switches, and its straps.

    As a fed switch keeps one end for its lights, so in a tree a light keeps one for the switch that hangs from it.
    """
    parts = (Part(circuit.board, tuple(fed)),)
    free = free_parts(circuit, parts)
    costs = costs_from(setting, circuit.board, members)
    hosts = {one.switches[0]: nearest_light(setting, costs, one.switches[0], sets) for one in sets}
    lots = _fed(setting, circuit, costs, parts, free, list(hosts.values()))
    for one in sets:
        if light := hosts.pop(one.switches[0], None):
            lots.append(Lot(fixed(costs, ((light, one.switches[0]),)), _to_lights(circuit), "switched"))
        lots += _straps(setting, circuit, costs, one)
    return lots


def _fed(
    setting: Setting,
    circuit: Circuit,
    costs: Costs,
    parts: Sequence[Part],
    free: Sequence[Part],
    taken: Sequence[str],
) -> list[Lot]:
    """What starts at the board, then its spurs."""
    solved = feed(setting, circuit, costs, free[0].nodes, taken, legs_in(circuit, free[0], free))
    spurs = hanging(setting, circuit, costs, parts[0])
    return [Lot(solved, circuit.cable, "feed"), Lot(spurs, circuit.cable, "feed")]


def _to_lights(circuit: Circuit) -> str:
    return circuit.switch_cable or circuit.cable


def _straps(setting: Setting, circuit: Circuit, costs: Costs, one: Lights) -> list[Lot]:
    """The chain of a list's switches, where there are several."""
    if len(one.switches) < 2:
        return []
    return [Lot(fixed(costs, tuple(pairwise(one.switches))), strap_cable(setting, circuit), "strapper")]


def _lights(setting: Setting, circuit: Circuit, costs: Costs, part: Part, legs: Sequence[Pair]) -> Solved:
    """The least tree from the fed switch over the lights of its list, one cable leaving the switch."""
    nodes = (part.root, *setting.in_order(part.nodes))
    caps = {part.root: 1} | {name: setting.ends[name].ends_allowed for name in nodes[1:]}
    where = address(("points", setting.group_of(part.nodes[0]), "switched_by")) if part.nodes else ""
    free = least_tree(circuit.place, where, nodes, costs.between(nodes), list(caps.values()), setting.memory)
    return bound_tree(circuit, legs, costs, caps, free) if legs else named(nodes, free)


def _laid(setting: Setting, circuit: Circuit, lots: Sequence[Lot]) -> CircuitRoute:
    steps = [Step(start, end, lot.cable, lot.use) for lot in lots for start, end in lot.solved.pairs]
    legs = write_legs(setting, circuit.name, steps)
    solved = [lot.solved for lot in lots]
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
