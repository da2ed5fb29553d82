"""Options in the ground: a spare duct, other services, digging by machine or by hand."""

from dataclasses import replace
from decimal import ROUND_HALF_UP, Decimal

from estimator.catalogue.model import Labour, OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_here import Here, free_name
from estimator.compare.options_model import Made, cap, listed, must
from estimator.costing.model import Range
from estimator.job.model import Digging, Sum, Trench
from estimator.job.tree import address
from estimator.rounding import metres, money, whole_up
from estimator.setout.words import in_metres
from estimator.takeoff.counts import of_trench

DUCT = "duct"
"""The `construction` of what is laid in the ground to draw cables through."""
THROUGH_WALL_MM = 300
"""How far a duct goes into a building: through the wall and proud of it; its tail is what stands up there. Common practice."""
USUAL_ENTRY_MM = 450
MACHINE = "trench-by-machine"
"""The kit of labour.csv for digging by machine, counted as `of_trench` does."""
DIGGERS = ("digger", "excavator")
"""Words in the name of a sum by which it is known to hire a machine that digs."""
DAY = Decimal(8)


def duct(here: Here, row: OptionRow) -> Made | str:
    """A duct through every trench that has none."""
    if not here.job.trenches:
        return "the job has no trench"
    bare = [trench for trench in here.job.trenches if not _has_duct(here, trench)]
    if not bare:
        return "a duct lies in every trench already"
    runs = _ducts(here, row, bare)
    return Made(
        f"A duct with a cord in it, sealed at both ends, through {_trenches(bare)}.", Changes(add=(("run", runs),))
    )


def services(here: Here, row: OptionRow) -> Made | str:
    """A duct in every trench, if a cable is named, and a sum for what is not ours."""
    if not here.job.trenches:
        return "the job has no trench"
    sums = [_pipes(trench, must(row.amount)) for trench in here.job.trenches]
    add: list[tuple[str, object]] = [("sum", sums)]
    if row.cable:
        add.insert(0, ("run", _ducts(here, row, here.job.trenches)))
    says = f"{'A duct and a' if row.cable else 'A'} provisional sum for pipes and the like in each trench."
    ask = "How far they lie from the cable is for your electrician and whoever supplies them to say."
    return Made(f"{says} {ask}", Changes(add=tuple(add)))


def _pipes(trench: Trench, amount: Decimal) -> dict[str, object]:
    """The sum for one trench, so much a metre of it."""
    return {
        "name": f"Other services in the trench {trench.name}: pipes and fittings",
        "kind": "provisional",
        "amount": f"{money(amount * metres(trench.length_mm)):.2f}",
        "vat": "ex",
        "stage": "supply",
    }


def _has_duct(here: Here, trench: Trench) -> bool:
    return any(
        here.catalogue.cables[run.cable].construction == DUCT and trench.name in {part.trench for part in run.stretches}
        for run in here.job.runs
    )


def _ducts(here: Here, row: OptionRow, trenches: tuple[Trench, ...] | list[Trench]) -> list[dict[str, object]]:
    """A run through each trench, in at one end and out at the other as its cables are."""
    taken = [run.name for run in here.job.runs] + [board.name for board in here.job.boards]
    runs: list[dict[str, object]] = []
    for trench in trenches:
        name = free_name(f"duct in {trench.name}", taken)
        taken.append(name)
        runs.append(_run(here, must(row.cable), trench, name))
    return runs


def _run(here: Here, cable: str, trench: Trench, name: str) -> dict[str, object]:
    beside = [run.entry_mm for run in here.job.runs if trench.name in {part.trench for part in run.stretches}]
    wall = {"in": "building", "length": f"{THROUGH_WALL_MM} mm"}
    run: dict[str, object] = {
        "name": name,
        "cable": cable,
        "from": f"outside: one end of the {name}",
        "to": f"outside: the other end of the {name}",
        "stretches": [wall, {"in": "trench", "trench": trench.name}, wall],
        "entry": f"{beside[0] if beside else USUAL_ENTRY_MM} mm",
    }
    ends = here.catalogue.cables[cable].end_in
    return {**run, "ends": {"from": ends, "to": ends}} if ends else run


