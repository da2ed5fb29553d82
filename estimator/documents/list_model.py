"""Lines of a list to be priced as values, the shelf each is picked from, and their order: `ListLine`s in, sorted and numbered out."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.catalogue.model import Catalogue, Part

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


@dataclass(frozen=True, slots=True)
class ListLine:
    """One line to be priced. `quantity` is in `unit`; `packs` are of what `pack` says, and 0 where that is left open.

    `pack_size` is what one pack holds, in `unit` (None: left open); `weight_kg` is of the whole line (None: not known).
    """

    number: int
    trip: int
    counter: str
    shelf: str
    words: str
    trade_name: str
    size_finish: str
    code: str
    quantity: Decimal
    unit: str
    pack: str
    pack_size: Decimal | None
    packs: int
    one_length: str
    same_kind: bool
    note: str
    weight_kg: Decimal | None
    part: str


def in_order(lines: Iterable[ListLine]) -> tuple[ListLine, ...]:
    """Numbered from 1: trip by trip, counter by counter, shelf by shelf; then by words, part (6 before 16), quantity, pack."""
    placed = sorted(
        lines,
        key=lambda of: (
            of.trip,
            _place(of.counter),
            SHELVES.index(of.shelf),
            of.words,
            _by_figures(of.part),
            of.quantity,
            of.pack,
        ),
    )
    return tuple(replace(line, number=index) for index, line in enumerate(placed, 1))


def _place(counter: str) -> tuple[int, str]:
    return (COUNTERS.index(counter) if counter in COUNTERS else len(COUNTERS), counter)


def _by_figures(code: str) -> tuple[tuple[str, Decimal], ...]:
    """A code as it is read: its figures by their value."""
    parts = [*re.split(r"(\d+(?:\.\d+)?)", code), "0"]
    return tuple((text, Decimal(figures)) for text, figures in zip(parts[::2], parts[1::2], strict=True))


def shelf_of(catalogue: Catalogue, part: Part, cut: bool) -> str:
    """Where a merchant has it: by counter, then by what it is."""
    if part.counter != "electrical":
        return OF_COUNTER.get(part.counter, "Other")
    if part.section == "Earthing":
        return "Earthing"
    if is_cable(catalogue, part):
        return "Cable cut to length" if cut else "Cable by the drum"
    if part.match_group:
        return "Switchgear, to suit one make"
    if "box" in part.description.split(";")[0].lower().split():
        return "Boxes"
    return OF_SECTION.get(part.section, "Fixings and small parts")


def is_cable(catalogue: Catalogue, part: Part) -> bool:
    """Whether the part is a cable, and comes on drums."""
    return any(cable.part == part.part for cable in catalogue.cables.values())


def is_armoured(catalogue: Catalogue, part: Part) -> bool:
    """Whether the part is an armoured cable."""
    return any(cable.part == part.part and cable.metal == "armour" for cable in catalogue.cables.values())
