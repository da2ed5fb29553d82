"""Small jobs and a small catalogue for tests: builders with defaults; sizes and prices are invented.

The default room is 6.0 x 4.0 m with 38 x 89 mm studs at 600 mm, 47 x 145 mm ceiling joists at 400 mm along y.
Lengths are whole mm; sizes of things are text or `Decimal`.
"""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Literal, TypeVar

from estimator.catalogue.model import (
    BoardKind,
    Cable,
    Catalogue,
    Cell,
    Device,
    KitRow,
    Labour,
    Light,
    Merchant,
    Part,
    PointKind,
    Price,
    Rule,
    Step,
)
from estimator.job.model import (
    Allowances,
    At,
    Board,
    Buying,
    Certificate,
    Circuit,
    Control,
    Fitted,
    FlatPlace,
    Frame,
    Grid,
    Group,
    Height,
    Job,
    Layer,
    NogginTimber,
    OnWalls,
    Opening,
    Placing,
    Room,
    Run,
    Section,
    Soffit,
    Spread,
    Stated,
    Sum,
    Supply,
    Surface,
    Trench,
    Void,
    WallPlace,
    Wiring,
)

RULESET = "uk"
PLASTERBOARD = Layer(Decimal("12.5"), "plasterboard")
SKIM = Layer(Decimal("2"), "skim")
Row = TypeVar("Row")


def section(thickness: str | int, depth: str | int) -> Section:
    """A timber of thickness x depth mm."""
    return Section(Decimal(thickness), Decimal(depth))


def frame(
    stud: Section | None = None,
    centres: int = 600,
    inside: tuple[Layer, ...] = (PLASTERBOARD,),
    outside: tuple[Layer, ...] = (Layer(Decimal(11), "sheathing"), Layer(Decimal(20), "cladding")),
    noggin: Section | None = None,
    on_edge: bool = False,
    gap: str | int = 0,
    cable_zones: Literal["keep", "protected"] = "keep",
    support: Literal["clip", "groove", "none"] = "clip",
    hole_from_back: str | int | None = None,
) -> Frame:
    """38 x 89 mm studs at 600 mm, 12.5 mm of lining, 120 mm in all, noggins of 38 x 89 mm flat."""
    return Frame(
        stud=stud or section(38, 89),
        centres_mm=centres,
        inside=inside,
        outside=outside,
        insulation=None,
        insulation_given=False,
        vapour_layer=None,
        gap_mm=Decimal(gap),
        noggin=NogginTimber(noggin or section(38, 89), on_edge),
        hole_from_back_mm=None if hole_from_back is None else Decimal(hole_from_back),
        cable_zones=cable_zones,
        support=support,
    )


def void(
    there: bool = True,
    joist: Section | None = None,
    centres: int | None = 400,
    along: Literal["x", "y"] | None = "y",
    insulation: Layer | None = None,
) -> Void:
    """A void with 47 x 145 mm joists at 400 mm along y."""
    return Void(there, joist or section(47, 145), centres, along, insulation)


NO_VOID = Void(False, None, None, None, None)
UNKNOWN_JOISTS = Void(True, None, None, None, None)


def room(
    name: str = "studio",
    size: tuple[int, int] = (6000, 4000),
    outline: tuple[tuple[int, int], ...] | None = None,
    at: tuple[int, int] = (0, 0),
    floor_level: int = 0,
    ground: int | None = -150,
    height: int = 2400,
    openings: Iterable[Opening] = (),
    fitted: Iterable[Fitted] = (),
    soffits: Iterable[Soffit] = (),
    walls: Frame | None = None,
    frames: Mapping[str, Frame] | None = None,
    ceiling: Void | None = None,
    floor: Void | None = None,
) -> Room:
    """A rectangle of `size`, or an `outline` clockwise from above; `frames` overrides `walls` by wall."""
    width, depth = size
    corners = outline or ((0, depth), (width, depth), (width, 0), (0, 0))
    names = (
        ("back", "right", "front", "left")
        if outline is None
        else tuple(f"wall-{number}" for number in range(1, len(corners) + 1))
    )
    each = walls or frame()
    return Room(
        name=name,
        corners=corners,
        wall_names=names,
        frames=tuple((frames or {}).get(wall, each) for wall in names),
        at=at,
        floor_level_mm=floor_level,
        ground_mm=ground,
        height_mm=height,
        ceiling=ceiling or void(),
        floor=floor or NO_VOID,
        openings=tuple(openings),
        fitted=tuple(fitted),
        soffits=tuple(soffits),
    )


