"""What a user binds on a circuit beside its sequence: spurs and legs go in, pairs that are fixed come out."""

from collections.abc import Iterable, Mapping, Sequence

from estimator.job.model import Circuit
from estimator.job.tree import address
from estimator.job.trees import Fault, Part, leg_faults, part_of, spur_faults, without_spurs
from estimator.problems import Problem, Refused
from estimator.routing.legs import Setting
from estimator.routing.sequences import Answer
from estimator.routing.solving import Costs, Pair, Solved, fixed


def refused(circuit: Circuit, found: str, write: str, *key: str) -> Refused:
    """One thing that keeps a circuit from being laid, to be raised."""
    return Refused([Problem(circuit.place, address(("circuit", circuit.name, *key)), found, write)])


def free_parts(circuit: Circuit, parts: Sequence[Part]) -> tuple[Part, ...]:
    """The parts of a circuit without its spurs, once spurs and legs are known to hang together.

    Raises:
        Refused: with every spur and leg that cannot be laid as written.
    """
    free = without_spurs(parts, circuit.spurs)
    one_leaves = circuit.wiring != "star"
    faults = [("spurs", fault) for fault in spur_faults(circuit.spurs, parts)]
    faults += [("legs", fault) for fault in leg_faults(circuit.legs, free, one_leaves_the_board=one_leaves)]
    if faults:
        raise Refused([_problem(circuit, key, fault) for key, fault in faults])
    return free


def _problem(circuit: Circuit, key: str, fault: Fault) -> Problem:
    at = f"{key}[{fault.at + 1}]" if isinstance(fault.at, int) else key
    way = (at, fault.at) if isinstance(fault.at, str) else (at,)
    return Problem(circuit.place, address(("circuit", circuit.name, *way)), fault.found, fault.write)


def legs_in(circuit: Circuit, part: Part, parts: Sequence[Part]) -> tuple[Pair, ...]:
    """The legs that bind a part of a circuit, as written; none where it is free."""
    return tuple(leg for leg in circuit.legs if part_of(leg, parts) == part)


def hanging(setting: Setting, circuit: Circuit, costs: Costs, part: Part) -> Solved:
    """The spurs of a part (with spurs in it), by the coordinates of what they hang from, then their own."""
    spurs = [(host, spur) for spur, host in circuit.spurs if spur in part.nodes]
    return fixed(costs, sorted(spurs, key=lambda pair: [setting.ends[name].order for name in pair]))


def bound_tree(
    circuit: Circuit,
    legs: Sequence[Pair],
    costs: Costs,
    caps: Mapping[str, int],
    free: Answer,
) -> Solved:
    """The tree the user wrote, depth first; its bound is that of the free tree, and it is proven where it meets it.

    `caps` is in the order in which branches are told, its first name the root.

    Raises:
        Refused: more legs end at a place than may.
    """
    ends = {name: sum(name in leg for leg in legs) for name in caps}
    over = [name for name, cap in caps.items() if ends[name] > cap]
    if over:
        words = ", ".join(f"{ends[name]} legs end at {name}, which takes {caps[name]}" for name in over)
        raise refused(circuit, words, "move a leg, or raise max_ends in points.csv", "legs")
    pairs = _depth_first(list(caps), legs)
    spent = sum(costs.between(pair)[0][1] for pair in pairs)
    return Solved(tuple(end for _, end in pairs), pairs, spent, free.bound, spent == free.bound)


def _depth_first(names: Sequence[str], legs: Iterable[Pair]) -> tuple[Pair, ...]:
    """Legs from the root outwards, each branch whole before the next; branches in the order of `names`."""
    beside: dict[str, list[str]] = {name: [] for name in names}
    for one, other in legs:
        beside[one].append(other)
        beside[other].append(one)
    walked: list[Pair] = []
    reached = {names[0]}
    stack = [(names[0], child) for child in sorted(beside[names[0]], key=names.index, reverse=True)]
    while stack:
        start, end = stack.pop()
        walked.append((start, end))
        reached.add(end)
        further = [name for name in beside[end] if name not in reached]
        stack += [(end, child) for child in sorted(further, key=names.index, reverse=True)]
    return tuple(walked)
