"""What a job names in the catalogue: job and catalogue in, a problem for every name that no row has.

A problem stands at the table of the job that holds the name.
"""

from collections.abc import Iterable, Iterator

from estimator.catalogue.model import Catalogue
from estimator.job.model import At, Circuit, Group, Job, OnWalls, Room, WallPlace
from estimator.job.tree import address
from estimator.problems import Place, Problem, choose

NO_KIT = "none"
ANY_MERCHANT = "any"


def crosscheck(job: Job, catalogue: Catalogue) -> tuple[Problem, ...]:
    """Every name of the job that the catalogue lacks, and kinds that cannot do what the job wants of them."""
    return tuple(
        dict.fromkeys((
            *_ruleset(job, catalogue),
            *_boards(job, catalogue),
            *_groups(job, catalogue),
            *_noggins(job, catalogue),
            *_cables(job, catalogue),
            *_devices(job, catalogue),
            *_end_kits(job, catalogue),
            *_buying(job, catalogue),
        ))
    )  # fmt: skip


def _named(
    place: Place, where: tuple[str, ...], name: str | None, known: Iterable[str], what: tuple[str, str]
) -> Iterator[Problem]:
    """A problem where `name` is none of `known`; `what` says what it should be, and in which file."""
    names = list(known)
    if name is not None and name not in names:
        found = f'{what[1]} has no {what[0]} "{name}"'
        yield Problem(place, address(where), found, choose(name, names))


def _ruleset(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    known = sorted({ruleset for ruleset, _ in catalogue.rules})
    yield from _named(job.place, ("ruleset",), job.ruleset, known, ("rule for", "rules.csv"))


def _boards(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    for board in job.boards:
        where = ("board", board.name)
        yield from _named(board.place, (*where, "kind"), board.kind, catalogue.boards, ("board", "boards.csv"))
        if board.way is not None:
            device = board.way.device
            yield from _named(
                board.place, (*where, "way", "device"), device, catalogue.devices, ("device", "devices.csv")
            )


def _groups(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    tails = [key for key, _ in job.allowances.tails_mm]
    for group in job.groups:
        where = ("points", group.name)
        yield from _named(group.place, (*where, "kind"), group.kind, catalogue.points, ("kind", "points.csv"))
        kind = catalogue.points.get(group.kind)
        if kind is not None and kind.tail not in tails:
            yield Problem(kind.place, "tail", f'"{kind.tail}" is no tail', choose(kind.tail, tails))
        for number, point in enumerate(group.switched_by, 1):
            yield from _switch(job, catalogue, group, number, point)


def _switch(job: Job, catalogue: Catalogue, group: Group, number: int, point: str) -> Iterator[Problem]:
    owner = job.group(point.rstrip("0123456789"))
    kind = catalogue.points.get(owner.kind)
    if kind is not None and (kind.lit or kind.use != "lighting"):
        switches = [row.kind for row in catalogue.points.values() if row.use == "lighting" and not row.lit]
        where = address(("points", group.name, f"switched_by[{number}]"))
        found = f'{point} is a "{owner.kind}", which is no switch'
        yield Problem(group.place, where, found, choose(owner.kind, switches))


def _noggins(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    """Timber for noggins, on every wall where a point wants one."""
    for group in job.groups:
        kind = catalogue.points.get(group.kind)
        if kind is None or kind.fixing != "noggin" or group.surface != "wall":
            continue
        room = job.room(group.room)
        for wall in _walls(group, room):
            frame = room.frame(wall)
            part = frame.noggin.section.part
            if part not in catalogue.parts:
                where = address(("room", room.name, "frame", "noggin"))
                found = f'noggins at wall "{wall}" need timber "{part}", which is not in parts.csv'
                hint = f'add "{part}" to parts.csv, or write another noggin'
                yield Problem(frame.place, where, found, hint)


def _walls(group: Group, room: Room) -> tuple[str, ...]:
    """The walls that a group may stand on, in the order of the room."""
    match group.placing:
        case OnWalls(counts=counts):
            named = [wall for wall, _ in counts]
        case At(places=places):
            named = [place.wall for place in places if isinstance(place, WallPlace)]
        case _:
            named = list(room.wall_names)
    return tuple(wall for wall in room.wall_names if wall in named)


def _cables(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    what = ("cable", "cables.csv")
    for circuit in job.circuits:
        for key, name in _circuit_cables(circuit):
            yield from _named(circuit.place, ("circuit", circuit.name, key), name, catalogue.cables, what)
    for control in job.controls:
        yield from _named(control.place, ("control", control.name, "cable"), control.cable, catalogue.cables, what)
    for run in job.runs:
        yield from _named(run.place, ("run", run.name, "cable"), run.cable, catalogue.cables, what)


def _circuit_cables(circuit: Circuit) -> tuple[tuple[str, str | None], ...]:
    return (
        ("cable", circuit.cable),
        ("switch_cable", circuit.switch_cable),
        ("strap_cable", circuit.strap_cable),
    )


def _devices(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    what = ("device", "devices.csv")
    for circuit in job.circuits:
        where = ("circuit", circuit.name, "device")
        yield from _named(circuit.place, where, circuit.device, catalogue.devices, what)
    for run in job.runs:
        yield from _named(run.place, ("run", run.name, "device"), run.device, catalogue.devices, what)


def _end_kits(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    known = (NO_KIT, *catalogue.kits)
    for run in job.runs:
        for key, kit in zip(("from", "to"), run.end_kits, strict=True):
            yield from _named(run.place, ("run", run.name, "ends", key), kit, known, ("kit", "kits.csv"))


def _buying(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    buying = job.buying
    for number, name in enumerate(buying.merchants, 1):
        if name != ANY_MERCHANT:
            where = ("buying", f"merchants[{number}]")
            yield from _named(buying.place, where, name, catalogue.merchants, ("merchant", "merchants.csv"))
    for number, item in enumerate(buying.in_hand, 1):
        where = ("buying", f"in_hand[{number}]")
        yield from _named(item.place, (*where, "part"), item.part, catalogue.parts, ("part", "parts.csv"))
        part = catalogue.parts.get(item.part)
        if part is not None and item.length_mm is not None and part.sold_as != "length":
            found = f'"{item.part}" is not sold by length'
            yield Problem(item.place, address(where), found, "write packs = 2 in place of length and count")
    yield from _currencies(job, catalogue)


def _currencies(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    """Prices are never turned from one currency into another."""
    everyone = ANY_MERCHANT in job.buying.merchants
    for name, merchant in catalogue.merchants.items():
        if (everyone or name in job.buying.merchants) and merchant.currency != job.currency:
            found = f'the job is in {job.currency}, merchant "{name}" sells in {merchant.currency}'
            hint = f'write currency = "{merchant.currency}", or name other merchants in [buying]'
            yield Problem(job.place, "currency", found, hint)