def door(wall: str = "front", along: int = 600, width: int = 900, head: int = 2100) -> Opening:
    """A door from the floor up."""
    return Opening("door", wall, along, width, 0, head)


def window(wall: str, along: int, width: int, sill: int = 900, head: int = 2100) -> Opening:
    """A window."""
    return Opening("window", wall, along, width, sill, head)


def fitted(name: str, wall: str, along: int, width: int, low: int, high: int) -> Fitted:
    """Something that stands or hangs at a wall, from `low` to `high` mm above the floor."""
    return Fitted(name, wall, along, width, low, high, None)


def spread(count: int, wall: str | None = None, centres: int | None = None) -> Spread:
    """So many evenly round the room, or along a soffit's wall."""
    return Spread(count, wall, centres)


def on(**counts: int) -> OnWalls:
    """So many on each wall: `on(back=5, left=3)`."""
    return OnWalls(tuple(counts.items()))


def at(*places: tuple[str, int] | tuple[str, int, int]) -> At:
    """Places on walls: (wall, along) or (wall, along, height above floor)."""
    return At(tuple(WallPlace(p[0], p[1], Height(p[2]) if len(p) == 3 else None) for p in places))


def at_xy(*places: tuple[int, int]) -> At:
    """Places on a ceiling or floor."""
    return At(tuple(FlatPlace(x, y) for x, y in places))


def grid(rows: int, columns: int, edge: tuple[int, int] | None = None) -> Grid:
    """Rows along x and columns."""
    return Grid(rows, columns, edge)


def group(
    name: str,
    kind: str,
    placing: Placing,
    height: int | Height | None = None,
    surface: Surface = "wall",
    room: str = "studio",
    circuit: str | None = "none",
    switched_by: tuple[str, ...] = (),
    out: int | None = None,
    avoid: tuple[str, ...] = (),
    load: Stated | None = None,
) -> Group:
    """A group of points; on walls 1.1 m high unless told."""
    if height is None and surface in ("wall", "outside"):
        height = 1100
    tall = Height(height) if isinstance(height, int) else height
    return Group(name, kind, circuit, switched_by, room, surface, tall, placing, out, avoid, load)


def board(
    name: str = "CU",
    wall: str = "left",
    along: int = 400,
    height: int = 1400,
    kind: str = "consumer-unit-8",
    room: str = "studio",
    fed_by: str | None = None,
) -> Board:
    """A board on a wall."""
    return Board(name, kind, fed_by, False, None, room, wall, along, Height(height))


def circuit(
    name: str,
    wiring: Wiring = "radial",
    cable: str = "te-2.5",
    device: str = "rcbo-b20",
    board: str = "CU",
    sequence: tuple[str, ...] = (),
    first: tuple[str, ...] = (),
    last: tuple[str, ...] = (),
) -> Circuit:
    """A circuit from the board CU."""
    return Circuit(name, board, wiring, cable, device, sequence, first, last, None, None)


def allowances(**changes: Decimal | int | tuple[tuple[str, int], ...]) -> Allowances:
    """5 % and 300 mm of cable, 10 % contingency, 20 % VAT, 3 mm kerf, the tails of the design's example."""
    tails = (("board", 1000), ("box", 200), ("light", 500), ("outside", 300), ("run", 1000))
    whole = Allowances(Decimal("0.05"), 300, Decimal("0.1"), Decimal("0.2"), Decimal(3), tails)
    return replace(whole, **changes)  # type: ignore[arg-type]  # each key goes to the field of its name


