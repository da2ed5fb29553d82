"""The frozen `Job`: what the user wrote, checked and in plain numbers, with no trace of the file format but `place`.

Places and lengths of the building are `int` millimetres, sizes of things are exact `Decimal` millimetres, percentages
are ratios (`Decimal("0.05")`), money is `Decimal`. Names of walls are `back`, `right`, `front`, `left`, or `wall-1`,
`wall-2` ... of an outline. `place` never counts for equality.
"""

from calendar import monthrange
from dataclasses import dataclass, field
from datetime import date, timedelta
from decimal import Decimal
from typing import Literal, get_args

from estimator.problems import NOWHERE, Place

Wiring = Literal["radial", "ring", "branching", "star"]
Surface = Literal["wall", "ceiling", "soffit", "outside", "floor"]
Stage = Literal["supply", "first-fix", "second-fix"]
KeepTo = Literal["any", "walls", "ceiling"]
Switching = Literal["at-switch", "at-light"]
Digging = Literal["by hand", "by machine"]
Ground = Literal["lawn", "soil", "field", "gravel", "paving", "concrete", "tarmac"]
"""What may lie on top of a trench. Each has a kit of its own, `trench-lawn` and so on, for what that alone needs."""
GROUNDS: tuple[Ground, ...] = get_args(Ground)

NO_CIRCUIT = "none"
"""What a group says that is a box only."""


@dataclass(frozen=True, slots=True)
class Layer:
    """A layer of lining, cladding or insulation; `material` may be empty where only a thickness was given."""

    thickness_mm: Decimal
    material: str


@dataclass(frozen=True, slots=True)
class Section:
    """The cross-section of a timber: thickness x depth."""

    thickness_mm: Decimal
    depth_mm: Decimal

    @property
    def part(self) -> str:
        """The part code of this timber, `timber-38x89`."""
        return f"timber-{_plain(self.thickness_mm)}x{_plain(self.depth_mm)}"


def _plain(value: Decimal) -> str:
    return f"{value.normalize():f}"


@dataclass(frozen=True, slots=True)
class NogginTimber:
    """What noggins are cut from, and how they lie: `flat` shows its depth to the room, `on edge` its thickness."""

    section: Section
    on_edge: bool

    @property
    def through_mm(self) -> Decimal:
        """How far the noggin reaches through the wall."""
        return self.section.depth_mm if self.on_edge else self.section.thickness_mm

    @property
    def face_mm(self) -> Decimal:
        """How high the face is that carries the box."""
        return self.section.thickness_mm if self.on_edge else self.section.depth_mm


@dataclass(frozen=True, slots=True)
class Frame:
    """Studs and what covers them, of one wall, every override already applied.

    `insulation` is None both for "none" and for nothing said; `insulation_given` tells them apart.
    `hole_from_back_mm` is None for a hole in the middle of the stud.
    """

    stud: Section
    centres_mm: int
    inside: tuple[Layer, ...]
    outside: tuple[Layer, ...]
    insulation: Layer | None
    insulation_given: bool
    vapour_layer: bool | None
    gap_mm: Decimal
    noggin: NogginTimber
    hole_from_back_mm: Decimal | None
    cable_zones: Literal["keep", "protected"]
    support: Literal["clip", "groove", "none"]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def inside_mm(self) -> Decimal:
        """Thickness of the lining."""
        return sum((layer.thickness_mm for layer in self.inside), Decimal(0))

    @property
    def thickness_mm(self) -> Decimal:
        """From the inside face of the frame to the outer face of the cladding."""
        return self.stud.depth_mm + sum((layer.thickness_mm for layer in self.outside), Decimal(0))


@dataclass(frozen=True, slots=True)
class Stated:
    """An electrical value and where it comes from: `measured`, `typical maximum` ...; empty where nothing was said."""

    value: Decimal
    unit: str
    basis: str

    @property
    def measured(self) -> bool:
        """Whether the user says that it was measured."""
        return self.basis == "measured"


@dataclass(frozen=True, slots=True)
class Supply:
    """The supply at the origin; None is not given."""

    earthing: str | None
    external_impedance: Stated | None
    voltage: Stated | None
    main_fuse: Stated | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Height:
    """`mm` above `above`: "floor" (finished), "ground" (outside), or the name of a fitted thing of that wall."""

    mm: int
    above: str = "floor"


@dataclass(frozen=True, slots=True)
class Way:
    """The way that a board outside the job gives to what it feeds."""

    device: str
    spare: bool


