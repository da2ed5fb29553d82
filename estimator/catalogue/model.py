"""The frozen `Catalogue`: what can be bought, what everything needs, and the limits of the trade, as rows.

Sizes are exact `Decimal` millimetres, money and ratios `Decimal`. `place` tells the file and row; rows are kept in
the order of their keys, so that nothing depends on the order of a file.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from types import MappingProxyType
from typing import Literal

from estimator.job.model import Stage, Stated
from estimator.problems import NOWHERE, Place

Basis = Literal["ex", "inc"]


@dataclass(frozen=True, slots=True)
class Part:
    """A thing that can be bought. `waste` and `vat_rate` are ratios; `waste` is 0 for what is sold by length.

    `weight_kg` is the weight of one unit, roughly; None: not given.
    """

    part: str
    description: str
    trade_name: str
    section: str
    unit: str
    sold_as: Literal["piece", "length"]
    waste: Decimal
    vat_rate: Decimal
    counter: str
    match_group: str
    note: str
    weight_kg: Decimal | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Price:
    """One way to buy a part: a `pack` (in the part's unit) for `price` at a merchant."""

    part: str
    merchant: str
    pack: Decimal
    price: Decimal
    vat: Basis
    priced_on: date
    match: str
    merchant_code: str
    source: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Merchant:
    """Who sells, and what delivery costs; `free_over` and `minimum` None: no such rule. `vat` is the basis of delivery.

    `delivery_known` is false where the cell is empty: nobody has told it yet, and it counts as nothing.
    """

    merchant: str
    delivery: Decimal
    free_over: Decimal | None
    minimum: Decimal | None
    currency: str
    vat: Basis
    vat_rate: Decimal
    place: Place = field(default=NOWHERE, compare=False, repr=False)
    delivery_known: bool = True


@dataclass(frozen=True, slots=True)
class KitRow:
    """`quantity` of a part (of a length: in each of `pieces` pieces) for every count of `per`."""

    kit: str
    part: str
    stage: Stage
    per: str
    quantity: Decimal
    pieces: int
    note: str
    source: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class PointKind:
    """A kind of point. Box and plate sizes in mm (0: none). `max_ends` None: not given (3 counts)."""

    kind: str
    label: str
    kit: str
    symbol: str
    use: str
    width_mm: Decimal
    height_mm: Decimal
    box_depth_mm: Decimal
    plate_width_mm: Decimal
    plate_height_mm: Decimal
    fixing: Literal["noggin", "lining", "joist", "surface"]
    max_ends: int | None
    load: Stated | None
    tail: str
    place_in_or_out: Literal["in", "out"]
    height_rule: str
    lit: bool
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    @property
    def ends_allowed(self) -> int:
        """Cable ends a tree may bring to one point of this kind."""
        return 3 if self.max_ends is None else self.max_ends

    def bottom_mm(self, centre_mm: int) -> Decimal | None:
        """Height of the lower edge of a box whose centre is at that height; None for a kind without a box."""
        return centre_mm - self.height_mm / 2 if self.height_mm else None


@dataclass(frozen=True, slots=True)
class BoardKind:
    """A kind of board."""

    kind: str
    label: str
    kit: str
    part: str
    ways: int
    width_mm: Decimal
    height_mm: Decimal
    depth_mm: Decimal
    tail: str
    place_in_or_out: Literal["in", "out"]
    place: Place = field(default=NOWHERE, compare=False, repr=False)

    def bottom_mm(self, centre_mm: int) -> Decimal | None:
        """Height of the lower edge of a board whose centre is at that height; None where its size is not given."""
        return centre_mm - self.height_mm / 2 if self.height_mm else None


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable. Width and height are those one usually meets; resistances at 20 degC; empty kit: none.

    `max_width_mm` and `max_height_mm` are the largest its standard allows, which holes are made for; None: not given.
    """

    cable: str
    part: str
    kit: str
    end_in: str
    end_out: str
    csa_mm2: Decimal
    cpc_mm2: Decimal
    cores: int
    construction: str
    metal: Literal["none", "screen", "armour"]
    width_mm: Decimal
    height_mm: Decimal
    r1_mohm_per_m: Decimal | None
    r2_mohm_per_m: Decimal | None
    mv_per_a_m: Decimal | None
    source: str
    edition: str
    max_width_mm: Decimal | None = None
    max_height_mm: Decimal | None = None
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Light:
    """What a light gives and needs; None: not given."""

    kind: str
    lumens: Decimal | None
    watts: Decimal | None
    beam_deg: Decimal | None
    cutout_mm: Decimal | None
    void_depth_mm: Decimal | None
    ip: str
    insulation: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Device:
    """A breaker or other device in a board."""

    device: str
    part: str
    type: str
    rating_a: Decimal | None
    zs_max_ohm: Decimal | None
    icn_ka: Decimal | None
    ways: int
    rcd_ma: Decimal | None
    source: str
    edition: str
    kit: str = ""
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Rule:
    """One limit. `value` is the number as text turned `Decimal`, or None where the rule is words."""

    ruleset: str
    rule: str
    value: Decimal | None
    unit: str
    applies_to: str
    source: str
    edition: str
    confidence: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell of a table of limits; a band's row is its upper limit."""

    ruleset: str
    table: str
    row: str
    column: str
    value: Decimal
    unit: str
    source: str
    edition: str
    confidence: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Labour:
    """A task of the hands: minutes as a range for every count of `per`; `rate` is money an hour, None: not priced.

    `vat_rate` is the VAT that the rate bears, None: that of the job (`allowances.vat`).
    `other` is another trade. Rows of the kit `later` are what an extra costs once the walls are closed, and no part of
    the job.
    """

    task: str
    who: Literal["self", "electrician", "other"]
    per: str
    kit: str
    low: Decimal
    likely: Decimal
    high: Decimal
    rate: Decimal | None
    vat_rate: Decimal | None
    stage: Stage
    source: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the order of works."""

    step: str
    do: str
    before: str
    who: str
    open_or_ready: str
    late_costs: str
    when: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class OptionRow:
    """Something worth doing while the walls or the ground are open: what `action` does to a job, and with what.

    `why` is one sentence for someone who doubts it. `height_mm` is above the floor. `amount` is money: for each metre of
    trench (`services`), or for each day of hire (`dig-by-machine`). None: the action needs none.
    """

    option: str
    title: str
    why: str
    action: str
    kind: str | None
    cable: str | None
    device: str | None
    height_mm: int | None
    amount: Decimal | None
    source: str
    confidence: str
    place: Place = field(default=NOWHERE, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Every table, keyed as design has it; mappings are read-only and ordered by key, options as they stand in their files."""

    parts: Mapping[str, Part]
    prices: tuple[Price, ...]
    merchants: Mapping[str, Merchant]
    kits: Mapping[str, tuple[KitRow, ...]]
    points: Mapping[str, PointKind]
    boards: Mapping[str, BoardKind]
    cables: Mapping[str, Cable]
    lights: Mapping[str, Light]
    devices: Mapping[str, Device]
    rules: Mapping[tuple[str, str], Rule]
    cells: Mapping[tuple[str, str, str, str], Cell]
    labour: tuple[Labour, ...]
    works: tuple[Step, ...]
    options: Mapping[str, OptionRow] = field(default_factory=dict)
    _columns: Mapping[tuple[str, str, str], tuple[Cell, ...]] = field(init=False, compare=False, repr=False)

    def __post_init__(self) -> None:
        """Draw the cells of every column together, since bands are asked for once for every piece of a route."""
        columns: dict[tuple[str, str, str], list[Cell]] = {}
        for (ruleset, table, _, column), cell in self.cells.items():
            columns.setdefault((ruleset, table, column), []).append(cell)
        object.__setattr__(self, "_columns", MappingProxyType({key: tuple(of) for key, of in columns.items()}))

    def rule_mm(self, ruleset: str, rule: str) -> Decimal:
        """The value of a rule; raises KeyError where the table has none (the reader asks for those we need)."""
        value = self.rules[ruleset, rule].value
        if value is None:
            raise KeyError((ruleset, rule))
        return value

    def band(self, ruleset: str, table: str, column: str, value: Decimal) -> Cell | None:
        """The cell of the narrowest band (rows are upper limits) that still holds `value`; None above all bands."""
        cells = self._columns.get((ruleset, table, column), ())
        bands = [(upper, cell) for cell in cells if (upper := Decimal(cell.row)) >= value]
        return min(bands, key=lambda band: band[0])[1] if bands else None
