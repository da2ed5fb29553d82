"""The tables of the catalogue as data: for each its key, its columns with their kinds, and the row they make."""

from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from estimator.catalogue import model
from estimator.catalogue.cells import (
    Parser,
    code,
    day,
    load,
    not_negative,
    number,
    or_none,
    percent,
    positive,
    text,
    vat_of_labour,
    whole,
    word,
    yes,
)

_MUST = object()
STAGES = ("supply", "first-fix", "second-fix")
WHO = ("self", "electrician", "other")
TAILS = ("box", "light", "board", "outside", "run")
ACTIONS = (
    "box-by-desk",
    "ceiling-alarm",
    "corner-cable",
    "dig-by-hand",
    "dig-by-machine",
    "door-light",
    "duct",
    "fan",
    "larger-board",
    "larger-feed",
    "outside-circuit",
    "second-cable",
    "services",
    "wall-circuit",
)
"""What an option may do to a job: each has its function in `estimator.compare.options`."""


@dataclass(frozen=True, slots=True)
class Column:
    """One column: how a cell is read, and what stands for an empty cell (`needed`: nothing does)."""

    name: str
    parse: Parser
    empty: Any = _MUST
    field: str = ""

    @property
    def needed(self) -> bool:
        """Whether a row must fill it."""
        return self.empty is _MUST

    @property
    def attribute(self) -> str:
        """The name of the field it fills."""
        return self.field or self.name


@dataclass(frozen=True, slots=True)
class Table:
    """One CSV file: `key` columns come first and tell rows apart.

    A row with nothing, or n/a, in the column `out` takes out the rows with its key; the last column of the key left empty
    stands for all.
    """

    name: str
    row: Callable[..., Any]
    key: tuple[str, ...]
    columns: tuple[Column, ...]
    out: str = ""

    @property
    def file(self) -> str:
        """Its file name."""
        return f"{self.name}.csv"


def _texts(*names: str) -> tuple[Column, ...]:
    return tuple(Column(name, text, "") for name in names)


def _sizes(*names: str) -> tuple[Column, ...]:
    return tuple(Column(name, not_negative, Decimal(0)) for name in names)


def _maybe(*names: str) -> tuple[Column, ...]:
    return tuple(Column(name, or_none(not_negative), None) for name in names)


def _merchant(delivery: Decimal | None, **cells: Any) -> model.Merchant:
    """A merchant whose delivery counts as nothing where its cell is empty, and is not known then."""
    return model.Merchant(delivery=delivery or Decimal(0), delivery_known=delivery is not None, **cells)


_PLACE = Column("place", word("in", "out"), "in", "place_in_or_out")
_LIMIT = _texts("unit", "source", "edition", "confidence")

