"""Rules of boards and runs: where they are, what feeds what, and the ground that runs lie in."""

from collections.abc import Iterator

from estimator.job.known import Known
from estimator.job.model import Height
from estimator.job.rules_heights import height
from estimator.job.rules_names import OUTSIDE
from estimator.job.rules_rooms import on_wall, wall_exists
from estimator.job.table import Table
from estimator.problems import Problem, choose

PLACE_KEYS = ("kind", "room", "wall", "along", "height")
SAMPLES = {
    "kind": '"consumer-unit-8"',
    "room": '"..."',
    "wall": '"left"',
    "along": '"0.4 m"',
    "height": '"1.4 m"',
}


def check(known: Known) -> Iterator[Problem]:
    """Every rule of boards and runs."""
    for board in known.job.tables("board"):
        yield from _board(known, board)
        yield from _fed_by(known, board)
    yield from _origins(known)
    for run in known.job.tables("run"):
        yield from _ends(known, run)
        yield from _placeless(known, run)
        yield from _stretches(known, run)


def _outside(board: Table | None) -> bool:
    return board is not None and board.get("outside_job", bool) is True


def _board(known: Known, board: Table) -> Iterator[Problem]:
    if board.get("outside_job", bool) is None:
        return
    if _outside(board):
        for key in PLACE_KEYS:
            if board.has(key):
                yield board.problem(key, f"a board outside the job has no {key}", "take it out")
        return
    if board.has("way"):
        yield board.problem("way", "way belongs to a board outside the job", "write device in the run instead")
    for key in PLACE_KEYS:
        if not board.has(key):
            hint = f"write {key} = {SAMPLES[key]}, or outside_job = true for one that is there already"
            yield board.problem(None, f"{key} is missing", hint)
    yield from _hangs(known, board)


def _hangs(known: Known, board: Table) -> Iterator[Problem]:
    name, wall = board.get("room", str), board.get("wall", str)
    yield from known.refer(board, "room", "room", name)
    room = known.find("room", name)
    if room is not None:
        yield from wall_exists(room, board, "wall", wall)
        yield from on_wall(board, room, wall, "along", board.get("along", int))
        yield from height(board, room, "wall", board.get("height", Height), (wall,))


def _fed_by(known: Known, board: Table) -> Iterator[Problem]:
    name = board.get("fed_by", str)
    run = known.find("run", name)
    yield from known.refer(board, "fed_by", "run", name)
    if run is None or board.name is None:
        return
    ends = [run.get(key, str) for key in ("from", "to")]
    if None in ends:
        return
    if board.name not in ends:
        found = f'run "{name}" goes from "{ends[0]}" to "{ends[1]}", not to "{board.name}"'
        yield board.problem("fed_by", found, "name a run that has this board at one end")
        return
    feeding = ends[0] if ends[1] == board.name else ends[1]
    if known.find("board", feeding) is None:
        # An end that is nothing at all is told at the run.
        if known.complete("board") and feeding and (feeding.startswith(OUTSIDE) or known.group_of(feeding)):
            found = f'the other end of run "{name}" is "{feeding}", which is no board'
            yield board.problem("fed_by", found, "name a run that comes from a board")
        return
    yield from _circle(known, board)
    yield from _two_devices(known.find("board", feeding), run)


def feeder(known: Known, board: Table) -> Table | None:
    """The board that feeds a board, where its run is there and leads to one."""
    run = known.find("run", board.get("fed_by", str))
    if run is None:
        return None
    others = [end for end in (run.get("from", str), run.get("to", str)) if end != board.name]
    return known.find("board", others[0]) if len(others) == 1 else None


def _circle(known: Known, board: Table) -> Iterator[Problem]:
    """A problem where the boards that feed this one lead back to it; told at each board of the circle."""
    way = [board]
    while (above := feeder(known, way[-1])) is not None and above not in way:
        way.append(above)
    if above is board:
        names = " <- ".join(f'"{table.name}"' for table in (*way, board))
        yield board.problem("fed_by", f"boards feed each other in a circle: {names}", "take one fed_by out")


def _two_devices(feeding: Table | None, run: Table) -> Iterator[Problem]:
    way = feeding.get("way", Table) if feeding is not None and _outside(feeding) else None
    given, there = run.get("device", str), way.get("device", str) if way else None
    if feeding is not None and given is not None and there is not None and given != there:
        found = f'the run takes "{given}", but the way of board "{feeding.name}" has "{there}"'
        yield run.problem("device", found, "keep one of them, or write the same in both")


def _origins(known: Known) -> Iterator[Problem]:
    """Chains end at one board outside the job."""
    first: Table | None = None
    for board in known.job.tables("board"):
        if not _outside(board) or board.has("fed_by"):
            continue
        if first is not None:
            found = f'the supply starts at board "{first.name}" already'
            hint = 'write fed_by = "..." for one of them, or make it an end "outside: ..." of its run'
            yield board.problem(None, found, hint)
        first = first or board


def _ends(known: Known, run: Table) -> Iterator[Problem]:
    for key in ("from", "to"):
        end = run.get(key, str)
        if end is None or known.find("board", end) or known.group_of(end):
            continue
        if end.startswith(OUTSIDE):
            if not end.removeprefix(OUTSIDE).strip():
                yield run.problem(key, "nothing says what is outside", 'write for example "outside: garden tap"')
        elif known.complete("board") and known.complete("points"):
            hint = known.point_hint(end) if known.find("points", end) else choose(end, known.named["board"])
            found = f'there is no board or point "{end}"'
            beyond = f'place beyond the job is written "{OUTSIDE} ..."'
            yield run.problem(key, found, f"{hint} A {beyond}" if hint.endswith("?") else f"{hint}; a {beyond}")
    if run.get("from", str) is not None and run.get("from", str) == run.get("to", str):
        yield run.problem("to", "a run needs two different ends", "name another place")


def _placeless(known: Known, run: Table) -> Iterator[Problem]:
    """An end without a place in the job: the run's length has to be told."""
    if run.has("stretches"):
        return
    for key in ("from", "to"):
        end = run.get(key, str) or ""
        if end.startswith(OUTSIDE) or _outside(known.find("board", end)):
            found = f'"{end}" has no place in the job, so the run needs stretches'
            yield run.problem(key, found, 'write stretches = [{ in = "building", length = "4 m" }]')
            return


def _stretches(known: Known, run: Table) -> Iterator[Problem]:
    for part in run.tables("stretches"):
        kind, name = part.get("in", str), part.get("trench", str)
        trench = known.find("trench", name)
        yield from known.refer(part, "trench", "trench", name)
        if kind == "building" and part.has("trench"):
            yield part.problem("trench", "a stretch in a building has no trench", 'write in = "trench", or take it out')
        if kind == "building" and not part.has("length"):
            yield part.problem(None, "length is missing", 'write length = "4 m" (how far in the building)')
        if kind == "trench" and not part.has("trench"):
            yield part.problem(None, "trench is missing", 'write trench = "..." (the name of a [[trench]])')
        if trench is not None:
            yield from _too_long(trench, part)


def _too_long(trench: Table, part: Table) -> Iterator[Problem]:
    lengths = [dig.get("length", int) for dig in trench.tables("stretches")]
    whole = sum(length for length in lengths if length is not None)
    wanted = part.get("length", int)
    if wanted is not None and None not in lengths and whole and wanted > whole:
        found = f'trench "{trench.name}" is only {whole} mm long'
        yield part.problem("length", found, "leave length out for the whole of it")
