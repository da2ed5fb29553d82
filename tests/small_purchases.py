"""Small purchases, and the least that they can cost: written from the meaning alone, in whole numbers, for OR-Tools CP-SAT.

Nothing of `estimator.buying` is used.
"""

import random
from datetime import date
from decimal import Decimal
from fractions import Fraction
from math import lcm
from typing import Any

from estimator.catalogue.model import Catalogue, Merchant, Part, Price
from estimator.job.model import Allowances, Buying, InHand, Job, Stage
from estimator.problems import Place
from estimator.takeoff.model import CutPiece, Made, Quantity, TakeOff

D = Decimal
TWENTY = D("0.20")
FIRST, SECOND = "first-fix", "second-fix"


def part(
    name: str, sold_as: str = "piece", group: str = "", rate: Decimal = TWENTY, counter: str = "electrical"
) -> Part:
    """A part that bears 20 % VAT unless told otherwise."""
    unit = "nr" if sold_as == "piece" else "m"
    return Part(name, name, name, "Parts", unit, sold_as, D(0), rate, counter, group, "")  # type: ignore[arg-type]


def price(name: str, merchant: str, pack: str, amount: str, basis: str = "ex", match: str = "") -> Price:
    """One price row."""
    row = (name, merchant, D(pack), D(amount), basis, date(2026, 10, 1), match, "", "invented")
    return Price(*row)  # type: ignore[arg-type]


def terms(
    name: str, delivery: str = "0", free_over: str | None = None, minimum: str | None = None, basis: str = "ex"
) -> Merchant:
    """A merchant's terms."""
    free, least_order = (None if limit is None else D(limit) for limit in (free_over, minimum))
    return Merchant(name, D(delivery), free, least_order, "GBP", basis, TWENTY)  # type: ignore[arg-type]


def catalogue(parts: list[Part], prices: list[Price], merchants: list[Merchant]) -> Catalogue:
    """Nothing but parts, prices and merchants."""
    rows = tuple(sorted(prices, key=lambda row: (row.part, row.merchant, row.pack)))
    named = {one.merchant: one for one in sorted(merchants, key=lambda one: one.merchant)}
    return Catalogue({one.part: one for one in parts}, rows, named, *({},) * 8, (), ())


def job(most: int | None = None, trips: int = 1, in_hand: tuple[InHand, ...] = ()) -> Job:
    """A job that only buys."""
    allowances = Allowances(D(0), 0, D(0), TWENTY, D(3), ())
    buying = Buying(("any",), in_hand, most, trips, place=Place("job.toml", 9))
    return Job("Test", "uk", "GBP", date(2026, 10, 1), None, allowances, None, *((),) * 7, (), None, buying)


def needs(*rows: tuple[str, str, str], pieces: dict[str, list[int]] | None = None) -> TakeOff:
    """Quantities as part, stage and amount; pieces in mm by part."""
    found = [
        Quantity(name, stage, D(amount), D(amount), (Made("S1", "", D(amount)),), (Place("job.toml", 1),))  # type: ignore[arg-type]
        for name, stage, amount in rows
    ]
    cut = []
    for name, lengths in (pieces or {}).items():
        total = D(sum(lengths)) / 1000
        stage: Stage = "first-fix"
        found.append(Quantity(name, stage, total, total, (Made("S1", "", total),), (Place("job.toml", 1),)))
        cut += [CutPiece(name, stage, f"{name} {number}", D(length)) for number, length in enumerate(lengths)]
    return TakeOff(tuple(sorted(found, key=lambda of: of.part)), tuple(cut), ())


def drawn(seed: int) -> tuple[Job, Catalogue, TakeOff]:
    """A purchase drawn by chance: up to three merchants with charges and limits that bite, groups, two VAT rates, cable."""
    draw = random.Random(seed)
    merchants = [
        terms(
            name,
            str(D(draw.choice((0, 500, 650, 950, 1200))) / 100),
            draw.choice((None, "20", "30", "50", "80")),
            draw.choice((None, None, "5", "10", "25", "40")),
            draw.choice(("ex", "inc")),
        )
        for name in "ABC"[: draw.choice((2, 3, 3))]
    ]
    parts, prices, rows = [], [], []
    for number in range(draw.randint(2, 5)):
        group = "board" if draw.random() < 0.3 else ""
        one = part(f"p{number}", group=group, rate=TWENTY if draw.random() < 0.85 else D("0.05"))
        parts.append(one)
        base = draw.randint(40, 900)
        for merchant in merchants:
            if merchant.merchant == "A" or draw.random() < 0.75:
                for pack in draw.sample((1, 2, 5, 10), draw.randint(1, 2)):
                    amount = D(int(base * pack * (1 - 0.03 * pack) * draw.uniform(0.8, 1.25)) + 1) / 100
                    match = draw.choice("XY") if group else ""
                    prices.append(
                        price(one.part, merchant.merchant, str(pack), str(amount), draw.choice(("ex", "inc")), match)
                    )
        rows.append((one.part, draw.choice((FIRST, SECOND)), str(draw.randint(1, 14))))
    pieces: dict[str, list[int]] = {}
    if draw.random() < 0.5:
        parts.append(part("cable", "length"))
        base = draw.randint(40, 120)
        for merchant in merchants:
            if merchant.merchant == "A" or draw.random() < 0.7:
                for pack, dear in draw.sample(((1, 1.35), (10, 1.1), (25, 1.0)), draw.randint(1, 3)):
                    amount = D(int(base * pack * dear * draw.uniform(0.9, 1.1)) + 1) / 100
                    prices.append(price("cable", merchant.merchant, str(pack), str(amount), draw.choice(("ex", "inc"))))
        pieces["cable"] = [draw.randint(10, 100) * 100 for _ in range(draw.randint(2, 4))]
    shop = catalogue(parts, prices, merchants)
    return job(draw.choice((None, None, 1, 2)), draw.choice((1, 1, 2))), shop, needs(*rows, pieces=pieces)