def job(
    rooms: Iterable[Room] = (),
    groups: Iterable[Group] = (),
    boards: Iterable[Board] = (),
    circuits: Iterable[Circuit] = (),
    controls: Iterable[Control] = (),
    trenches: Iterable[Trench] = (),
    runs: Iterable[Run] = (),
    sums: Iterable[Sum] = (),
    supply: Supply | None = None,
    certificate: Certificate | None = None,
    buying: Buying | None = None,
    title: str = "Test job",
) -> Job:
    """A job of these things; without rooms, the default room."""
    return Job(
        title=title,
        ruleset=RULESET,
        currency="GBP",
        priced_on=date(2026, 10, 1),
        test_on=date(2027, 2, 1),
        allowances=allowances(),
        supply=supply,
        boards=tuple(boards),
        rooms=tuple(rooms) or (room(),),
        groups=tuple(groups),
        circuits=tuple(circuits),
        controls=tuple(controls),
        trenches=tuple(trenches),
        runs=tuple(runs),
        sums=tuple(sums),
        certificate=certificate,
        buying=buying or Buying(("any",), ()),
    )


def point_kind(
    kind: str,
    box: tuple[int, int, int] = (72, 72, 35),
    plate: tuple[int, int] = (86, 86),
    fixing: Literal["noggin", "lining", "joist", "surface"] = "noggin",
    use: str = "sockets",
    tail: str = "box",
    max_ends: int | None = None,
    side: Literal["in", "out"] = "in",
    lit: bool = False,
) -> PointKind:
    """A kind of point; `box` is width, height, depth."""
    return PointKind(
        kind=kind,
        label=kind.replace("-", " "),
        kit=kind,
        symbol=kind,
        use=use,
        width_mm=Decimal(box[0]),
        height_mm=Decimal(box[1]),
        box_depth_mm=Decimal(box[2]),
        plate_width_mm=Decimal(plate[0]),
        plate_height_mm=Decimal(plate[1]),
        fixing=fixing,
        max_ends=max_ends,
        load=None,
        tail=tail,
        place_in_or_out=side,
        height_rule="",
        lit=lit,
    )


POINT_KINDS = (
    point_kind("double-socket", (135, 72, 35), (146, 86)),
    point_kind("single-socket"),
    point_kind("deep-socket", (135, 72, 47), (146, 86)),
    point_kind("shallow-socket", (135, 72, 10), (146, 86)),
    point_kind("switch", (72, 72, 25), use="lighting", max_ends=4),
    point_kind("switch-two-way", (72, 72, 25), use="lighting", max_ends=4),
    point_kind("dry-lined-socket", (135, 72, 35), (146, 86), "lining"),
    point_kind("panel-heater", (0, 0, 0), (600, 400), "surface", use="heating"),
    point_kind("downlight", (0, 0, 0), (85, 85), "lining", use="lighting", tail="light", lit=True),
    point_kind("batten", (0, 0, 0), (1200, 60), "surface", use="lighting", tail="light", lit=True),
    point_kind("floor-socket", (100, 100, 60), (120, 120), "lining"),
    point_kind("outdoor-socket", (0, 0, 0), (200, 150), "surface", tail="outside", side="out"),
    point_kind("bulkhead", (0, 0, 0), (220, 120), "surface", "lighting", "outside", side="out", lit=True),
    point_kind("soffit-light", (0, 0, 0), (85, 85), "lining", "lighting", "outside", side="out", lit=True),
    point_kind("emergency-stop", use="fixed"),
    point_kind("start-button", use="fixed"),
)

RULES_MM = {
    "box-to-stud": 5,
    "box-to-corner": 150,
    "box-to-corner-note": 350,
    "box-to-opening": 100,
    "plate-air": 10,
    "noggin-share-height": 10,
}


def rule(name: str, value: int | str, unit: str = "mm") -> Rule:
    """A rule of the test ruleset."""
    return Rule(RULESET, name, Decimal(value), unit, "", "common practice", "", "memory")


def light(kind: str, cutout: int | None) -> Light:
    """A light of 450 lm with a cut-out."""
    return Light(kind, Decimal(450), Decimal(5), Decimal(60), None if cutout is None else Decimal(cutout), None, "", "")


def cable(name: str, csa: str, cpc: str, width: str, height: str, cores: int = 2, **kits: str) -> Cable:
    """A flat cable."""
    return Cable(
        cable=name,
        part=f"cable-{name}",
        kit=kits.get("kit", ""),
        end_in=kits.get("end_in", ""),
        end_out=kits.get("end_out", ""),
        csa_mm2=Decimal(csa),
        cpc_mm2=Decimal(cpc),
        cores=cores,
        construction="flat",
        metal="none",
        width_mm=Decimal(width),
        height_mm=Decimal(height),
        r1_mohm_per_m=None,
        r2_mohm_per_m=None,
        mv_per_a_m=None,
        source="from memory",
        edition="",
    )


