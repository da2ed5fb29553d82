"""What routing gives: legs of circuits, controls and runs with their routes, holes and supports, and drilled holes.

All lengths are whole mm; `route` and `at` are in the building's coordinates.
"""

from collections import Counter
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Literal, get_args

from estimator.checks.model import Finding
from estimator.problems import NOWHERE, Place

Use = Literal["feed", "switched", "strapper", "control"]
XYZ = tuple[int, int, int]
Member = Literal["stud", "joist", "plate", "wall"]
AskFirst = Literal["", "end", "zone"]
"""Why a hole is to be asked about before it is drilled: at the very end of its joist, or outside its drilling zones."""


@dataclass(frozen=True, slots=True)
class Holes:
    """Passages by kind."""

    stud: int = 0
    plate: int = 0
    joist: int = 0
    wall: int = 0

    @property
    def total(self) -> int:
        """All of them."""
        return self.stud + self.plate + self.joist + self.wall


@dataclass(frozen=True, slots=True)
class Passage:
    """One place where a cable passes a member. Legs that share `key` pass the same place.

    `key` is (kind, room, wall or "ceiling"/"floor", distance along, height or line), whole mm or mm as text: made by the
    network, the same for every leg that passes there. `wall` is empty in a void. `depth_mm` is the member's depth, None unknown.
    `on_member_mm` is where the hole goes: up a stud or a wall from the floor, along a plate from the wall's left end, along a
    joist from its end at the lower x or y of the room.
    """

    key: tuple[str, ...]
    kind: Member
    room: str
    wall: str
    at: XYZ
    member: str
    depth_mm: Decimal | None
    on_member_mm: int = 0

    @property
    def face(self) -> str:
        """The wall it is in, or "ceiling" or "floor"."""
        return self.wall or self.key[2]

    @property
    def along_mm(self) -> Decimal:
        """How far from the left end of its wall; for a joist where it stands, from the room's origin along `joist_axis`."""
        return Decimal(self.key[3])

    @property
    def height_mm(self) -> Decimal | None:
        """How far above the room's floor; None in a void."""
        return None if self.joist_axis else Decimal(self.key[4])

    @property
    def joist_axis(self) -> Literal["x", "y", ""]:
        """The axis along which the joists of a void are counted, square to them; empty for what is no joist."""
        if self.kind != "joist":
            return ""
        return "x" if self.key[4].startswith("y") else "y"


@dataclass(frozen=True, slots=True)
class Piece:
    """One straight piece of a route: what surrounds the cable there.

    `kind`: `lane` (along a wall, through studs), `riser` (up or down a bay), `along-joists`, `across-joists` (in a void),
    `through` (through a wall, square to it). `wall` is empty in a void, and `void` is "ceiling" or "floor" there.
    """

    kind: Literal["lane", "riser", "along-joists", "across-joists", "through"]
    room: str
    wall: str
    void: str
    start: XYZ
    end: XYZ
    length_mm: int


@dataclass(frozen=True, slots=True)
class Path:
    """A shortest way between two places: its corner points (both ends included), pieces and passages in order."""

    length_mm: int
    points: tuple[XYZ, ...]
    pieces: tuple[Piece, ...]
    passages: tuple[Passage, ...]

    @property
    def holes(self) -> Holes:
        """Passages counted by kind."""
        counts = dict.fromkeys(("stud", "plate", "joist", "wall"), 0)
        for passage in self.passages:
            counts[passage.kind] += 1
        return Holes(**counts)


@dataclass(frozen=True, slots=True)
class Leg:
    """One unbroken piece of cable between two neighbours; `start` is the end nearer the board.

    `length_mm` = route + tails (or as built); `planned_mm` is that before anyone measured. `cut_mm` is what is cut off the
    drum (as built: the length). `owner` is the circuit's or control's name.
    """

    id: str
    owner: str
    start: str
    end: str
    cable: str
    use: Use
    route_mm: int
    planned_mm: int
    length_mm: int
    cut_mm: int
    supports: int
    path: Path

    @property
    def holes(self) -> Holes:
        """Passages of the leg's own route, by kind."""
        return self.path.holes


@dataclass(frozen=True, slots=True)
class CircuitRoute:
    """One circuit: the sequence found (or given), its legs in working order, and how good it is.

    `bound_mm` is a lower bound on `route_mm`; `proven` where every problem it is made of was solved to the least. In
    `sequence` each point stands once: the feed, its spurs, then list by list of switches what hangs from them.
    """

    name: str
    board: str
    wiring: str
    cable: str
    sequence: tuple[str, ...]
    route_mm: int
    bound_mm: int
    proven: bool
    legs: tuple[Leg, ...]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def length_mm(self) -> int:
        """All its legs with their tails (or as built)."""
        return sum(leg.length_mm for leg in self.legs)


@dataclass(frozen=True, slots=True)
class ControlRoute:
    """The loop of one control, a radial from the contactor's board."""

    name: str
    board: str
    drops: tuple[str, ...]
    cable: str
    legs: tuple[Leg, ...]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def route_mm(self) -> int:
        """All its legs without tails."""
        return sum(leg.route_mm for leg in self.legs)

    @property
    def length_mm(self) -> int:
        """All its legs with their tails (or as built)."""
        return sum(leg.length_mm for leg in self.legs)


