"""Switched lights: a circuit's points go in; what is fed, and each set of switches and lights, come out."""

from collections.abc import Sequence
from dataclasses import dataclass

from estimator.checks.model import Finding
from estimator.job.model import Circuit
from estimator.job.tree import address
from estimator.problems import Problem, Refused, choose
from estimator.routing.legs import Setting
from estimator.routing.solving import Costs
from estimator.setout.model import Point

THREE_CORE = "te3-"
TWO_WAY, BETWEEN = "switch-two-way", "switch-intermediate"


@dataclass(frozen=True, slots=True)
class Lights:
    """One distinct `switched_by` list (the first is fed) with all lights of the groups that name it."""

    switches: tuple[str, ...]
    lights: tuple[str, ...]


def split(setting: Setting, circuit: Circuit, members: Sequence[str]) -> tuple[tuple[str, ...], tuple[Lights, ...]]:
    """What the circuit feeds, and its sets of switched lights by the building coordinates of their switches.

    At the switch, fed are the first switch of every list and every point that is neither a switched light nor only a later
    switch of a list; at the light, every point that is no switch of a list. Coordinates are compared switch by switch, so
    two lists under one fed switch have an order too.

    Raises:
        Refused: a list names a point that is not there, not on this circuit, or itself a switched light.
    """
    points = {point.id: point for point in setting.setout.points}
    lists: dict[tuple[str, ...], list[str]] = {}
    for name in members:
        switched_by = setting.job.group(points[name].group).switched_by
        if switched_by:
            lists.setdefault(switched_by, []).append(name)
    lit = {name for lights in lists.values() for name in lights}
    _refuse(circuit, setting, points, lists, lit)
    heads = {switches[0] for switches in lists}
    later = {name for switches in lists for name in switches} - heads
    hung = heads | later if circuit.switching == "at-light" else lit | later
    feed = tuple(name for name in members if name not in hung)
    sets = [Lights(switches, tuple(lights)) for switches, lights in lists.items()]
    return feed, tuple(sorted(sets, key=lambda one: [setting.ends[name].order for name in one.switches]))


def nearest_light(setting: Setting, costs: Costs, switch: str, sets: Sequence[Lights]) -> str:
    """The nearest of all lights that a fed switch heads a list for; of equally near ones the first by coordinates."""
    lights = setting.in_order([light for one in sets if one.switches[0] == switch for light in one.lights])
    return min(lights, key=lambda light: costs.between((switch, light))[0][1])


def _refuse(
    circuit: Circuit,
    setting: Setting,
    points: dict[str, Point],
    lists: dict[tuple[str, ...], list[str]],
    lit: set[str],
) -> None:
    problems = []
    for switches, lights in lists.items():
        group = setting.job.group(points[lights[0]].group)
        for name in switches:
            fault = _fault(circuit, points, lit, name, switches)
            if fault:
                problems.append(Problem(group.place, address(("points", group.name, "switched_by")), *fault))
    if problems:
        raise Refused(problems)


def _fault(
    circuit: Circuit, points: dict[str, Point], lit: set[str], name: str, switches: tuple[str, ...]
) -> tuple[str, str] | None:
    if name not in points:
        return f'"{name}" is no point', choose(name, points)
    if points[name].circuit != circuit.name:
        on = points[name].circuit or "no circuit"
        return f'{name} is on "{on}"', f'a switch and its lights share a circuit, here "{circuit.name}"'
    if name in lit:
        return f"{name} is itself a switched light", "name the switch that is fed"
    if switches.count(name) > 1:
        return f"{name} is named twice", "name each switch once"
    return None


def strap_cable(setting: Setting, circuit: Circuit) -> str:
    """The cable between the switches of a set: the circuit's `strap_cable`, else the three-core of its cable's size.

    Raises:
        Refused: cables.csv has no three-core of that size.
    """
    if circuit.strap_cable:
        return circuit.strap_cable
    size = setting.cable(circuit.cable).csa_mm2
    known = setting.catalogue.cables
    for name, row in known.items():
        if name.startswith(THREE_CORE) and row.csa_mm2 == size:
            return name
    where = address(("circuit", circuit.name, "strap_cable"))
    words = f"not given, and cables.csv has no {THREE_CORE}{size} for the cable between its switches"
    raise Refused([Problem(circuit.place, where, words, choose(f"{THREE_CORE}{size}", known))])


def switch_findings(setting: Setting, sets: Sequence[Lights]) -> tuple[Finding, ...]:
    """One finding for each switch of a set of two or more whose kind does not fit its place in the list."""
    told = []
    for one in sets:
        for index, name in enumerate(one.switches if len(one.switches) > 1 else ()):
            needed = BETWEEN if 0 < index < len(one.switches) - 1 else TWO_WAY
            kind = setting.ends[name].kind
            if kind != needed:
                told.append(_wrong(setting, one, name, kind, needed))
    return tuple(dict.fromkeys(told))


def _wrong(setting: Setting, one: Lights, name: str, kind: str, needed: str) -> Finding:
    change = f"{address(('points', setting.group_of(name), 'kind'))}={needed}"
    words = (
        f"{name} is a {kind}; where {', '.join(one.switches)} switch the same lights it is to be a {needed} "
        f"({TWO_WAY} at both ends of the list, {BETWEEN} between)"
    )
    return Finding("switch-kind", "ask", name, words, source="common practice", change=change)
