"""The take-off: counts joined with kits, and what routing, set-out, devices and boards need themselves."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Catalogue, KitRow
from estimator.job.model import Job, Stage
from estimator.memory import NOTHING, Memory, Same
from estimator.problems import Place
from estimator.rounding import metres, whole_up
from estimator.routing.model import Routes, RunRoute
from estimator.setout.model import SetOut
from estimator.takeoff.counts import Count, counts, places_of_owners
from estimator.takeoff.labels import ids_as_text
from estimator.takeoff.labour import tasks
from estimator.takeoff.model import CutPiece, Made, Quantity, TakeOff

Need = tuple[Count, KitRow]
STAGES: tuple[Stage, ...] = ("supply", "first-fix", "second-fix")


@dataclass(frozen=True, slots=True)
class Item:
    """One share of a part's quantity, before shares are drawn together; `with_waste` already holds its waste."""

    part: str
    stage: Stage
    quantity: Decimal
    with_waste: Decimal
    of: str
    number: int
    room: str
    place: Place


def take_off(job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes, memory: Memory = NOTHING) -> TakeOff:
    """How much of every part the job needs, by stage, each share with what it is for."""
    counted = counts(job, catalogue, placed, routes)
    needs = _joined(catalogue, counted, memory)
    pieces = tuple(_pieces(job, catalogue, placed, routes, needs))
    items = [*_from_kits(catalogue, needs), *_from_stages(job, catalogue, placed, routes)]
    return TakeOff(_quantities(items), pieces, tasks(catalogue, counted))


def stage_of_run(job: Job, run: RunRoute) -> Stage:
    """`supply` for a run that feeds a board or lies in a trench, else `first-fix`."""
    fed = {board.fed_by for board in job.boards}
    return "supply" if run.stretches or run.name in fed else "first-fix"


def _from_kits(catalogue: Catalogue, needs: Iterable[Need]) -> Iterator[Item]:
    for count, row in needs:
        part = catalogue.parts[row.part]
        if part.sold_as == "length":
            quantity = row.quantity * _piece_count(count, row)
            with_waste = quantity
        else:
            quantity = row.quantity * count.count
            with_waste = quantity * (1 + part.waste)
        yield Item(row.part, row.stage, quantity, with_waste, count.of, count.number, count.room, count.place)


def _joined(catalogue: Catalogue, counted: Iterable[Count], memory: Memory) -> list[Need]:
    """Every count beside every row of its kit with the same `per`."""
    counted = [count for count in counted if count.count]
    asked = tuple(dict.fromkeys((count.kit, count.per) for count in counted))
    rows = memory.recall(("kits", Same(catalogue), asked), lambda: _rows_of_kits(catalogue, asked))
    return [(count, row) for count in counted for row in rows.get((count.kit, count.per), ())]


def _rows_of_kits(catalogue: Catalogue, asked: Sequence[tuple[str, str]]) -> Mapping[tuple[str, str], Sequence[KitRow]]:
    """What is counted beside what kits say of it: a join of two tables on (kit, per)."""
    import pandas as pd

    left = pd.DataFrame(asked, columns=["kit", "per"])
    rows = [row for of in catalogue.kits.values() for row in of if row.quantity]
    right = pd.DataFrame([(row.kit, row.per, row) for row in rows], columns=["kit", "per", "row"])
    both = left.merge(right, on=["kit", "per"], how="inner", sort=False)
    found: dict[tuple[str, str], list[KitRow]] = {}
    for kit, per, row in zip(both["kit"], both["per"], both["row"], strict=True):
        found.setdefault((kit, per), []).append(row)
    return found


def _piece_count(count: Count, row: KitRow) -> int:
    return whole_up(count.count * row.pieces)


def _from_stages(job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes) -> Iterator[Item]:
    rooms = {point.id: point.room for point in placed.points}
    places = places_of_owners(job)
    for leg in routes.legs:
        yield Item(
            catalogue.cables[leg.cable].part,
            "first-fix",
            metres(leg.length_mm),
            metres(leg.cut_mm),
            leg.owner,
            0,
            rooms.get(leg.end, ""),
            places[leg.owner],
        )
    for run in routes.runs:
        yield Item(
            catalogue.cables[run.cable].part,
            stage_of_run(job, run),
            metres(run.length_mm),
            metres(run.cut_mm),
            run.name,
            0,
            "",
            run.place,
        )
    points = {point.id: point for point in placed.points}
    for noggin in placed.noggins:
        first, length = points[noggin.points[0]], noggin.length_mm.scaleb(-3)
        yield Item(noggin.part, "first-fix", length, length, first.group, first.number, noggin.room, first.place)
    yield from _switchgear(job, catalogue)