@dataclass(frozen=True, slots=True)
class Board:
    """Where circuits start. A board outside the job has neither kind nor place in a room."""

    name: str
    kind: str | None
    fed_by: str | None
    outside_job: bool
    way: Way | None
    room: str | None
    wall: str | None
    along_mm: int | None
    height: Height | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Void:
    """Joists and the space among them, above a ceiling or under a floor. `joist` None: not given."""

    void: bool
    joist: Section | None
    centres_mm: int | None
    joists_along: Literal["x", "y"] | None
    insulation: Layer | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Opening:
    """A door, window or doorway; `along_mm` is its left edge as seen from inside.

    `named_in` is the room that names it where that is the room behind the wall; "" where it is the wall's own.
    """

    kind: Literal["door", "window", "doorway"]
    wall: str
    along_mm: int
    width_mm: int
    sill_mm: int
    head_mm: int
    named_in: str = ""
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Fixings:
    """Screws of something fitted: their length, and how high they stand."""

    screw_mm: Decimal
    height_mm: int


@dataclass(frozen=True, slots=True)
class Fitted:
    """What will stand or hang at a wall."""

    name: str
    wall: str
    along_mm: int
    width_mm: int
    from_mm: int
    to_mm: int
    fixings: Fixings | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Soffit:
    """An overhang outside a wall."""

    wall: str
    depth_mm: int
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Room:
    """One room. `corners` are whole mm from its own lowest x and y, clockwise from above, one wall from each to the next.

    A room given by `size` has its corners in the order back-left, back-right, front-right, front-left, so that
    `wall_names` are back, right, front, left. `frames` goes with `wall_names`.
    """

    name: str
    corners: tuple[tuple[int, int], ...]
    wall_names: tuple[str, ...]
    frames: tuple[Frame, ...]
    at: tuple[int, int]
    floor_level_mm: int
    ground_mm: int | None
    height_mm: int
    ceiling: Void
    floor: Void
    openings: tuple[Opening, ...]
    fitted: tuple[Fitted, ...]
    soffits: tuple[Soffit, ...]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    def frame(self, wall: str) -> Frame:
        """The frame of the wall with that name."""
        return self.frames[self.wall_names.index(wall)]


@dataclass(frozen=True, slots=True)
class Spread:
    """`count` places evenly round the room (walls, outside), or along a soffit's `wall` (with `centres_mm`, or evenly)."""

    count: int
    wall: str | None = None
    centres_mm: int | None = None


