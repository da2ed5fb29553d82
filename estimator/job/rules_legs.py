"""Rules of spurs and bound legs: names that are there, spurs that hang from points, legs that make a tree."""

from collections.abc import Iterator

from estimator.job.known import Known
from estimator.job.members import parts_of, readable, spurs_of
from estimator.job.table import Spot, Table
from estimator.job.trees import Fault, Pair, leg_faults, spur_faults, without_spurs
from estimator.problems import Problem

TREES = ("branching", "star")


def check(known: Known) -> Iterator[Problem]:
    """Every rule of spurs and legs. Where a name is wrong, nothing is said about what hangs from what."""
    for circuit in known.job.tables("circuit"):
        strange = [*_strange_spurs(known, circuit), *_strange_legs(known, circuit)]
        yield from strange
        yield from _wiring(circuit)
        if not strange and readable(known):
            yield from _spurs(known, circuit)
            yield from _legs(known, circuit)


def stranger(known: Known, circuit: Table, spot: Spot, point: str) -> Iterator[Problem]:
    """A problem where a circuit names what is no point, or a point of another circuit."""
    group = known.group_of(point)
    if group is None:
        yield circuit.problem(spot, f'there is no point "{point}"', known.point_hint(point))
    elif group.get("circuit", str) != circuit.name:
        other = group.get("circuit", str)
        found = f'{point} is on circuit "{other}"' if other else f"{point} is on no circuit"
        yield circuit.problem(spot, found, "take it out, or change the circuit of its group")


def _strange_spurs(known: Known, circuit: Table) -> Iterator[Problem]:
    for spur, host in spurs_of(circuit):
        names = [spur] if host in (spur, circuit.get("board", str)) else [spur, host]
        for name in names:
            yield from stranger(known, circuit, ("spurs", spur), name)


def legs_of(circuit: Table) -> tuple[Pair, ...]:
    """The legs that a circuit binds."""
    return tuple((pair[0], pair[1]) for pair in circuit.items("legs", tuple))


def _strange_legs(known: Known, circuit: Table) -> Iterator[Problem]:
    hung = dict(spurs_of(circuit))
    for number, leg in enumerate(legs_of(circuit)):
        for side, name in enumerate(leg):
            spot = ("legs", number, side)
            if name in hung:
                found = f"{name} is a spur, and hangs from {hung[name]}"
                yield circuit.problem(spot, found, "take the leg out, or take it out of spurs")
            elif known.find("board", name) is None:
                yield from stranger(known, circuit, spot, name)
            elif (board := known.find("board", circuit.get("board", str))) and board.name != name:
                yield circuit.problem(spot, f'the circuit starts at board "{board.name}"', f'write "{board.name}"')


def _wiring(circuit: Table) -> Iterator[Problem]:
    wiring = circuit.get("wiring", str)
    if circuit.has("legs") and wiring is not None and wiring not in TREES:
        found = f"legs go with branching and star, not with {wiring}"
        yield circuit.problem("legs", found, 'write sequence = ["S1", "S2"] in place of them')


def _spurs(known: Known, circuit: Table) -> Iterator[Problem]:
    for fault in spur_faults(spurs_of(circuit), parts_of(known, circuit)):
        yield circuit.problem(("spurs", str(fault.at)), fault.found, fault.write)


def _legs(known: Known, circuit: Table) -> Iterator[Problem]:
    wiring = circuit.get("wiring", str)
    if wiring in TREES:
        parts = without_spurs(parts_of(known, circuit), spurs_of(circuit))
        for fault in leg_faults(legs_of(circuit), parts, one_leaves_the_board=wiring == "branching"):
            yield circuit.problem(_spot(fault), fault.found, fault.write)


def _spot(fault: Fault) -> Spot:
    return ("legs", fault.at) if isinstance(fault.at, int) else ("legs",)