def least(of: Job, shop: Catalogue, takeoff: TakeOff, minimums: bool = True) -> Fraction | None:
    """The least exact money inc VAT, delivery included; None where the limits cannot be met."""
    from ortools.sat.python import cp_model

    model = _Model(of, shop, takeoff, minimums, cp_model)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    status = solver.solve(model.model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE)
    return Fraction(int(solver.objective_value), model.scale) if status == cp_model.OPTIMAL else None


class _Model:
    """How many packs of every price row, who is used, who charges."""

    def __init__(self, of: Job, shop: Catalogue, takeoff: TakeOff, minimums: bool, cp_model: Any) -> None:
        self.of, self.shop, self.takeoff, self.minimums = of, shop, takeoff, minimums
        self.model = cp_model.CpModel()
        needed = {row.part for row in takeoff.quantities}
        self.rows = [row for row in shop.prices if row.part in needed]
        self.paid = [self._money(row) for row in self.rows]
        self.worth = [self._value(row) for row in self.rows]
        self.scale = lcm(*(one.denominator for one in (*self.paid, *self.worth)), 500)
        self.packs = [self.model.new_int_var(0, 80, "") for _ in self.rows]
        for name in sorted(needed):
            self._covered(name)
        self._makes(needed)
        self._tills(needed)

    def _money(self, row: Price) -> Fraction:
        return Fraction(row.price) * (1 + Fraction(self.shop.parts[row.part].vat_rate) if row.vat == "ex" else 1)

    def _value(self, row: Price) -> Fraction:
        rate = 1 + Fraction(self.shop.parts[row.part].vat_rate)
        return self._money(row) / (rate if self.shop.merchants[row.merchant].vat == "ex" else 1)

    def _covered(self, name: str) -> None:
        own = [place for place, row in enumerate(self.rows) if row.part == name]
        if self.shop.parts[name].sold_as == "piece":
            need = sum(int(row.with_waste) for row in self.takeoff.quantities if row.part == name)
            self.model.add(sum(int(self.rows[place].pack) * self.packs[place] for place in own) >= need)
            return
        lengths = [int(piece.length_mm) for piece in self.takeoff.pieces if piece.part == name]
        room: list[Any] = []
        for place in own:
            whole = int(self.rows[place].pack)
            most = sum(lengths) // 1000 + 1 if whole == 1 else 1
            bins = [self.model.new_int_var(0, most, "") for _ in lengths]
            self.model.add(sum(bins) <= self.packs[place])
            room += [whole * 1000 * one for one in bins]
        lies = [[self.model.new_bool_var("") for _ in room] for _ in lengths]
        for one in lies:
            self.model.add_exactly_one(one)
        for at, holds in enumerate(room):
            self.model.add(sum(length * lies[piece][at] for piece, length in enumerate(lengths)) <= holds)

    def _makes(self, needed: set[str]) -> None:
        groups: dict[str, list[str]] = {}
        for name in sorted(needed):
            if self.shop.parts[name].match_group:
                groups.setdefault(self.shop.parts[name].match_group, []).append(name)
        for members in groups.values():
            letters = [{row.match for row in self.rows if row.part == name} for name in members]
            makes = {make: self.model.new_bool_var("") for make in sorted(set.intersection(*letters))}
            if makes:
                self.model.add_exactly_one(makes.values())
                for place, row in enumerate(self.rows):
                    if row.part in members:
                        chosen = makes.get(row.match)
                        self.model.add(self.packs[place] <= (0 if chosen is None else 80 * chosen))

    def _tills(self, needed: set[str]) -> None:
        stages = {name: {row.stage for row in self.takeoff.quantities if row.part == name} for name in sorted(needed)}
        late = {name for name, own in stages.items() if own == {SECOND} and self.of.buying.trips == 2}
        cost = [int(paid * self.scale) * packs for paid, packs in zip(self.paid, self.packs, strict=True)]
        used_at_all = []
        for merchant in self.shop.merchants.values():
            visited = self.model.new_bool_var("")
            used_at_all.append(visited)
            for trip in (False, True):
                own = [
                    place
                    for place, row in enumerate(self.rows)
                    if row.merchant == merchant.merchant and (row.part in late) == trip
                ]
                used, charged = self.model.new_bool_var(""), self.model.new_bool_var("")
                self.model.add_implication(used, visited)
                self.model.add(sum(self.packs[place] for place in own) <= 100_000 * used)
                self.model.add(sum(self.packs[place] for place in own) >= 1).only_enforce_if(used)
                value = sum(int(self.worth[place] * self.scale) * self.packs[place] for place in own)
                if merchant.minimum is not None and self.minimums:
                    self.model.add(value >= int(merchant.minimum * self.scale)).only_enforce_if(used)
                if merchant.free_over is None:
                    self.model.add_implication(used, charged)
                else:
                    free = [used, ~charged]
                    self.model.add(value >= int(merchant.free_over * self.scale)).only_enforce_if(free)
                rate = 1 + Fraction(merchant.vat_rate) if merchant.vat == "ex" else 1
                cost.append(int(Fraction(merchant.delivery) * rate * self.scale) * charged)
        if self.of.buying.max_merchants is not None:
            self.model.add(sum(used_at_all) <= self.of.buying.max_merchants)
        self.model.minimize(sum(cost))
