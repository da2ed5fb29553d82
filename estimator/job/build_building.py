"""Rooms with their frames, from checked tables -> the rooms of the frozen `Job`."""

from collections.abc import Mapping
from decimal import Decimal
from typing import cast

from estimator.job.corners import corners, wall_names
from estimator.job.model import (
    Fitted,
    Fixings,
    Frame,
    Layer,
    NogginTimber,
    Opening,
    Room,
    Section,
    Soffit,
    Void,
)
from estimator.job.phrases import Hole, Insulation
from estimator.job.table import Table
from estimator.problems import Place


def rooms(job: Table) -> tuple[Room, ...]:
    """All rooms, in the order of the file."""
    return tuple(_room(job, room) for room in job.tables("room"))


def _room(job: Table, room: Table) -> Room:
    names = wall_names(room)
    found = corners(room)
    if names is None or found is None:
        raise KeyError("outline")
    x, y = room.items("at", int)
    return Room(
        name=room.must("name", str),
        corners=found,
        wall_names=names,
        frames=tuple(_frame(frame_layers(job, room, name)) for name in names),
        at=(x, y),
        floor_level_mm=room.must("floor_level", int),
        ground_mm=room.get("ground", int),
        height_mm=room.must("height", int),
        ceiling=_void(room, "ceiling", True),
        floor=_void(room, "floor", False),
        openings=tuple(_opening(table) for table in room.tables("opening")),
        fitted=tuple(_fitted(table) for table in room.tables("fitted")),
        soffits=tuple(_soffit(table) for table in room.tables("soffit")),
        place=room.place(),
    )


def frame_layers(job: Table, room: Table, wall: str) -> tuple[Table, ...]:
    """The frame tables that hold for a wall, the widest first; each overrides those before it, key by key."""
    layers = [job.get("frame", Table), room.get("frame", Table)]
    layers += [table.get("frame", Table) for table in room.tables("wall") if table.name == wall]
    return tuple(layer for layer in layers if layer is not None)


def _frame(layers: tuple[Table, ...]) -> Frame:
    values: dict[str, object] = {}
    for layer in layers:
        # A key left out of an inner table has its default there too, which must not hide what the outer one says.
        values |= {key: layer.values[key] for key in layer.values if key not in values or layer.has(key)}
    return _frame_of(values, layers[-1].place())


def _frame_of(values: Mapping[str, object], place: Place) -> Frame:
    stud = cast(Section, values["stud"])
    insulation = cast(Insulation | None, values.get("insulation"))
    return Frame(
        stud=stud,
        centres_mm=cast(int, values["centres"]),
        inside=cast(tuple[Layer, ...], values.get("inside", ())),
        outside=cast(tuple[Layer, ...], values.get("outside", ())),
        insulation=insulation.layer if insulation else None,
        insulation_given=insulation is not None,
        vapour_layer=cast(bool | None, values.get("vapour_layer")),
        gap_mm=cast(Decimal, values["gap"]),
        noggin=cast(NogginTimber, values.get("noggin", NogginTimber(stud, on_edge=False))),
        hole_from_back_mm=cast(Hole, values["hole"]).from_back_mm,
        cable_zones=values["cable_zones"],  # type: ignore[arg-type]  # one of the words of its kind
        support=values["support"],  # type: ignore[arg-type]  # one of the words of its kind
        place=place,
    )


def _void(room: Table, key: str, there: bool) -> Void:
    table = room.get(key, Table)
    if table is None:
        return Void(there, None, None, None, None, room.place())
    span = table.get("span", str)
    insulation = table.get("insulation", Insulation)
    return Void(
        void=table.must("void", bool),
        joist=table.get("joist", Section),
        centres_mm=table.get("centres", int),
        joists_along=None if span is None else "x" if span == "along x" else "y",
        insulation=insulation.layer if insulation else None,
        place=table.place(),
    )


def _opening(table: Table) -> Opening:
    return Opening(
        kind=table.must("kind", str),  # type: ignore[arg-type]  # one of the words of its kind
        wall=table.must("wall", str),
        along_mm=table.must("along", int),
        width_mm=table.must("width", int),
        sill_mm=table.get("sill", int) or 0,
        head_mm=table.must("head", int),
        place=table.place(),
    )


def _fitted(table: Table) -> Fitted:
    return Fitted(
        name=table.must("name", str),
        wall=table.must("wall", str),
        along_mm=table.must("along", int),
        width_mm=table.must("width", int),
        from_mm=table.must("from", int),
        to_mm=table.must("to", int),
        fixings=table.get("fixings", Fixings),
        place=table.place(),
    )


def _soffit(table: Table) -> Soffit:
    return Soffit(table.must("wall", str), table.must("depth", int), table.place())
