"""The money of the quote as rows of text: a `Budget` and an `Order` go in, what the page prints comes out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from estimator.buying.model import Basket, OrderLine
from estimator.costing.model import BillLine, Budget
from estimator.documents import words
from estimator.job.model import Job
from estimator.result import Estimate
from estimator.takeoff.model import Made

ZERO = Decimal(0)

NOTE_LETTERS = 150
"""So many letters of what a line of the bill is for are printed; all of it is in the workbook."""

SUM_BASES = {"ex": "ex VAT", "inc": "net of its VAT", "none": "bears no VAT"}


def money_of(amount: Decimal, currency: str) -> str:
    """An amount to the penny with the sign of its currency."""
    return words.money(amount, currency)


@dataclass(frozen=True, slots=True)
class Step:
    """One row of the order of adding up. `sort` is `part`, `sub` (a sum on the way) or `after`."""

    words: str
    note: str
    amount: str
    sort: str


def ladder(budget: Budget, job: Job) -> tuple[Step, ...]:
    """The sums in their fixed order, down to VAT; what they come to is the total, which is not repeated here."""

    def row(text: str, amount: Decimal, sort: str = "part", note: str = "") -> Step:
        return Step(text, note, money_of(amount, job.currency), sort)

    labour = _labour_vat(budget) if budget.labour_priced else "no rate given: not priced"
    return (
        row("Materials as used", budget.materials - budget.left_over_total),
        row("Left over in the packs", budget.left_over_total),
        row("Delivery", budget.delivery),
        row("Labour", budget.labour, note=labour),
        *(row(line.sum.name, line.net, note=f"{line.sum.kind}, {SUM_BASES[line.sum.vat]}") for line in budget.sums),
        row(f"Contingency, {words.percent(job.allowances.contingency)} of the above", budget.contingency),
        row("Total ex VAT", budget.ex_vat, "sub"),
        *(row(f"VAT at {words.percent(line.rate)}", line.amount, "after") for line in budget.vat),
    )


def _labour_vat(budget: Budget) -> str:
    """The VAT that labour bears: `VAT at 20 %`, `VAT at 0 % and 20 %`."""
    rates = [words.percent(rate) for rate in budget.labour_vat]
    return f"VAT at {' and '.join(rates)}" if any(budget.labour_vat) else "bears no VAT"


def ranged_sums(budget: Budget, currency: str) -> tuple[str, ...]:
    """Sums that were given as a range, each in a sentence."""

    def told(amount: Decimal) -> str:
        return money_of(amount, currency)

    return tuple(
        f"{one.name}: counted at {told(one.likely)}; it may come to anything from {told(one.low)} to {told(one.high)}."
        for one in (line.sum for line in budget.sums)
        if one.low != one.high
    )


def included(estimate: Estimate) -> tuple[str, ...]:
    """What the total holds, a line each."""
    budget, job = estimate.budget, estimate.job
    lines = len(budget.bill)
    told = [f"{lines} {'line' if lines == 1 else 'lines'} of materials and the whole packs they come in"]
    if budget.delivery:
        told.append("Delivery by the merchants")
    if budget.labour_priced:
        told.append(f"Labour that has a rate, at its likely hours ({_labour_vat(budget)})")
    told += [f"{line.sum.name} ({line.sum.kind})" for line in budget.sums]
    told.append(f"Contingency of {words.percent(job.allowances.contingency)}")
    told.append("VAT at " + ", ".join(words.percent(line.rate) for line in budget.vat) if budget.vat else "No VAT")
    return tuple(told)


@dataclass(frozen=True, slots=True)
class Spent:
    """Money of one section ex VAT: as used, and left over in its packs."""

    section: str
    used: Decimal
    left_over: Decimal

    @property
    def total(self) -> Decimal:
        """Both."""
        return self.used + self.left_over


def spending(budget: Budget) -> tuple[Spent, ...]:
    """Money by section of the bill, in the order of the bill; together they are the materials."""
    over = dict(budget.left_over)
    return tuple(
        Spent(section, sum((line.amount for line in lines), ZERO), over.get(section, ZERO))
        for section, lines in _sections(budget)
    )


def _sections(budget: Budget) -> Iterable[tuple[str, tuple[BillLine, ...]]]:
    for section, lines in groupby(budget.bill, key=lambda line: line.section):
        yield section, tuple(lines)


@dataclass(frozen=True, slots=True)
class BillRow:
    """One line of the bill as printed; `with_waste` is empty where it is the quantity itself."""

    item: str
    description: str
    note: str
    quantity: str
    with_waste: str
    unit: str
    rate: str
    amount: str


def bill_sections(budget: Budget, currency: str) -> tuple[tuple[str, str, str, tuple[BillRow, ...]], ...]:
    """The bill: number, name and amount of each section, and its rows."""
    return tuple(
        (
            lines[0].item.partition(".")[0],
            section,
            money_of(sum((line.amount for line in lines), ZERO), currency),
            tuple(_bill_row(line, currency) for line in lines),
        )
        for section, lines in _sections(budget)
    )


def _bill_row(line: BillLine, currency: str) -> BillRow:
    return BillRow(
        line.item,
        line.description,
        f"{words.stage(line.stage)}. {_shortened([_made(made, line) for made in line.made_of])}",
        _measure(line.quantity),
        "" if line.with_waste == line.quantity else _measure(line.with_waste),
        line.unit,
        words.rate(line.rate, currency),
        money_of(line.amount, currency),
    )


def _shortened(told: Sequence[str]) -> str:
    """As much of a list as two lines hold, and how many more there are."""
    if len("; ".join(told)) <= NOTE_LETTERS:
        return "; ".join(told)
    room = NOTE_LETTERS - len("; and 00 more")
    kept = 1
    while len("; ".join(told[: kept + 1])) <= room:
        kept += 1
    return f"{'; '.join(told[:kept])}; and {len(told) - kept} more"


def _measure(quantity: Decimal) -> str:
    """A quantity to two decimals; a small one to three, so that it is not told as nought."""
    return words.number(quantity, 2 if quantity >= 1 else 3)


def _made(made: Made, line: BillLine) -> str:
    """What a share is for; where several have a part in a line, with the room that tells two of a name apart, and how much."""
    if len(line.made_of) == 1:
        return made.of
    twice = sum(other.of == made.of for other in line.made_of) > 1
    return f"{made.of}{f' ({made.room})' if twice and made.room else ''}: {_measure(made.quantity)}"


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One line of the order as printed."""

    description: str
    packs: str
    pack: str
    price: str
    amount: str


