"""The network that cables may follow: a building with its points set out goes in, shortest routes come out."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.job.model import Job, KeepTo
from estimator.routing.assemble import Assembled, assemble
from estimator.routing.graph import HOLE_BASE
from estimator.routing.keeping import kept
from estimator.routing.kept_out import why_apart
from estimator.routing.model import Path
from estimator.routing.paths import draw, reverse
from estimator.routing.shortest import chain, distances
from estimator.routing.unreached import why_unreached
from estimator.setout.model import SetOut

__all__ = ["HOLE_BASE", "Network", "build_network"]


class Network:
    """All places cables may go between, as a graph; answers are exact and depend on building coordinates alone."""

    def __init__(self, assembled: Assembled, surfaces: KeepTo = "any") -> None:
        self._assembled = assembled
        self._surfaces = surfaces
        self._graph = kept(assembled.graph, surfaces)
        self._ends = {end.name: end for end in assembled.terminals}
        self._nodes = {end.name: self._graph.number[end.spot] for end in assembled.terminals}

    @property
    def terminals(self) -> tuple[str, ...]:
        """Point ids and names of boards in the job, by building z, y, x, then number."""
        return tuple(self._ends)

    def costs(self, names: Sequence[str]) -> list[list[int | None]]:
        """Least cost between every two of `names`: route in mm x `HOLE_BASE` + holes; None where there is no way.

        Symmetric, with nought on the diagonal. Raises KeyError for a name that is no terminal.
        """
        nodes = [self._nodes[name] for name in names]
        table: list[list[int | None]] = [[None] * len(nodes) for _ in nodes]
        for row, node in enumerate(nodes):
            table[row][row] = 0
            found = distances(self._graph.near, node, nodes[row + 1 :])
            for column in range(row + 1, len(nodes)):
                table[row][column] = table[column][row] = found.get(nodes[column])
        return table

    def costs_of(self, start: str, names: Sequence[str]) -> list[int | None]:
        """Least cost from one terminal to each of `names`, as in `costs`. Raises KeyError as `costs`."""
        nodes = [self._nodes[name] for name in names]
        found = distances(self._graph.near, self._nodes[start], nodes)
        return [found.get(node) for node in nodes]

    def path(self, start: str, end: str) -> Path | None:
        """The shortest route with the fewest holes, `start` first; None where there is no way.

        Of equal routes one is chosen by building coordinates, the same in both directions. Raises KeyError for a
        name that is no terminal.
        """
        one, other = self._ends[start], self._ends[end]
        if self._nodes[start] > self._nodes[end]:
            back = self.path(end, start)
            return reverse(back) if back else None
        nodes = chain(self._graph.near, self._nodes[start], self._nodes[end])
        return draw(self._graph, nodes, one.xyz, other.xyz) if nodes else None

    def kept_to(self, surfaces: KeepTo) -> "Network":
        """The same places with the ways alone that a circuit kept to some surfaces may take."""
        return Network(self._assembled, surfaces)

    def why_unreached(self, name: str, start: str | None = None) -> str:
        """What cuts a terminal off from `start` (None: from most others), in plain words; empty where nothing does."""
        end = self._ends[name]
        if start is None:
            return why_unreached(self._assembled, end)
        return why_apart(self._assembled, self._graph, self._surfaces, self._ends[start], end)


def build_network(job: Job, catalogue: Catalogue, building: Building, setout: SetOut) -> Network:
    """The network of a building. Raises KeyError where rooms may meet and the rule `back-to-back-walls` is missing."""
    alone = len(building.rooms) < 2
    limit = Decimal(0) if alone else catalogue.rule_mm(job.ruleset, "back-to-back-walls")
    return Network(assemble(building, setout, limit))
