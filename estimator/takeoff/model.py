"""What the take-off gives: quantities by part and stage, and every piece that must be cut in one length."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.job.model import Stage
from estimator.problems import Place


@dataclass(frozen=True, slots=True)
class Made:
    """A share of a quantity: what it is for ("S1 to S12", "lights: CU to W1"), in which room ("" for none)."""

    of: str
    room: str
    quantity: Decimal


@dataclass(frozen=True, slots=True)
class Quantity:
    """So much of one part at one stage: as fixed, and with waste (exact, not rounded to packs)."""

    part: str
    stage: Stage
    quantity: Decimal
    with_waste: Decimal
    made_of: tuple[Made, ...]
    source: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One unbroken piece of a part sold by length: the length to cut off the stock, what it is for (a leg's id)."""

    part: str
    stage: Stage
    of: str
    length_mm: Decimal


@dataclass(frozen=True, slots=True)
class Task:
    """Minutes of work of one sort: how often it is done, and the range for all of it.

    `task` ends in the kit it is done for, `: KIT`, where it is done for one. `vat_rate` None: it bears the VAT of the job.
    """

    task: str
    who: str
    stage: Stage
    count: Decimal
    low_minutes: Decimal
    likely_minutes: Decimal
    high_minutes: Decimal
    rate: Decimal | None
    vat_rate: Decimal | None
    kit: str = ""

    @property
    def work(self) -> str:
        """What is done, whatever for."""
        return self.task.removesuffix(f": {self.kit}") if self.kit else self.task

    def vat_at(self, own: Decimal) -> Decimal:
        """The VAT that its rate bears, in a job whose own is `own`."""
        return own if self.vat_rate is None else self.vat_rate


@dataclass(frozen=True, slots=True)
class TakeOff:
    """Quantities by part then stage; pieces in working order within a part; labour by task."""

    quantities: tuple[Quantity, ...]
    pieces: tuple[CutPiece, ...]
    labour: tuple[Task, ...]