def _switchgear(job: Job, catalogue: Catalogue) -> Iterator[Item]:
    """Devices of circuits and of runs fed in the job, and board cases.

    What stands in a board outside the job has to match that board and is not ours to buy; a finding says so.
    """
    inside = {board.name: board for board in job.boards if not board.outside_job}
    one = Decimal(1)
    for circuit in job.circuits:
        if circuit.board in inside:
            part = catalogue.devices[circuit.device].part
            room = inside[circuit.board].room or ""
            yield Item(part, "second-fix", one, _wasted(catalogue, part), circuit.name, 0, room, circuit.place)
    for run in job.runs:
        if run.device and (run.start in inside or run.end in inside) and _feeds_from_inside(job, run.name):
            part = catalogue.devices[run.device].part
            yield Item(part, "second-fix", one, _wasted(catalogue, part), run.name, 0, "", run.place)
    for board in inside.values():
        if board.kind is not None:
            part = catalogue.boards[board.kind].part
            yield Item(part, "second-fix", one, _wasted(catalogue, part), board.name, 0, board.room or "", board.place)


def _wasted(catalogue: Catalogue, part: str) -> Decimal:
    return 1 + catalogue.parts[part].waste


def _feeds_from_inside(job: Job, run: str) -> bool:
    """Whether the board at the feeding end of a run stands in the job."""
    ends = next((of.start, of.end) for of in job.runs if of.name == run)
    fed = {board.name for board in job.boards if board.fed_by == run}
    outside = {board.name for board in job.boards if board.outside_job}
    feeders = [end for end in ends if end not in fed]
    return not any(end in outside for end in feeders)


def _quantities(items: Iterable[Item]) -> tuple[Quantity, ...]:
    grouped: dict[tuple[str, int], list[Item]] = {}
    for item in items:
        grouped.setdefault((item.part, STAGES.index(item.stage)), []).append(item)
    return tuple(_quantity(part, STAGES[stage], shares) for (part, stage), shares in sorted(grouped.items()))


def _quantity(part: str, stage: Stage, items: list[Item]) -> Quantity:
    places = sorted({item.place for item in items if item.place.file})
    return Quantity(
        part,
        stage,
        sum((item.quantity for item in items), Decimal(0)),
        sum((item.with_waste for item in items), Decimal(0)),
        _made_of(items),
        tuple(places),
    )


def _made_of(items: list[Item]) -> tuple[Made, ...]:
    shares: dict[tuple[str, str], list[Item]] = {}
    for item in items:
        shares.setdefault((item.of, item.room), []).append(item)
    made = []
    for (of, room), group in sorted(shares.items()):
        numbers = [(of, item.number) for item in group if item.number]
        total = sum((item.quantity for item in group), Decimal(0))
        made.append(Made(ids_as_text(numbers) if numbers else of, room, total))
    return tuple(made)


def _pieces(
    job: Job, catalogue: Catalogue, placed: SetOut, routes: Routes, needs: Iterable[Need]
) -> Iterator[CutPiece]:
    for leg in routes.legs:
        yield CutPiece(catalogue.cables[leg.cable].part, "first-fix", leg.id, Decimal(leg.cut_mm))
    for run in routes.runs:
        yield CutPiece(catalogue.cables[run.cable].part, stage_of_run(job, run), run.id, Decimal(run.cut_mm))
    for noggin in placed.noggins:
        yield CutPiece(noggin.part, "first-fix", f"noggin {', '.join(noggin.points)}", noggin.length_mm)
    for count, row in needs:
        if catalogue.parts[row.part].sold_as == "length":
            name = f"{count.of}{count.number}" if count.number else count.of
            for _ in range(_piece_count(count, row)):
                yield CutPiece(row.part, row.stage, f"{row.kit} {name}", row.quantity.scaleb(3))
