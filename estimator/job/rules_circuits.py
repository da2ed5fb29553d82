"""Rules of circuits and controls: points on each, orders of points that add up, switches that are there."""

from collections.abc import Iterator

from estimator.job.known import Known, ids
from estimator.job.members import at_light, groups_on, readable, sequence_of, spurs_of
from estimator.job.model import NO_CIRCUIT
from estimator.job.rules_legs import stranger
from estimator.job.table import Table
from estimator.problems import Problem

ORDERS = ("sequence", "first", "last")


def check(known: Known) -> Iterator[Problem]:
    """Every rule of circuits, controls, and what points belong to."""
    for circuit in known.job.tables("circuit"):
        yield from at_board(known, circuit, "board", "circuit starts")
        yield from _has_points(known, circuit)
        yield from _ring(known, circuit)
        yield from _orders(known, circuit)
    for control in known.job.tables("control"):
        yield from at_board(known, control, "contactor", "contactor goes")
        yield from _drops(known, control)
        yield from _buttons(known, control)
    elsewhere = _named_elsewhere(known)
    for group in known.job.tables("points"):
        yield from _fed(known, group, elsewhere)
        yield from _switches(known, group)


def at_board(known: Known, table: Table, key: str, what: str) -> Iterator[Problem]:
    """A board that is named must be there, and within the job."""
    name = table.get(key, str)
    board = known.find("board", name)
    yield from known.refer(table, key, "board", name)
    if board is not None and board.get("outside_job", bool):
        yield table.problem(key, f'board "{name}" is outside the job, no {what} there', "name a board in a room")


def _has_points(known: Known, circuit: Table) -> Iterator[Problem]:
    groups = known.job.tables("points")
    # A group whose circuit is misspelt, or no circuit at all, is told itself, and may well belong here.
    unread = known.torn("points") or any(group.has("circuit") and not _circuit_there(known, group) for group in groups)
    if circuit.name is not None and not unread and not groups_on(known, circuit.name):
        hint = f'write circuit = "{circuit.name}" in a group of points, or take the circuit out'
        yield circuit.problem(None, "no point is on this circuit", hint)


def _circuit_there(known: Known, group: Table) -> bool:
    name = group.get("circuit", str)
    return name == NO_CIRCUIT or known.find("circuit", name) is not None


def _ring(known: Known, circuit: Table) -> Iterator[Problem]:
    """A ring of one point is two cables side by side."""
    fed = sequence_of(known, circuit)
    if circuit.get("wiring", str) == "ring" and len(fed) == 1 and readable(known):
        found = f"a ring goes round two points or more, and {fed[0]} is its only one"
        yield circuit.problem("wiring", found, 'write wiring = "radial"')


def _orders(known: Known, circuit: Table) -> Iterator[Problem]:
    given = [key for key in ORDERS if circuit.has(key)]
    wiring = circuit.get("wiring", str)
    if given and wiring in ("branching", "star"):
        yield circuit.problem(given[0], f"{given[0]} goes with radial and ring, not with {wiring}", "take it out")
        return
    if given[:1] == ["sequence"] and len(given) > 1:
        yield circuit.problem(given[1], f"sequence says the whole order, {given[1]} a part", "keep one of them")
    fed = sequence_of(known, circuit)
    seen: dict[str, str] = {}
    for key in given:
        for number, point in enumerate(circuit.items(key, str)):
            if point in seen:
                yield circuit.problem((key, number), f"{point} stands in {seen[point]} already", "take it out")
            else:
                yield from _member(known, circuit, (key, number), point, fed)
            seen.setdefault(point, key)
    forgotten = [point for point in fed if point not in seen]
    if circuit.items("sequence", str) and forgotten and given == ["sequence"]:
        found = f"{', '.join(forgotten[:8])}{' ...' if len(forgotten) > 8 else ''} {_are(forgotten)} left out"
        yield circuit.problem("sequence", found, "write all points of the circuit, or use first and last")


