"""Every route of the two-storey house, against NetworkX on the same network laid out in full: lengths and time."""

import time
from collections.abc import Callable, Iterator, Sequence
from statistics import median
from typing import TypeVar

import networkx as nx

from estimator.building.build import build
from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.job.model import Job
from estimator.routing.network import HOLE_BASE, Network, build_network
from estimator.routing.route import route_over
from estimator.setout.model import SetOut
from estimator.setout.place import set_out
from tests.bench.lines import Laid
from tests.houses import FOLDER, house

ROUNDS = 5
T = TypeVar("T")
Pair = tuple[str, str]


def run() -> Iterator[str]:
    """The graphs, what is the same, and the times of the three things that a house asks of them."""
    job, catalogue = house(), read_catalogue(FOLDER)
    building = build(job)
    setout = set_out(job, catalogue, building)
    network, ours = _timed(lambda: build_network(job, catalogue, building, setout), ROUNDS)
    laid, theirs = _timed(lambda: Laid(building, setout), 1)
    sets, legs = _asked(job, catalogue, building, setout, network)
    costs, ours_costs = _timed(lambda: [network.costs(names) for names in sets], ROUNDS)
    found, theirs_costs = _timed(lambda: [_matrix(laid, names) for names in sets], 1)
    _, ours_paths = _timed(lambda: [network.path(*leg) for leg in legs], ROUNDS)
    _, theirs_paths = _timed(lambda: [nx.dijkstra_path(laid.graph, *_nodes(laid, leg)) for leg in legs], 1)
    yield f"NetworkX: {laid.graph.number_of_nodes()} nodes, {laid.graph.number_of_edges()} edges"
    yield _same(costs, found)
    for what, one, other in (
        ("building the network", ours, theirs),
        (f"{sum(map(len, sets))} rows of costs", ours_costs, theirs_costs),
        (f"{len(legs)} paths", ours_paths, theirs_paths),
        ("together", ours + ours_costs + ours_paths, theirs + theirs_costs + theirs_paths),
    ):
        yield f"{what}: {one:.3f} s against {other:.3f} s, {other / one:.1f} times faster"


def _timed(work: Callable[[], T], rounds: int) -> tuple[T, float]:
    """The result, and the median of its seconds."""
    taken = []
    for _ in range(rounds):
        start = time.perf_counter()
        result = work()
        taken.append(time.perf_counter() - start)
    return result, median(taken)


def _asked(
    job: Job, catalogue: Catalogue, building: Building, setout: SetOut, network: Network
) -> tuple[list[list[str]], list[Pair]]:
    """The places between which costs are wanted, circuit by circuit, and the ends of every leg and run."""
    sets = [
        [circuit.board, *(point.id for point in setout.points if point.circuit == circuit.name)]
        for circuit in job.circuits
    ]
    routes = route_over(job, catalogue, building, setout, network)
    legs = [(leg.start, leg.end) for leg in routes.legs]
    return sets, legs + [(run.start, run.end) for run in routes.runs if run.path is not None]


def _nodes(laid: Laid, leg: Pair) -> tuple[object, object]:
    return laid.node[leg[0]], laid.node[leg[1]]


def _matrix(laid: Laid, names: Sequence[str]) -> list[list[tuple[int, int]]]:
    rows = (laid.costs(name, names) for name in names)
    return [[row[name] for name in names] for row in rows]


def _same(ours: list[list[list[int | None]]], theirs: list[list[list[tuple[int, int]]]]) -> str:
    pairs = [
        (divmod(one or 0, HOLE_BASE), other)
        for own, found in zip(ours, theirs, strict=True)
        for row, far in zip(own, found, strict=True)
        for one, other in zip(row, far, strict=True)
    ]
    lengths = sum(one[0] == other[0] for one, other in pairs)
    more = sum(one[1] > other[1] for one, other in pairs)
    return f"{lengths} of {len(pairs)} lengths are the same, {more} with a hole more"
