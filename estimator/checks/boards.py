"""Boards: whether what goes into them has ways enough."""

from decimal import Decimal

from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import Board, Job

CONTACTOR = "contactor"


def ways_taken(job: Job, catalogue: Catalogue, board: Board) -> int:
    """Ways that a board's circuits, the runs it feeds and the contactors in it take.

    A contactor takes the ways of the first device of type `contactor`.
    """
    devices = [circuit.device for circuit in job.circuits if circuit.board == board.name]
    devices += [run.device for run in job.runs if run.device and _feeder(job, run.name) == board.name]
    contactors = sum(control.contactor == board.name for control in job.controls)
    contactor = next((device.ways for device in catalogue.devices.values() if device.type == CONTACTOR), 0)
    return sum(catalogue.devices[device].ways for device in devices) + contactors * contactor


def _feeder(job: Job, run: str) -> str:
    """The end of a run that is not fed by it; of two boards the first."""
    fed = {board.name for board in job.boards if board.fed_by == run}
    of = next(one for one in job.runs if one.name == run)
    return of.end if of.start in fed else of.start


def spare_ways(job: Job, catalogue: Catalogue, board: Board) -> int | None:
    """Ways left in a board in the job; None for one outside it."""
    if board.kind is None or board.outside_job:
        return None
    return catalogue.boards[board.kind].ways - ways_taken(job, catalogue, board)


def ways(job: Job, catalogue: Catalogue) -> tuple[Finding, ...]:
    """A `stop` for a board with too few ways, an `ask` for one without a spare."""
    told = []
    for board in job.boards:
        spare = spare_ways(job, catalogue, board)
        if spare is None or board.kind is None or spare > 0:
            continue
        there, taken = catalogue.boards[board.kind].ways, ways_taken(job, catalogue, board)
        what = (
            f"{board.name} has {there} ways, and {taken} are taken: choose a larger board."
            if spare < 0
            else f"All {there} ways of {board.name} are taken, with none for later or for a surge device: ask whether a "
            "larger board serves you better."
        )
        told.append(
            Finding(
                "board-ways",
                "stop" if spare < 0 else "ask",
                board.name,
                what,
                Decimal(taken),
                Decimal(there),
                "nr",
                "common practice",
            )
        )
    return tuple(told)
