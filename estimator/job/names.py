"""Names that a job takes from the catalogue: checked tables and a catalogue in, a problem for each that no row has.

They are looked up in the tables, not in the `Job`, so that a misspelt kind is told together with everything else that
is wrong with the file, and at the very value.
"""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from estimator.catalogue.codes import boards, cables, devices, kinds, offer, options, parts
from estimator.catalogue.model import Catalogue
from estimator.job.table import Spot, Table
from estimator.problems import Problem, choose

NO_KIT = "none"
ANY_MERCHANT = "any"


def unknown_names(job: Table, catalogue: Catalogue) -> Iterator[Problem]:
    """Every kind, cable, device, kit, part, merchant, option and ruleset that the job names and no table has.

    All that a table has is listed once, with the first name that it lacks.
    """
    names = _Names(job, catalogue)
    rulesets = sorted({ruleset for ruleset, _ in catalogue.rules})
    yield from _named(job, ("ruleset",), job.get("ruleset", str), rulesets, "rules.csv has no rule for")
    for group in job.tables("points"):
        yield from names.kind(group)
    yield from _boards(job, names)
    yield from _circuits(job, names)
    yield from _runs(job, names)
    yield from _buying(job, names)
    for scenario in job.tables("scenario"):
        yield from names.option(scenario)


@dataclass(slots=True)
class _Names:
    """Looks codes up; what was listed once is not listed again."""

    job: Table
    catalogue: Catalogue
    listed: set[str] = field(default_factory=set)

    def kind(self, group: Table) -> Iterator[Problem]:
        yield from self.code(group, "kind", kinds(self.catalogue), "points.csv has no kind")

    def board(self, board: Table) -> Iterator[Problem]:
        yield from self.code(board, "kind", boards(self.catalogue), "boards.csv has no board")

    def device(self, table: Table) -> Iterator[Problem]:
        yield from self.code(table, "device", devices(self.catalogue), "devices.csv has no device")

    def cable(self, table: Table, key: str = "cable") -> Iterator[Problem]:
        yield from self.code(table, key, cables(self.catalogue), "cables.csv has no cable")

    def part(self, item: Table) -> Iterator[Problem]:
        yield from self.code(item, "part", parts(self.catalogue), "parts.csv has no part")

    def option(self, scenario: Table) -> Iterator[Problem]:
        yield from self.code(scenario, "option", options(self.catalogue), "options.csv has no option")

    def code(self, table: Table, key: str, known: Mapping[str, str], lacks: str) -> Iterator[Problem]:
        """A problem where a table names a code that is not known."""
        name = table.get(key, str)
        if name is not None and name not in known:
            hint = offer(name, known, lacks not in self.listed)
            self.listed.add(lacks)
            yield table.problem(key, f'{lacks} "{name}"', hint)


def _named(table: Table, spot: Spot, name: str | None, known: Iterable[str], lacks: str) -> Iterator[Problem]:
    names = list(known)
    if name is not None and name not in names:
        yield table.problem(spot, f'{lacks} "{name}"', choose(name, names))


def _boards(job: Table, names: _Names) -> Iterator[Problem]:
    for board in job.tables("board"):
        yield from names.board(board)
        way = board.get("way", Table)
        if way is not None:
            yield from names.device(way)


def _circuits(job: Table, names: _Names) -> Iterator[Problem]:
    for circuit in job.tables("circuit"):
        for key in ("cable", "switch_cable", "strap_cable"):
            yield from _cable(circuit, key, names)
        yield from names.device(circuit)
    for control in job.tables("control"):
        yield from _cable(control, "cable", names)


def _cable(table: Table, key: str, names: _Names) -> Iterator[Problem]:
    """What a circuit or control is wired in: a row of cables.csv with cores, which a duct or a cord has not."""
    yield from names.cable(table, key)
    name = table.get(key, str)
    row = names.catalogue.cables.get(name) if name is not None else None
    if row is not None and not row.cores:
        yield table.problem(key, f'"{name}" is a {row.construction}, which has no cores', "name a cable")


def _runs(job: Table, names: _Names) -> Iterator[Problem]:
    kits = (NO_KIT, *names.catalogue.kits)
    for run in job.tables("run"):
        yield from names.cable(run)
        yield from names.device(run)
        ends = run.get("ends", Table)
        if ends is not None:
            for key in ("from", "to"):
                yield from _named(ends, (key,), ends.get(key, str), kits, "kits.csv has no kit")


def _buying(job: Table, names: _Names) -> Iterator[Problem]:
    buying = job.get("buying", Table)
    if buying is None:
        return
    merchants = names.catalogue.merchants
    for number, name in enumerate(buying.items("merchants", str)):
        if name != ANY_MERCHANT:
            yield from _named(buying, ("merchants", number), name, merchants, "merchants.csv has no merchant")
    for item in buying.tables("in_hand"):
        yield from names.part(item)