CABLES = (
    cable("te-1.5", "1.5", "1.0", "8.2", "5.3"),
    cable("te-2.5", "2.5", "1.5", "10.3", "6.2"),
    cable("te-4", "4", "1.5", "11.9", "6.9"),
    cable("te3-1.5", "1.5", "1.0", "10.0", "5.3", cores=3),
)


def device(name: str, rating: int, ways: int = 1) -> Device:
    """A device whose part has its own name."""
    return Device(name, name, "B", Decimal(rating), None, None, ways, None, "from memory", "")


DEVICES = (device("rcbo-b6", 6), device("rcbo-b20", 20), device("rcbo-b32", 32), device("mcb-b40", 40))


def board_kind(ways: int) -> BoardKind:
    """`consumer-unit-WAYS`."""
    name = f"consumer-unit-{ways}"
    sizes = (Decimal(260), Decimal(240), Decimal(110))
    return BoardKind(name, f"consumer unit, {ways} ways", name, name, ways, *sizes, "board", "in")


def part(
    name: str,
    sold_as: Literal["piece", "length"] = "piece",
    unit: str = "nr",
    waste: str = "0",
    section: str = "Sundries",
    vat_rate: str = "0.2",
    match_group: str = "",
    counter: str = "electrical",
) -> Part:
    """A part that can be bought."""
    return Part(name, name, name, section, unit, sold_as, Decimal(waste), Decimal(vat_rate), counter, match_group, "")


def timber(name: str) -> Part:
    """A timber by its code, `timber-38x89`."""
    return part(name, "length", "m", section="Timber", counter="timber")


PARTS = (timber("timber-38x89"), timber("timber-38x63"), timber("timber-25x89"), timber("timber-47x100"))


def keyed(rows: Iterable[Row], key: str) -> Mapping[str, Row]:
    """Rows by a column, in the order of the key."""
    return MappingProxyType(dict(sorted((str(getattr(row, key)), row) for row in rows)))


def catalogue(
    points: Iterable[PointKind] = (),
    rules: Iterable[Rule] = (),
    lights: Iterable[Light] = (),
    cables: Iterable[Cable] = (),
    devices: Iterable[Device] = (),
    boards: Iterable[BoardKind] = (),
    parts: Iterable[Part] = (),
    prices: Iterable[Price] = (),
    merchants: Iterable[Merchant] = (),
    kits: Iterable[KitRow] = (),
    cells: Iterable[Cell] = (),
    labour: Iterable[Labour] = (),
    works: Iterable[Step] = (),
) -> Catalogue:
    """The small catalogue; what is given is added to it, or replaces rows of the same key."""
    by_kit: dict[str, list[KitRow]] = {}
    for row in sorted(kits, key=lambda row: (row.kit, row.part, row.stage, row.per)):
        by_kit.setdefault(row.kit, []).append(row)
    every_rule = (*(rule(name, value) for name, value in RULES_MM.items()), *rules)
    return Catalogue(
        parts=_last(PARTS, parts, "part"),
        prices=tuple(sorted(prices, key=lambda row: (row.part, row.merchant, row.pack))),
        merchants=_last((), merchants, "merchant"),
        kits=MappingProxyType({name: tuple(rows) for name, rows in by_kit.items()}),
        points=_last(POINT_KINDS, points, "kind"),
        boards=_last(tuple(board_kind(ways) for ways in (4, 6, 8, 10, 12, 16)), boards, "kind"),
        cables=_last(CABLES, cables, "cable"),
        lights=_last((light("downlight", 75), light("soffit-light", 75)), lights, "kind"),
        devices=_last(DEVICES, devices, "device"),
        rules=MappingProxyType({(row.ruleset, row.rule): row for row in every_rule}),
        cells=MappingProxyType({(c.ruleset, c.table, c.row, c.column): c for c in cells}),
        labour=tuple(labour),
        works=tuple(works),
    )


def _last(ours: Iterable[Row], more: Iterable[Row], key: str) -> Mapping[str, Row]:
    rows = {str(getattr(row, key)): row for row in (*ours, *more)}
    return keyed(rows.values(), key)
