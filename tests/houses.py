"""The two-storey house of the examples as a `Job`, and jobs made of it: renamed, copied side by side, mirrored."""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

from estimator.job.model import (
    NO_CIRCUIT,
    At,
    Board,
    Circuit,
    Control,
    FlatPlace,
    Group,
    Height,
    Job,
    Opening,
    Room,
    Run,
    WallPlace,
)
from estimator.job.read import read_job
from estimator.setout.model import Point, SetOut

FOLDER = Path(__file__).resolve().parent.parent / "examples" / "two-storey-house"
OUTSIDE = "outside:"
SIDES = {"left": "right", "right": "left"}
Rename = Callable[[str], str]


def house() -> Job:
    """The house as the user wrote it."""
    job, _ = read_job(FOLDER)
    return job


def renamed(job: Job, new: Rename) -> Job:
    """The same job under other names; `new` must keep the number at the end of a point's id."""
    return replace(
        job,
        boards=tuple(_board(board, new) for board in job.boards),
        rooms=tuple(replace(room, name=new(room.name)) for room in job.rooms),
        groups=tuple(_group(group, new) for group in job.groups),
        circuits=tuple(_circuit(circuit, new) for circuit in job.circuits),
        controls=tuple(_control(control, new) for control in job.controls),
        trenches=tuple(replace(trench, name=new(trench.name)) for trench in job.trenches),
        runs=tuple(_run(run, new) for run in job.runs),
    )


def copies(job: Job, count: int, apart_mm: int) -> Job:
    """`count` copies in a row along x, each with letters of its own before every name."""
    rows = [_moved(renamed(job, _prefix(number)), number * apart_mm) for number in range(count)]
    return replace(
        job,
        boards=tuple(board for row in rows for board in row.boards),
        rooms=tuple(room for row in rows for room in row.rooms),
        groups=tuple(group for row in rows for group in row.groups),
        circuits=tuple(circuit for row in rows for circuit in row.circuits),
        controls=tuple(control for row in rows for control in row.controls),
        trenches=tuple(trench for row in rows for trench in row.trenches),
        runs=tuple(run for row in rows for run in row.runs),
    )


def as_set_out(job: Job, setout: SetOut) -> Job:
    """The same job with every point given one by one where it was set out, so that nothing has to be placed."""
    groups = tuple(_given(group, setout.points) for group in job.groups)
    return replace(job, groups=groups)


def mirrored(job: Job, width_mm: int) -> Job:
    """The building seen in a mirror, x -> width - x; every point and board must be given one by one."""
    rooms = {room.name: room for room in job.rooms}
    return replace(
        job,
        rooms=tuple(_mirrored_room(room, width_mm) for room in job.rooms),
        boards=tuple(_mirrored_board(board, rooms) for board in job.boards),
        groups=tuple(_mirrored_group(group, rooms[group.room]) for group in job.groups),
    )


def _prefix(number: int) -> Rename:
    letters = f"{chr(ord('a') + number % 26)}{chr(ord('a') + number // 26)}-"
    return lambda name: letters + name


def _named(name: str | None, new: Rename) -> str | None:
    return name if name is None or name == NO_CIRCUIT else new(name)


def _board(board: Board, new: Rename) -> Board:
    return replace(board, name=new(board.name), fed_by=_named(board.fed_by, new), room=_named(board.room, new))


def _group(group: Group, new: Rename) -> Group:
    switches = tuple(new(name) for name in group.switched_by)
    circuit = _named(group.circuit, new)
    return replace(group, name=new(group.name), circuit=circuit, switched_by=switches, room=new(group.room))


def _circuit(circuit: Circuit, new: Rename) -> Circuit:
    return replace(
        circuit,
        name=new(circuit.name),
        board=new(circuit.board),
        sequence=_all(circuit.sequence, new),
        first=_all(circuit.first, new),
        last=_all(circuit.last, new),
    )


def _control(control: Control, new: Rename) -> Control:
    return replace(
        control,
        name=new(control.name),
        drops=_all(control.drops, new),
        contactor=new(control.contactor),
        buttons=_all(control.buttons, new),
        start=new(control.start),
    )


