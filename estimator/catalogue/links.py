"""What one table says of another: parts, prices, merchants and kits that are named must be there."""

from collections.abc import Iterator, Sequence

from estimator.catalogue.model import Catalogue, KitRow
from estimator.job.model import GROUNDS
from estimator.problems import Place, Problem, choose

Gone = tuple[tuple[str, ...], Place]
"""The key of a price that was taken out, and where."""
DIGGING = ("trench-by-hand", "trench-by-machine")
"""The kits of digging itself; what is the same either way is in the kit `trench`."""
ON_TOP = tuple(f"trench-{ground}" for ground in GROUNDS)
"""The kits of what only a trench under a lawn needs, under paving, and so on."""
KITS_OF_THEIR_OWN = ("noggin", "trench", *DIGGING, *ON_TOP, "control", "room", "job")

PER: dict[str, frozenset[str]] = {
    "points": frozenset({"point", "entry", "noggin", "circuit", "wall-hole"}),
    "boards": frozenset({"board", "circuit", "run-end"}),
    "devices": frozenset({"circuit"}),
    "cables": frozenset({"leg", "run", "metre", "support", "stud-hole", "joist-hole", "plate-hole", "wall-hole"}),
    "ends": frozenset({"run-end", "wall-hole"}),
    "noggin": frozenset({"noggin", "noggin-metre"}),
    **{
        kit: frozenset({"trench", "trench-metre", "trench-square-metre", "trench-cubic-metre"})
        for kit in ("trench", *DIGGING, *ON_TOP)
    },
    "control": frozenset({"control", "point", "board"}),
    "room": frozenset({"room"}),
    "job": frozenset({"job"}),
}
"""What `per` may count, by what names the kit.

A `trench-square-metre` is one of the bottom of a trench, a `trench-cubic-metre` one of what is dug out of it.
"""


def uses_of_kits(catalogue: Catalogue) -> dict[str, set[str]]:
    """For every kit that something names: the sorts of thing that name it (keys of `PER`)."""
    uses: dict[str, set[str]] = {kit: {kit} for kit in KITS_OF_THEIR_OWN}
    named = [
        *(("points", row.kit) for row in catalogue.points.values()),
        *(("boards", row.kit) for row in catalogue.boards.values()),
        *(("devices", row.kit) for row in catalogue.devices.values()),
        *(("cables", row.kit) for row in catalogue.cables.values()),
        *(("ends", kit) for row in catalogue.cables.values() for kit in (row.end_in, row.end_out)),
    ]
    for sort, kit in named:
        if kit:
            uses.setdefault(kit, set()).add(sort)
    return uses


def broken_links(catalogue: Catalogue, out: Sequence[Gone] = ()) -> list[Problem]:
    """Every name in one table that another lacks; `out` are prices that were taken out, by their key."""
    return [
        *_parts(catalogue, out),
        *_prices(catalogue, out),
        *_kit_names(catalogue),
        *_kit_rows(catalogue),
        *_lights(catalogue),
        *_labour(catalogue),
        *_options(catalogue),
    ]


def _parts(catalogue: Catalogue, out: Sequence[Gone]) -> Iterator[Problem]:
    named: list[tuple[str, Place]] = [
        *((key[0], place) for key, place in out),
        *((row.part, row.place) for row in catalogue.prices),
        *((row.part, row.place) for rows in catalogue.kits.values() for row in rows),
        *((row.part, row.place) for row in catalogue.boards.values()),
        *((row.part, row.place) for row in catalogue.cables.values()),
        *((row.part, row.place) for row in catalogue.devices.values()),
    ]
    for part, place in named:
        if part not in catalogue.parts:
            yield Problem(
                place, "part", f'"{part}" is no part', f"{choose(part, catalogue.parts)} or add it to parts.csv"
            )
    for row in catalogue.cables.values():
        known = catalogue.parts.get(row.part)
        if known is not None and known.sold_as != "length":
            yield Problem(
                row.place, "part", f'"{row.part}" is sold by the piece', "write sold_as length for it in parts.csv"
            )


def _prices(catalogue: Catalogue, out: Sequence[Gone]) -> Iterator[Problem]:
    named = [*((row.merchant, row.place) for row in catalogue.prices), *((key[1], place) for key, place in out)]
    for merchant, place in named:
        if merchant not in catalogue.merchants:
            yield Problem(
                place,
                "merchant",
                f'"{merchant}" is no merchant',
                f"{choose(merchant, catalogue.merchants)} or add it to merchants.csv",
            )
    # A part whose prices somebody took out is missed where a job needs it, and only there.
    priced = {row.part for row in catalogue.prices} | {key[0] for key, _ in out}
    for needed in (kit_row for rows in catalogue.kits.values() for kit_row in rows):
        if needed.quantity and needed.part in catalogue.parts and needed.part not in priced:
            yield Problem(
                needed.place,
                "part",
                f'nothing tells the price of "{needed.part}"',
                "add a row for it to prices.csv, or write quantity 0",
            )


def _kit_names(catalogue: Catalogue) -> Iterator[Problem]:
    named = [
        *((row.kit, "kit", row.place) for row in catalogue.points.values()),
        *((row.kit, "kit", row.place) for row in catalogue.boards.values()),
        *((row.kit, "kit", row.place) for row in catalogue.devices.values()),
        *((row.kit, "kit", row.place) for row in catalogue.cables.values()),
        *((row.end_in, "end_in", row.place) for row in catalogue.cables.values()),
        *((row.end_out, "end_out", row.place) for row in catalogue.cables.values()),
    ]
    for kit, column, place in named:
        if kit and kit not in catalogue.kits:
            yield Problem(
                place, column, f'"{kit}" is no kit', f"{choose(kit, catalogue.kits)} or add its rows to kits.csv"
            )


