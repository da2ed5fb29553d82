"""Names that a job takes from the catalogue: checked tables and a catalogue in, a problem for each that no row has.

They are looked up in the tables, not in the `Job`, so that a misspelt kind is told together with everything else that
is wrong with the file, and at the very value.
"""

from collections.abc import Iterable, Iterator

from estimator.catalogue.model import Catalogue
from estimator.job.table import Spot, Table
from estimator.problems import Problem, choose

NO_KIT = "none"
ANY_MERCHANT = "any"


def unknown_names(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    """Every kind, cable, device, kit, part, merchant, option and ruleset that the job names and no table has."""
    rulesets = sorted({ruleset for ruleset, _ in catalogue.rules})
    yield from _named(job, ("ruleset",), job.get("ruleset", str), rulesets, "rules.csv has no rule for")
    for group in job.tables("points"):
        yield from _key(group, "kind", catalogue.points, "points.csv has no kind")
    yield from _boards(job, catalogue)
    yield from _circuits(job, catalogue)
    yield from _runs(job, catalogue)
    yield from _buying(job, catalogue)
    for scenario in job.tables("scenario"):
        yield from _key(scenario, "option", catalogue.options, "options.csv has no option")


def _named(table: Table, spot: Spot, name: str | None, known: Iterable[str], lacks: str) -> Iterator[Problem]:
    names = list(known)
    if name is not None and name not in names:
        yield table.problem(spot, f'{lacks} "{name}"', choose(name, names))


def _key(table: Table, key: str, known: Iterable[str], lacks: str) -> Iterator[Problem]:
    yield from _named(table, (key,), table.get(key, str), known, lacks)


def _boards(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    for board in job.tables("board"):
        yield from _key(board, "kind", catalogue.boards, "boards.csv has no board")
        way = board.get("way", Table)
        if way is not None:
            yield from _key(way, "device", catalogue.devices, "devices.csv has no device")


def _circuits(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    for circuit in job.tables("circuit"):
        for key in ("cable", "switch_cable", "strap_cable"):
            yield from _cable(circuit, key, catalogue)
        yield from _key(circuit, "device", catalogue.devices, "devices.csv has no device")
    for control in job.tables("control"):
        yield from _cable(control, "cable", catalogue)


def _cable(table: Table, key: str, catalogue: Catalogue) -> Iterator[Problem]:
    """What a circuit or control is wired in: a row of cables.csv with cores, which a duct or a cord has not."""
    yield from _key(table, key, catalogue.cables, "cables.csv has no cable")
    name = table.get(key, str)
    row = catalogue.cables.get(name) if name is not None else None
    if row is not None and not row.cores:
        yield table.problem(key, f'"{name}" is a {row.construction}, which has no cores', "name a cable")


def _runs(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    kits = (NO_KIT, *catalogue.kits)
    for run in job.tables("run"):
        yield from _key(run, "cable", catalogue.cables, "cables.csv has no cable")
        yield from _key(run, "device", catalogue.devices, "devices.csv has no device")
        ends = run.get("ends", Table)
        if ends is not None:
            for key in ("from", "to"):
                yield from _key(ends, key, kits, "kits.csv has no kit")


def _buying(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    buying = job.get("buying", Table)
    if buying is None:
        return
    for number, name in enumerate(buying.items("merchants", str)):
        if name != ANY_MERCHANT:
            yield from _named(buying, ("merchants", number), name, catalogue.merchants, "merchants.csv has no merchant")
    for item in buying.tables("in_hand"):
        yield from _key(item, "part", catalogue.parts, "parts.csv has no part")
