"""The network of the design laid out line by line for NetworkX, with nothing of `estimator.routing` in it.

Every lane, riser and void line is there with every crossing on it. A weight is mm x 1,000,000 + holes. Rooms are
rectangles, or outlines of walls along x and y whose corners and places are multiples of 50 mm.
"""

from collections.abc import Iterable, Iterator
from decimal import ROUND_HALF_UP, Decimal
from itertools import pairwise

import networkx as nx

from estimator.building.build import shape_of
from estimator.building.model import RoomShape, Wall
from estimator.job.model import Room
from estimator.setout.model import PlacedBoard, Point

MM = 1_000_000
Node = tuple[object, ...]
Line = tuple[str, int, int, int]
"""The fixed axis, the fixed coordinate, from, to; building coordinates."""


def oracle(rooms: Iterable[Room], points: Iterable[Point], boards: Iterable[PlacedBoard] = ()) -> "Oracle":
    """The network of these rooms and places."""
    return Oracle([shape_of(room) for room in rooms], list(points), list(boards))


class Oracle:
    """The graph, and the node of every point and board."""

    def __init__(self, shapes: list[RoomShape], points: list[Point], boards: list[PlacedBoard]) -> None:
        self.graph = nx.Graph()
        self.shapes, self.points, self.boards = shapes, points, boards
        self.node: dict[str, Node] = {}
        self.lines: dict[tuple[str, str], set[Line]] = {}
        self.extra: dict[tuple[str, str], set[tuple[int, int]]] = {}
        self.z = {(s.room.name, "ceiling"): s.room.floor_level_mm + s.room.height_mm for s in shapes}
        self.z |= {(s.room.name, "floor"): s.room.floor_level_mm for s in shapes}
        for shape in shapes:
            self._room(shape)
        self._stack()
        self._share()
        self._ends()
        for shape in shapes:
            for level in ("ceiling", "floor"):
                self._void(shape, level)

    def costs(self, names: list[str]) -> list[list[tuple[int, int] | None]]:
        """Length and holes of the best way between every two."""
        table = []
        for name in names:
            found = nx.single_source_dijkstra_path_length(self.graph, self.node[name])
            row = [found.get(self.node[other]) for other in names]
            table.append([None if cost is None else divmod(cost, MM) for cost in row])
        return table

    def _edge(self, a: Node, b: Node, mm: int, holes: int) -> None:
        weight = mm * MM + holes
        if not self.graph.has_edge(a, b) or self.graph[a][b]["weight"] > weight:
            self.graph.add_edge(a, b, weight=weight)

    def _on(self, room: str, wall: str | None = None) -> list[tuple[int, int]]:
        items = [p for p in self.points if p.surface in ("wall", "outside")]
        every: list[Point | PlacedBoard] = [*items, *self.boards]
        return [(i.along_mm or 0, i.height_mm or 0) for i in every if i.room == room and wall in (None, i.wall)]

    def _room(self, shape: RoomShape) -> None:
        room = shape.room
        for level, void in (("ceiling", room.ceiling), ("floor", room.floor)):
            if void.void:
                self.lines[room.name, level] = set()
                self.extra[room.name, level] = set()
                for wall in shape.walls:
                    (x, y), (x2, y2) = place(shape, wall, 0), place(shape, wall, wall.length_mm)
                    middle = (x, (y + y2) // 100 * 50) if x == x2 else ((x + x2) // 100 * 50, y)
                    self._line(shape, level, "x" if x == x2 else "y", middle)
                for p in self.points:
                    if p.room == room.name and p.surface == level:
                        self._both(shape, level, p.xyz_mm[:2])
        for number, wall in enumerate(shape.walls):
            self._lanes(shape, wall, shape.walls[number - 1])
            self._risers(shape, wall)

    def heights(self, shape: RoomShape, wall: Wall) -> list[int]:
        """Heights of the lanes of a wall."""
        protected = wall.frame.cable_zones == "protected"
        own = {height for _, height in self._on(shape.room.name, None if protected else wall.name)}
        return sorted(own | (set() if shape.room.ceiling.void else {shape.room.height_mm - 100}))

    def risers(self, shape: RoomShape, wall: Wall) -> list[int]:
        """Alongs of the risers of a wall."""
        if not self.heights(shape, wall) and not shape.room.floor.void:
            return []
        stud = int(wall.frame.stud.thickness_mm)
        return sorted({stud, wall.length_mm - stud, *(along for along, _ in self._on(shape.room.name, wall.name))})

    def _lanes(self, shape: RoomShape, wall: Wall, before: Wall) -> None:
        for height in self.heights(shape, wall):
            stops = sorted({0, wall.length_mm, *self.risers(shape, wall), *self._behind(shape, wall, height)})
            for a, b in pairwise(stops):
                cut = any(
                    o.sill_mm < height < o.head_mm and max(a, o.along_mm) < min(b, o.along_mm + o.width_mm)
                    for o in wall.openings
                )
                studs = [
                    s
                    for s in wall.studs
                    if not s.end and (s.gap_mm is None or height <= s.gap_mm[0] or height >= s.gap_mm[1])
                ]
                if not cut:
                    holes = sum(1 for s in studs if a <= (s.left_mm + s.right_mm) / 2 < b)
                    self._edge(self._w(shape, wall, a, height), self._w(shape, wall, b, height), b - a, holes)
            if height in self.heights(shape, before):
                start, end = self._w(shape, wall, 0, height), self._w(shape, before, before.length_mm, height)
                self._edge(start, end, 0, 2)

    def _w(self, shape: RoomShape, wall: Wall, along: int, height: int) -> Node:
        return ("wall", shape.room.name, wall.name, along, height)

    def _behind(self, shape: RoomShape, wall: Wall, height: int) -> Iterator[int]:
        """Alongs of points that lie back to back at a height."""
        for p, _, other_shape, other_wall, along, h in self._opposite():
            if (other_shape, other_wall) == (shape, wall) and h == height:
                del p
                yield along

    def _risers(self, shape: RoomShape, wall: Wall) -> None:
        room, heights = shape.room, self.heights(shape, wall)
        for along in self.risers(shape, wall):
            stops: list[tuple[int, Node, int]] = [(h, self._w(shape, wall, along, h), 0) for h in heights]
            for _, _, s, w, at, h in self._opposite():
                if (s, w, at) == (shape, wall, along) and h not in heights:
                    stops.append((h, self._w(shape, wall, along, h), 0))
            stops.sort(key=lambda stop: stop[0])
            xy = place(shape, wall, along)
            if room.floor.void:
                stops.insert(0, (0, ("void", room.name, "floor", *xy), 1))
                self._both(shape, "floor", xy)
            if room.ceiling.void:
                stops.append((room.height_mm, ("void", room.name, "ceiling", *xy), 1))
                self._both(shape, "ceiling", xy)
            for (low, a, p), (high, b, q) in pairwise(stops):
                cut = any(
                    o.along_mm < along < o.along_mm + o.width_mm and max(low, o.sill_mm) < min(high, o.head_mm)
                    for o in wall.openings
                )
                if not cut:
                    self._edge(a, b, high - low, p + q)

    def _both(self, shape: RoomShape, level: str, xy: tuple[int, ...]) -> None:
        self._line(shape, level, "x", (xy[0], xy[1]))
        self._line(shape, level, "y", (xy[0], xy[1]))

    def _line(self, shape: RoomShape, level: str, fixed: str, xy: tuple[int, int]) -> None:
        """The line through a place, as far as the room reaches."""
        corners = [(x + shape.room.at[0], y + shape.room.at[1]) for x, y in shape.room.corners]
        axis = "xy".index(fixed)
        if len(corners) == 4:
            other = [corner[1 - axis] for corner in corners]
            low, high = min(other), max(other)
        else:
            low = high = xy[1 - axis]
            while _covered(corners, axis, xy[axis], high + 25):
                high += 50
            while _covered(corners, axis, xy[axis], low - 25):
                low -= 50
        self.lines[shape.room.name, level].add((fixed, xy[axis], low, high))

    def _void(self, shape: RoomShape, level: str) -> None:
        key = (shape.room.name, level)
        joists = shape.ceiling if level == "ceiling" else shape.floor
        for line in self.lines.get(key, ()):
            fixed, at, low, high = line
            axis = "xy".index(fixed)
            stops = {other[1] for other in self.lines[key] if _crosses(line, other)}
            stops |= {p[1 - axis] for p in self.extra[key] if p[axis] == at and low <= p[1 - axis] <= high}
            for a, b in pairwise(sorted(stops)):
                passed = joists is not None and joists.along == fixed
                origin = shape.room.at[1 - axis]
                holes = sum(1 for c in joists.places_mm if a <= c + origin < b) if passed and joists else 0
                ends = [("void", *key, at, t) if axis == 0 else ("void", *key, t, at) for t in (a, b)]
                self._edge(ends[0], ends[1], b - a, holes)

    def _stack(self) -> None:
        """A room right over another: the lines of both are lines of one void."""
        base = {key: frozenset(lines) for key, lines in self.lines.items()}
        for low in self.shapes:
            for high in self.shapes:
                below, above = (low.room.name, "ceiling"), (high.room.name, "floor")
                rise = self.z[above] - self.z[below]
                if below not in self.lines or above not in self.lines or not 0 <= rise < 1000:
                    continue
                (x0, y0), (x1, y1) = box(low)
                (u0, v0), (u1, v1) = box(high)
                if not (max(x0, u0) < min(x1, u1) and max(y0, v0) < min(y1, v1)):
                    continue
                own, other = base[below], base[above]
                for fixed, at, _, _ in other:
                    if (x0 <= at <= x1) if fixed == "x" else (y0 <= at <= y1):
                        self.lines[below].add((fixed, at, *((y0, y1) if fixed == "x" else (x0, x1))))
                for fixed, at, _, _ in own:
                    if (u0 <= at <= u1) if fixed == "x" else (v0 <= at <= v1):
                        self.lines[above].add((fixed, at, *((v0, v1) if fixed == "x" else (u0, u1))))
                for x in {ln[1] for ln in self.lines[below] if ln[0] == "x"}:
                    for y in {ln[1] for ln in self.lines[below] if ln[0] == "y"}:
                        if max(x0, u0) <= x <= min(x1, u1) and max(y0, v0) <= y <= min(y1, v1):
                            self.extra[below].add((x, y))
                            self.extra[above].add((x, y))
                            self._edge(("void", *below, x, y), ("void", *above, x, y), rise, 0)

    def _share(self) -> None:
        """Walls back to back: ceiling voids at one height join along the overlap, points are reached through."""
        for one, a, other, b in self._backs():
            gap = _apart(one, a, other, b)
            axis = 0 if a.start[1] == a.end[1] else 1
            keys = (one.room.name, "ceiling"), (other.room.name, "ceiling")
            if all(key in self.lines for key in keys) and self.z[keys[0]] == self.z[keys[1]]:
                low, high = overlap(one, a, other, b, axis)
                met = {ln[1] for key in keys for ln in self.lines[key] if "xy".index(ln[0]) == axis}
                for t in {t for t in met if low <= t <= high}:
                    ends = []
                    for shape, wall, key in ((one, a, keys[0]), (other, b, keys[1])):
                        level = place(shape, wall, 0)[1 - axis]
                        xy = (t, level) if axis == 0 else (level, t)
                        self.extra[key].add(xy)
                        ends.append(("void", *key, *xy))
                    self._edge(ends[0], ends[1], gap, 1)
        for p, own, shape, wall, along, height in self._opposite():
            behind = self._w(shape, wall, along, height)
            own_wall = next(w for w in own.walls if w.name == p.wall)
            gap = _apart(own, own_wall, shape, wall)
            self._edge(self._w(own, own_wall, p.along_mm or 0, p.height_mm or 0), behind, gap, 1)

    def _backs(self) -> Iterator[tuple[RoomShape, Wall, RoomShape, Wall]]:
        for number, one in enumerate(self.shapes):
            for other in self.shapes[number + 1 :]:
                for a in one.walls:
                    for b in other.walls:
                        names = (a.name, b.name)
                        facing = {("back", "front"), ("front", "back"), ("left", "right"), ("right", "left")}
                        if names in facing and 0 <= _apart(one, a, other, b) <= 400:
                            axis = 0 if a.name in ("back", "front") else 1
                            low, high = overlap(one, a, other, b, axis)
                            if low < high:
                                yield one, a, other, b

    def _opposite(self) -> Iterator[tuple[Point, RoomShape, RoomShape, Wall, int, int]]:
        """Points on walls back to back: the point, its room, the room and wall behind, along and height there."""
        for one, a, other, b in self._backs():
            for p in self.points:
                for own, wall, shape, behind in ((one, a, other, b), (other, b, one, a)):
                    if p.surface == "wall" and (p.room, p.wall) == (own.room.name, wall.name):
                        x, y = place(own, wall, p.along_mm or 0)
                        start = place(shape, behind, 0)
                        along = abs(x - start[0]) if wall.name in ("back", "front") else abs(y - start[1])
                        axis = 0 if wall.name in ("back", "front") else 1
                        low, high = overlap(own, wall, shape, behind, axis)
                        height = p.xyz_mm[2] - shape.room.floor_level_mm
                        if low <= (x, y)[axis] <= high and 0 <= height <= shape.room.height_mm:
                            yield p, own, shape, behind, along, height

    def _ends(self) -> None:
        for board in self.boards:
            self.node[board.name] = ("wall", board.room, board.wall, board.along_mm, board.height_mm)
        for p in self.points:
            shape = next(s for s in self.shapes if s.room.name == p.room)
            if p.surface in ("ceiling", "floor"):
                self.node[p.id] = ("void", p.room, p.surface, *p.xyz_mm[:2])
            elif p.surface == "wall":
                self.node[p.id] = ("wall", p.room, p.wall, p.along_mm, p.height_mm)
            else:
                self.node[p.id] = ("end", p.xyz_mm, p.room, p.wall, p.surface)
                wall = next(w for w in shape.walls if w.name == p.wall)
                thick = wall.frame.stud.depth_mm + sum(layer.thickness_mm for layer in wall.frame.outside)
                inside: Node = ("wall", p.room, p.wall, p.along_mm, p.height_mm)
                if p.surface == "soffit":
                    xy = place(shape, wall, p.along_mm or 0)
                    inside = ("void", p.room, "ceiling", *xy)
                    if (p.room, "ceiling") in self.extra:
                        self.extra[p.room, "ceiling"].add(xy)
                out = thick + (p.out_mm or 0 if p.surface == "soffit" else 0)
                self._edge(inside, self.node[p.id], int(Decimal(out).quantize(Decimal(1), ROUND_HALF_UP)), 1)
            self.graph.add_node(self.node[p.id])
        self.graph.add_nodes_from(self.node[board.name] for board in self.boards)


def place(shape: RoomShape, wall: Wall, along: int) -> tuple[int, int]:
    """Building x and y of a place on a wall along x or y."""
    (x, y), (x2, y2) = wall.start, wall.end
    step = ((x2 > x) - (x2 < x), (y2 > y) - (y2 < y))
    return x + step[0] * along + shape.room.at[0], y + step[1] * along + shape.room.at[1]


def box(shape: RoomShape) -> tuple[tuple[int, int], tuple[int, int]]:
    """The lowest and the highest corner in the building."""
    xs, ys = zip(*shape.room.corners, strict=True)
    x, y = shape.room.at
    return (min(xs) + x, min(ys) + y), (max(xs) + x, max(ys) + y)


def overlap(one: RoomShape, a: Wall, other: RoomShape, b: Wall, axis: int) -> tuple[int, int]:
    """From where to where two walls lie side by side."""
    spans = [
        sorted((place(shape, wall, 0)[axis], place(shape, wall, wall.length_mm)[axis]))
        for shape, wall in ((one, a), (other, b))
    ]
    return max(spans[0][0], spans[1][0]), min(spans[0][1], spans[1][1])


def _apart(one: RoomShape, a: Wall, other: RoomShape, b: Wall) -> int:
    axis = 1 if a.name in ("back", "front") else 0
    sign = 1 if a.name in ("back", "right") else -1
    return sign * (place(other, b, 0)[axis] - place(one, a, 0)[axis])


def _crosses(line: Line, other: Line) -> bool:
    return line[0] != other[0] and other[2] <= line[1] <= other[3] and line[2] <= other[1] <= line[3]


def _covered(corners: list[tuple[int, int]], axis: int, fixed: int, at: int) -> bool:
    """Whether a place half-way between lattice lines is in the room or on its outline."""
    for nudge in (-1, 1):
        x, y = (fixed + nudge, at) if axis == 0 else (at, fixed + nudge)
        inside = False
        for (ax, ay), (bx, by) in zip(corners, corners[1:] + corners[:1], strict=True):
            if ax == bx and ax > x and min(ay, by) < y < max(ay, by):
                inside = not inside
        if inside:
            return True
    return False
