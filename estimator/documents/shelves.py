"""What a merchant is asked for: an `Estimate` and a merchant go in, numbered lines in picking order come out.

Nothing of ours is in them: no prices, no points, no circuits, only what stands on a shelf.
"""

from collections import Counter
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.buying.model import Cut, OrderLine
from estimator.catalogue.model import Catalogue, Part
from estimator.documents.words import number
from estimator.result import Estimate
from estimator.rounding import whole_up

COUNTERS = ("electrical", "timber", "ground", "hire")
SHELVES = (
    "Cable by the drum",
    "Cable cut to length",
    "Boxes",
    "Fixings and small parts",
    "Accessories",
    "Light fittings",
    "Switchgear, to suit one make",
    "Earthing",
    "Timber and sheet",
    "Sand, duct, tape",
    "Hire",
    "Other",
)
"""In picking order; the last four are counters of their own."""
OF_SECTION = {
    "Boards and protection": "Switchgear, to suit one make",
    "Lights": "Light fittings",
    "Second fix accessories": "Accessories",
    "Data and alarms": "Accessories",
    "Earthing": "Earthing",
}
OF_COUNTER = {"timber": "Timber and sheet", "ground": "Sand, duct, tape", "hire": "Hire"}
CUT_PACK = Decimal(1)
"""What is sold by length in packs of 1 m is cut to order."""


@dataclass(frozen=True, slots=True)
class ListLine:
    """One line to be priced. `quantity` is in `unit`; `packs` are of what `pack` says."""

    number: int
    counter: str
    shelf: str
    words: str
    trade_name: str
    code: str
    quantity: Decimal
    unit: str
    pack: str
    packs: int
    one_length: str
    same_kind: bool
    note: str
    part: str


def merchants(estimate: Estimate) -> tuple[str, ...]:
    """Merchants that something is bought from, by name."""
    return tuple(sorted({line.merchant for line in estimate.order.lines}))


def list_lines(estimate: Estimate, merchant: str) -> tuple[ListLine, ...]:
    """All that is asked of a merchant, numbered, counter by counter and shelf by shelf."""
    found = [asked for line in estimate.order.lines if line.merchant == merchant for asked in _asked(estimate, line)]
    found.sort(key=lambda of: (_place(of.counter), SHELVES.index(of.shelf), of.words, of.part, of.quantity, of.pack))
    numbered = [replace(line, number=index) for index, line in enumerate(found, 1)]
    return tuple(replace(line, note=_note(estimate, line, numbered)) for line in numbered)


def _place(counter: str) -> tuple[int, str]:
    return (COUNTERS.index(counter) if counter in COUNTERS else len(COUNTERS), counter)


def _asked(estimate: Estimate, line: OrderLine) -> list[ListLine]:
    part = estimate.catalogue.parts[line.part]
    if part.sold_as == "piece":
        return [_pieces(estimate, part, line)]
    mine = [cut for cut in estimate.order.cuts if (cut.part, cut.merchant) == (line.part, line.merchant)]
    if line.pack != CUT_PACK:
        return [_lengths(estimate, part, line, [cut for cut in mine if cut.stock_mm == line.pack * 1000])]
    whole = {of.pack * 1000 for of in estimate.order.lines if (of.part, of.merchant) == (line.part, line.merchant)}
    counted = Counter(cut.stock_mm for cut in mine if cut.stock_mm not in whole or cut.stock_mm == line.pack * 1000)
    return [_cut_length(estimate, part, line, length_mm, count) for length_mm, count in sorted(counted.items())]


def _line(
    estimate: Estimate,
    part: Part,
    line: OrderLine,
    shelf: str,
    quantity: Decimal,
    pack: str,
    packs: int,
    one_length: str,
    note: str = "",
) -> ListLine:
    code = next(
        (
            price.merchant_code
            for price in estimate.catalogue.prices
            if (price.part, price.merchant, price.pack) == (line.part, line.merchant, line.pack)
        ),
        "",
    )
    return ListLine(
        0,
        part.counter,
        shelf,
        part.description,
        part.trade_name,
        code,
        quantity,
        part.unit,
        pack,
        packs,
        one_length,
        not part.match_group,
        note,
        part.part,
    )


