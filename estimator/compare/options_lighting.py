"""Which lighting circuit takes one more: a room goes in, a circuit and the switches that would switch it come out."""

from dataclasses import dataclass

from estimator.compare.options_here import Here
from estimator.job.model import Circuit, Group


@dataclass(frozen=True, slots=True)
class Feed:
    """A circuit that takes one more light or fan, and the switches that would switch it (none: it is always fed)."""

    circuit: Circuit
    switches: tuple[str, ...]


def lighting(here: Here, room: str, outside: bool) -> Feed | None:
    """A circuit with lights that may take one more: first one that lights the outside of the room (with the switches of
    that), then one that lights the room, then any of a board that serves it.
    """
    lit = [
        (circuit, group)
        for circuit in here.open_circuits(room)
        for group in here.groups_on(circuit)
        if here.kind(group.kind).lit
    ]
    if not lit:
        return None
    circuit, group = min(lit, key=lambda one: (not (outside and _outside(one[1], room)), one[1].room != room))
    return Feed(circuit, group.switched_by if outside and _outside(group, room) else ())


def _outside(group: Group, room: str) -> bool:
    return group.room == room and group.surface in ("outside", "soffit")
