"""Trees and stars: least spanning trees in which each node has at most so many ends, and one leg per node.

In: a cost matrix (see `model`) and caps. Out: an `Answer`. Ladder: greedy within the caps and exchanges, then bounds by
multipliers, then splitting on edges, all in whole numbers and within a counted amount of work.
"""

from collections.abc import Sequence
from dataclasses import replace

from estimator.routing.sequences.chains import chain
from estimator.routing.sequences.model import Answer, Cost, Edge, NoTree, check_nodes, checked, length

# Up to this many nodes the proof goes on to its end.
ALWAYS = 12
EFFORT = 10_000


def star(cost: Cost, root: int = 0) -> Answer:
    """One leg from the root to each other node, by index: nothing to choose, so proven.

    Raises:
        ValueError: the matrix (see `checked`) or the root is not usable.
    """
    count = checked(cost)
    check_nodes(count, (root,))
    edges = tuple((root, node) for node in range(count) if node != root)
    total = length(cost, edges)
    return Answer(total, total, True, None, edges, "given")


def tree(cost: Cost, *, root: int = 0, caps: Sequence[int], effort: int = EFFORT) -> Answer:
    """The least tree that joins all nodes and has at most `caps[i]` edges at node i.

    Edges are (parent, child), depth first from the root, children by index. Cost and bound are in the unit of the
    matrix. Which of several equal trees comes out depends on the matrix alone. `effort` limits the proof beyond
    `ALWAYS` nodes; where it does not suffice, `proven` is False.

    Raises:
        ValueError: the matrix (see `checked`) or the root is not usable, or there is not one cap per node.
        NoTree: the caps leave no tree.
    """
    count = checked(cost)
    check_nodes(count, (root,))
    limits = _limits(count, caps)
    if count == 1:
        return Answer(0, 0, True, None, (), "given")
    if limits[root] == 1 and all(limits[node] == 2 for node in range(count) if node != root):
        path = chain(cost, start=root)
        return replace(path, order=None)
    from estimator.routing.sequences.capped import least_tree

    edges, bound = least_tree(cost, limits, None if count <= ALWAYS else effort // count)
    return _answer(cost, root, edges, bound, "exchange and multipliers")


def _limits(count: int, caps: Sequence[int]) -> list[int]:
    """Caps no larger than a tree could use, once they are known to allow a tree: n - 1 edges have 2 n - 2 ends."""
    if len(caps) != count:
        raise ValueError(f"there must be one cap for each of the {count} nodes, found {len(caps)}")
    limits = [min(cap, count - 1) for cap in caps]
    shut = [node for node, cap in enumerate(limits) if cap < 1]
    if count > 1 and shut:
        raise NoTree(f"no tree: no cable may end at node {', '.join(map(str, shut))}")
    if sum(limits) < 2 * (count - 1):
        raise NoTree(f"no tree: {count} nodes need {2 * (count - 1)} cable ends, and the caps allow {sum(limits)}")
    return limits


def _answer(cost: Cost, root: int, edges: Sequence[Edge], bound: int, method: str) -> Answer:
    total = length(cost, edges)
    return Answer(total, bound, bound == total, None, _depth_first(root, len(cost), edges), method)


def _depth_first(root: int, count: int, edges: Sequence[Edge]) -> tuple[Edge, ...]:
    """The edges as (parent, child), each child's whole branch before its next sister."""
    beside: list[list[int]] = [[] for _ in range(count)]
    for i, j in edges:
        beside[i].append(j)
        beside[j].append(i)
    walked: list[Edge] = []
    stack = [(root, child) for child in sorted(beside[root], reverse=True)]
    while stack:
        parent, node = stack.pop()
        walked.append((parent, node))
        stack += [(node, child) for child in sorted(beside[node], reverse=True) if child != parent]
    return tuple(walked)
