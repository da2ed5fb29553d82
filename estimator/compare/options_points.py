"""Options of single points on circuits of their own, and of boxes for later: an outlet inside or outside, a box by the desk."""

from estimator.building.model import Wall
from estimator.catalogue.model import OptionRow
from estimator.compare.changes import Changes
from estimator.compare.options_here import Here, free_group, free_name
from estimator.compare.options_model import Made, must
from estimator.compare.options_places import Wanted, place_on
from estimator.job.model import NO_CIRCUIT, Board, Fitted, Surface
from estimator.setout.words import in_metres

DESKS = ("desk", "bench")
"""Words in the name of a fitted thing by which it is known that someone works there."""
BESIDE_MM = 150
"""How far beside a desk its box is looked for first. Common practice."""


def wall_circuit(here: Here, row: OptionRow) -> Made | str:
    """An outlet on a wall of the first room that has none of its use, on a radial of its own."""
    use = here.kind(must(row.kind)).use
    served = [room.name for room in here.job.rooms if here.serving(room.name)]
    without = [room for room in served if all(kind.use != use for kind in here.kinds_in(room))]
    if not without:
        return "every room that a board serves has one already"
    wanted = Wanted(must(row.kind), "wall", must(row.height_mm))
    for room in without:
        board = here.with_way(room, must(row.device))
        if board is None:
            continue
        for wall in here.walls(room):
            along = place_on(here, wall, wanted, wall.length_mm // 2)
            if along is not None:
                return _circuit(here, row, board, wall, along, "wall")
    return _no_way(here, row, without) or "no wall of a room without one has a free place for it"


def outside_circuit(here: Here, row: OptionRow) -> Made | str:
    """An outlet outside, as near to a board with a free way as can be, on a radial of its own."""
    if any(group.kind == row.kind for group in here.job.groups):
        return "the job has one already"
    wanted = Wanted(must(row.kind), "outside", must(row.height_mm), outdoors=True)
    ways = here.catalogue.devices[must(row.device)].ways
    inside = [board for board in here.job.boards if not board.outside_job]
    boards = [board for board in inside if (here.estimate.spare_ways(board.name) or 0) >= ways]
    if not boards:
        return "no board has a free way"
    for board in boards:
        for wall, target in _walls_for(here, board):
            along = place_on(here, wall, wanted, target)
            if along is not None:
                made = _circuit(here, row, board, wall, along, "outside")
                ask = "Your electrician and the network operator must agree: what feed and main fuse can give decides."
                return Made(f"{made.does} {ask}", made.changes)
    return "no outer wall of a room that such a board serves has a free place for it"


def _walls_for(here: Here, board: Board) -> list[tuple[Wall, int]]:
    """Walls of the rooms that a board serves and where on each to look first: its own wall, the rest of its room, then others."""
    rooms = [room.name for room in here.job.rooms if board in here.serving(room.name)]
    walls = [wall for room in rooms for wall in here.walls(room)]
    near = sorted(walls, key=lambda wall: ((wall.room, wall.name) != (board.room, board.wall), wall.room != board.room))
    own = (board.room, board.wall)
    return [(wall, board.along_mm or 0 if (wall.room, wall.name) == own else wall.length_mm // 2) for wall in near]


def _circuit(here: Here, row: OptionRow, board: Board, wall: Wall, along_mm: int, surface: Surface) -> Made:
    kind, cable, device = must(row.kind), must(row.cable), must(row.device)
    label = here.kind(kind).label
    name = free_name(label.lower(), [circuit.name for circuit in here.job.circuits])
    group: dict[str, object] = {
        "name": free_group(here, "".join(word[0] for word in label.upper().split() if word[0].isalpha()) or "P"),
        "kind": kind,
        "circuit": name,
        "room": wall.room,
        "surface": surface,
        "height": f"{must(row.height_mm)} mm",
        "at": [{"wall": wall.name, "along": f"{along_mm} mm"}],
    }
    circuit = {"name": name, "board": board.name, "wiring": "radial", "cable": cable, "device": device}
    where = f"{'outside ' if surface == 'outside' else ''}{wall.room}, wall {wall.name} at {in_metres(along_mm)}"
    says = f"{label}, {where}, on a circuit of its own from {board.name} in {cable} with {device}."
    return Made(says, Changes(add=(("points", [group]), ("circuit", [circuit]))))


def _no_way(here: Here, row: OptionRow, rooms: list[str]) -> str:
    """That no board of these rooms has ways enough; empty where one has."""
    if any(here.with_way(room, must(row.device)) for room in rooms):
        return ""
    return "no board that serves a room without one has a free way"


def box_by_desk(here: Here, row: OptionRow) -> Made | str:
    """A box beside the first thing one works at, with a cord to it from the board if a cable is named."""
    desks = [(room.name, thing) for room in here.job.rooms for thing in room.fitted if _is_desk(thing)]
    if not desks:
        return f"nothing that is fitted is called a {' or a '.join(DESKS)}"
    kind, height = must(row.kind), must(row.height_mm)
    for room, thing in desks:
        wall = here.site.shape(room).wall(thing.wall)
        along = _beside(here, wall, thing, Wanted(kind, "wall", height))
        if along is not None and here.serving(room):
            return _box(here, row, wall, along, thing.name)
    return f"there is no free place beside the {desks[0][1].name}, or no board serves its room"


def _is_desk(thing: Fitted) -> bool:
    return any(word in thing.name.lower() for word in DESKS)


def _beside(here: Here, wall: Wall, thing: Fitted, wanted: Wanted) -> int | None:
    """The free place nearest to either side of a thing; of two the one on its right."""
    targets = (thing.along_mm + thing.width_mm + BESIDE_MM, thing.along_mm - BESIDE_MM)
    found = [(target, place_on(here, wall, wanted, target)) for target in targets]
    near = [(abs(place - target), number, place) for number, (target, place) in enumerate(found) if place is not None]
    return min(near)[2] if near else None


def _box(here: Here, row: OptionRow, wall: Wall, along_mm: int, desk: str) -> Made:
    name = free_group(here, "BX")
    group: dict[str, object] = {
        "name": name,
        "kind": must(row.kind),
        "room": wall.room,
        "height": f"{must(row.height_mm)} mm",
        "at": [{"wall": wall.name, "along": f"{along_mm} mm"}],
    }
    says = f"{here.kind(must(row.kind)).label} by the {desk} in {wall.room}, wall {wall.name} at {in_metres(along_mm)}"
    if row.cable is None:
        return Made(f"{says}.", Changes(add=(("points", [{**group, "circuit": NO_CIRCUIT}]),)))
    board = here.serving(wall.room)[0].name
    run_name = free_name(f"cord to {name}1", [run.name for run in here.job.runs])
    run = {"name": run_name, "cable": row.cable, "from": board, "to": f"{name}1"}
    return Made(
        f"{says}, with a cord through the holes to {board}.", Changes(add=(("points", [group]), ("run", [run])))
    )
