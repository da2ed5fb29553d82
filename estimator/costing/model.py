"""What costing gives: the bill, what is left over in packs, and the sums down to the total."""

from dataclasses import dataclass
from decimal import Decimal

from estimator.job.model import Stage, Sum
from estimator.problems import Place
from estimator.takeoff.model import Made


@dataclass(frozen=True, slots=True)
class BillLine:
    """One line of the bill: `item` is section and number (`5.3`), `rate` exact money ex VAT a unit, `amount` to the penny."""

    item: str
    part: str
    description: str
    section: str
    stage: Stage
    unit: str
    quantity: Decimal
    with_waste: Decimal
    rate: Decimal
    amount: Decimal
    made_of: tuple[Made, ...]
    source: tuple[Place, ...]


@dataclass(frozen=True, slots=True)
class Range:
    """Low, likely, high."""

    low: Decimal
    likely: Decimal
    high: Decimal


@dataclass(frozen=True, slots=True)
class TaskHours:
    """Hours of one sort of work, whatever it is done for; `who` does it, at `stage`."""

    work: str
    who: str
    stage: Stage
    hours: Range


@dataclass(frozen=True, slots=True)
class VatLine:
    """VAT of one rate, from all its baskets, labour, sums and contingency."""

    rate: Decimal
    amount: Decimal


@dataclass(frozen=True, slots=True)
class SumLine:
    """A `[[sum]]` as it counts: net of VAT, and its VAT."""

    sum: Sum
    net: Decimal
    vat: Decimal


@dataclass(frozen=True, slots=True)
class Budget:
    """The sums, in the order of adding up. Hours are of one's own and the electrician's work, and the same by task.

    `oldest_price` is a date and the part it belongs to; `invented` how many lines of the order rest on prices whose
    source says that they are invented, and how many lines there are. `labour_vat` holds the VAT rates that labour bears.
    """

    bill: tuple[BillLine, ...]
    left_over: tuple[tuple[str, Decimal], ...]
    materials: Decimal
    left_over_total: Decimal
    delivery: Decimal
    labour: Decimal
    sums: tuple[SumLine, ...]
    sums_total: Decimal
    contingency: Decimal
    ex_vat: Decimal
    vat: tuple[VatLine, ...]
    total: Decimal
    labour_priced: bool
    materials_only: bool
    hours_self: Range
    hours_electrician: Range
    oldest_price: tuple[str, str] | None
    invented: tuple[int, int]
    tasks: tuple[TaskHours, ...] = ()
    labour_vat: tuple[Decimal, ...] = ()
