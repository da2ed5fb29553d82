"""For tests of routing: things set out by hand where a job says `at`, and a network of right angles with no walls."""

from collections.abc import Iterable, Mapping, Sequence
from decimal import Decimal

from estimator.building.build import build
from estimator.building.model import Building
from estimator.catalogue.model import Catalogue, Cell
from estimator.job.model import At, Job, KeepTo, WallPlace
from estimator.problems import Place
from estimator.routing.model import XYZ, Passage, Path, Piece, Routes
from estimator.routing.network import HOLE_BASE
from estimator.routing.route import route, route_over
from estimator.setout.model import PlacedBoard, Point, SetOut
from tests.jobs import RULESET, catalogue, rule

# published: On-Site Guide, Table D1 (band's upper limit, column, mm)
CLIPS = (
    ("9", "pvc-horizontal", 250),
    ("9", "pvc-vertical", 400),
    ("15", "pvc-horizontal", 300),
    ("15", "pvc-vertical", 400),
    ("15", "armoured-horizontal", 350),
    ("15", "armoured-vertical", 450),
    ("20", "pvc-horizontal", 350),
    ("20", "pvc-vertical", 450),
    ("20", "armoured-horizontal", 400),
    ("20", "armoured-vertical", 550),
)
BITS = (12, 14, 16, 18, 20, 22, 25, 32)
HOLE_RULES = (
    rule("hole-air", 4),
    rule("stud-hole-max-ratio", "0.25", "ratio"),
    rule("plate-hole-max-ratio", "0.25", "ratio"),
    rule("joist-hole-max-ratio", "0.25", "ratio"),
    rule("joist-hole-max", 65),
    rule("back-to-back-walls", 400),
    rule("zone-width", 150),
    rule("zone-reverse-thickness", 100),
)


def cell(table: str, row: str, column: str, value: int) -> Cell:
    """A cell of a table of the test ruleset."""
    return Cell(RULESET, table, row, column, Decimal(value), "mm", f"source of {table}", "an edition", "published")


CELLS = (
    *(cell("clip-spacing", *row) for row in CLIPS),
    *(cell("bit-sizes", str(size), "bit", size) for size in BITS),
)


def trade(**more: Iterable[object]) -> Catalogue:
    """The small catalogue with clip bands, bits and the rules of holes and cable zones."""
    return catalogue(rules=HOLE_RULES, cells=CELLS, **more)  # type: ignore[arg-type]  # keys go where they are named


class Square:
    """Places joined by way of right angles: up first, then along x, then y. `cut_off` are joined to nothing.

    `holes` is what each pair costs beside its length; `passages` are what every path passes.
    """

    def __init__(
        self,
        places: Mapping[str, XYZ],
        cut_off: Sequence[str] = (),
        holes: Mapping[frozenset[str], int] | None = None,
        passages: Mapping[frozenset[str], tuple[Passage, ...]] | None = None,
    ) -> None:
        self.places, self.cut_off, self.holes, self.passages = places, cut_off, holes or {}, passages or {}

    def costs(self, names: Sequence[str], /) -> list[list[int | None]]:
        return [[self._cost(one, other) for other in names] for one in names]

    def _cost(self, one: str, other: str) -> int | None:
        if one != other and (one in self.cut_off or other in self.cut_off):
            return None
        return apart(self.places[one], self.places[other]) * HOLE_BASE + self.holes.get(frozenset((one, other)), 0)

    def costs_of(self, start: str, names: Sequence[str], /) -> list[int | None]:
        """One row of it."""
        return [self._cost(start, other) for other in names]

    def path(self, start: str, end: str, /) -> Path | None:
        (x, y, z), (to_x, to_y, to_z) = self.places[start], self.places[end]
        corners = ((x, y, z), (x, y, to_z), (to_x, y, to_z), (to_x, to_y, to_z))
        kinds = (("riser", "back", ""), ("along-joists", "", "ceiling"), ("across-joists", "", "ceiling"))
        pieces = tuple(
            Piece(kind, "studio", wall, level, one, other, apart(one, other))  # type: ignore[arg-type]  # words of Piece
            for (kind, wall, level), one, other in zip(kinds, corners, corners[1:], strict=False)
            if one != other
        )
        length = sum(piece.length_mm for piece in pieces)
        return Path(length, corners, pieces, self.passages.get(frozenset((start, end)), ()))

    def why_unreached(self, name: str, start: str, /) -> str:
        del start
        return f"nothing leads to {name}"

    def kept_to(self, surfaces: KeepTo, /) -> "Square":
        raise NotImplementedError("a square has no surfaces to keep to")


