"""What changes in the packs, in words: rows of packs before and after go in, a sentence for each part comes out."""

from collections.abc import Iterable
from decimal import Decimal

from estimator.catalogue.model import Catalogue, Part
from estimator.compare.differences import PackRow
from estimator.documents.words import merchant_words, number

COILED = ("duct", "cord")
"""Constructions in cables.csv that are no cable."""
SHIFTED = "other packs at each merchant, as many in all"


def pack_words(catalogue: Catalogue, rows: Iterable[PackRow]) -> tuple[str, ...]:
    """What changes in the packs, a sentence for each part: `Steel box; twin: 1 more pack of 10, 8 fewer single ones`.

    Where a part comes from another merchant than before, that is told after the packs.
    """
    by_part: dict[str, list[PackRow]] = {}
    for row in rows:
        by_part.setdefault(row.part, []).append(row)
    return tuple(
        f"{part_words(catalogue.parts[part])}: {', '.join((*_packs(catalogue, found), *_moved(found)) or (SHIFTED,))}"
        for part, found in sorted(by_part.items())
    )


def whoever_sells(rows: Iterable[PackRow]) -> tuple[PackRow, ...]:
    """The rows with all merchants of a pack as one, by part and pack; what then stays the same is left out."""
    counts: dict[tuple[str, Decimal], tuple[int, int]] = {}
    for row in rows:
        before, after = counts.get((row.part, row.pack), (0, 0))
        counts[row.part, row.pack] = before + row.before, after + row.after
    return tuple(
        PackRow(part, "", pack, before, after)
        for (part, pack), (before, after) in sorted(counts.items())
        if before != after
    )


def _packs(catalogue: Catalogue, rows: Iterable[PackRow]) -> tuple[str, ...]:
    """Packs that there are more of, then those that there are fewer of."""
    found = sorted(whoever_sells(rows), key=lambda row: (row.after < row.before, row.pack))
    return tuple(_more(catalogue, row) for row in found)


def _moved(rows: Iterable[PackRow]) -> tuple[str, ...]:
    """`from NORTH in place of SOUTH`, where one sells more of it and another less."""
    units: dict[str, Decimal] = {}
    for row in rows:
        units[row.merchant] = units.get(row.merchant, Decimal(0)) + row.pack * (row.after - row.before)
    to = [merchant_words(name) for name, more in sorted(units.items()) if more > 0]
    left = [merchant_words(name) for name, more in sorted(units.items()) if more < 0]
    return (f"from {' and '.join(to)} in place of {' and '.join(left)}",) if to and left else ()


def part_words(part: Part) -> str:
    """A part in few words: its trade name, else the start of its description."""
    return part.trade_name or part.description.split(";")[0]


def _more(catalogue: Catalogue, row: PackRow) -> str:
    """`1 more drum of 25 m`, `8 fewer single ones`, `3 m more cut to length`."""
    count = abs(row.after - row.before)
    more = row.after > row.before
    part = catalogue.parts[row.part]
    if part.sold_as == "length" and row.pack == 1:
        return f"{count} m {'more' if more else 'less'} cut to length"
    return f"{count} {'more' if more else 'fewer'} {pack_name(catalogue, part, row.pack, count)}"


def pack_name(catalogue: Catalogue, part: Part, pack: Decimal, count: int) -> str:
    """What so many packs are called: `drum of 25 m`, `packs of 10`, `single ones`."""
    many = "" if count == 1 else "s"
    if part.sold_as == "length":
        return f"{_length_name(catalogue, part)}{many} of {number(pack)} m"
    if pack == 1 and part.unit == "nr":
        return f"single one{many}"
    return f"pack{many} of {number(pack)}{'' if part.unit == 'nr' else f' {part.unit}'}"


def _length_name(catalogue: Catalogue, part: Part) -> str:
    """What is cut from is called: a `drum` of cable, a `coil` of what is laid like one, else a `length`."""
    of = next((cable for cable in catalogue.cables.values() if cable.part == part.part), None)
    return "length" if of is None else "coil" if of.construction in COILED else "drum"