def _all(names: tuple[str, ...], new: Rename) -> tuple[str, ...]:
    return tuple(new(name) for name in names)


def _run(run: Run, new: Rename) -> Run:
    stretches = tuple(replace(stretch, trench=_named(stretch.trench, new)) for stretch in run.stretches)
    return replace(run, name=new(run.name), start=_end(run.start, new), end=_end(run.end, new), stretches=stretches)


def _end(name: str, new: Rename) -> str:
    return name if name.startswith(OUTSIDE) else new(name)


def _moved(job: Job, by_mm: int) -> Job:
    rooms = tuple(replace(room, at=(room.at[0] + by_mm, room.at[1])) for room in job.rooms)
    return replace(job, rooms=rooms)


def _given(group: Group, points: tuple[Point, ...]) -> Group:
    own = sorted((point for point in points if point.group == group.name), key=lambda point: point.number)
    if group.surface in ("ceiling", "floor"):
        return replace(group, placing=At(tuple(FlatPlace(point.at[0], point.at[1]) for point in own)))
    places = (WallPlace(point.wall or "", point.along_mm or 0, _height(point)) for point in own)
    return replace(group, placing=At(tuple(places)), out_mm=own[0].out_mm)


def _height(point: Point) -> Height | None:
    return None if point.height_mm is None else Height(point.height_mm)


def _mirrored_room(room: Room, width_mm: int) -> Room:
    """Corners stay clockwise, so walls keep their names but for left and right, and an outline's walls go backwards."""
    across = max(x for x, _ in room.corners)
    names = {name: _mirrored_wall(room, name) for name in room.wall_names}
    turned = {name: _mirrored_corner(room, name, across) for name in room.wall_names}
    frames = {names[name]: frame for name, frame in zip(room.wall_names, room.frames, strict=True)}
    return replace(
        room,
        at=(width_mm - room.at[0] - across, room.at[1]),
        corners=tuple(turned[before] for before in (_mirrored_wall(room, name) for name in room.wall_names)),
        frames=tuple(frames[name] for name in room.wall_names),
        openings=tuple(_mirrored_opening(room, opening) for opening in room.openings),
        fitted=(),
        soffits=tuple(replace(soffit, wall=names[soffit.wall]) for soffit in room.soffits),
    )


def _mirrored_wall(room: Room, name: str) -> str:
    if name in ("back", "right", "front", "left"):
        return SIDES.get(name, name)
    return room.wall_names[-1 - room.wall_names.index(name)]


def _mirrored_corner(room: Room, name: str, across: int) -> tuple[int, int]:
    """Where the mirrored wall starts: what was its end."""
    index = room.wall_names.index(name)
    x, y = room.corners[(index + 1) % len(room.corners)]
    return across - x, y


def _length(room: Room, wall: str) -> int:
    index = room.wall_names.index(wall)
    (x, y), (to_x, to_y) = room.corners[index], room.corners[(index + 1) % len(room.corners)]
    return abs(to_x - x) + abs(to_y - y)


def _mirrored_opening(room: Room, opening: Opening) -> Opening:
    along = _length(room, opening.wall) - opening.along_mm - opening.width_mm
    return replace(opening, wall=_mirrored_wall(room, opening.wall), along_mm=along)


def _mirrored_board(board: Board, rooms: dict[str, Room]) -> Board:
    if board.room is None or board.wall is None or board.along_mm is None:
        return board
    room = rooms[board.room]
    return replace(board, wall=_mirrored_wall(room, board.wall), along_mm=_length(room, board.wall) - board.along_mm)


def _mirrored_group(group: Group, room: Room) -> Group:
    assert isinstance(group.placing, At)
    places = tuple(_mirrored_place(room, place) for place in group.placing.places)
    return replace(group, placing=At(places), avoid=())  # type: ignore[arg-type]  # one kind of place in a group


def _mirrored_place(room: Room, place: WallPlace | FlatPlace) -> WallPlace | FlatPlace:
    if isinstance(place, FlatPlace):
        return replace(place, x_mm=max(x for x, _ in room.corners) - place.x_mm)
    along = _length(room, place.wall) - place.along_mm
    return replace(place, wall=_mirrored_wall(room, place.wall), along_mm=along)