def basket_orders(estimate: Estimate) -> tuple[tuple[str, Basket, tuple[OrderRow, ...]], ...]:
    """Where it is paid and what is in it, for every basket (a merchant, trip, price basis and VAT rate); delivery last."""
    lines = (*estimate.order.lines, *estimate.order.delivery)
    return tuple(
        (
            words.till_words(estimate.job, basket),
            basket,
            tuple(
                _order_row(line, estimate)
                for line in sorted(
                    (line for line in lines if line.basket == basket.key),
                    key=_last_delivery,
                )
            ),
        )
        for basket in estimate.order.baskets
    )


def _last_delivery(line: OrderLine) -> tuple[bool, str, Decimal]:
    return line.part == "", line.part, line.pack


def _order_row(line: OrderLine, estimate: Estimate) -> OrderRow:
    currency = estimate.job.currency
    if not line.part:
        return OrderRow("Delivery", "", "", "", money_of(line.amount, currency))
    part = estimate.catalogue.parts[line.part]
    return OrderRow(
        part.trade_name or part.description,
        words.number(line.packs),
        f"{words.number(line.pack)} {part.unit}",
        money_of(line.price, currency),
        money_of(line.amount, currency),
    )


@dataclass(frozen=True, slots=True)
class CutRow:
    """One drum or length as printed; lengths in metres. Neighbours cut alike are one piece here, with their number before it."""

    name: str
    merchant: str
    stock: str
    pieces: tuple[tuple[str, str], ...]
    left_over: str


def cut_rows(estimate: Estimate) -> tuple[CutRow, ...]:
    """Every drum and timber with its pieces in cutting order."""
    parts = estimate.catalogue.parts
    return tuple(
        CutRow(
            parts[cut.part].trade_name or parts[cut.part].description,
            words.merchant_words(cut.merchant) if cut.merchant else "in hand",
            words.metres(cut.stock_mm),
            tuple(_pieces(cut.pieces)),
            words.metres(cut.left_over_mm),
        )
        for cut in estimate.order.cuts
    )


def _pieces(pieces: Sequence[tuple[str, Decimal]]) -> Iterable[tuple[str, str]]:
    """What each piece is for and its length: `noggin S1, S2, S5` and `3 x 0.562` where neighbours are alike."""
    alike = groupby(enumerate(pieces), key=lambda of: (of[1][1], _head(of[1][0]) or of[0]))
    for (length, head), mine in alike:
        names = [name for _, (name, _) in mine]
        if len(names) == 1:
            yield names[0], words.metres(length)
        else:
            tails = ", ".join(name.removeprefix(f"{head} ") for name in names)
            yield f"{head} {tails}", f"{len(names)} x {words.metres(length)}"


def _head(name: str) -> str:
    """What a piece for one point shares with those cut like it: the words before its id; empty for every other piece."""
    head, _, tail = name.rpartition(" ")
    return head if tail[-1:].isdigit() and "," not in name and not head.endswith(" to") else ""