def _kit_rows(catalogue: Catalogue) -> Iterator[Problem]:
    uses = uses_of_kits(catalogue)
    for row in (kit_row for rows in catalogue.kits.values() for kit_row in rows):
        sorts = uses.get(row.kit)
        if sorts is None:
            yield Problem(
                row.place,
                "kit",
                f'nothing uses the kit "{row.kit}"',
                f"{choose(row.kit, uses)} or name it in points.csv, boards.csv, cables.csv or devices.csv",
            )
            continue
        allowed = frozenset().union(*(PER[sort] for sort in sorts))
        if row.per not in allowed:
            yield Problem(
                row.place,
                "per",
                f'"{row.per}" cannot be counted for this kit',
                f"write one of: {', '.join(sorted(allowed))}",
            )
        elif (row.kit, row.part, row.per) in KITS_MOVED:
            found = f'"{row.part}" by the metre of any trench leaves out how wide it is, and what lies on top'
            yield Problem(row.place, "per", found, KITS_MOVED[row.kit, row.part, row.per])
        elif row.quantity:
            yield from _reserved(catalogue, row)


def _reserved(catalogue: Catalogue, row: KitRow) -> Iterator[Problem]:
    # These come from set-out and routing; a kit row would count them twice.
    reserved = (
        ("a cable", {cable.part for cable in catalogue.cables.values()}),
        ("a circuit's device", {device.part for device in catalogue.devices.values()}),
        ("a board's case", {board.part for board in catalogue.boards.values()}),
    )
    for what, parts in reserved:
        if row.part in parts and not (row.kit == "control" and what == "a circuit's device"):
            yield Problem(row.place, "part", f'"{row.part}" is {what}, which is counted already', "write quantity 0")


def _lights(catalogue: Catalogue) -> Iterator[Problem]:
    for row in catalogue.lights.values():
        if row.kind not in catalogue.points:
            yield Problem(row.place, "kind", f'"{row.kind}" is no kind of point', choose(row.kind, catalogue.points))


LATER = "later"
"""The kit of labour.csv for what comes after the walls are closed."""
BOTH_WAYS = ("trench", "Dig by hand")
"""Kit and task of a row that older copies of labour.csv hold; it is counted in a kit of its own now."""
KITS_MOVED = {
    ("trench", "sand-soft", "trench-metre"): "write per trench-square-metre, and kg for a square metre of its bottom",
    (
        "trench",
        "grass-seed",
        "trench-metre",
    ): "write kit trench-lawn, per trench-square-metre, and kg for a square metre",
}
"""Rows that older copies of kits.csv hold, and what to write now: the shipped rows would count beside them."""
LABOUR_MOVED = {
    ("trench-by-hand", "Dig by hand"): "167, 267 and 800",
    ("trench-by-machine", "Dig with a mini digger"): "20, 33 and 67",
    ("trench", "Backfill and tread in"): "53, 100 and 167",
}
"""Kits and tasks that older copies of labour.csv count by the metre, and the shipped minutes for a cubic metre."""
PER_LATER = frozenset({"visit", "point", "wall", "circuit", "metre", "trench-metre"})


def _labour(catalogue: Catalogue) -> Iterator[Problem]:
    for row in catalogue.labour:
        if row.kit == LATER and row.per not in PER_LATER:
            found = f'"{row.per}" cannot be counted for the kit "{LATER}"'
            yield Problem(row.place, "per", found, f"write one of: {', '.join(sorted(PER_LATER))}")
        if (row.kit, row.task) == BOTH_WAYS:
            found = f'"{row.task}" in the kit "{row.kit}" would count for a trench dug by machine too'
            yield Problem(row.place, "kit", found, f"write {DIGGING[0]}")
        elif row.per == "trench-metre" and (row.kit, row.task) in LABOUR_MOVED:
            found = f'"{row.task}" by the metre leaves out how wide and deep a trench is'
            minutes = LABOUR_MOVED[row.kit, row.task]
            yield Problem(
                row.place, "per", found, f"write trench-cubic-metre, and minutes for one: {minutes} are shipped"
            )
        if not row.low <= row.likely <= row.high:
            found = f"{row.low}, {row.likely} and {row.high} minutes do not rise"
            yield Problem(row.place, "low, likely, high", found, "write the least first and the most last")


NEEDS: dict[str, tuple[str, ...]] = {
    "box-by-desk": ("kind", "height_mm"),
    "ceiling-alarm": ("kind", "cable", "device"),
    "corner-cable": ("kind", "cable", "height_mm"),
    "dig-by-hand": (),
    "dig-by-machine": ("amount",),
    "door-light": ("kind", "height_mm"),
    "duct": ("cable",),
    "fan": ("kind", "height_mm"),
    "larger-board": (),
    "larger-feed": (),
    "outside-circuit": ("kind", "cable", "device", "height_mm"),
    "second-cable": (),
    "services": ("amount",),
    "wall-circuit": ("kind", "cable", "device", "height_mm"),
}
"""The columns of options.csv that each action cannot do without."""


def _options(catalogue: Catalogue) -> Iterator[Problem]:
    for row in catalogue.options.values():
        named = (
            (row.kind, "kind", catalogue.points, "points.csv has no kind"),
            (row.cable, "cable", catalogue.cables, "cables.csv has no cable"),
            (row.device, "device", catalogue.devices, "devices.csv has no device"),
        )
        for name, column, known, lacks in named:
            if name is not None and name not in known:
                yield Problem(row.place, column, f'{lacks} "{name}"', choose(name, known))
        for column in NEEDS[row.action]:
            if getattr(row, column) is None:
                found = f'nothing written, and "{row.action}" needs it'
                yield Problem(row.place, column, found, f"fill in {column}")
