"""The purchase as one problem: the house from three merchants that sell most of it, and its pieces against a plain MILP."""

import random
import statistics
import time
from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from estimator.building.build import build
from estimator.buying.order import order
from estimator.catalogue.model import Catalogue, Merchant, Price
from estimator.catalogue.read import read_catalogue
from estimator.job.model import Buying, Job
from estimator.rounding import money
from estimator.routing.route import route
from estimator.setout.place import set_out
from estimator.takeoff.measure import take_off
from estimator.takeoff.model import TakeOff
from tests.houses import FOLDER, house

SEEDS = range(5)
ROUNDS = 3
TERMS = {"north": ("9.50", "150", None), "south": ("18", "600", "60"), "west": ("30", "1200", "100")}
"""Delivery, free over, smallest order, ex VAT: invented."""
D = Decimal


def run() -> Iterator[str]:
    """Seconds for one order, whether it is proven, and the cost of the pieces alone beside that of the MILP."""
    for trips in (1, 2):
        for seed in SEEDS:
            job, catalogue, takeoff = question(seed, trips)
            bought, seconds = _timed(job, catalogue, takeoff)
            pieces = TakeOff(
                tuple(of for of in takeoff.quantities if catalogue.parts[of.part].sold_as == "piece"), (), ()
            )
            own, quick = _timed(job, catalogue, pieces)
            start = time.perf_counter()
            other = milp(job, catalogue, pieces)
            slow = time.perf_counter() - start
            same = "the same" if money(other) == own.cost else f"{other:.2f}"
            yield (
                f"{trips} trips, seed {seed}: {seconds:.2f} s, {bought.cost} {_word(bought.proven)}; pieces alone "
                f"{quick:.2f} s, {own.cost} {_word(own.proven)}, MILP {slow:.2f} s, {same}: ratio {quick / slow:.2f}"
            )


def _word(proven: bool) -> str:
    return "proven" if proven else "not proven"


def _timed(job: Job, catalogue: Catalogue, takeoff: TakeOff):  # type: ignore[no-untyped-def]
    spent = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        bought = order(job, catalogue, takeoff)
        spent.append(time.perf_counter() - start)
    return bought, statistics.median(spent)


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
