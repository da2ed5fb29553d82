"""The network of the design laid out in full for NetworkX: a building and its set-out go in, a graph comes out.

Nothing of `estimator.routing` is used. Every lane, riser and void line is there with every crossing on it, as someone
would build it who reads the design and takes a library of graphs. A weight is mm x 1,000,000 + holes. Rooms are
rectangles or outlines with walls along x and y, of any whole millimetres.
"""

from bisect import bisect_left
from collections.abc import Iterable, Iterator
from itertools import pairwise

import networkx as nx

from estimator.building.model import Building, Joists, RoomShape, Wall
from estimator.rounding import half_up
from estimator.setout.model import PlacedBoard, Point, SetOut

MM = 1_000_000
NEAR_MM = 400
"""Walls this near lie back to back (design, section 6)."""
XY = tuple[int, int]
Node = tuple[object, ...]
Line = tuple[int, int, int, int]
"""Axis that is fixed (0: x), where, and from where to where along the other axis."""


class Void:
    """The lines of one void and the places on them where something joins."""

    def __init__(self, shape: RoomShape, level: str, z: int, joists: Joists | None) -> None:
        self.shape, self.level, self.z = shape, level, z
        self.corners = [place_at(shape, corner) for corner in shape.room.corners]
        self.lines: set[Line] = set()
        self.own: set[Line] = set()
        self.joins: set[XY] = set()
        across = None if joists is None else "yx".index(joists.along)
        self.joists: tuple[list[int], list[int]] = ([], [])
        if joists is not None and across is not None:
            self.joists[across].extend(place + shape.room.at[across] for place in joists.places_mm)

    def node(self, xy: XY) -> Node:
        return ("void", self.shape.room.name, self.level, *xy)

    def through(self, xy: XY) -> None:
        """The two lines through a place."""
        for axis in (0, 1):
            for low, high in self.reach(axis, xy[axis]):
                if low <= xy[1 - axis] <= high:
                    self.own.add((axis, xy[axis], low, high))

    def reach(self, axis: int, fixed: int) -> list[XY]:
        """From where to where a whole line lies in the room or on its walls."""
        found: list[XY] = []
        for low, high in pairwise(sorted({corner[1 - axis] for corner in self.corners})):
            if any(self._inside(axis, 2 * fixed + side, low + high) for side in (-1, 1)):
                joined = found and found[-1][1] == low
                found[-1:] = [(found[-1][0], high)] if joined else [*found[-1:], (low, high)]
        return found

    def _inside(self, axis: int, fixed: int, other: int) -> bool:
        """Whether a place in half millimetres is inside."""
        x, y = (fixed, other) if axis == 0 else (other, fixed)
        inside = False
        for (ax, ay), (bx, by) in pairwise([*self.corners, self.corners[0]]):
            if ax == bx and 2 * ax > x and 2 * min(ay, by) < y < 2 * max(ay, by):
                inside = not inside
        return inside

    def holds(self, xy: XY) -> bool:
        return any(low <= xy[1] <= high for low, high in self.reach(0, xy[0]))

    def edges(self) -> Iterator[tuple[XY, XY, int, int]]:
        """Every stretch between two neighbours on a line, with its length and its joists."""
        joins: tuple[dict[int, set[int]], dict[int, set[int]]] = ({}, {})
        for xy in self.joins:
            for axis in (0, 1):
                joins[axis].setdefault(xy[axis], set()).add(xy[1 - axis])
        for axis, at, low, high in self.lines:
            stops = {t for t in joins[axis].get(at, ()) if low <= t <= high} | {low, high}
            stops |= {
                other
                for across, other, first, last in self.lines
                if across != axis and low <= other <= high and first <= at <= last
            }
            passed = self.joists[1 - axis]
            for a, b in pairwise(sorted(stops)):
                ends = [(at, t) if axis == 0 else (t, at) for t in (a, b)]
                yield ends[0], ends[1], b - a, bisect_left(passed, b) - bisect_left(passed, a)