TABLES: tuple[Table, ...] = (
    Table(
        "parts",
        model.Part,
        ("part",),
        (
            Column("part", code),
            Column("description", text),
            *_texts("trade_name"),
            Column("section", text),
            Column("unit", text),
            Column("sold_as", word("piece", "length")),
            Column("waste", percent, Decimal(0)),
            Column("vat_rate", percent),
            Column("counter", word("electrical", "timber", "ground", "hire")),
            *_texts("match_group", "note"),
            *_maybe("weight_kg"),
        ),
    ),
    Table(
        "prices",
        model.Price,
        ("part", "merchant", "pack"),
        (
            Column("part", code),
            Column("merchant", text),
            Column("pack", positive),
            Column("price", not_negative),
            Column("vat", word("ex", "inc")),
            Column("priced_on", day),
            *_texts("match", "merchant_code", "source"),
        ),
        "price",
    ),
    Table(
        "merchants",
        _merchant,
        ("merchant",),
        (
            Column("merchant", text),
            *_maybe("delivery", "free_over", "minimum"),
            Column("currency", text),
            Column("vat", word("ex", "inc")),
            Column("vat_rate", percent),
        ),
    ),
    Table(
        "kits",
        model.KitRow,
        ("kit", "part", "stage", "per"),
        (
            Column("kit", code),
            Column("part", code),
            Column("stage", word(*STAGES)),
            Column("per", text),
            Column("quantity", not_negative),
            Column("pieces", whole, 1),
            *_texts("note", "source"),
        ),
    ),
    Table(
        "points",
        model.PointKind,
        ("kind",),
        (
            Column("kind", code),
            Column("label", text),
            Column("kit", code),
            *_texts("symbol", "use"),
            *_sizes("width_mm", "height_mm", "box_depth_mm", "plate_width_mm", "plate_height_mm"),
            Column("fixing", word("noggin", "lining", "joist", "surface")),
            Column("max_ends", or_none(whole), None),
            Column("load", or_none(load), None),
            Column("tail", word(*TAILS)),
            _PLACE,
            *_texts("height_rule"),
            Column("lit", yes, False),
        ),
    ),
    Table(
        "boards",
        model.BoardKind,
        ("kind",),
        (
            Column("kind", code),
            Column("label", text),
            Column("kit", code),
            Column("part", code),
            Column("ways", whole),
            *_sizes("width_mm", "height_mm", "depth_mm"),
            Column("tail", word(*TAILS), "board"),
            _PLACE,
        ),
    ),
    Table(
        "cables",
        model.Cable,
        ("cable",),
        (
            Column("cable", code),
            Column("part", code),
            *_texts("kit", "end_in", "end_out"),
            Column("csa_mm2", not_negative),
            *_sizes("cpc_mm2"),
            Column("cores", whole),
            *_texts("construction"),
            Column("metal", word("none", "screen", "armour"), "none"),
            Column("width_mm", positive),
            Column("height_mm", positive),
            *_maybe("r1_mohm_per_m", "r2_mohm_per_m", "mv_per_a_m"),
            *_texts("source", "edition"),
            *_maybe("max_width_mm", "max_height_mm"),
        ),
    ),
    Table(
        "lights",
        model.Light,
        ("kind",),
        (
            Column("kind", code),
            *_maybe("lumens", "watts", "beam_deg", "cutout_mm", "void_depth_mm"),
            *_texts("ip", "insulation"),
        ),
    ),
    Table(
        "devices",
        model.Device,
        ("device",),
        (
            Column("device", code),
            Column("part", code),
            *_texts("type"),
            *_maybe("rating_a", "zs_max_ohm", "icn_ka"),
            Column("ways", whole, 1),
            *_maybe("rcd_ma"),
            *_texts("source", "edition", "kit"),
        ),
    ),
    Table(
        "rules",
        model.Rule,
        ("ruleset", "rule"),
        (
            Column("ruleset", text),
            Column("rule", code),
            Column("value", or_none(number), None),
            *_texts("applies_to"),
            *_LIMIT,
        ),
    ),
    Table(
        "tables",
        model.Cell,
        ("ruleset", "table", "row", "column"),
        (
            Column("ruleset", text),
            Column("table", text),
            Column("row", text),
            Column("column", text),
            Column("value", number),
            *_LIMIT,
        ),
    ),
    Table(
        "labour",
        model.Labour,
        ("task", "who", "per", "kit"),
        (
            Column("task", text),
            Column("who", word(*WHO)),
            Column("per", text),
            Column("kit", text),
            Column("low", not_negative),
            Column("likely", not_negative),
            Column("high", not_negative),
            Column("rate", or_none(not_negative), None),
            Column("vat_rate", or_none(vat_of_labour), None),
            Column("stage", word(*STAGES)),
            *_texts("source"),
        ),
    ),
    Table(
        "works",
        model.Step,
        ("step",),
        (Column("step", text), Column("do", text), *_texts("before", "who", "open_or_ready", "late_costs", "when")),
    ),
    Table(
        "options",
        model.OptionRow,
        ("option",),
        (
            Column("option", code),
            Column("title", text),
            Column("why", text),
            Column("action", word(*ACTIONS)),
            *(Column(name, or_none(code), None) for name in ("kind", "cable", "device")),
            Column("height_mm", or_none(whole), None),
            Column("amount", or_none(not_negative), None),
            *_texts("source", "confidence"),
        ),
    ),
)