def _pieces(estimate: Estimate, part: Part, line: OrderLine) -> ListLine:
    """Packs of what is counted or measured: as many units as are needed where all come in these packs."""
    alone = sum(of.part == line.part for of in estimate.order.lines) == 1
    quantity = _up(_needed(estimate, part.part), part.unit) if alone else line.pack * line.packs
    size = number(line.pack)
    pack = (
        ("each" if part.unit == "nr" else f"{size} {part.unit}")
        if line.pack == 1
        else (f"pack of {size}" if part.unit == "nr" else f"{size} {part.unit}")
    )
    loose = "may be in pieces" if part.unit == "m" else ""
    return _line(estimate, part, line, shelf_of(estimate.catalogue, part, False), quantity, pack, line.packs, loose)


def _needed(estimate: Estimate, part: str) -> Decimal:
    """What has to be bought of a part."""
    need = sum((line.with_waste for line in estimate.budget.bill if line.part == part), Decimal(0))
    return need - sum((bought.in_hand for bought in estimate.order.bought if bought.part == part), Decimal(0))


def _up(quantity: Decimal, unit: str) -> Decimal:
    """Whole pieces; other units to the next tenth."""
    return Decimal(whole_up(quantity)) if unit == "nr" else Decimal(whole_up(quantity * 10)) / 10


def _lengths(estimate: Estimate, part: Part, line: OrderLine, cuts: list[Cut]) -> ListLine:
    """Drums or lengths as they are sold, with the metres that are cut from them and the longest piece."""
    pieces = [length_mm for cut in cuts for _, length_mm in cut.pieces]
    metres = _up(sum(pieces, Decimal(0)).scaleb(-3), "m")
    cable = _is_cable(estimate.catalogue, part)
    pack = f"{'drum' if cable else 'length'} of {number(line.pack)} m"
    longest = number(max(pieces, default=Decimal(0)).scaleb(-3))
    note = f"{number(metres)} m needed, the longest piece {longest} m; another split is welcome if it comes cheaper"
    shelf = shelf_of(estimate.catalogue, part, False)
    return _line(estimate, part, line, shelf, metres, pack, line.packs, "one length each", note)


def _cut_length(estimate: Estimate, part: Part, line: OrderLine, length_mm: Decimal, count: int) -> ListLine:
    """Lengths cut to order: each in one piece."""
    metres = length_mm.scaleb(-3)
    note = f"{'one length' if count == 1 else f'{count} lengths'} of {number(metres)} m, cut; not in shorter pieces"
    return _line(
        estimate,
        part,
        line,
        shelf_of(estimate.catalogue, part, True),
        metres * count,
        f"cut, {number(metres)} m",
        count,
        "one length each",
        note,
    )


def _is_cable(catalogue: Catalogue, part: Part) -> bool:
    return any(cable.part == part.part for cable in catalogue.cables.values())


def shelf_of(catalogue: Catalogue, part: Part, cut: bool) -> str:
    """Where a merchant has it: by counter, then by what it is."""
    if part.counter != "electrical":
        return OF_COUNTER.get(part.counter, "Other")
    if part.section == "Earthing":
        return "Earthing"
    if _is_cable(catalogue, part):
        return "Cable cut to length" if cut else "Cable by the drum"
    if part.match_group:
        return "Switchgear, to suit one make"
    if "box" in part.description.split(";")[0].lower().split():
        return "Boxes"
    return OF_SECTION.get(part.section, "Fixings and small parts")


def _note(estimate: Estimate, line: ListLine, lines: list[ListLine]) -> str:
    """The line's own note, and which other lines it hangs together with."""
    notes = [line.note] if line.note else []
    group = estimate.catalogue.parts[line.part].match_group
    if group:
        others = [
            of.number
            for of in lines
            if of.number != line.number and estimate.catalogue.parts[of.part].match_group == group
        ]
        notes.append(
            f"one make with lines {_numbers(others)}"
            if len(others) > 1
            else f"one make with line {others[0]}"
            if others
            else "to suit the board"
        )
    same = [of.number for of in lines if of.part == line.part and of.number != line.number]
    if same and not line.one_length:
        notes.append(f"together with line {_numbers(same)}")
    return "; ".join(notes)


def _numbers(values: list[int]) -> str:
    return ", ".join(str(value) for value in values)
