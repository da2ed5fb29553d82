"""Spurs and legs that a user binds: who hangs from whom on a circuit goes in, what keeps it from being a tree comes out."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

Pair = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Part:
    """One problem of a circuit: where its cable starts, and the points that it joins.

    The first part of a circuit starts at the board; the others start at a fed switch and join the lights of one list.
    """

    root: str
    nodes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Fault:
    """What is wrong with one spur (by name), one leg (by number), or with all of them (None)."""

    at: str | int | None
    found: str
    write: str


def without_spurs(parts: Sequence[Part], spurs: Sequence[Pair]) -> tuple[Part, ...]:
    """The parts with the points left out that hang from others."""
    hung = dict(spurs)
    return tuple(replace(part, nodes=tuple(node for node in part.nodes if node not in hung)) for part in parts)


def spur_faults(spurs: Sequence[Pair], parts: Sequence[Part]) -> Iterator[Fault]:
    """What keeps spurs, pairs of spur and host, from hanging where they should; at most one fault for each.

    Spur and host lie in one part, or the host is the fed switch of a list and the spur one of its lights. A spur of a
    spur is a fault: only points of the sequence, or of the tree, have spurs.
    """
    hung = dict(spurs)
    for spur, host in spurs:
        part = next((part for part in parts if spur in part.nodes), None)
        if part is None:
            yield Fault(spur, f"{spur} is not fed on this circuit", "take it out")
        elif spur == host:
            yield Fault(spur, f"{spur} hangs from itself", "name another point of the circuit")
        elif host in hung:
            yield Fault(spur, f"{host} is a spur itself", "name a point that is no spur")
        elif host == parts[0].root:
            yield Fault(spur, f"a spur hangs from a point, and {host} is the board", "name a point of the circuit")
        elif host not in (part.root, *part.nodes):
            near = _some([node for node in (part.root, *part.nodes) if node not in hung and node != parts[0].root])
            found = f"{spur} cannot hang from {host}: they are not fed together"
            yield Fault(spur, found, f"choose from {near}" if near else "take it out")


def leg_faults(legs: Sequence[Pair], parts: Sequence[Part], *, one_leaves_the_board: bool) -> Iterator[Fault]:
    """What keeps legs from being whole trees, one for each part that they touch.

    `parts` have no spurs in them. Parts without a leg are free and no fault.
    """
    above: dict[tuple[Part, str], str] = {}
    touched: dict[Part, list[Pair]] = {}
    for number, (one, other) in enumerate(legs):
        part = part_of((one, other), parts)
        if one == other:
            yield Fault(number, f"{one} is joined to itself", "name two neighbours")
        elif part is None:
            yield Fault(number, f"no cable goes from {one} to {other}: they are not fed together", "take it out")
        elif _top(above, part, one) == _top(above, part, other):
            found = f"{one} and {other} are joined already by the legs before it"
            yield Fault(number, found, "take it out: legs make a tree, with one way to each point")
            touched.setdefault(part, [])
        else:
            above[part, _top(above, part, one)] = _top(above, part, other)
            touched.setdefault(part, []).append((one, other))
    for part, own in touched.items():
        yield from _left_out(part, above)
        if part is not parts[0] or one_leaves_the_board:
            yield from _leave_once(part, own)


def part_of(leg: Pair, parts: Sequence[Part]) -> Part | None:
    """The part in which both ends of a leg lie; None where there is none."""
    return next((part for part in parts if all(end in (part.root, *part.nodes) for end in leg)), None)


def _top(above: dict[tuple[Part, str], str], part: Part, node: str) -> str:
    while (part, node) in above:
        node = above[part, node]
    return node


def _left_out(part: Part, above: dict[tuple[Part, str], str]) -> Iterator[Fault]:
    root = _top(above, part, part.root)
    left = [node for node in part.nodes if _top(above, part, node) != root]
    if left:
        found = f"{_some(left)}: no leg joins {'it' if len(left) == 1 else 'them'} to {part.root}"
        yield Fault(None, found, "name a leg to every point, or take all of these out")


def _leave_once(part: Part, legs: Sequence[Pair]) -> Iterator[Fault]:
    if sum(part.root in leg for leg in legs) > 1:
        found = f"more than one leg leaves {part.root}"
        yield Fault(None, found, "let one cable leave it, and branch further on")


def _some(names: Sequence[str]) -> str:
    return f"{', '.join(names[:8])}{' ...' if len(names) > 8 else ''}"
