"""One problem of order: a start, places and their costs go in; the least sequence or tree, by name, comes out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from estimator.memory import Memory
from estimator.problems import Place, Problem, Refused
from estimator.routing.legs import Setting
from estimator.routing.sequences import Answer, NoTree, tree

Pair = tuple[str, str]
Matrix = list[list[int]]


@dataclass(frozen=True, slots=True)
class Solved:
    """One problem solved: its places in working order (start left out), its pairs (nearer end first), how good it is.

    `cost` and `bound` are in the unit of the network's costs.
    """

    order: tuple[str, ...]
    pairs: tuple[Pair, ...]
    cost: int
    bound: int
    proven: bool


@dataclass(frozen=True, slots=True)
class Costs:
    """What it costs to get between places that are all joined; None where it was not asked for."""

    numbers: Mapping[str, int]
    rows: Sequence[Sequence[int | None]]

    def between(self, names: Sequence[str]) -> Matrix:
        """The matrix of some of the places, in the order of `names`."""
        chosen = [self.numbers[name] for name in names]
        found = [[cost for j in chosen if (cost := self.rows[i][j]) is not None] for i in chosen]
        if any(len(row) != len(chosen) for row in found):
            raise LookupError(f"costs between some of {', '.join(names)} are not known")
        return found


def costs_from(setting: Setting, start: str, names: Sequence[str], parts: Sequence[Sequence[str]] = ()) -> Costs:
    """The costs between a start and all `names`; where there are `parts`, between the places of each part alone.

    What is in one part mostly stands near together, which is found far sooner than ways across the building.

    Raises:
        Refused: one problem for each place that the network does not join to the start, at the place of its group.
        LookupError: two places joined to the start but not to each other, which no network should have.
    """
    nodes = (start, *(name for name in dict.fromkeys(names) if name != start))
    whole = None if parts else setting.ways.costs(nodes)
    first = setting.ways.costs_of(start, nodes) if whole is None else whole[0]
    far = [name for name, cost in zip(nodes, first, strict=True) if cost is None and name != start]
    if far:
        raise Refused(_apart(setting, start, far, alone=len(far) == len(nodes) - 1))
    numbers = {name: number for number, name in enumerate(nodes)}
    costs = Costs(numbers, _part_by_part(setting, numbers, parts) if whole is None else whole)
    for part in parts or (nodes,):
        costs.between(part)
    return costs


def _part_by_part(
    setting: Setting, numbers: Mapping[str, int], parts: Sequence[Sequence[str]]
) -> list[list[int | None]]:
    rows: list[list[int | None]] = [[None] * len(numbers) for _ in numbers]
    for part in parts:
        chosen = [numbers[name] for name in part]
        for i, row in zip(chosen, setting.ways.costs(part), strict=True):
            for j, cost in zip(chosen, row, strict=True):
                rows[i][j] = cost
    return rows


def _apart(setting: Setting, start: str, far: Sequence[str], *, alone: bool) -> list[Problem]:
    """A problem for each place that cannot be reached, or one for the start where that is what is cut off."""
    reasons = {setting.ways.why_unreached(name, start) for name in far}
    cut_off = f"{start} is cut off: "
    if alone and len(far) > 1 and len(reasons) == 1 and next(iter(reasons)).startswith(cut_off):
        end = setting.ends[start]
        words = f"{start} reaches none of {len(far)} places: {next(iter(reasons)).removeprefix(cut_off)}"
        return [Problem(end.place, end.where, words, "give it a place that a lane, riser or void reaches")]
    return [_unreached(setting, start, name) for name in far]


def _unreached(setting: Setting, start: str, name: str) -> Problem:
    end = setting.ends[name]
    words = f"{name} cannot be reached from {start}: {setting.ways.why_unreached(name, start)}"
    write = "give it a place that a lane, riser or void reaches"
    if setting.keep_to != "any":
        write = f'write keep_to = "any" in its circuit, or {write} there'
    return Problem(end.place, end.where, words, write)


def named(nodes: Sequence[str], answer: Answer) -> Solved:
    """An answer about a chain, tree or star as one about names."""
    order = [end for _, end in answer.edges]
    pairs = tuple((nodes[start], nodes[end]) for start, end in answer.edges)
    return Solved(tuple(nodes[i] for i in order), pairs, answer.cost, answer.bound, answer.proven)


def fixed(costs: Costs, pairs: Sequence[Pair]) -> Solved:
    """Legs that leave nothing to choose: what they cost is their bound."""
    spent = sum(costs.between(pair)[0][1] for pair in pairs)
    return Solved(tuple(end for _, end in pairs), tuple(pairs), spent, spent, proven=True)


def round_the_ring(costs: Costs, start: str, order: Sequence[str]) -> tuple[Pair, ...]:
    """The pairs of a ring in its order, each from the end that is nearer the start along the ring.

    Of two ends as near as each other the one met first; the pair that closes the ring begins at the start.
    """
    stops = (start, *order, start)
    steps = [costs.between([one, other])[0][1] for one, other in pairwise(stops)]
    walked = list(accumulate(steps, initial=0))
    near = [min(done, walked[-1] - done) for done in walked]
    last = len(order)
    return tuple(
        (stops[i + 1], stops[i]) if i == last or near[i + 1] < near[i] else (stops[i], stops[i + 1])
        for i in range(last + 1)
    )


def least_tree(
    place: Place,
    where: str,
    nodes: Sequence[str],
    cost: Matrix,
    caps: Sequence[int],
    memory: Memory,
    taken: Sequence[str] = (),
) -> Answer:
    """The least tree from the first node in which no node has more ends than its cap; `taken` have one less already.

    Raises:
        Refused: there is none.
    """
    try:
        return memory.recall(("tree", tuple(map(tuple, cost)), tuple(caps)), lambda: tree(cost, root=0, caps=caps))
    except NoTree:
        most = ", ".join(f"{name} {cap}" for name, cap in zip(nodes, caps, strict=True))
        words = f"no tree joins these places within the cable ends that each may have ({most})"
        if taken:
            words += f"; of those at {', '.join(dict.fromkeys(taken))} one is kept between switch and lights"
        write = "raise max_ends in points.csv, or choose another wiring"
        raise Refused([Problem(place, where, words, write)]) from None
