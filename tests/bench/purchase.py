"""The purchase as one problem: the house from three merchants that sell most of it, and its pieces against a plain MILP."""

import random
import time
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from estimator.building.build import build
from estimator.buying.model import Order
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue, Merchant, Price
from estimator.catalogue.read import read_catalogue
from estimator.job.model import Job
from estimator.rounding import money
from estimator.routing.route import route
from estimator.setout.place import set_out
from estimator.takeoff.measure import take_off
from estimator.takeoff.model import TakeOff
from tests.houses import FOLDER, house

SEEDS = range(5)
TERMS = {"north": ("9.50", "150", None), "south": ("18", "600", "60"), "west": ("30", "1200", "100")}
"""Delivery, free over, smallest order, ex VAT: invented."""
D = Decimal


def run() -> Iterator[str]:
    """Seconds for one order, whether it is proven, and the cost of the pieces alone beside that of the MILP; then of all."""
    orders: list[tuple[Order, float]] = []
    for trips in (1, 2):
        for seed in SEEDS:
            job, catalogue, takeoff = question(seed, trips)
            bought, seconds = _timed(job, catalogue, takeoff)
            orders.append((bought, seconds))
            pieces = TakeOff(
                tuple(of for of in takeoff.quantities if catalogue.parts[of.part].sold_as == "piece"), (), ()
            )
            own, quick = _timed(job, catalogue, pieces)
            start = time.perf_counter()
            other = milp(job, catalogue, pieces)
            slow = time.perf_counter() - start
            same = "the same" if abs(other - float(own.cost)) < 0.006 else f"{other:.2f}"
            yield (
                f"{trips} trips, seed {seed}: {seconds:.2f} s, {bought.cost} {_word(bought.proven)}; pieces alone "
                f"{quick:.2f} s, {own.cost} {_word(own.proven)}, MILP {slow:.2f} s, {same}: ratio {quick / slow:.2f}{_gap(bought)}"
            )
    widest = max((of.cost - of.bound) / of.cost for of, _ in orders)
    yield (
        f"{sum(of.proven for of, _ in orders)} of {len(orders)} proven, the others within {widest:.3%}; "
        f"{max(seconds for _, seconds in orders):.2f} s at most"
    )


def _word(proven: bool) -> str:
    return "proven" if proven else "not proven"


def _gap(bought: Order) -> str:
    """What is left open, of the whole."""
    return "" if bought.proven else f"; at most {(bought.cost - bought.bound) / bought.cost:.3%} dearer than the least"


def _timed(job: Job, catalogue: Catalogue, takeoff: TakeOff) -> tuple[Order, float]:
    start = time.perf_counter()
    bought = order(job, catalogue, takeoff)
    return bought, time.perf_counter() - start


def question(seed: int, trips: int = 1, most: int | None = None) -> tuple[Job, Catalogue, TakeOff]:
    """The house, and three merchants with most of its parts at prices that vary by a fixed seed."""
    draw = random.Random(seed)
    catalogue = read_catalogue(FOLDER)
    job = house()
    routed = route(job, catalogue, building := build(job), placed := set_out(job, catalogue, building))
    takeoff = take_off(job, catalogue, placed, routed)
    rows: list[Price] = []
    plain = [row for row in catalogue.prices if row.merchant == "any"]
    sold = {part: draw.choice(sorted(TERMS)) for part in sorted({row.part for row in plain})}
    for name in sorted(TERMS):
        has = {part for part in sorted(sold) if sold[part] == name or draw.random() < 0.85}
        for row in plain:
            if row.part in has:
                price = max(D("0.01"), money(row.price * D(draw.randrange(850, 1150)) / 1000))
                rows.append(replace(row, merchant=name, price=price))
    merchants = {
        name: Merchant(name, D(fee), D(free), None if least is None else D(least), "GBP", "ex", D("0.20"))
        for name, (fee, free, least) in sorted(TERMS.items())
    }
    rows.sort(key=lambda row: (row.part, row.merchant, row.pack))
    buying = replace(job.buying, merchants=("any",), trips=trips, max_merchants=most)
    return replace(job, buying=buying), replace(catalogue, prices=tuple(rows), merchants=merchants), takeoff


def milp(job: Job, catalogue: Catalogue, takeoff: TakeOff) -> float:
    """The least cost of the pieces by HiGHS, in floats: packs of every price, makes, tills used, charges as switches."""
    import highspy

    from estimator.solvers import must, quiet_highs

    need: dict[str, float] = {}
    first: dict[str, bool] = {}
    for row in takeoff.quantities:
        need[row.part] = need.get(row.part, 0.0) + float(row.with_waste)
        first[row.part] = first.get(row.part, False) or row.stage != "second-fix"
    late = {part for part, early in first.items() if job.buying.trips == 2 and not early}
    rows = [row for row in catalogue.prices if row.part in need]
    highs = quiet_highs(mip_rel_gap=0.0, mip_abs_gap=0.0)
    rate = {row.part: 1 + float(catalogue.parts[row.part].vat_rate) for row in rows}
    packs = [highs.addIntegral(obj=float(row.price) * rate[row.part], lb=0, ub=2_000) for row in rows]
    for part, amount in need.items():
        held = sum(float(of.packs or 0) for of in job.buying.in_hand if of.part == part)
        own = [float(row.pack) * var for row, var in zip(rows, packs, strict=True) if row.part == part]
        highs.addConstr(sum(own[1:], start=own[0]) >= amount - held)
    makes: dict[tuple[str, str], list[int]] = {}
    for place, one_row in enumerate(rows):
        if catalogue.parts[one_row.part].match_group:
            makes.setdefault((catalogue.parts[one_row.part].match_group, one_row.match), []).append(place)
    for group in sorted({name for name, _ in makes}):
        chosen = {match: highs.addBinary() for name, match in sorted(makes) if name == group}
        every = list(chosen.values())
        highs.addConstr(sum(every[1:], start=1 * every[0]) == 1)
        for match, one in chosen.items():
            for place in makes[group, match]:
                highs.addConstr(packs[place] - 2_000 * one <= 0)
    for name, merchant in sorted(catalogue.merchants.items()):
        for trip in (False, True):
            own_rows = [at for at, row in enumerate(rows) if row.merchant == name and (row.part in late) == trip]
            if not own_rows:
                continue
            used, charged = highs.addBinary(), highs.addBinary(obj=float(merchant.delivery) * 1.2)
            terms = [float(rows[at].price) * packs[at] for at in own_rows]
            value = sum(terms[1:], start=terms[0])
            for at in own_rows:
                highs.addConstr(packs[at] - 2_000 * used <= 0)
            highs.addConstr(value - float(merchant.minimum or 0) * used >= 0)
            highs.addConstr(value - float(merchant.free_over or 0) * (used - charged) >= 0)
    must(highs.run(), "run")
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        raise RuntimeError("the MILP was not solved")
    return float(highs.getObjectiveValue())