class Laid:
    """The graph, and the node of every point and board by name."""

    def __init__(self, building: Building, setout: SetOut) -> None:
        self.graph = nx.Graph()
        self.setout = setout
        self.shapes = building.rooms
        self.voids = dict(_voids(building.rooms))
        self.backs = tuple(_backs(building.rooms))
        self.behind = tuple(self._behind())
        self.node: dict[str, Node] = {}
        for shape in self.shapes:
            for number, wall in enumerate(shape.walls):
                self._lanes(shape, wall, shape.walls[number - 1])
                self._risers(shape, wall)
        self._lines()
        self._through()
        self._ends()
        for void in self.voids.values():
            for a, b, mm, holes in void.edges():
                self._edge(void.node(a), void.node(b), mm, holes)

    def costs(self, start: str, names: Iterable[str]) -> dict[str, tuple[int, int]]:
        """Length and holes of the best way from a start to each of some names."""
        found = nx.single_source_dijkstra_path_length(self.graph, self.node[start])
        return {name: divmod(found[self.node[name]], MM) for name in names if self.node[name] in found}

    def _edge(self, a: Node, b: Node, mm: int, holes: int) -> None:
        weight = mm * MM + holes
        if not self.graph.has_edge(a, b) or self.graph[a][b]["weight"] > weight:
            self.graph.add_edge(a, b, weight=weight)

    def _on(self, room: str, wall: str) -> list[XY]:
        points = [point for point in self.setout.points if point.surface in ("wall", "outside")]
        items: list[Point | PlacedBoard] = [*points, *self.setout.boards]
        return [(i.along_mm or 0, i.height_mm or 0) for i in items if (i.room, i.wall) == (room, wall)]

    def _heights(self, wall: Wall) -> list[int]:
        return sorted({height for _, height in self._on(wall.room, wall.name)})

    def _stands(self, shape: RoomShape, wall: Wall) -> list[int]:
        """Alongs of the risers of a wall."""
        on = self._on(wall.room, wall.name)
        stud = int(wall.frame.stud.thickness_mm)
        return sorted({stud, wall.length_mm - stud, *(a for a, _ in on)}) if on or shape.room.floor.void else []

    def _lanes(self, shape: RoomShape, wall: Wall, before: Wall) -> None:
        for height in self._heights(wall):
            stops = {0, wall.length_mm, *self._stands(shape, wall)}
            stops |= {along for _, _, _, w, along, h in self.behind if w is wall and h == height}
            studs = [s.centre_mm for s in wall.studs if not s.end and _meets(s.gap_mm, height)]
            for a, b in pairwise(sorted(stops)):
                if not any(
                    o.sill_mm < height < o.head_mm and a < o.along_mm + o.width_mm and b > o.along_mm
                    for o in wall.openings
                ):
                    holes = sum(1 for centre in studs if a <= centre < b)
                    self._edge(on_face(wall, a, height), on_face(wall, b, height), b - a, holes)
            if height in self._heights(before):
                self._edge(on_face(wall, 0, height), on_face(before, before.length_mm, height), 0, 2)

    def _risers(self, shape: RoomShape, wall: Wall) -> None:
        for along in self._stands(shape, wall):
            heights = {*self._heights(wall), *(h for _, _, _, w, at, h in self.behind if w is wall and at == along)}
            stops: list[tuple[int, Node, int]] = [(h, on_face(wall, along, h), 0) for h in sorted(heights)]
            xy = on_plan(shape, wall, along)
            for level, height in (("floor", 0), ("ceiling", shape.room.height_mm)):
                void = self.voids.get((shape.room.name, level))
                if void:
                    void.through(xy)
                    stops.insert(len(stops) if height else 0, (height, void.node(xy), 1))
            for (low, a, p), (high, b, q) in pairwise(stops):
                if not any(
                    o.along_mm < along < o.along_mm + o.width_mm and low < o.head_mm and high > o.sill_mm
                    for o in wall.openings
                ):
                    self._edge(a, b, high - low, p + q)

    def _lines(self) -> None:
        """Lines through ceiling points and along walls; then those of rooms over one another, which are shared."""
        for point in self.setout.points:
            if point.surface in ("ceiling", "floor"):
                self.voids[point.room, point.surface].through(point.xyz_mm[:2])
        for void in self.voids.values():
            for (ax, ay), (bx, by) in pairwise([*void.corners, void.corners[0]]):
                axis = 0 if ax == bx else 1
                low, high = sorted(((ax, ay)[1 - axis], (bx, by)[1 - axis]))
                void.own |= {(axis, (ax, ay)[axis], a, b) for a, b in void.reach(axis, (ax, ay)[axis]) if a <= low <= b}
            void.lines |= void.own
        for low_void, high_void in self._stacked():
            for one, other in ((low_void, high_void), (high_void, low_void)):
                for axis, at, low, high in one.own:
                    reach = other.reach(axis, at)
                    other.lines |= {(axis, at, a, b) for a, b in reach if max(a, low) < min(b, high)}
        for low_void, high_void in self._stacked():
            for x in sorted({line[1] for line in low_void.lines | high_void.lines if line[0] == 0}):
                for y in sorted({line[1] for line in low_void.lines | high_void.lines if line[0] == 1}):
                    if _on_line(low_void, x, y) and _on_line(high_void, x, y):
                        low_void.joins.add((x, y))
                        high_void.joins.add((x, y))
                        self._edge(low_void.node((x, y)), high_void.node((x, y)), high_void.z - low_void.z, 0)

    def _stacked(self) -> Iterator[tuple[Void, Void]]:
        ceilings = [void for (_, level), void in self.voids.items() if level == "ceiling"]
        floors = [void for (_, level), void in self.voids.items() if level == "floor"]
        for low in ceilings:
            for high in floors:
                if 0 <= high.z - low.z < 1000 and any(low.holds(xy) for xy in _middles(high)):
                    yield low, high

    def _through(self) -> None:
        """Ceiling voids at one height are joined along walls back to back; points are reached through them."""
        for one, a, other, b, low, high, gap in self.backs:
            voids = [self.voids.get((shape.room.name, "ceiling")) for shape in (one, other)]
            near, far = voids
            if near is None or far is None or near.z != far.z:
                continue
            axis = 0 if a.start[1] == a.end[1] else 1
            met = {low, high}
            for void, shape, wall in ((near, one, a), (far, other, b)):
                level = on_plan(shape, wall, 0)[1 - axis]
                met |= {line[1] for line in void.lines if line[0] == axis and line[2] <= level <= line[3]}
            for t in (t for t in met if low <= t <= high):
                ends = []
                for void, shape, wall in ((near, one, a), (far, other, b)):
                    level = on_plan(shape, wall, 0)[1 - axis]
                    xy = (t, level) if axis == 0 else (level, t)
                    void.joins.add(xy)
                    ends.append(void.node(xy))
                self._edge(ends[0], ends[1], gap, 1)
        for point, own, gap, wall, along, height in self.behind:
            self._edge(on_face(own, point.along_mm or 0, point.height_mm or 0), on_face(wall, along, height), gap, 1)

    def _behind(self) -> Iterator[tuple[Point, Wall, int, Wall, int, int]]:
        """Points on walls back to back: point, its wall, the gap, the wall behind, along and height there."""
        for one, a, other, b, low, high, gap in self.backs:
            axis = 0 if a.start[1] == a.end[1] else 1
            for point in self.setout.points:
                for own, wall, shape, far in ((one, a, other, b), (other, b, one, a)):
                    if point.surface == "wall" and (point.room, point.wall) == (own.room.name, wall.name):
                        t = on_plan(own, wall, point.along_mm or 0)[axis]
                        height = point.xyz_mm[2] - shape.room.floor_level_mm
                        if low <= t <= high and 0 <= height <= shape.room.height_mm:
                            yield point, wall, gap, far, abs(t - on_plan(shape, far, 0)[axis]), height

    def _ends(self) -> None:
        shapes = {shape.room.name: shape for shape in self.shapes}
        for board in self.setout.boards:
            self.node[board.name] = on_face(shapes[board.room].wall(board.wall), board.along_mm, board.height_mm)
        for point in self.setout.points:
            shape = shapes[point.room]
            if point.wall is None:
                self.node[point.id] = self.voids[point.room, point.surface].node(point.xyz_mm[:2])
                continue
            wall = shape.wall(point.wall)
            inside = on_face(wall, point.along_mm or 0, point.height_mm or 0)
            if point.surface == "wall":
                self.node[point.id] = inside
                continue
            if point.surface == "soffit":
                void = self.voids[point.room, "ceiling"]
                void.joins.add(on_plan(shape, wall, point.along_mm or 0))
                inside = void.node(on_plan(shape, wall, point.along_mm or 0))
            self.node[point.id] = ("end", point.surface, *point.xyz_mm)
            self._edge(inside, self.node[point.id], half_up(wall.frame.thickness_mm + (point.out_mm or 0)), 1)
        self.graph.add_nodes_from(self.node.values())


