"""What must hold of every order, and the exact money of any choice of packs: faults come out in words."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction
from math import ceil

from estimator.buying.model import Order, OrderLine
from estimator.catalogue.model import Price
from tests.purchase_oracle import CUT_TO_ORDER_M, Question, Till, half_up, in_basis

D = Decimal

Counts = Mapping[tuple[str, str, Decimal], int]
"""Packs by part, merchant and pack."""


def counts_of(order: Order) -> dict[tuple[str, str, Decimal], int]:
    """What an order buys."""
    counts: Counter[tuple[str, str, Decimal]] = Counter()
    for line in order.lines:
        counts[line.part, line.merchant, line.pack] += line.packs
    return dict(counts)


def tills_of(question: Question, counts: Counts) -> dict[Till, Fraction]:
    """The value of the goods at every merchant on every trip, in the merchant's basis."""
    values: dict[Till, Fraction] = {}
    for row in question.rows():
        packs = counts.get((row.part, row.merchant, row.pack), 0)
        if packs:
            till = question.till(row)
            values[till] = values.get(till, Fraction(0)) + packs * question.value(row)
    return values


def charged(question: Question, counts: Counts) -> list[Till]:
    """Where a delivery has to be paid, in order."""
    found = []
    for till, value in sorted(tills_of(question, counts).items()):
        of = question.catalogue.merchants[till[0]]
        if of.delivery and (of.free_over is None or value < of.free_over):
            found.append(till)
    return found


def allowed(question: Question, counts: Counts, minimums: bool = True) -> bool:
    """Whether limits of merchants, smallest orders and matches are kept (what is covered is not looked at)."""
    values = tills_of(question, counts)
    most, makes = question.job.buying.max_merchants, question.makes()
    letters: dict[str, set[str]] = {}
    for row in question.rows():
        if counts.get((row.part, row.merchant, row.pack), 0):
            letters.setdefault(question.catalogue.parts[row.part].match_group, set()).add(row.match)
    return (
        (most is None or len({name for name, _ in values}) <= most)
        and not (minimums and any(_short(question, till, value) for till, value in values.items()))
        and all(len(of) <= 1 and of <= set(makes[group]) for group, of in letters.items() if makes.get(group))
    )


def _short(question: Question, till: Till, value: Fraction) -> bool:
    minimum = question.catalogue.merchants[till[0]].minimum
    return minimum is not None and value < minimum


def paid(question: Question, counts: Counts) -> Fraction:
    """The exact money inc VAT of a choice, delivery included."""
    goods = sum(
        (counts.get((row.part, row.merchant, row.pack), 0) * question.paid(row) for row in question.rows()), Fraction(0)
    )
    return goods + sum((question.fee(name) for name, _ in charged(question, counts)), Fraction(0))


def till_money(order: Order) -> Fraction:
    """The exact money inc VAT that the lines of an order say."""
    lines = (*order.lines, *order.delivery)
    return sum((line.packs * in_basis(line.price, line.basis, line.vat_rate, "inc") for line in lines), Fraction(0))


def faults(question: Question, order: Order, minimums: bool = True) -> list[str]:
    """Every rule that an order breaks, in words; empty where it keeps them all."""
    checks: tuple[Callable[[Question, Order], Iterator[str]], ...] = (
        _line_faults,
        _need_faults,
        _cut_faults,
        _delivery_faults,
        _basket_faults,
        _swap_faults if minimums else _no_faults,
        _note_faults,
    )
    found = [fault for check in checks for fault in check(question, order)]
    if not allowed(question, counts_of(order), minimums):
        found.append("merchants at most, smallest orders or matches are broken")
    return found


def _no_faults(question: Question, order: Order) -> Iterator[str]:
    return iter(())


def _line_faults(question: Question, order: Order) -> Iterator[str]:
    rows = {(row.part, row.merchant, row.pack): row for row in question.rows()}
    if len(counts_of(order)) != len(order.lines):
        yield "two lines buy the same pack"
    for line in order.lines:
        row = rows.get((line.part, line.merchant, line.pack))
        if row is None:
            yield f"no such price: {line}"
        elif (row.price, row.vat) != (line.price, line.basis):
            yield f"another price: {line}"
        elif line.packs < 1 or line.amount != line.packs * line.price:
            yield f"amount is not packs x price: {line}"
        elif line.vat_rate != question.catalogue.parts[line.part].vat_rate:
            yield f"another VAT rate: {line}"
        elif line.trip != question.trip(line.part):
            yield f"another trip: {line}"


def _need_faults(question: Question, order: Order) -> Iterator[str]:
    bought = {of.part: of for of in order.bought}
    for part in question.parts():
        units = sum(Fraction(line.pack) * line.packs for line in order.lines if line.part == part)
        if part in bought and bought[part].units != units:
            yield f"{part}: {bought[part].units} units told, {units} in the lines"
        if question.catalogue.parts[part].sold_as == "piece" and units < question.to_cover(part):
            yield f"{part}: {units} bought of {question.to_cover(part)}"


def _cut_faults(question: Question, order: Order) -> Iterator[str]:
    wanted = Counter((piece.part, piece.of, piece.length_mm) for piece in question.takeoff.pieces)
    cuts = Counter((of.part, *piece) for of in order.cuts for piece in of.pieces)
    if wanted != cuts:
        yield f"pieces cut {dict(cuts)}, wanted {dict(wanted)}"
    for of in order.cuts:
        kerf = question.kerf_mm(of.part)
        load = sum(Fraction(length) for _, length in of.pieces) + kerf * (len(of.pieces) - 1)
        left = Fraction(of.stock_mm) - load
        if left < 0:
            yield f"over-cut: {of}"
        elif not max(Fraction(0), left - kerf) <= of.left_over_mm <= left:
            yield f"left over is not what is left: {of}"
    yield from _stock_faults(question, order)


