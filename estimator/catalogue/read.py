"""The catalogue from the shipped tables and, over them, those beside the job: files in, a checked `Catalogue` out."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from types import MappingProxyType
from typing import Any

from estimator.catalogue.columns import TABLES
from estimator.catalogue.links import broken_links
from estimator.catalogue.model import Catalogue, KitRow
from estimator.catalogue.rows import Source, TakenOut, rows_of
from estimator.problems import Problem, Refused

FEW = 5
"""So many more rows with the same fault are named."""
Rows = dict[tuple[str, ...], Any]


def read_catalogue(folder: Path | None, instead: Mapping[str, bytes] = MappingProxyType({})) -> Catalogue:
    """The shipped catalogue; rows of CSV files in `folder` add to it, and replace or take out those with the same key.

    `instead` holds files by name as they would be, and counts for those in the folder.

    Raises:
        Refused: a table cannot be read, or names what is not there; every problem of every file at once.
        OSError: a file beside the job cannot be opened.
    """
    from estimator.resources import read_bytes

    shipped = {table.name: Source(f"catalogues/{table.file}", read_bytes("catalogues", table.file)) for table in TABLES}
    own = beside(folder) if folder else {}
    for table in TABLES:
        if table.file in instead:
            own[table.name] = Source(str(folder / table.file) if folder else table.file, instead[table.file])
    return assemble(shipped, own)


def beside(folder: Path) -> dict[str, Source]:
    """The catalogue files that stand beside a job."""
    return {
        table.name: Source(str(folder / table.file), (folder / table.file).read_bytes())
        for table in TABLES
        if (folder / table.file).is_file()
    }


def assemble(shipped: Mapping[str, Source], own: Mapping[str, Source]) -> Catalogue:
    """Tables by name, shipped and the user's own, as one catalogue. Raises Refused as `read_catalogue` does."""
    tables: dict[str, Rows] = {}
    problems: list[Problem] = []
    out: list[TakenOut] = []
    for table in TABLES:
        rows: Rows = {}
        for sources in (shipped, own):
            if table.name in sources:
                found, wrong = rows_of(table, sources[table.name])
                rows = _over(rows, found)
                out += [of for of in found.values() if isinstance(of, TakenOut)]
                problems += wrong
        tables[table.name] = rows
    if problems:
        raise Refused(problems)
    catalogue = _catalogue(tables)
    problems += folded(broken_links(catalogue, [(of.key, of.place) for of in out]))
    if problems:
        raise Refused(problems)
    return catalogue


def folded(problems: Iterable[Problem]) -> list[Problem]:
    """Problems that say the same of many rows of a file as one, at the first of them, with the rows of the others."""
    same: dict[tuple[str, str, str, str], list[Problem]] = {}
    for of in problems:
        same.setdefault((of.place.file, of.where, of.found, of.write), []).append(of)
    return [_as_one(sorted(of, key=lambda one: one.place)) for of in same.values()]


def _as_one(same: list[Problem]) -> Problem:
    rows = sorted({of.place.line for of in same[1:] if of.place.line is not None})
    if not rows:
        return same[0]
    few = ", ".join(str(row) for row in rows[:FEW])
    more = f"{few} and {len(rows) - FEW} more" if len(rows) > FEW else few
    return replace(same[0], found=f"{same[0].found}, here and in row{'s' if len(rows) > 1 else ''} {more}")


def _over(rows: Rows, found: Rows) -> Rows:
    """Rows with those of another file over them: it adds, replaces and takes out."""
    out = [of for of in found.values() if isinstance(of, TakenOut)]
    kept = {key: row for key, row in rows.items() if not any(of.means(key) for of in out)}
    return kept | {key: row for key, row in found.items() if not isinstance(row, TakenOut)}


def _catalogue(tables: Mapping[str, Rows]) -> Catalogue:
    def one(name: str) -> Mapping[str, Any]:
        return MappingProxyType({key[0]: row for key, row in sorted(tables[name].items())})

    def many(name: str) -> Mapping[tuple[str, ...], Any]:
        return MappingProxyType(dict(sorted(tables[name].items())))

    return Catalogue(
        parts=one("parts"),
        prices=tuple(_by_pack(tables["prices"].values())),
        merchants=one("merchants"),
        kits=_kits(tables["kits"]),
        points=one("points"),
        boards=one("boards"),
        cables=one("cables"),
        lights=one("lights"),
        devices=one("devices"),
        rules=many("rules"),  # type: ignore[arg-type]  # pairs
        cells=many("tables"),  # type: ignore[arg-type]  # keys of four
        labour=tuple(row for _, row in sorted(tables["labour"].items())),
        works=tuple(tables["works"].values()),
        options=MappingProxyType({key[0]: row for key, row in tables["options"].items()}),
    )


def _by_pack(prices: Iterable[Any]) -> list[Any]:
    return sorted(prices, key=lambda price: (price.part, price.merchant, price.pack))


def _kits(rows: Rows) -> Mapping[str, tuple[KitRow, ...]]:
    kits: dict[str, list[KitRow]] = {}
    for _, row in sorted(rows.items()):
        kits.setdefault(row.kit, []).append(row)
    return MappingProxyType({kit: tuple(of) for kit, of in kits.items()})
