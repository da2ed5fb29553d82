"""A second look at a finished order, sharing no code with what made it: an order and its question in, faults in words out.

All is worked anew from the price rows, in exact fractions of the currency.
"""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from estimator.buying.model import Order, OrderLine
from estimator.catalogue.model import Catalogue, Merchant, Price
from estimator.job.model import Job
from estimator.takeoff.model import TakeOff

METRE_MM = 1000


def order_faults(job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> tuple[str, ...]:
    """What is wrong with an order: nothing, unless we made a mistake."""
    look = _Look(job, catalogue, takeoff, order)
    return (
        *look.rows(),
        *look.gaps(),
        *look.covered(),
        *look.cut(),
        *look.makes(),
        *look.terms(),
        *look.money(),
    )


class _Look:
    def __init__(self, job: Job, catalogue: Catalogue, takeoff: TakeOff, order: Order) -> None:
        self.job = job
        self.catalogue = catalogue
        self.takeoff = takeoff
        self.order = order
        self.price: dict[tuple[str, str, Decimal], Price] = {
            (row.part, row.merchant, row.pack): row for row in catalogue.prices
        }
        self.priced: dict[str, list[Price]] = {}
        for price in catalogue.prices:
            self.priced.setdefault(price.part, []).append(price)
        self.needs: dict[str, Decimal] = {}
        for row in takeoff.quantities:
            self.needs[row.part] = self.needs.get(row.part, Decimal(0)) + row.with_waste
        self.told = {(of.check, of.subject) for of in order.findings}

    def rows(self) -> Iterator[str]:
        """Every line is a row of the price list at an allowed merchant, once, in the right trip."""
        seen = Counter((line.part, line.merchant, line.pack) for line in self.order.lines)
        for line in self.order.lines:
            at = (line.part, line.merchant, line.pack)
            row = self.price.get(at)
            if row is None or seen[at] > 1 or line.packs < 1:
                yield f"{at}: no such price, or twice, or no packs"
                continue
            rate = self.catalogue.parts[line.part].vat_rate
            if (row.price, row.vat, rate) != (line.price, line.basis, line.vat_rate):
                yield f"{at}: not at its price"
            if not {line.merchant, "any"} & set(self.job.buying.merchants):
                yield f"{at}: a merchant that is not allowed"
            if line.trip != self._trip(line.part):
                yield f"{at}: not in the trip of its first stage"
        most = self.job.buying.max_merchants
        if most is not None and len({line.merchant for line in self.order.lines if line.merchant != "any"}) > most:
            yield "more merchants than allowed"

    def gaps(self) -> Iterator[str]:
        """What is bought at a price that no merchant has given, no merchant sells: alone, or in a make that is whole."""
        for name in sorted({line.part for line in self.order.lines if line.merchant == "any"}):
            part = self.catalogue.parts[name]
            if part.match_group and not self._no_make(part.match_group):
                others = [of for of in self.needs if self.catalogue.parts[of].match_group == part.match_group]
                makes = [{row.match for row in self._named(of)} for of in others if self.needs[of]]
                if makes[0].intersection(*makes[1:]):
                    yield f"{name}: at no merchant, though merchants sell a make whole"
            elif not part.match_group and self._named(name) and self._long_enough(name):
                yield f"{name}: at no merchant, though a merchant sells it"

    def _no_make(self, group: str) -> bool:
        """Whether a finding tells that no make covers that group; its subject ends with the group's code."""
        return any(check == "one-make" and subject.endswith(f"({group})") for check, subject in self.told)

    def _named(self, part: str) -> list[Price]:
        """The prices of a part that an allowed merchant has named."""
        allowed = self.job.buying.merchants
        return [
            row for row in self.priced.get(part, ()) if row.merchant != "any" and {row.merchant, "any"} & set(allowed)
        ]

    def _long_enough(self, part: str) -> bool:
        """Whether merchants sell lengths that take every piece; of what is sold by the piece they do."""
        longest = max((piece.length_mm for piece in self.takeoff.pieces if piece.part == part), default=Decimal(0))
        by_length = self.catalogue.parts[part].sold_as == "length"
        return not by_length or any(row.pack == 1 or row.pack * METRE_MM >= longest for row in self._named(part))

    def _trip(self, part: str) -> int:
        stages = {row.stage for row in self.takeoff.quantities if row.part == part and row.with_waste}
        return 2 if self.job.buying.trips == 2 and stages == {"second-fix"} else 1

    def covered(self) -> Iterator[str]:
        """Packs and what is taken from what is there hold what is needed, and no more is taken than is there."""
        hand = {of.part: of.in_hand for of in self.order.bought}
        units: dict[str, Decimal] = {}
        for line in self.order.lines:
            units[line.part] = units.get(line.part, Decimal(0)) + line.pack * line.packs
        for part, need in sorted(self.needs.items()):
            if self.catalogue.parts[part].sold_as == "piece" and need:
                taken = hand.get(part, Decimal(0))
                if units.get(part, Decimal(0)) + taken < need:
                    yield f"{part}: less than is needed"
                if taken > self._there(part):
                    yield f"{part}: more is taken than is there"

    def _there(self, part: str) -> Fraction:
        """At most so many units are in hand: as counted, and packs of the smallest size on the price list."""
        allowed = [
            row.pack for row in self.priced.get(part, ()) if {row.merchant, "any"} & set(self.job.buying.merchants)
        ]
        held = [of for of in self.job.buying.in_hand if of.part == part]
        packs = sum((of.packs for of in held if of.packs), Decimal(0))
        counted = sum(of.count for of in held if of.packs is None)
        return Fraction(packs) * Fraction(min(allowed, default=Decimal(1))) + counted

    def cut(self) -> Iterator[str]:
        """Every piece is cut once, from a length that is bought or in hand, and fits there with its saw cuts."""
        for part in sorted(part for part in self.needs if self.catalogue.parts[part].sold_as == "length"):
            cuts = [cut for cut in self.order.cuts if cut.part == part]
            wanted = Counter((piece.of, piece.length_mm) for piece in self.takeoff.pieces if piece.part == part)
            if wanted != Counter(piece for cut in cuts for piece in cut.pieces):
                yield f"{part}: the pieces cut are not the pieces needed"
            kerf = self.job.allowances.kerf_mm if self.catalogue.parts[part].counter == "timber" else Decimal(0)
            for cut in cuts:
                used = sum((length for _, length in cut.pieces), Decimal(0)) + kerf * max(0, len(cut.pieces) - 1)
                if used > cut.stock_mm or cut.left_over_mm != cut.stock_mm - used:
                    yield f"{part}: a length is overfull, or what is left of it is wrong"
            yield from self._stock(part)

    def _stock(self, part: str) -> Iterator[str]:
        """The lengths cut are those bought, and no more of those in hand than there are."""
        cuts = Counter((cut.merchant, cut.stock_mm) for cut in self.order.cuts if cut.part == part)
        held = Counter[Decimal]()
        for of in self.job.buying.in_hand:
            if of.part == part and of.length_mm:
                held[Decimal(of.length_mm)] += of.count
        if any(count > held[length] for (merchant, length), count in cuts.items() if not merchant):
            yield f"{part}: more lengths than are in hand"
        lines = [line for line in self.order.lines if line.part == part]
        for merchant in sorted({line.merchant for line in lines} | {name for name, _ in cuts if name}):
            own = {line.pack * METRE_MM: line.packs for line in lines if line.merchant == merchant}
            metres = sum(length * packs for length, packs in own.items())
            if metres != sum(length * count for (name, length), count in cuts.items() if name == merchant):
                yield f"{part}: the lengths cut are not those bought from {merchant}"
            whole = {length: packs for length, packs in own.items() if length != METRE_MM}
            if any(cuts[merchant, length] < packs for length, packs in whole.items()):
                yield f"{part}: a length bought from {merchant} is not cut"

    def makes(self) -> Iterator[str]:
        """The parts of one match group are of one make, or a finding says that no make covers them."""
        groups: dict[str, set[str]] = {}
        for line in self.order.lines:
            group = self.catalogue.parts[line.part].match_group
            row = self.price.get((line.part, line.merchant, line.pack))
            if group and row is not None:
                groups.setdefault(group, set()).add(row.match)
        for group, makes in sorted(groups.items()):
            if len(makes) > 1 and not self._no_make(group):
                yield f"{group}: of more than one make"

    def terms(self) -> Iterator[str]:
        """Each merchant's charge and least order, trip by trip."""
        tills = sorted({(line.merchant, line.trip) for line in (*self.order.lines, *self.order.delivery)})
        for name, trip in tills:
            merchant = self.catalogue.merchants[name]
            goods = [line for line in self.order.lines if (line.merchant, line.trip) == (name, trip)]
            value = sum((_value(line, merchant) for line in goods), Fraction(0))
            charged = [
                (line.price, line.packs, line.basis, line.vat_rate)
                for line in self.order.delivery
                if (line.merchant, line.trip) == (name, trip)
            ]
            due = bool(merchant.delivery) and (merchant.free_over is None or value < Fraction(merchant.free_over))
            if charged != ([(merchant.delivery, 1, merchant.vat, merchant.vat_rate)] if due else []):
                yield f"{name}: delivery is not charged as it says"
            small = merchant.minimum is not None and value < Fraction(merchant.minimum)
            if small and ("smallest-order", name) not in self.told:
                yield f"{name}: less than its smallest order"

    def money(self) -> Iterator[str]:
        """The cost from prices, the baskets' sums, and what is claimed of the bound."""
        order = self.order
        lines = (*order.lines, *order.delivery)
        paid = sum((_paid(line) for line in lines), Fraction(0))
        if abs(Fraction(order.cost) - paid) > Fraction(1, 200):
            yield "the cost is not the sum of the prices"
        if order.bound > order.cost or (order.proven and order.bound != order.cost):
            yield "the bound does not bear out what is claimed"
        for basket in order.baskets:
            own = [line for line in lines if line.basket == basket.key]
            total = sum((Fraction(line.price) * line.packs for line in own), Fraction(0))
            if abs(Fraction(basket.sum) - total) > Fraction(1, 200) or sum(line.net for line in own) != basket.net:
                yield f"{basket.merchant}: a basket is not the sum of its lines"
            if basket.basis == "inc" and basket.net + basket.vat != basket.sum:
                yield f"{basket.merchant}: a basket is not what is paid at the till"
        if {line.basket for line in lines} != {basket.key for basket in order.baskets}:
            yield "lines and baskets do not agree"


def _value(line: OrderLine, merchant: Merchant) -> Fraction:
    """The value of a line's goods as the merchant counts them."""
    value, rate = Fraction(line.price) * line.packs, 1 + Fraction(line.vat_rate)
    if line.basis == merchant.vat:
        return value
    return value * rate if merchant.vat == "inc" else value / rate


def _paid(line: OrderLine) -> Fraction:
    """What a line costs at the till, exact."""
    return Fraction(line.price) * line.packs * (1 + Fraction(line.vat_rate) if line.basis == "ex" else 1)
