"""What a merchant wrote to one line, and what holds for its whole list: values that every reader gives."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Basis
from estimator.problems import Place, Problem
from estimator.returned.asked import AskedLine
from estimator.returned.figures import Figure, Unfit
from estimator.returned.notes import Note
from estimator.returned.pers import Per


@dataclass(frozen=True, slots=True)
class Terms:
    """What holds for a whole list: the currency, the basis of each sheet by name, VAT rates by part, and lines accepted."""

    currency: str
    basis: dict[str, Basis | None]
    vat_rates: dict[str, Decimal]
    accepted: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Said:
    """What the merchant wrote to one line: figures with the cells that they stand in, what they are for, and the note.

    `other` is what was written over our words on lengths in one piece and on the same kind.
    """

    unit: Figure | None
    total: Figure | None
    unit_place: Place
    total_place: Place
    heading: Per | None
    note: Note
    stock: str
    code: str
    place: Place
    basis: Basis | None
    other: str = ""


def problem_of(place: Place, line: AskedLine, unfit: Unfit) -> Problem:
    """Why a cell of a line is not taken."""
    return Problem(place, f"line {line.number}", unfit.found, unfit.write)
