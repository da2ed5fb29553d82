"""Surfaces that a circuit keeps to: the graph and a word go in; the graph with the ways that are left comes out.

`walls` leaves out all that touches a void: lanes, corners, risers from lane to lane and ways through a wall remain.
`ceiling` leaves out lanes, corners and the lines of floor voids: the lines of ceiling voids, ways from void to void
(through a wall, from storey to storey), risers, and ways through a wall to a point on or outside it remain.
"""

from estimator.job.model import KeepTo
from estimator.routing.graph import VOID_LAYER, WALL_LAYER, Graph, Spot


def kept(graph: Graph, surfaces: KeepTo) -> Graph:
    """The graph with all its nodes and the ways between them that keep to `surfaces`."""
    if surfaces == "any":
        return graph
    spots = graph.spots
    near = tuple(
        tuple((other, cost) for other, cost in row if _keeps(surfaces, spots[node], spots[other]))
        for node, row in enumerate(graph.near)
    )
    return Graph(spots, graph.number, near, graph.edges)


def _keeps(surfaces: KeepTo, one: Spot, other: Spot) -> bool:
    if surfaces == "walls":
        return VOID_LAYER not in (one[3], other[3])
    return not (_lane(one, other) or _floor_line(one, other))


def _lane(one: Spot, other: Spot) -> bool:
    """Along a wall or round a corner of one room: level, where risers are not."""
    return one[3] == other[3] == WALL_LAYER and one[4] == other[4] and one[0] == other[0]


def _floor_line(one: Spot, other: Spot) -> bool:
    """A line of one void, with the even number that floor voids have."""
    return one[3] == other[3] == VOID_LAYER and one[4] == other[4] and one[4] % 2 == 0