@dataclass(frozen=True, slots=True)
class OnWalls:
    """So many places evenly along each named wall, in the order written."""

    counts: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class WallPlace:
    """One place on a wall; `height` None takes the group's."""

    wall: str
    along_mm: int
    height: Height | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class FlatPlace:
    """One place on a ceiling or floor, from the room's lowest x and y."""

    x_mm: int
    y_mm: int
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class At:
    """Places one by one: `WallPlace` on walls and outside, and along a soffit's wall; `FlatPlace` on ceilings and floors."""

    places: tuple[WallPlace, ...] | tuple[FlatPlace, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """Rows along x and columns along y on a ceiling; `edge` is (ends of rows, outer rows), None for half a spacing."""

    rows: int
    columns: int
    edge_mm: tuple[int, int] | None


Placing = Spread | OnWalls | At | Grid


@dataclass(frozen=True, slots=True)
class Group:
    """Points of one kind: what they are, where they go, what feeds them. `load` is in the unit it was given in.

    `priority` is 1 for what matters most when money is short, None for what the job cannot do without.
    """

    name: str
    kind: str
    circuit: str | None
    switched_by: tuple[str, ...]
    room: str
    surface: Surface
    height: Height | None
    placing: Placing
    out_mm: int | None
    avoid: tuple[str, ...]
    load: Stated | None
    priority: int | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Circuit:
    """Points fed from one way of a board. `sequence`, `first` and `last` are point ids (empty: to be found).

    `spurs` are (spur, point it hangs from), `legs` are pairs of neighbours that bind a tree (empty: to be found).
    `keep_to` is where all its legs may run: "walls" are lanes, risers and ways through a wall, with no void; "ceiling" are
    the lines of ceiling voids, ways between voids, and risers, with no lane and no line of a floor void.
    """

    name: str
    board: str
    wiring: Wiring
    cable: str
    device: str
    sequence: tuple[str, ...]
    first: tuple[str, ...]
    last: tuple[str, ...]
    switch_cable: str | None
    strap_cable: str | None
    spurs: tuple[tuple[str, str], ...] = ()
    legs: tuple[tuple[str, str], ...] = ()
    keep_to: KeepTo = "any"
    switching: Switching = "at-switch"
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Control:
    """An emergency stop: a contactor at a board and a latching loop through a start button and stop buttons."""

    name: str
    drops: tuple[str, ...]
    contactor: str
    buttons: tuple[str, ...]
    start: str
    cable: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Dig:
    """One stretch of a trench."""

    length_mm: int
    depth_mm: int
    width_mm: int
    surface: Ground


@dataclass(frozen=True, slots=True)
class Trench:
    """Ground that one or more runs share."""

    name: str
    stretches: tuple[Dig, ...]
    dig: Digging = "by hand"
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def length_mm(self) -> int:
        """The whole of it."""
        return sum(dig.length_mm for dig in self.stretches)


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a run: in a building, or in a trench (`length_mm` already set to the whole of it where not given)."""

    trench: str | None
    length_mm: int


@dataclass(frozen=True, slots=True)
class Run:
    """One cable between two places that is no circuit.

    `start` and `end` are a board's name, a point's id, or `outside: TEXT`. `end_kits` overrides what is made off at
    either end: None takes the cable's own, "none" nothing, else the name of a kit.
    """

    name: str
    cable: str
    start: str
    end: str
    stretches: tuple[Stretch, ...]
    entry_mm: int
    device: str | None
    end_kits: tuple[str | None, str | None]
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """A measured length of the leg or run between two ends, in either order; `circuit` (or control) or `run` says which."""

    start: str
    end: str
    circuit: str | None
    run: str | None
    length_mm: int
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Sum:
    """Money that is no part; `vat` says whether it bears VAT (`ex`), holds it (`inc`), or bears none."""

    name: str
    kind: Literal["quote", "fee", "hire", "provisional"]
    low: Decimal
    likely: Decimal
    high: Decimal
    vat: Literal["ex", "inc", "none"]
    stage: Stage | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Certificate:
    """The route to a certificate, as agreed with the electrician."""

    nation: str | None
    route: str | None
    agreed_on: date | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class InHand:
    """Something the user has: `count` lengths of `length_mm`; or of what is sold by the piece `count` units or `packs` packs."""

    part: str
    length_mm: int | None
    count: int
    packs: Decimal | None
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    def units(self, pack: Decimal) -> Decimal:
        """How many units there are of what is sold by the piece, in the part's unit, where a pack holds `pack`."""
        return Decimal(self.count) if self.packs is None else self.packs * pack


@dataclass(frozen=True, slots=True)
class Allowances:
    """Percentages as ratios, and lengths. `tails_mm` by the key of points.csv and boards.csv (box, light, board ...)."""

    cable_waste: Decimal
    leg_extra_mm: int
    contingency: Decimal
    vat: Decimal
    kerf_mm: Decimal
    tails_mm: tuple[tuple[str, int], ...]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    def tail_mm(self, key: str) -> int:
        """Spare cable left at an end of that kind."""
        return dict(self.tails_mm)[key]


@dataclass(frozen=True, slots=True)
class Age:
    """How old a price may be: so many days, weeks or months of the calendar."""

    number: int
    unit: Literal["day", "week", "month"]

    def before(self, day: date) -> date:
        """The day so long before `day`; a month without that day gives its last one."""
        if self.unit != "month":
            return day - timedelta(days=self.number * (7 if self.unit == "week" else 1))
        years, month = divmod(day.year * 12 + day.month - 1 - self.number, 12)
        return date(years, month + 1, min(day.day, monthrange(years, month + 1)[1]))

    def __str__(self) -> str:
        return f"{self.number} {self.unit}{'' if self.number == 1 else 's'}"


SIX_MONTHS = Age(6, "month")
"""How old a price may be where the job does not say: common practice."""


@dataclass(frozen=True, slots=True)
class Buying:
    """Where to buy ("any", or names of merchants.csv), at how many merchants (None: any number) in one trip or two, how
    old prices may be, and what is there already.
    """

    merchants: tuple[str, ...]
    in_hand: tuple[InHand, ...]
    max_merchants: int | None = None
    trips: int = 1
    price_age: Age = SIX_MONTHS
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class ListHead:
    """What shopping lists say at their head: `collect` None where the job leaves it open."""

    reference: str | None = None
    wanted_by: date | None = None
    collect: bool | None = None
    contact: str | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Scenario:
    """Named changes to the job: addresses with new values, lists by address with what joins them, addresses of what goes.

    Values are plain, as they stand in the file: they are checked when the changed job is. `option` names a row of
    options.csv, whose changes come first.
    """

    name: str
    change: tuple[tuple[str, object], ...] = ()
    add: tuple[tuple[str, object], ...] = ()
    remove: tuple[str, ...] = ()
    option: str | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Job:
    """One piece of work, read and checked."""

    title: str
    ruleset: str
    currency: str
    priced_on: date
    test_on: date | None
    allowances: Allowances
    supply: Supply | None
    boards: tuple[Board, ...]
    rooms: tuple[Room, ...]
    groups: tuple[Group, ...]
    circuits: tuple[Circuit, ...]
    controls: tuple[Control, ...]
    trenches: tuple[Trench, ...]
    runs: tuple[Run, ...]
    sums: tuple[Sum, ...]
    certificate: Certificate | None
    buying: Buying
    as_built: tuple[AsBuilt, ...] = ()
    list_head: ListHead = ListHead()
    scenarios: tuple[Scenario, ...] = ()
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    def room(self, name: str) -> Room:
        """The room with that name."""
        return next(room for room in self.rooms if room.name == name)

    def group(self, name: str) -> Group:
        """The group with that name."""
        return next(group for group in self.groups if group.name == name)
