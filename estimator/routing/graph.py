"""The network as a graph: places known by their building coordinates go in, numbered nodes with exact costs come out.

A cost is one whole number, route in mm x `HOLE_BASE` + holes, so that the least cost is the shortest route and, of
equally short ones, the one with the fewest holes.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from estimator.routing.model import Passage, Piece

HOLE_BASE = 100_000
"""What one millimetre costs in holes; far above the holes of any route."""

Spot = tuple[int, int, int, int, int, int, int]
"""Building z, y, x, then what tells places apart that share them: layer, room or void number, wall number, along."""

WALL_LAYER, VOID_LAYER, END_LAYER = 0, 1, 2


class Step(Protocol):
    """A way between two neighbouring nodes, drawn from the one it was joined from to the other."""

    def trace(self) -> Iterator[Piece | Passage]:
        """Its pieces and passages in order."""
        ...


@dataclass(frozen=True, slots=True)
class Drawn:
    """A way that was drawn beforehand."""

    items: tuple[Piece | Passage, ...]

    def trace(self) -> Iterator[Piece | Passage]:
        """Its pieces and passages in order."""
        return iter(self.items)


@dataclass(frozen=True, slots=True)
class Edge:
    """The cheapest way between two nodes, `start` to `end` as drawn."""

    start: Spot
    end: Spot
    cost: int
    step: Step


@dataclass(frozen=True, slots=True)
class Graph:
    """Nodes in the order of their spots; `near` lists for each its neighbours' numbers and the costs to them."""

    spots: tuple[Spot, ...]
    number: Mapping[Spot, int]
    near: tuple[tuple[tuple[int, int], ...], ...]
    edges: Mapping[tuple[int, int], Edge]

    def edge(self, one: int, other: int) -> Edge:
        """The edge between two neighbours."""
        return self.edges[min(one, other), max(one, other)]


@dataclass(slots=True)
class GraphBuilder:
    """Collects spots and ways; of two ways between the same spots the cheaper stays, of equal ones the first."""

    spots: dict[Spot, None] = field(default_factory=dict)
    edges: dict[tuple[Spot, Spot], Edge] = field(default_factory=dict)

    def add(self, spot: Spot) -> None:
        """A spot, joined to something or not."""
        self.spots[spot] = None

    def join(self, start: Spot, end: Spot, cost: int, step: Step) -> None:
        """A way from `start` to `end` and back; a spot is never joined to itself."""
        if start == end:
            return
        pair = (start, end) if start < end else (end, start)
        known = self.edges.get(pair)
        if known is None or cost < known.cost:
            self.edges[pair] = Edge(start, end, cost, step)
        self.spots[start] = self.spots[end] = None

    def build(self) -> Graph:
        """The graph of all that was collected; does not depend on the order of collecting but for equal ways."""
        spots = tuple(sorted(self.spots))
        number = {spot: place for place, spot in enumerate(spots)}
        near: list[list[tuple[int, int]]] = [[] for _ in spots]
        edges: dict[tuple[int, int], Edge] = {}
        for (low, high), edge in self.edges.items():
            one, other = number[low], number[high]
            near[one].append((other, edge.cost))
            near[other].append((one, edge.cost))
            edges[one, other] = edge
        return Graph(spots, number, tuple(tuple(sorted(row)) for row in near), edges)
