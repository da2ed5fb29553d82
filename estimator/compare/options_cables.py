"""Options of boards and runs: a larger feed, a larger board, a second data cable."""

from estimator.catalogue.model import BoardKind, Cable, OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_here import Here, free_name
from estimator.compare.options_model import Made, cap, listed
from estimator.compare.options_places import board_place
from estimator.job.model import Board, Run
from estimator.job.tree import address
from estimator.setout.words import in_metres

DATA = "data"
"""The `construction` of data cable."""


def larger_feed(here: Here, row: OptionRow) -> Made | str:
    """The next size up for every run that feeds a board."""
    fed = {board.fed_by: board for board in here.job.boards if board.fed_by is not None}
    feeds = [run for run in here.job.runs if run.name in fed]
    if not feeds:
        return "no run feeds a board"
    larger = [(run, next_size(here, run)) for run in feeds]
    changes = [(address(("run", run.name, "cable")), cable.cable) for run, cable in larger if cable is not None]
    if not changes:
        return f"{listed([run.cable for run in feeds])}: cables.csv has nothing larger of the kind"
    says = [f"{run.name} from {run.cable} to {cable.cable}" for run, cable in larger if cable is not None]
    left = [run.name for run, cable in larger if cable is None]
    stays = f" {cap(listed(left))} stays: nothing larger of its kind is in cables.csv." if left else ""
    return Made(f"{cap(listed(says))}.{stays}", Changes(change=tuple(changes)))


def next_size(here: Here, run: Run) -> Cable | None:
    """The cable next in size with as many cores of the same construction."""
    own = here.catalogue.cables[run.cable]
    alike = [
        cable
        for cable in here.catalogue.cables.values()
        if (cable.construction, cable.cores, cable.metal) == (own.construction, own.cores, own.metal)
        and cable.csa_mm2 > own.csa_mm2
    ]
    return min(alike, key=lambda cable: (cable.csa_mm2, cable.cable), default=None)


def larger_board(here: Here, row: OptionRow) -> Made | str:
    """The board next in size for every board of the job, moved along its wall where it would not fit."""
    boards = [board for board in here.job.boards if not board.outside_job]
    if not boards:
        return "the job has no board of its own"
    change: list[tuple[str, object]] = []
    says, left = [], []
    for board in boards:
        kind = _next_board(here, board)
        along = None if kind is None else board_place(here, board, kind)
        if kind is None or along is None:
            left.append(board.name)
            continue
        change.append((address(("board", board.name, "kind")), kind.kind))
        moved = along != board.along_mm
        if moved:
            change.append((address(("board", board.name, "along")), f"{along} mm"))
        says.append(f"{board.name} with {kind.ways} ways{f', moved to {in_metres(along)}' if moved else ''}")
    if not change:
        return f"{listed(left)}: boards.csv has nothing larger, or it does not fit where the board hangs"
    stays = f" {listed(left)} stays: nothing larger fits." if left else ""
    return Made(f"{cap(listed(says))}.{stays}", Changes(change=tuple(change)))


def _next_board(here: Here, board: Board) -> BoardKind | None:
    own = here.catalogue.boards[board.kind or ""]
    alike = [
        kind
        for kind in here.catalogue.boards.values()
        if (kind.kit, kind.tail, kind.place_in_or_out) == (own.kit, own.tail, own.place_in_or_out)
        and kind.ways > own.ways
    ]
    return min(alike, key=lambda kind: (kind.ways, kind.kind), default=None)


def second_cable(here: Here, row: OptionRow) -> Made | str:
    """One more of every data run, beside it; a length measured for the first stays with the first."""
    data = [run for run in here.job.runs if here.catalogue.cables[run.cable].construction == DATA]
    if not data:
        return "the job has no data run"
    taken = [run.name for run in here.job.runs] + [board.name for board in here.job.boards]
    runs = []
    for run in data:
        name = free_name(f"{run.name}, second", taken)
        taken.append(name)
        runs.append(_copy(run, name, row.cable))
    measured = [
        (f"as_built[{number}].run", run.name)
        for number, one in enumerate(here.job.as_built, 1)
        for run in data
        if one.run is None and one.circuit is None and {one.start, one.end} == {run.start, run.end}
    ]
    beside = "the data run" if len(data) == 1 else f"each of the {len(data)} data runs"
    return Made(f"A second cable beside {beside}.", Changes(change=tuple(measured), add=(("run", runs),)))


def _copy(run: Run, name: str, cable: str | None) -> dict[str, object]:
    copy: dict[str, object] = {"name": name, "cable": cable or run.cable, "from": run.start, "to": run.end}
    ends = {key: kit for key, kit in zip(("from", "to"), run.end_kits, strict=True) if kit is not None}
    if ends:
        copy["ends"] = ends
    if not run.stretches:
        return copy
    stretches = [
        {"in": "building", "length": f"{part.length_mm} mm"}
        if part.trench is None
        else {"in": "trench", "trench": part.trench, "length": f"{part.length_mm} mm"}
        for part in run.stretches
    ]
    return {**copy, "stretches": stretches, "entry": f"{run.entry_mm} mm"}
