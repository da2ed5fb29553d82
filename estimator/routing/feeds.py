"""What a board feeds: the points of a circuit and what it costs to get between them go in, their order or tree comes out."""

from collections.abc import Sequence
from itertools import pairwise

from estimator.job.model import Circuit
from estimator.job.tree import address
from estimator.routing.bound import bound_tree, refused
from estimator.routing.legs import Setting
from estimator.routing.sequences import Answer, chain, ring, star
from estimator.routing.solving import Costs, Pair, Solved, least_tree, named, round_the_ring

FEWEST_IN_A_RING = 2


def feed(
    setting: Setting, circuit: Circuit, costs: Costs, points: Sequence[str], taken: Sequence[str], legs: Sequence[Pair]
) -> Solved:
    """The board and what it feeds, by the circuit's wiring; in a tree each of `taken` has one end less for it.

    Raises:
        Refused: ends that cannot be had, a ring of one point, or a `sequence` that is not whole.
    """
    nodes = (circuit.board, *setting.in_order(points))
    ordered = circuit.wiring in ("radial", "ring")
    asked = [key for key in ("sequence", "first", "last") if getattr(circuit, key)]
    if asked and not ordered:
        found = f"a {circuit.wiring} circuit has no {asked[0]}"
        raise refused(circuit, found, "write a radial or ring, or take it out", asked[0])
    if legs and ordered:
        raise refused(circuit, f"a {circuit.wiring} circuit has no legs", "write a sequence in place of them", "legs")
    if circuit.wiring == "ring" and len(points) < FEWEST_IN_A_RING:
        found = f"a ring goes round two points or more, and {' '.join(points)} is its only one"
        raise refused(circuit, found, 'write wiring = "radial"', "wiring")
    if circuit.sequence:
        return _as_given(setting, circuit, costs, nodes)
    if ordered:
        head, tail = _ends(circuit, "first", nodes), _ends(circuit, "last", nodes)
        return _in_order(setting, circuit, costs, nodes, head, tail)
    return _tree(setting, circuit, costs, nodes, taken, legs)


def _tree(
    setting: Setting, circuit: Circuit, costs: Costs, nodes: Sequence[str], taken: Sequence[str], legs: Sequence[Pair]
) -> Solved:
    """A tree or star; legs that are bound in a star may make any tree, with as many leaving the board as they like."""
    cost = costs.between(nodes)
    if circuit.wiring == "star" and not legs:
        return named(nodes, star(cost, root=0))
    at_board = 1 if circuit.wiring == "branching" else len(nodes)
    caps = {circuit.board: at_board}
    caps |= {name: setting.ends[name].ends_allowed - (name in taken) for name in nodes[1:]}
    kept = [name for name in nodes[1:] if name in taken]
    free = least_tree(
        circuit.place, address(("circuit", circuit.name)), nodes, cost, list(caps.values()), setting.memory, kept
    )
    return bound_tree(circuit, legs, costs, caps, free) if legs else named(nodes, free)


def _in_order(
    setting: Setting, circuit: Circuit, costs: Costs, nodes: Sequence[str], head: list[int], tail: list[int]
) -> Solved:
    if set(head) & set(tail):
        both = ", ".join(nodes[node] for node in head if node in tail)
        raise refused(circuit, f"{both}: both first and last", "name it once", "last")
    answer = _free(setting, circuit, costs, nodes, head, tail)
    if circuit.wiring == "radial" or answer.order is None:
        return named(nodes, answer)
    order = tuple(nodes[node] for node in answer.order[1:])
    return Solved(order, round_the_ring(costs, nodes[0], order), answer.cost, answer.bound, answer.proven)


def _free(
    setting: Setting, circuit: Circuit, costs: Costs, nodes: Sequence[str], head: Sequence[int], tail: Sequence[int]
) -> Answer:
    solve, cost = ring if circuit.wiring == "ring" else chain, costs.between(nodes)
    key = (solve.__name__, tuple(map(tuple, cost)), tuple(head), tuple(tail))
    return setting.memory.recall(key, lambda: solve(cost, start=0, head=head, tail=tail))


def _ends(circuit: Circuit, key: str, nodes: Sequence[str]) -> list[int]:
    """The points that `first`, `last` or `sequence` names, as numbers of nodes."""
    names: tuple[str, ...] = getattr(circuit, key)
    strange = [name for name in names if name not in nodes[1:]]
    if strange:
        write = f"choose from {', '.join(nodes[1:])}"
        raise refused(circuit, f"{', '.join(strange)}: not fed on this circuit", write, key)
    twice = [name for name in dict.fromkeys(names) if names.count(name) > 1]
    if twice:
        raise refused(circuit, f"{', '.join(twice)}: named more than once", "name each point once", key)
    return [nodes.index(name) for name in names]


def _as_given(setting: Setting, circuit: Circuit, costs: Costs, nodes: Sequence[str]) -> Solved:
    """The sequence the user wrote; its bound is that of the free problem, and it is proven where it meets it."""
    _ends(circuit, "sequence", nodes)
    missing = [name for name in nodes[1:] if name not in circuit.sequence]
    if missing:
        found = f"{', '.join(missing)}: fed on this circuit, but not in its sequence"
        raise refused(circuit, found, "name every point that is fed", "sequence")
    pairs = tuple(pairwise((nodes[0], *circuit.sequence)))
    if circuit.wiring == "ring":
        pairs = round_the_ring(costs, nodes[0], circuit.sequence)
    spent = sum(costs.between(pair)[0][1] for pair in pairs)
    bound = _free(setting, circuit, costs, nodes, (), ()).bound
    return Solved(circuit.sequence, pairs, spent, bound, spent == bound)