def _stock_faults(question: Question, order: Order) -> Iterator[str]:
    """Every length cut was bought or was there, and no more of them than that."""
    for part in question.parts():
        spare = Counter(Fraction(length) for length in question.off_cuts(part))
        metres: Counter[str] = Counter()
        whole: Counter[tuple[str, Fraction]] = Counter()
        have = {(name, Fraction(pack)): packs for (of, name, pack), packs in counts_of(order).items() if of == part}
        for of in (one for one in order.cuts if one.part == part):
            length_m = Fraction(of.stock_mm) / 1000
            if not of.merchant:
                spare[Fraction(of.stock_mm)] -= 1
            elif whole[of.merchant, length_m] < have.get((of.merchant, length_m), 0) and length_m != 1:
                whole[of.merchant, length_m] += 1
            elif length_m.denominator == 1:
                metres[of.merchant] += int(length_m)
            else:
                yield f"never bought: {of}"
        if min(spare.values(), default=0) < 0:
            yield f"{part}: more off-cuts taken than are there"
        for name, total in metres.items():
            if total > have.get((name, Fraction(CUT_TO_ORDER_M)), 0):
                yield f"{part}: {total} m cut at {name}, {have} bought"


def _delivery_faults(question: Question, order: Order) -> Iterator[str]:
    told = sorted((line.merchant, line.trip) for line in order.delivery if line.price)
    due = charged(question, counts_of(order))
    if told != due:
        yield f"delivery at {told}, due at {due}"
    for line in order.delivery:
        of = question.catalogue.merchants[line.merchant]
        if line.price and (line.price, line.basis, line.vat_rate) != (of.delivery, of.vat, of.vat_rate):
            yield f"another charge: {line}"


def _basket_faults(question: Question, order: Order) -> Iterator[str]:
    lines = (*order.lines, *order.delivery)
    if sorted(map(str, {line.basket for line in lines})) != sorted(str(of.key) for of in order.baskets):
        yield "baskets are not those of the lines"
    for of in order.baskets:
        inside = [line for line in lines if line.basket == of.key]
        total = sum((line.packs * line.price for line in inside), D(0))
        rate = Fraction(of.vat_rate)
        if of.basis == "ex":
            expected = (total, half_up(Fraction(total)), half_up(Fraction(total) * rate))
        else:
            vat = half_up(Fraction(total) * rate / (1 + rate))
            expected = (total, total - vat, vat)
        if (of.sum, of.net, of.vat) != expected:
            yield f"basket {of} is not {expected}"
        if sum((line.net for line in inside), D(0)) != of.net:
            yield f"nets of the lines do not add up to those of {of}"
    total = sum((of.net + of.vat for of in order.baskets), D(0))
    if abs(Fraction(total) - till_money(order)) > Fraction(len(order.baskets), 200):
        yield f"baskets come to {total}, the lines to {float(till_money(order))}"
    if order.cost != half_up(till_money(order)):
        yield f"cost {order.cost} is not that of the lines, {float(till_money(order))}"
    if (order.proven and order.bound != order.cost) or order.bound > order.cost:
        yield f"bound {order.bound}, cost {order.cost}, proven {order.proven}"


def _swap_faults(question: Question, order: Order) -> Iterator[str]:
    """No line's part is had cheaper by one other pack in its place, all else as it is."""
    counts = counts_of(order)
    now = paid(question, counts)
    if now != till_money(order):
        yield f"limits make it {float(now)}, the lines {float(till_money(order))}"
    for line in order.lines if order.proven else ():
        for row in (row for row in question.rows() if row.part == line.part):
            packs = _instead(question, order, line, row)
            if packs is None:
                continue
            other = dict(counts)
            del other[line.part, line.merchant, line.pack]
            key = (row.part, row.merchant, row.pack)
            other[key] = other.get(key, 0) + packs
            if allowed(question, other) and paid(question, other) < now:
                yield f"{packs} x {row.pack} of {row.part} at {row.merchant} for {line.packs} x {line.pack} is cheaper"


def _instead(question: Question, order: Order, line: OrderLine, row: Price) -> int | None:
    """Packs of a row that surely do for a line; None where that is not plain."""
    if question.catalogue.parts[line.part].sold_as == "length":
        longer = row.pack >= line.pack and CUT_TO_ORDER_M not in (row.pack, line.pack)
        return line.packs if longer else None
    rest = sum(Fraction(of.pack) * of.packs for of in order.lines if of.part == line.part and of is not line)
    return max(0, ceil((question.to_cover(line.part) - rest) / Fraction(row.pack)))


def _note_faults(question: Question, order: Order) -> Iterator[str]:
    """What is said of free limits nearly reached, and of buying at fewer merchants, is true."""
    values = tills_of(question, counts_of(order))
    for near in order.near:
        of = question.catalogue.merchants[near.merchant]
        short = Fraction(of.free_over or 0) - values.get((near.merchant, near.trip), Fraction(0))
        if not (0 <= Fraction(near.short) - short < Fraction(1, 100)) or near.basis != of.vat:
            yield f"{near}, but {float(short)} is missing"
        if near.saves != half_up(question.fee(near.merchant)):
            yield f"{near}, but the charge is {float(question.fee(near.merchant))}"
    other = order.counter
    if other is not None and abs(other.cost - other.dearer_by - order.cost) > D("0.01"):
        yield f"{other} beside {order.cost}"
