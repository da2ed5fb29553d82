"""What a circuit feeds, from its tables: the points on it, in the parts that routing will lay one by one."""

from estimator.job.known import Known, count, ids
from estimator.job.table import Table
from estimator.job.trees import Pair, Part


def groups_on(known: Known, circuit: str | None) -> list[Table]:
    """The groups of points on a circuit."""
    groups = known.job.tables("points")
    return [group for group in groups if circuit is not None and group.get("circuit", str) == circuit]


def readable(known: Known) -> bool:
    """Whether it can be told for certain which points there are, and on which circuits they are."""
    groups = known.job.tables("points")
    unread = any(group.has("circuit") and group.get("circuit", str) is None for group in groups)
    return not known.torn("points") and not unread and all(group.name and count(group) for group in groups)


def spurs_of(circuit: Table) -> tuple[Pair, ...]:
    """The spurs of a circuit, each with what it hangs from."""
    return tuple((spur, host) for spur, host in circuit.pairs("spurs") if isinstance(host, str))


def parts_of(known: Known, circuit: Table) -> tuple[Part, ...]:
    """What the circuit's cable feeds from its board, then the lights of each list of switches; spurs included.

    Where the feed loops at the lights, they are fed from the board too, and there is no other part.
    """
    if at_light(circuit):
        return (Part(circuit.get("board", str) or "", tuple(_looped(known, circuit))),)
    feed = Part(circuit.get("board", str) or "", tuple(_fed(known, circuit)))
    lights: dict[tuple[str, ...], list[str]] = {}
    for group in groups_on(known, circuit.name):
        if switches := group.items("switched_by", str):
            lights.setdefault(switches, []).extend(ids(group))
    return (feed, *(Part(switches[0], tuple(points)) for switches, points in lights.items()))


def sequence_of(known: Known, circuit: Table) -> list[str]:
    """The points that the circuit's own cable passes in its sequence: those fed from the board, without spurs."""
    hung = dict(spurs_of(circuit))
    return [point for point in parts_of(known, circuit)[0].nodes if point not in hung]


def at_light(circuit: Table) -> bool:
    """Whether the feed of switched lights loops at the lights."""
    return circuit.get("switching", str) == "at-light"


def _looped(known: Known, circuit: Table) -> list[str]:
    """Lights and unswitched points: all that is no switch of a list."""
    switches = {switch for group in known.job.tables("points") for switch in group.items("switched_by", str)}
    points = [point for group in groups_on(known, circuit.name) for point in ids(group)]
    return [point for point in points if point not in switches]


def _fed(known: Known, circuit: Table) -> list[str]:
    """Neither switched lights, nor switches further on in a chain."""
    chains = [group.items("switched_by", str) for group in known.job.tables("points")]
    first = {chain[0] for chain in chains if chain}
    further = {switch for chain in chains for switch in chain[1:]} - first
    groups = [group for group in groups_on(known, circuit.name) if not group.has("switched_by")]
    return [point for group in groups for point in ids(group) if point not in further]