def on_face(wall: Wall, along: int, height: int) -> Node:
    """The node at a place on a wall."""
    return ("wall", wall.room, wall.name, along, height)


def place_at(shape: RoomShape, xy: XY) -> XY:
    """A place of a room in the building."""
    return xy[0] + shape.room.at[0], xy[1] + shape.room.at[1]


def on_plan(shape: RoomShape, wall: Wall, along: int) -> XY:
    """The place of an along of a wall parallel to x or y, in the building."""
    (x, y), (to_x, to_y) = wall.start, wall.end
    return place_at(shape, (x + along * ((to_x > x) - (to_x < x)), y + along * ((to_y > y) - (to_y < y))))


def _meets(gap: tuple[int, int] | None, height: int) -> bool:
    return gap is None or not gap[0] < height < gap[1]


def _voids(shapes: Iterable[RoomShape]) -> Iterator[tuple[tuple[str, str], Void]]:
    for shape in shapes:
        room = shape.room
        for level, kind, up, joists in (
            ("ceiling", room.ceiling, room.height_mm, shape.ceiling),
            ("floor", room.floor, 0, shape.floor),
        ):
            if kind.void:
                yield (room.name, level), Void(shape, level, room.floor_level_mm + up, joists)


def _backs(shapes: tuple[RoomShape, ...]) -> Iterator[tuple[RoomShape, Wall, RoomShape, Wall, int, int, int]]:
    """Walls back to back: both, and from where to where they overlap along x or y, and how far apart."""
    for number, one in enumerate(shapes):
        for other in shapes[number + 1 :]:
            for a in one.walls:
                for b in other.walls:
                    axis = 0 if a.start[1] == a.end[1] else 1
                    if (b.start[1] == b.end[1]) != (axis == 0):
                        continue
                    spans = [
                        sorted((on_plan(s, w, 0)[axis], on_plan(s, w, w.length_mm)[axis]))
                        for s, w in ((one, a), (other, b))
                    ]
                    low, high = max(spans[0][0], spans[1][0]), min(spans[0][1], spans[1][1])
                    turn = (a.end[axis] > a.start[axis]) != (b.end[axis] > b.start[axis])
                    # walls go clockwise: outwards is to the left of their direction
                    outwards = 1 if (a.end[axis] > a.start[axis]) == (axis == 0) else -1
                    gap = outwards * (on_plan(other, b, 0)[1 - axis] - on_plan(one, a, 0)[1 - axis])
                    if turn and low < high and 0 <= gap <= NEAR_MM:
                        yield one, a, other, b, low, high, gap


def _middles(void: Void) -> Iterator[XY]:
    """A grid of places well inside a room's rectangle, to see whether another room lies over it."""
    xs, ys = ([corner[axis] for corner in void.corners] for axis in (0, 1))
    for i in range(1, 20):
        for j in range(1, 20):
            place = (min(xs) + (max(xs) - min(xs)) * i // 20, min(ys) + (max(ys) - min(ys)) * j // 20)
            if void.holds(place):
                yield place


def _on_line(void: Void, x: int, y: int) -> bool:
    """Whether a place lies in the void where one of its lines passes."""
    return any(
        (axis, at) in ((0, x), (1, y)) and low <= (y if axis == 0 else x) <= high for axis, at, low, high in void.lines
    )