@dataclass(frozen=True, slots=True)
class RunRoute:
    """One run. With `stretches` (what it lies in, mm) it has no path; without, `path` is its way through the rooms.

    `id` is the name of the run. `end_kits` is what is made off at either end (empty: nothing). Lengths are as those of a leg.
    """

    id: str
    name: str
    cable: str
    start: str
    end: str
    route_mm: int
    planned_mm: int
    length_mm: int
    cut_mm: int
    supports: int
    path: Path | None
    stretches: tuple[tuple[str, int], ...]
    end_kits: tuple[str, str]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def holes(self) -> Holes:
        """Passages of its route; none where it was given by stretches."""
        return self.path.holes if self.path else Holes()


@dataclass(frozen=True, slots=True)
class SetOff:
    """One of several holes at one place: number 1 is where the passage is, the others `by_mm` from it along the member.

    `by_mm` is positive up a stud, along a plate or a wall away from its left end, and along a joist as x or y grows.
    """

    number: int
    of: int
    by_mm: int
    at: XYZ


@dataclass(frozen=True, slots=True)
class Drilled:
    """One drilled hole: the place, the legs and runs (ids) through it, the cables in them and the bit (None: none fits).

    `bound_by` says in words which rule the bit goes by, the rule's name (or the table's) first. Holes at one place share
    `passage`; `set_off` tells them apart, None for a hole that is alone there. `ask_first` says why to ask before drilling.
    """

    passage: Passage
    legs: tuple[str, ...]
    cables: tuple[str, ...]
    bit_mm: Decimal | None
    bound_by: str = ""
    set_off: SetOff | None = None
    ask_first: AskFirst = ""

    @property
    def at(self) -> XYZ:
        """Its own place in the building."""
        return self.set_off.at if self.set_off else self.passage.at

    @property
    def by_mm(self) -> int:
        """How far it is set off from the place along its member."""
        return self.set_off.by_mm if self.set_off else 0

    @property
    def along_mm(self) -> Decimal:
        """As `along_mm` of its passage, for its own place."""
        return self.passage.along_mm + (self.by_mm if self.passage.kind in ("plate", "wall") else 0)

    @property
    def height_mm(self) -> Decimal | None:
        """As `height_mm` of its passage, for its own place."""
        height = self.passage.height_mm
        return height if height is None or self.passage.kind != "stud" else height + self.by_mm

    @property
    def on_member_mm(self) -> int:
        """As `on_member_mm` of its passage, for its own place; through a wall that is a height, so it stays."""
        return self.passage.on_member_mm + (0 if self.passage.kind == "wall" else self.by_mm)


@dataclass(frozen=True, slots=True)
class BitTotal:
    """So many holes of one bit (None: no bit fits) in members of one kind."""

    bit_mm: Decimal | None
    kind: Member
    count: int


@dataclass(frozen=True, slots=True)
class Zone:
    """A rectangle of a wall's inside face where cables may lie, and why: along from its left end, up from the floor."""

    low_along_mm: Decimal
    high_along_mm: Decimal
    low_mm: Decimal
    high_mm: Decimal
    reason: str


@dataclass(frozen=True, slots=True)
class Line:
    """A lane (level, `at_mm` up) or riser (upright, `at_mm` along) of a wall, and why it is there.

    `stretches` are what openings leave of it, from and to along a lane or up a riser.
    """

    kind: Literal["lane", "riser"]
    at_mm: int
    stretches: tuple[tuple[int, int], ...]
    reason: str


@dataclass(frozen=True, slots=True)
class WallPlan:
    """What may go where in one wall: its cable zones, then its lanes upwards and its risers from left to right."""

    room: str
    wall: str
    zones: tuple[Zone, ...]
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Routes:
    """Everything routed: circuits, controls and runs by name, drilled holes in walking order, findings.

    `walls` are plans of all walls, room by room and clockwise.
    """

    circuits: tuple[CircuitRoute, ...]
    controls: tuple[ControlRoute, ...]
    runs: tuple[RunRoute, ...]
    drilled: tuple[Drilled, ...]
    findings: tuple[Finding, ...]
    walls: tuple[WallPlan, ...] = ()

    @property
    def legs(self) -> tuple[Leg, ...]:
        """All legs, circuits first, in their order."""
        owners: tuple[CircuitRoute | ControlRoute, ...] = (*self.circuits, *self.controls)
        return tuple(leg for owner in owners for leg in owner.legs)

    @property
    def bits(self) -> tuple[BitTotal, ...]:
        """Drilled holes by bit (the smallest first, those without one last), then by kind: stud, joist, plate, wall."""
        counts = Counter((hole.bit_mm, hole.passage.kind) for hole in self.drilled)
        kinds = get_args(Member)
        order = sorted(counts, key=lambda key: (key[0] is None, key[0] or Decimal(0), kinds.index(key[1])))
        return tuple(BitTotal(bit, kind, counts[bit, kind]) for bit, kind in order)
