"""What the quote assumed and where its figures come from: an `Estimate` goes in, rows of text come out."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from estimator.catalogue.model import Catalogue
from estimator.documents import words
from estimator.job.model import Frame, Job, Layer, Room
from estimator.result import Estimate

KEPT = (
    "box-to-stud",
    "box-to-corner",
    "box-to-corner-note",
    "box-to-opening",
    "plate-air",
    "noggin-share-height",
    "downlight-joist-clear",
    "back-to-back-walls",
    "hole-air",
    "stud-hole-max-ratio",
    "joist-hole-max-ratio",
    "spare-ways-share",
)
"""Rules that set-out and routing go by, in the order in which they are told."""

CONFIDENCE = {
    "published": "read in the document named",
    "secondary": "second hand: from a page that quotes it",
    "worked-out": "worked out from the document named",
    "memory": "common practice or from memory: ask before relying on it",
}


@dataclass(frozen=True, slots=True)
class Row:
    """Something and what is said of it."""

    name: str
    value: str
    note: str = ""


def assumptions(job: Job) -> tuple[Row, ...]:
    """Allowances, tails and frames."""
    allowed = job.allowances
    return (
        Row("Cable waste", words.percent(allowed.cable_waste), "of every leg"),
        Row("Extra on every leg", f"{allowed.leg_extra_mm} mm", "bends, rise to the knock-out"),
        *(Row(f"Tail, {key}", f"{length} mm", "left at each end, beyond the box") for key, length in allowed.tails_mm),
        Row("Saw cut", f"{words.number(allowed.kerf_mm)} mm", "between pieces of timber"),
        *_alike(frame for room in job.rooms for frame in _frames(room)),
        *_alike(void for room in job.rooms for void in _voids(room)),
    )


def _alike(rows: Iterable[Row]) -> Iterator[Row]:
    """Rows that say the same of several things made one, in the order of the first; a row's name is a head, `: `, and one thing."""
    found: dict[tuple[str, str, str], list[str]] = {}
    for row in rows:
        head, _, thing = row.name.partition(": ")
        found.setdefault((head, row.value, row.note), []).append(thing)
    for (head, value, note), things in found.items():
        yield Row(f"{head}: {', '.join(things)}", value, note)


def _frames(room: Room) -> Iterator[Row]:
    """The frame of each wall, walls of one frame together."""
    seen: list[Frame] = []
    for frame in room.frames:
        if frame not in seen:
            seen.append(frame)
    for frame in seen:
        names = [name for name, of in zip(room.wall_names, room.frames, strict=True) if of == frame]
        walls = "all walls" if len(seen) == 1 else ", ".join(names)
        yield Row(f"Frame: {room.name} ({walls})", _studs(frame), _cover(frame))


def _studs(frame: Frame) -> str:
    stud = frame.stud
    return (
        f"{words.number(stud.thickness_mm)} x {words.number(stud.depth_mm)} mm studs at {frame.centres_mm} mm; noggins "
        f"{frame.noggin.section.part.removeprefix('timber-').replace('x', ' x ')} mm "
        f"{'on edge' if frame.noggin.on_edge else 'flat'}"
    )


def _cover(frame: Frame) -> str:
    if frame.insulation is not None:
        filled = _layer(frame.insulation)
    else:
        filled = "no insulation" if frame.insulation_given else "insulation not told"
    return f"inside: {_layers(frame.inside)}; outside: {_layers(frame.outside)}; {filled}"


def _layers(layers: Sequence[Layer]) -> str:
    return ", ".join(_layer(layer) for layer in layers) or "nothing"


def _layer(layer: Layer) -> str:
    return f"{words.number(layer.thickness_mm)} mm {layer.material}".rstrip()


def _voids(room: Room) -> Iterator[Row]:
    for name, void in (("Ceiling", room.ceiling), ("Floor", room.floor)):
        if not void.void:
            continue
        if void.joist is None:
            yield Row(f"{name}: {room.name}", "joists not told", "")
            continue
        yield Row(
            f"{name}: {room.name}",
            f"{words.number(void.joist.thickness_mm)} x {words.number(void.joist.depth_mm)} mm joists at "
            f"{void.centres_mm} mm, along {void.joists_along}",
            f"insulation {_layer(void.insulation)}" if void.insulation else "",
        )


def distances(job: Job, catalogue: Catalogue) -> tuple[Row, ...]:
    """Limits that set-out and routing went by: what for, how much, and where it comes from."""
    rules = (catalogue.rules.get((job.ruleset, name)) for name in KEPT)
    return tuple(
        Row(
            rule.applies_to,
            f"{words.number(rule.value)} {_unit(rule.unit)}".strip(),
            f"{_source(rule.source, rule.edition)} ({rule.confidence})",
        )
        for rule in rules
        if rule is not None and rule.value is not None
    )


def _unit(unit: str) -> str:
    return "" if unit == "ratio" else unit


def _source(source: str, edition: str) -> str:
    return f"{source}, {edition}" if edition and edition not in source else source


def sources(estimate: Estimate) -> tuple[Row, ...]:
    """Where prices, contents of kits, times, cables and devices come from, with how many rows rest on each."""
    catalogue, job = estimate.catalogue, estimate.job
    bought = {(line.part, line.merchant, line.pack) for line in estimate.order.lines}
    prices = (price.source for price in catalogue.prices if (price.part, price.merchant, price.pack) in bought)
    cables = {leg.cable for leg in estimate.routes.legs} | {run.cable for run in estimate.routes.runs}
    devices = {circuit.device for circuit in job.circuits}
    return (
        *_counted("Prices of the order", prices),
        *_counted("What a point, an entry, a metre needs", _kit_sources(estimate)),
        *_counted("Times of work", (row.source for row in catalogue.labour)),
        *_cables(catalogue, cables),
        *_counted(
            "Devices",
            (
                _source(catalogue.devices[name].source, catalogue.devices[name].edition)
                for name in sorted(devices)
                if name in catalogue.devices
            ),
        ),
    )


def _cables(catalogue: Catalogue, used: Iterable[str]) -> Iterator[Row]:
    """Sources of the data of cables, with the cables that share one."""
    found: dict[str, list[str]] = {}
    for name in sorted(used):
        if name in catalogue.cables:
            found.setdefault(_source(catalogue.cables[name].source, catalogue.cables[name].edition), []).append(name)
    for source, names in found.items():
        yield Row(f"Cable {', '.join(names)}", source)


def _kit_sources(estimate: Estimate) -> Iterator[str]:
    """Sources of the rows of kits whose part the bill holds."""
    used = {line.part for line in estimate.budget.bill}
    return (row.source for rows in estimate.catalogue.kits.values() for row in rows if row.part in used)


def _counted(name: str, found: Iterable[str]) -> Iterator[Row]:
    counts = Counter(found)
    for source, count in sorted(counts.items(), key=lambda one: (-one[1], one[0])):
        yield Row(name, source or "no source given", f"{count} row{'s' if count != 1 else ''}")
