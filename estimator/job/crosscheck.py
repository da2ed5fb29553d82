"""What a job wants of what it names in the catalogue: job and catalogue in, a problem for each that cannot do it.

That the names are there at all is looked up before (see `names`). A problem stands at the table of the job.
"""

from collections.abc import Iterator

from estimator.catalogue.model import Catalogue, Part
from estimator.job.model import At, Group, InHand, Job, OnWalls, Room, WallPlace
from estimator.job.names import ANY_MERCHANT
from estimator.job.tree import address
from estimator.problems import Problem, choose

_UNITS = {"nr": "pieces", "m": "metres", "pair": "pairs"}


def crosscheck(job: Job, catalogue: Catalogue) -> tuple[Problem, ...]:
    """Kinds, timber, parts and merchants that cannot do what the job wants of them."""
    return tuple(
        dict.fromkeys((
            *_groups(job, catalogue),
            *_noggins(job, catalogue),
            *_loops(job, catalogue),
            *_buying(job, catalogue),
        ))
    )  # fmt: skip


def _groups(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    tails = [key for key, _ in job.allowances.tails_mm]
    for group in job.groups:
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


def _loops(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    """Feeds that loop at the light need lights."""
    for circuit in job.circuits:
        kinds = [catalogue.points.get(group.kind) for group in job.groups if group.circuit == circuit.name]
        if circuit.switching == "at-light" and not any(kind is not None and kind.lit for kind in kinds):
            where = address(("circuit", circuit.name, "switching"))
            found = "the feed cannot loop at the light: no lights are on this circuit"
            yield Problem(circuit.place, where, found, "take switching out")


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


def _buying(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    buying = job.buying
    for number, item in enumerate(buying.in_hand, 1):
        part = catalogue.parts.get(item.part)
        if part is not None:
            yield from _in_hand(item, part, address(("buying", f"in_hand[{number}]")))
    yield from _currencies(job, catalogue)


def _in_hand(item: InHand, part: Part, where: str) -> Iterator[Problem]:
    """Lengths of what is cut in lengths, units or packs of everything else."""
    by_length = part.sold_as == "length"
    if not by_length and item.length_mm is not None:
        found = f'"{item.part}" is counted in {_UNITS.get(part.unit, part.unit)}, not cut in lengths'
        yield Problem(item.place, where, found, f"write count = {item.count} alone, or packs = 2")
    elif by_length and item.length_mm is None:
        found = f'"{item.part}" is cut in lengths, and nothing says how long yours are'
        yield Problem(item.place, where, found, 'write length = "1.1 m" and count = 4, a row for each length')


def _currencies(job: Job, catalogue: Catalogue) -> Iterator[Problem]:
    """Prices are never turned from one currency into another."""
    everyone = ANY_MERCHANT in job.buying.merchants
    for name, merchant in catalogue.merchants.items():
        if (everyone or name in job.buying.merchants) and merchant.currency != job.currency:
            found = f'"{name}" sells in {merchant.currency}, and the job is in {job.currency}'
            hint = (
                f"write {job.currency} if its prices are in that (where the row came with Studbay, in a row of the same "
                f'name in merchants.csv beside the job); or write currency = "{merchant.currency}" in the job, or name '
                "other merchants under [buying]"
            )
            yield Problem(merchant.place, "currency", found, hint)
