"""The purchase: a take-off and the price lists in; whole packs, drums and lengths at least cost, delivery included, out."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from estimator.buying.baskets import fill_baskets
from estimator.buying.model import Bought, Comparison, Order, OrderLine
from estimator.buying.purchase.branch import Answer, cheapest_purchase
from estimator.buying.purchase.cheapest import Cheapest
from estimator.buying.purchase.check import order_faults
from estimator.buying.purchase.fewest import fewest, lacking_parts
from estimator.buying.purchase.model import Block, Purchase, Task
from estimator.buying.purchase.problem import Laid, lay_out
from estimator.buying.purchase.result import (
    cuts_of,
    delivery_lines,
    goods_lines,
    near_free,
    notes,
    small_orders,
    taken_in_hand,
)
from estimator.buying.stock import PlanFault
from estimator.catalogue.model import Catalogue
from estimator.job.model import Job
from estimator.memory import NOTHING, Memory
from estimator.problems import Problem, Refused
from estimator.rounding import money
from estimator.takeoff.model import TakeOff


def order(job: Job, catalogue: Catalogue, takeoff: TakeOff, memory: Memory = NOTHING) -> Order:
    """The cheapest purchase of everything, delivery included, as one problem.

    Where no purchase reaches every merchant's smallest order, those limits are left aside and findings say so.
    Ties: least money, then fewest merchants, then least money left over in packs, then merchants by name.

    Raises:
        Refused: a part that no allowed merchant sells, a piece longer than anything for sale, or fewer merchants
            allowed than it takes to get everything.
        PlanFault: the second look found a mistake of ours.
    """
    cheapest = Cheapest(memory)
    laid = lay_out(job, catalogue, takeoff, cheapest, memory)
    if laid.problems:
        raise Refused(laid.problems)
    least = fewest(laid.task, cheapest)
    if least > laid.task.most:
        raise Refused([_too_few(job, laid, cheapest, least)])
    answer, purchase = _solved(laid.task, cheapest)
    made = _made(job, catalogue, laid, answer, purchase)
    faults = order_faults(job, catalogue, takeoff, made)
    if faults:
        raise PlanFault("; ".join(faults))
    return replace(made, counter=_counter(laid.task, cheapest, purchase, least))


def _solved(task: Task, cheapest: Cheapest) -> tuple[Answer, Purchase]:
    """The best purchase; where none reaches every smallest order, the best that leaves them aside."""
    answer = cheapest_purchase(task, cheapest)
    if answer.purchase is None:
        tills = tuple(replace(till, minimum=0) for till in task.tills)
        answer = cheapest_purchase(replace(task, tills=tills), cheapest)
    if answer.purchase is None:
        raise PlanFault("no purchase was found, though all can be bought")
    return answer, answer.purchase


def _too_few(job: Job, laid: Laid, cheapest: Cheapest, least: int) -> Problem:
    """What to write, in merchants that the job may count: those with a name."""
    most = laid.task.most - laid.not_chosen
    parts = ", ".join(lacking_parts(laid.task, cheapest, laid.task.most))
    none = "no single merchant sells" if most == 1 else f"no {most} merchants between them sell"
    return Problem(
        job.buying.place,
        "buying.max_merchants",
        f"{none} everything; these parts are left: {parts}",
        f"write {least - laid.not_chosen}, the fewest that would do, or add prices for these parts",
    )


def _made(job: Job, catalogue: Catalogue, laid: Laid, answer: Answer, purchase: Purchase) -> Order:
    task = laid.task
    goods = goods_lines(purchase, laid.needs)
    filled, baskets = fill_baskets([*goods, *delivery_lines(task, purchase, catalogue, goods)])
    hand = taken_in_hand(purchase.picks)
    return Order(
        lines=tuple(line for line in filled if line.part),
        delivery=tuple(line for line in filled if not line.part),
        baskets=baskets,
        cuts=cuts_of(task, purchase),
        bought=tuple(_bought(need.part, hand[need.part], filled) for need in laid.needs),
        cost=money(Fraction(purchase.cost, task.scale)),
        bound=money(Fraction(answer.bound, task.scale)),
        proven=answer.bound == purchase.cost,
        findings=(
            *laid.findings,
            *notes(task, purchase, catalogue, job.currency),
            *small_orders(task, purchase, catalogue, job.currency),
        ),
        near=near_free(task, purchase, catalogue),
    )


def _bought(part: str, in_hand: Decimal, lines: Iterable[OrderLine]) -> Bought:
    of = [line for line in lines if line.part == part]
    net = sum((line.net for line in of), Decimal(0))
    return Bought(part, net, sum((line.pack * line.packs for line in of), Decimal(0)), in_hand)


def _counter(task: Task, cheapest: Cheapest, purchase: Purchase, least: int) -> Comparison | None:
    """The same from the fewest merchants in one trip, where the purchase is not that already."""
    if task.trips == 1 and task.merchants_of(purchase.used).bit_count() <= least:
        return None
    once = replace(
        task,
        trips=1,
        most=least,
        tills=task.tills[: len(task.merchants)],
        blocks=tuple(
            Block(tuple(tuple(replace(want, trip=0) for want in wants) for wants in block.makes))
            for block in task.blocks
        ),
    )
    answer, other = _solved(once, cheapest)
    cost, least_cost = (money(Fraction(of.cost, task.scale)) for of in (other, purchase))
    # The difference of the two as they are told, so that they add up to the penny.
    return Comparison(once.names_of(other.used), cost, cost - least_cost, answer.bound == other.cost)
