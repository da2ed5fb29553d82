"""The bill: measured quantities at the rate that the whole packs come to, and what stays in the packs."""

from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import Bought, Order
from estimator.catalogue.model import Catalogue
from estimator.costing.model import BillLine
from estimator.job.model import Job
from estimator.rounding import money
from estimator.takeoff.model import Quantity, TakeOff

ZERO = Decimal(0)


def section_order(job: Job, catalogue: Catalogue) -> dict[str, int]:
    """Numbers of the bill's sections: those of table `sections`, then any others by name."""
    known = sorted(
        (int(cell.value), row)
        for (ruleset, table, row, _), cell in catalogue.cells.items()
        if (ruleset, table) == (job.ruleset, "sections")
    )
    names = [row for _, row in known]
    names += sorted({part.section for part in catalogue.parts.values()} - set(names))
    return {name: index for index, name in enumerate(names, 1)}


def bill_lines(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> tuple[BillLine, ...]:
    """One line for each part and stage, by section; amounts by running total, so that a part's lines add up.

    Rate = net of all packs / units in them (and taken from what is in hand), exact; nothing bought: rate 0.
    """
    numbers = section_order(job, catalogue)
    bought = {of.part: of for of in order.bought}
    lines: list[BillLine] = []
    done: dict[str, Decimal] = {}
    counts: dict[str, int] = {}
    for quantity in sorted(takeoff.quantities, key=lambda of: numbers[catalogue.parts[of.part].section]):
        if not quantity.with_waste:
            continue
        section = catalogue.parts[quantity.part].section
        counts[section] = counts.get(section, 0) + 1
        item = f"{numbers[section]}.{counts[section]}"
        lines.append(_line(catalogue, quantity, item, bought.get(quantity.part), done))
    return tuple(lines)


def _line(
    catalogue: Catalogue, quantity: Quantity, item: str, bought: Bought | None, done: dict[str, Decimal]
) -> BillLine:
    """One line; `done` holds how much of each part earlier lines have taken, and is carried on."""
    part = catalogue.parts[quantity.part]
    before = done.get(quantity.part, ZERO)
    after = before + quantity.with_waste
    done[quantity.part] = after
    rate = rate_of(bought)
    amount = money(rate * Fraction(after)) - money(rate * Fraction(before))
    return BillLine(
        item,
        quantity.part,
        part.description,
        part.section,
        quantity.stage,
        part.unit,
        quantity.quantity,
        quantity.with_waste,
        Decimal(rate.numerator) / rate.denominator,
        amount,
        quantity.made_of,
        quantity.source,
    )


def rate_of(bought: Bought | None) -> Fraction:
    """Exact money ex VAT for one unit of a part."""
    if bought is None or not bought.units + bought.in_hand:
        return Fraction(0)
    return Fraction(bought.net) / Fraction(bought.units + bought.in_hand)


def left_over(catalogue: Catalogue, order: Order, lines: tuple[BillLine, ...]) -> tuple[tuple[str, Decimal], ...]:
    """Money in packs beyond what the bill takes, by section in the order of the bill; sections with none left out."""
    over: dict[str, Decimal] = {}
    for line in lines:
        over.setdefault(line.section, ZERO)
    for of in order.bought:
        over[catalogue.parts[of.part].section] += of.net
    for line in lines:
        over[line.section] -= line.amount
    return tuple((section, amount) for section, amount in over.items() if amount)
