"""Checked tables -> the frozen `Job`. Nothing is checked here: a key that is missing now is our mistake, a KeyError."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import TypeVar

from estimator.job import build_building, build_electrics
from estimator.job.addressed import addressed
from estimator.job.model import Age, Allowances, Buying, Certificate, InHand, Job, ListHead, Scenario, Sum
from estimator.job.table import Table
from estimator.memory import NOTHING, Memory, Same
from estimator.quantities import Money

T = TypeVar("T")


def build(job: Table, memory: Memory = NOTHING) -> Job:
    """The job that the tables describe; rows that a `memory` has are those very objects again."""

    def kept(make: Callable[[Table], T], *names: str) -> T:
        return _kept(job, memory, make, *names)

    trenches = kept(build_electrics.trenches, "trench")
    return Job(
        title=job.must("title", str),
        ruleset=job.must("ruleset", str),
        currency=job.must("currency", str),
        priced_on=job.must("priced_on", date),
        test_on=job.get("test_on", date),
        allowances=kept(lambda whole: _allowances(whole.must("allowances", Table)), "allowances"),
        supply=build_electrics.supply(job),
        boards=kept(build_electrics.boards, "board"),
        rooms=kept(build_building.rooms, "room", "frame"),
        groups=kept(build_electrics.groups, "points"),
        circuits=kept(build_electrics.circuits, "circuit"),
        controls=kept(build_electrics.controls, "control"),
        trenches=trenches,
        runs=kept(lambda whole: build_electrics.runs(whole, trenches), "run", "trench"),
        sums=tuple(_sum(table) for table in job.tables("sum")),
        certificate=_certificate(job.get("certificate", Table)),
        buying=kept(lambda whole: _buying(whole.must("buying", Table)), "buying"),
        as_built=kept(build_electrics.as_built, "as_built"),
        list_head=_list_head(job.get("list", Table)),
        scenarios=tuple(_scenario(table) for table in job.tables("scenario")),
        place=job.place(),
    )


def _kept(job: Table, memory: Memory, make: Callable[[Table], T], *names: str) -> T:
    """What is made of the tables of some names and nothing else, once for the same tables at the same places.

    A change to a table makes new objects of all that holds it, with places of their own, and leaves the rest as it is.
    """
    tree = job.tree
    tables = ((Same(tree.data.get(name)), tree.places.get((name,)), tree.key_places.get((name,))) for name in names)
    return memory.recall(("tables", names, tree.file, *tables), lambda: make(job))


def _allowances(table: Table) -> Allowances:
    tails = table.must("tails", Table)
    return Allowances(
        cable_waste=table.must("cable_waste", Decimal),
        leg_extra_mm=table.must("leg_extra", int),
        contingency=table.must("contingency", Decimal),
        vat=table.must("vat", Decimal),
        kerf_mm=table.must("kerf", Decimal),
        tails_mm=tuple((key, tails.must(key, int)) for key in sorted(tails.values)),
        place=table.place(),
    )


def _sum(table: Table) -> Sum:
    low, likely, high = amounts(table)
    return Sum(
        name=table.must("name", str),
        kind=table.must("kind", str),  # type: ignore[arg-type]  # one of the words of its kind
        low=low.amount,
        likely=likely.amount,
        high=high.amount,
        vat=table.must("vat", str),  # type: ignore[arg-type]  # one of the words of its kind
        stage=table.get("stage", str),  # type: ignore[arg-type]  # one of the words of its kind
        place=table.place(),
    )


def amounts(table: Table) -> tuple[Money, Money, Money]:
    """The low, likely and high amount of a sum; three times the same where it is no range."""
    amount = table.values.get("amount")
    if isinstance(amount, Table):
        low, likely, high = (amount.must(key, Money) for key in ("low", "likely", "high"))
        return low, likely, high
    single = table.must("amount", Money)
    return single, single, single


def _certificate(table: Table | None) -> Certificate | None:
    if table is None:
        return None
    return Certificate(table.get("nation", str), table.get("route", str), table.get("agreed_on", date), table.place())


def _buying(table: Table) -> Buying:
    in_hand = tuple(_in_hand(item) for item in table.tables("in_hand"))
    return Buying(
        merchants=table.items("merchants", str),
        in_hand=in_hand,
        max_merchants=table.get("max_merchants", int),
        trips=table.must("trips", int),
        price_age=table.must("price_age", Age),
        place=table.place(),
    )


def _scenario(table: Table) -> Scenario:
    return Scenario(
        name=table.must("name", str),
        change=tuple(addressed(table, "change")),
        add=tuple(addressed(table, "add")),
        remove=table.items("remove", str),
        option=table.get("option", str),
        place=table.place(),
    )


def _list_head(table: Table | None) -> ListHead:
    if table is None:
        return ListHead()
    return ListHead(
        table.get("reference", str),
        table.get("wanted_by", date),
        table.get("collect", bool),
        table.get("contact", str),
        table.place(),
    )


def _in_hand(table: Table) -> InHand:
    packs = table.get("packs", int)
    return InHand(
        part=table.must("part", str),
        length_mm=table.get("length", int),
        count=table.get("count", int) or 0,
        packs=None if packs is None else Decimal(packs),
        place=table.place(),
    )