def apart(one: XYZ, other: XYZ) -> int:
    """The way between two places by right angles, mm."""
    return sum(abs(a - b) for a, b in zip(one, other, strict=True))


def set_by_hand(job: Job, building: Building) -> SetOut:
    """Every point and board of a job whose groups all say `at`, just where they say it."""
    points = [
        _point(building, job, group.name, number)
        for group in job.groups
        if isinstance(group.placing, At)
        for number in range(1, len(group.placing.places) + 1)
    ]
    boards = []
    for board in job.boards:
        if board.room and board.wall and board.kind and board.along_mm is not None and board.height is not None:
            at, xyz = _on_wall(building, board.room, board.wall, board.along_mm, board.height.mm)
            place = (board.name, board.kind, board.room, board.wall, board.along_mm, board.height.mm)
            boards.append(PlacedBoard(*place, at, xyz, board.place))
    return SetOut(
        tuple(sorted(points, key=lambda point: (point.group, point.number))),
        tuple(sorted(boards, key=lambda board: board.name)),
        (),
        (),
    )


def _point(building: Building, job: Job, name: str, number: int) -> Point:
    group = job.group(name)
    assert isinstance(group.placing, At)
    given = group.placing.places[number - 1]
    room = job.room(group.room)
    base = (f"{name}{number}", name, number, group.kind, group.circuit, group.room, group.surface)
    place = Place("job.toml", 10, number)
    if isinstance(given, WallPlace):
        height = given.height or group.height
        assert height is not None
        at, xyz = _on_wall(building, group.room, given.wall, given.along_mm, height.mm)
        return Point(*base, given.wall, given.along_mm, height.mm, None, at, xyz, 0, place)
    level = room.height_mm if group.surface == "ceiling" else 0
    at = (given.x_mm, given.y_mm, level)
    xyz = (given.x_mm + room.at[0], given.y_mm + room.at[1], level + room.floor_level_mm)
    return Point(*base, None, None, None, None, at, xyz, 0, place)


def _on_wall(building: Building, room: str, wall: str, along_mm: int, height_mm: int) -> tuple[XYZ, XYZ]:
    shape = building.room(room)
    x, y = shape.wall(wall).point_at(along_mm)
    at = (x, y, height_mm)
    return at, (x + shape.room.at[0], y + shape.room.at[1], height_mm + shape.room.floor_level_mm)


def routed(job: Job, rows: Catalogue | None = None) -> Routes:
    """A job of groups that say `at`, routed through its real walls."""
    building = build(job)
    return route(job, rows or trade(), building, set_by_hand(job, building))


def squared(
    job: Job,
    rows: Catalogue | None = None,
    cut_off: Sequence[str] = (),
    holes: Mapping[frozenset[str], int] | None = None,
    passages: Mapping[frozenset[str], tuple[Passage, ...]] | None = None,
) -> Routes:
    """The same over a `Square`, so that lengths are easily worked out by hand."""
    building = build(job)
    setout = set_by_hand(job, building)
    places = {board.name: board.xyz_mm for board in setout.boards} | {point.id: point.xyz_mm for point in setout.points}
    return route_over(job, rows or trade(), building, setout, Square(places, cut_off, holes, passages))