def dig_by_machine(here: Here, row: OptionRow) -> Made | str:
    """Every trench by machine, and the hire of a digger for as many days as that takes where none is hired already."""
    if not here.job.trenches:
        return "the job has no trench"
    by_hand = _dug(here, "by hand")
    if not by_hand:
        return "every trench is dug by machine already"
    digging = _digging(here, by_hand)
    if digging is None:
        return f'labour.csv has no time for the kit "{MACHINE}"'
    change = tuple((address(("trench", trench.name, "dig")), "by machine") for trench in by_hand)
    says = f"By machine: {_trenches(by_hand)}, {_hours(digging)} of digging"
    hired = _diggers(here)
    if hired:
        return Made(f'{says}; "{hired[0].name}" is hired already.', Changes(change=change))
    hire = _hire(digging, must(row.amount))
    return Made(f"{says}, with the hire of a digger.", Changes(change=change, add=(("sum", [hire]),)))


def dig_by_hand(here: Here, row: OptionRow) -> Made | str:
    """Every trench by hand, without the hire of a digger."""
    if not here.job.trenches:
        return "the job has no trench"
    by_machine, hired = _dug(here, "by machine"), _diggers(here)
    if not by_machine and not hired:
        return "every trench is dug by hand already, and no digger is hired"
    changes = Changes(
        change=tuple((address(("trench", trench.name, "dig")), "by hand") for trench in by_machine),
        remove=tuple(address(("sum", one.name)) for one in hired),
    )
    says = [f"by hand: {_trenches(by_machine)}"] if by_machine else []
    if hired:
        names = [f'"{one.name}"' for one in hired]
        says.append(f"without {listed(names)}")
    return Made(f"{cap(', '.join(says))}.", changes)


def _dug(here: Here, how: Digging) -> list[Trench]:
    return [trench for trench in here.job.trenches if trench.dig == how]


def _trenches(trenches: list[Trench]) -> str:
    return listed([f'the trench "{trench.name}" ({in_metres(trench.length_mm)})' for trench in trenches])


def _diggers(here: Here) -> list[Sum]:
    return [one for one in here.job.sums if one.kind == "hire" and any(word in one.name.lower() for word in DIGGERS)]


def _digging(here: Here, trenches: list[Trench]) -> Range | None:
    """Hours that digging these trenches by machine takes."""
    rows = [row for row in here.catalogue.labour if row.kit == MACHINE]
    counted = [of for trench in trenches for of in of_trench(replace(trench, dig="by machine")) if of.kit == MACHINE]
    work = [(row, of.count) for row in rows for of in counted if of.per == row.per]
    return _range(work) if work else None


def _range(work: list[tuple[Labour, Decimal]]) -> Range:
    low, likely, high = (
        sum((getattr(row, end) * count for row, count in work), Decimal(0)) / 60 for end in ("low", "likely", "high")
    )
    return Range(low, likely, high)


def _hire(hours: Range, a_day: Decimal) -> dict[str, object]:
    """Whole days of hire; a range where the hours may take more or fewer of them."""
    low, likely, high = (
        f"{money(a_day * max(1, whole_up(spent / DAY))):.2f}" for spent in (hours.low, hours.likely, hours.high)
    )
    amount = likely if low == high else {"low": low, "likely": likely, "high": high}
    return {"name": "Mini digger for the trench", "kind": "hire", "amount": amount, "vat": "inc", "stage": "supply"}


def _hours(of: Range) -> str:
    low, likely, high = (f"{hours.quantize(Decimal('0.1'), ROUND_HALF_UP):f}" for hours in (of.low, of.likely, of.high))
    return f"{likely} hours ({low} to {high})"
