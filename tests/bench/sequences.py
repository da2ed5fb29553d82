"""Chains and rings of 20, 40 and 100 points in a house of right angles, against OR-Tools' routing with one second."""

import time
from collections.abc import Iterator
from typing import Any

from estimator.routing.sequences import Answer, chain, ring
from tests.bench.metric import house_costs

SIZES = (20, 40, 100)
SEEDS = (1, 2)
SECONDS = 1
WIRINGS = {"chain": chain, "ring": ring}


def run() -> Iterator[str]:
    """For each kind and size: what the two cost, how long they took, and what is proven."""
    _solve("chain", house_costs(20, 0))  # imports and first calls are no part of what is measured
    for kind in WIRINGS:
        for size in SIZES:
            rows = [_row(kind, house_costs(size, seed)) for seed in SEEDS]
            ours, theirs = sum(row[0].cost for row in rows), sum(row[2] for row in rows)
            taken = max(row[1] for row in rows)
            dearer = max(row[0].cost - row[2] for row in rows)
            yield (
                f"{kind} of {size:3d}: {taken:.3f} s at most, {SECONDS / taken:.0f} times faster, {ours / theirs:.4f} of "
                f"OR-Tools' cost ({'never dearer' if dearer <= 0 else f'dearer by {dearer} mm'}), "
                f"{_told([row[0] for row in rows])}; OR-Tools proves nothing"
            )


def _row(kind: str, cost: list[list[int]]) -> tuple[Answer, float, int]:
    """Our answer, its seconds, and the cost of theirs."""
    start = time.perf_counter()
    answer = _solve(kind, cost)
    taken = time.perf_counter() - start
    return answer, taken, by_or_tools(cost, kind == "ring", SECONDS)


def _solve(kind: str, cost: list[list[int]]) -> Answer:
    return WIRINGS[kind](cost)


def _told(answers: list[Answer]) -> str:
    proven = sum(answer.proven for answer in answers)
    open_by = max((answer.cost - answer.bound) / answer.bound for answer in answers)
    return f"{proven} of {len(answers)} proven" + (f", else within {open_by:.2%} of a bound" if open_by else "")


def by_or_tools(cost: list[list[int]], closed: bool, seconds: int) -> int:
    """What the routing solver finds in so many seconds by guided local search; it never says how good that is."""
    from ortools.constraint_solver import pywrapcp, routing_enums_pb2

    manager = pywrapcp.RoutingIndexManager(len(cost), 1, 0)
    routing = pywrapcp.RoutingModel(manager)

    def step(start: int, end: int) -> int:
        here, there = manager.IndexToNode(start), manager.IndexToNode(end)
        return cost[here][there] if closed or there else 0

    routing.SetArcCostEvaluatorOfAllVehicles(routing.RegisterTransitCallback(step))
    settings: Any = pywrapcp.DefaultRoutingSearchParameters()
    settings.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PATH_CHEAPEST_ARC
    settings.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    settings.time_limit.seconds = seconds
    found = routing.SolveWithParameters(settings)
    return int(found.ObjectiveValue())
