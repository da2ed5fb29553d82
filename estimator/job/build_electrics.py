"""Boards, points, circuits, controls, trenches, runs and measured lengths, from checked tables -> the frozen `Job`'s."""

from typing import cast

from estimator.job.model import (
    AsBuilt,
    At,
    Board,
    Circuit,
    Control,
    Dig,
    FlatPlace,
    Grid,
    Group,
    Height,
    OnWalls,
    Placing,
    Run,
    Spread,
    Stated,
    Stretch,
    Supply,
    Trench,
    WallPlace,
    Way,
)
from estimator.job.table import Table
from estimator.quantities import Quantity


def supply(job: Table) -> Supply | None:
    """The supply, where there is a word of it."""
    table = job.get("supply", Table)
    if table is None:
        return None
    return Supply(
        table.get("earthing", str),
        _stated(table, "external_impedance"),
        _stated(table, "voltage"),
        _stated(table, "main_fuse"),
        table.place(),
    )


def _stated(table: Table, key: str) -> Stated | None:
    told = table.values.get(key)
    quantity = told.must("value", Quantity) if isinstance(told, Table) else table.get(key, Quantity)
    basis = told.must("basis", str) if isinstance(told, Table) else ""
    return None if quantity is None else Stated(quantity.value, quantity.unit, basis)


def boards(job: Table) -> tuple[Board, ...]:
    """All boards, in the order of the file."""
    return tuple(_board(table) for table in job.tables("board"))


def _board(table: Table) -> Board:
    way = table.get("way", Table)
    return Board(
        name=table.must("name", str),
        kind=table.get("kind", str),
        fed_by=table.get("fed_by", str),
        outside_job=table.must("outside_job", bool),
        way=None if way is None else Way(way.must("device", str), way.must("spare", bool)),
        room=table.get("room", str),
        wall=table.get("wall", str),
        along_mm=table.get("along", int),
        height=table.get("height", Height),
        place=table.place(),
    )


def groups(job: Table) -> tuple[Group, ...]:
    """All groups of points, in the order of the file."""
    return tuple(_group(table) for table in job.tables("points"))


def _group(table: Table) -> Group:
    return Group(
        name=table.must("name", str),
        kind=table.must("kind", str),
        circuit=table.get("circuit", str),
        switched_by=table.items("switched_by", str),
        room=table.must("room", str),
        surface=table.must("surface", str),  # type: ignore[arg-type]  # one of the words of its kind
        height=table.get("height", Height),
        placing=_placing(table),
        out_mm=table.get("out", int),
        avoid=table.items("avoid", str),
        load=_stated(table, "load"),
        priority=table.get("priority", int),
        place=table.place(),
    )


def _placing(table: Table) -> Placing:
    if table.has("spread"):
        return Spread(table.must("spread", int), table.get("wall", str), table.get("centres", int))
    if table.has("on"):
        return OnWalls(tuple((wall, cast(int, count)) for wall, count in table.pairs("on")))
    if table.has("at"):
        return _at(table)
    return Grid(table.must("rows", int), table.must("columns", int), _edge(table))


def _edge(table: Table) -> tuple[int, int] | None:
    edge = table.values.get("edge")
    if isinstance(edge, int):
        return edge, edge
    return cast(tuple[int, int] | None, edge)


def _at(table: Table) -> At:
    places = table.items("at", object)
    if table.get("surface", str) in ("ceiling", "floor"):
        return At(tuple(
            FlatPlace(pair[0], pair[1], table.place("at", number))
            for number, pair in enumerate(cast(tuple[tuple[int, int], ...], places))
        ))  # fmt: skip
    return At(tuple(_wall_place(table, number, item) for number, item in enumerate(places)))


def _wall_place(table: Table, number: int, item: object) -> WallPlace:
    if isinstance(item, Table):
        return WallPlace(item.must("wall", str), item.must("along", int), item.get("height", Height), item.place())
    return WallPlace(table.must("wall", str), cast(int, item), None, table.place("at", number))


def circuits(job: Table) -> tuple[Circuit, ...]:
    """All circuits, in the order of the file."""
    return tuple(_circuit(table) for table in job.tables("circuit"))


def _circuit(table: Table) -> Circuit:
    return Circuit(
        name=table.must("name", str),
        board=table.must("board", str),
        wiring=table.must("wiring", str),  # type: ignore[arg-type]  # one of the words of its kind
        cable=table.must("cable", str),
        device=table.must("device", str),
        sequence=table.items("sequence", str),
        first=table.items("first", str),
        last=table.items("last", str),
        switch_cable=table.get("switch_cable", str),
        strap_cable=table.get("strap_cable", str),
        spurs=cast(tuple[tuple[str, str], ...], table.pairs("spurs")),
        legs=cast(tuple[tuple[str, str], ...], table.items("legs", tuple)),
        keep_to=table.must("keep_to", str),  # type: ignore[arg-type]  # one of the words of its kind
        switching=table.must("switching", str),  # type: ignore[arg-type]  # one of the words of its kind
        place=table.place(),
    )


def controls(job: Table) -> tuple[Control, ...]:
    """All controls, in the order of the file."""
    return tuple(
        Control(
            name=table.must("name", str),
            drops=table.items("drops", str),
            contactor=table.must("contactor", str),
            buttons=table.items("buttons", str),
            start=table.must("start", str),
            cable=table.must("cable", str),
            place=table.place(),
        )
        for table in job.tables("control")
    )


def trenches(job: Table) -> tuple[Trench, ...]:
    """All trenches, in the order of the file."""
    return tuple(
        Trench(
            name=table.must("name", str),
            stretches=tuple(_dig(dig) for dig in table.tables("stretches")),
            dig=table.must("dig", str),  # type: ignore[arg-type]  # one of the words of its kind
            place=table.place(),
        )
        for table in job.tables("trench")
    )


def _dig(table: Table) -> Dig:
    length, depth, width = (table.must(key, int) for key in ("length", "depth", "width"))
    return Dig(length, depth, width, table.must("surface", str))  # type: ignore[arg-type]  # one of the words of its kind


def runs(job: Table, known: tuple[Trench, ...]) -> tuple[Run, ...]:
    """All runs, in the order of the file; a stretch without a length takes the whole of its trench."""
    whole = {trench.name: trench.length_mm for trench in known}
    return tuple(_run(table, whole) for table in job.tables("run"))


def _run(table: Table, whole_mm: dict[str, int]) -> Run:
    ends = table.get("ends", Table)
    return Run(
        name=table.must("name", str),
        cable=table.must("cable", str),
        start=table.must("from", str),
        end=table.must("to", str),
        stretches=tuple(_stretch(part, whole_mm) for part in table.tables("stretches")),
        entry_mm=table.must("entry", int),
        device=table.get("device", str),
        end_kits=(ends.get("from", str), ends.get("to", str)) if ends else (None, None),
        place=table.place(),
    )


def _stretch(table: Table, whole_mm: dict[str, int]) -> Stretch:
    trench, length = table.get("trench", str), table.get("length", int)
    if length is None:
        return Stretch(trench, whole_mm[table.must("trench", str)])
    return Stretch(trench, length)


def as_built(job: Table) -> tuple[AsBuilt, ...]:
    """All measured lengths, in the order of the file."""
    return tuple(
        AsBuilt(
            start=table.must("from", str),
            end=table.must("to", str),
            circuit=table.get("circuit", str),
            run=table.get("run", str),
            length_mm=table.must("length", int),
            place=table.place(),
        )
        for table in job.tables("as_built")
    )