def _are(points: list[str]) -> str:
    return "is" if len(points) == 1 else "are"


def _member(known: Known, circuit: Table, spot: tuple[str, int], point: str, fed: list[str]) -> Iterator[Problem]:
    strange = list(stranger(known, circuit, spot, point))
    yield from strange
    if strange or point in fed or not fed:
        return
    hung = dict(spurs_of(circuit))
    if point in hung:
        yield circuit.problem(spot, f"{point} is a spur, outside the sequence", "take it out, or take it out of spurs")
        return
    if at_light(circuit):
        found = f"{point} hangs from its nearest light, not along the circuit"
        yield circuit.problem(spot, found, "take it out: name lights and unswitched points")
        return
    found = f"{point} is fed by way of a switch, not along the circuit"
    yield circuit.problem(spot, found, "take it out: name unswitched points and the first switches")


def _drops(known: Known, control: Table) -> Iterator[Problem]:
    for number, name in enumerate(control.items("drops", str)):
        yield from known.refer(control, ("drops", number), "circuit", name)


def _buttons(known: Known, control: Table) -> Iterator[Problem]:
    seen: list[str] = []
    for spot, point in _members(control):
        group = known.group_of(point)
        if known.unsure(point):
            pass
        elif group is None:
            yield control.problem(spot, f'there is no point "{point}"', known.point_hint(point))
        elif group.has("circuit"):
            found = f'{point} is on circuit "{group.get("circuit", str)}"'
            yield control.problem(spot, found, "take circuit out of its group: the control names it")
        if point in seen:
            yield control.problem(spot, f"{point} is named twice", "name each point once")
        seen.append(point)


def _members(control: Table) -> list[tuple[tuple[str, int] | str, str]]:
    found: list[tuple[tuple[str, int] | str, str]] = []
    start = control.get("start", str)
    if start is not None:
        found.append(("start", start))
    found += [(("buttons", number), point) for number, point in enumerate(control.items("buttons", str))]
    return found


def _named_elsewhere(known: Known) -> tuple[str, ...]:
    """Points that a run or a control names."""
    ends = [run.get(key, str) for run in known.job.tables("run") for key in ("from", "to")]
    members = [point for control in known.job.tables("control") for _, point in _members(control)]
    return tuple(point for point in (*ends, *members) if point is not None)


def _fed(known: Known, group: Table, elsewhere: tuple[str, ...]) -> Iterator[Problem]:
    name = group.get("circuit", str)
    if name is not None and name != NO_CIRCUIT:
        yield from known.refer(group, "circuit", "circuit", name)
        return
    left = [point for point in ids(group) if point not in elsewhere]
    if not group.has("circuit") and left:
        found = f"{', '.join(left[:8])}{' ...' if len(left) > 8 else ''} {_are(left)} on no circuit, run or control"
        yield group.problem(None, found, 'write circuit = "..." (or "none" for boxes only)')


def _switches(known: Known, group: Table) -> Iterator[Problem]:
    circuit = group.get("circuit", str)
    switches = group.items("switched_by", str)
    if group.has("switched_by") and not group.has("circuit"):
        yield group.problem("switched_by", "switched points need a circuit", 'write circuit = "..." in the group')
    for number, point in enumerate(switches):
        spot = ("switched_by", number)
        owner = known.group_of(point)
        if known.unsure(point):
            continue
        if owner is None:
            yield group.problem(spot, f'there is no point "{point}"', known.point_hint(point))
        elif owner is group or owner.has("switched_by"):
            yield group.problem(spot, f"{point} is switched itself", "name a switch")
        elif circuit is not None and owner.get("circuit", str) not in (None, circuit):
            found = f'{point} is on circuit "{owner.get("circuit", str)}", these points are on "{circuit}"'
            yield group.problem(spot, found, "put switch and lights on one circuit")
        if point in switches[:number]:
            yield group.problem(spot, f"{point} is named twice", "name each switch once")
