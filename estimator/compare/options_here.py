"""What is free in a job as it stands: an `Estimate` goes in; names, boards and circuits that an extra may use come out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from estimator.building.adjoining import shared_walls
from estimator.building.model import Wall
from estimator.catalogue.model import Catalogue, PointKind
from estimator.job.model import Board, Circuit, Group, Job, Room
from estimator.result import Estimate
from estimator.setout.clear import Mark
from estimator.setout.points import board_mark, mark_of
from estimator.setout.site import Site, site_of


@dataclass(frozen=True, slots=True)
class Here:
    """A job worked out, with what its walls and ceilings carry: `marks` are all plates and boards, `inner` the stretches of
    walls (by room and wall, mm along) behind which another room lies.
    """

    estimate: Estimate
    site: Site
    marks: tuple[Mark, ...]
    inner: dict[tuple[str, str], list[tuple[int, int]]]

    @property
    def job(self) -> Job:
        """The job."""
        return self.estimate.job

    @property
    def catalogue(self) -> Catalogue:
        """Its catalogue."""
        return self.estimate.catalogue

    def kind(self, kind: str) -> PointKind:
        """The row of points.csv."""
        return self.site.kind(kind)

    def kinds_in(self, room: str) -> Iterator[PointKind]:
        """The kinds of points in a room, group by group."""
        return (self.kind(group.kind) for group in self.job.groups if group.room == room)

    def serving(self, room: str) -> list[Board]:
        """Boards that feed points in a room: those that hang in it first, then by the order of the job."""
        own = {group.circuit for group in self.job.groups if group.room == room}
        feeding = {circuit.board for circuit in self.job.circuits if circuit.name in own}
        inside = [board for board in self.job.boards if not board.outside_job]
        here = [board for board in inside if board.room == room]
        return here + [board for board in inside if board.room != room and board.name in feeding]

    def with_way(self, room: str, device: str) -> Board | None:
        """The first board serving a room that has ways enough for a device."""
        ways = self.catalogue.devices[device].ways
        return next(
            (board for board in self.serving(room) if (self.estimate.spare_ways(board.name) or 0) >= ways), None
        )

    def open_circuits(self, room: str) -> list[Circuit]:
        """Circuits of the boards serving a room that may take one more point: no order or tree is bound, no leg measured."""
        measured = {row.circuit for row in self.job.as_built}
        ends = {end for row in self.job.as_built for end in (row.start, row.end)}
        measured |= {point.circuit for point in self.estimate.setout.points if point.id in ends}
        boards = {board.name for board in self.serving(room)}
        return [
            circuit
            for circuit in self.job.circuits
            if circuit.board in boards and not circuit.sequence and not circuit.legs and circuit.name not in measured
        ]

    def groups_on(self, circuit: Circuit) -> list[Group]:
        """The groups of points that a circuit feeds."""
        return [group for group in self.job.groups if group.circuit == circuit.name]

    def outer(self, wall: Wall, low_mm: int, high_mm: int) -> bool:
        """Whether no other room lies behind that stretch of a wall."""
        return not any(low < high_mm and low_mm < high for low, high in self.inner.get((wall.room, wall.name), []))

    def walls(self, room: str) -> tuple[Wall, ...]:
        """The walls of a room, clockwise."""
        return self.site.shape(room).walls


def here_of(estimate: Estimate) -> Here:
    """Look up what stands where in a job worked out."""
    site = site_of(estimate.job, estimate.catalogue, estimate.building)
    placed = estimate.setout
    marks = (*(board_mark(site, board) for board in placed.boards), *(mark_of(site, point) for point in placed.points))
    return Here(estimate, site, marks, _inner(estimate))


def _inner(estimate: Estimate) -> dict[tuple[str, str], list[tuple[int, int]]]:
    limit = estimate.catalogue.rule_mm(estimate.job.ruleset, "back-to-back-walls")
    rooms = [shape.room for shape in estimate.building.rooms]
    found: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for pair in shared_walls(estimate.building, limit):
        if _level(rooms[pair.first], rooms[pair.second]):
            low, high = sorted((pair.across(pair.low_mm), pair.across(pair.high_mm)))
            found.setdefault((pair.one.room, pair.one.name), []).append((pair.low_mm, pair.high_mm))
            found.setdefault((pair.other.room, pair.other.name), []).append((low, high))
    return found


def _level(one: Room, other: Room) -> bool:
    """Whether two rooms lie beside each other: one above the other has no wall of it behind its own."""
    return (
        one.floor_level_mm < other.floor_level_mm + other.height_mm
        and other.floor_level_mm < one.floor_level_mm + one.height_mm
    )


def free_name(base: str, taken: Iterable[str], more: str = " {}") -> str:
    """`base` if nothing is called so, else with the first number that is free (`more` says how it is written)."""
    names = set(taken)
    numbers = (base if number == 1 else base + more.format(number) for number in range(1, len(names) + 2))
    return next(name for name in numbers if name not in names)


def free_group(here: Here, base: str, more: Iterable[str] = ()) -> str:
    """A free name for a group: `base`, else with letters behind it, since a number would read as one of its points."""
    taken = {group.name for group in here.job.groups} | {*more}
    job = here.job
    ids = {one.name for one in job.boards} | {one.name for one in job.runs} | {one.name for one in job.trenches}
    letters = (base + "X" * count for count in range(len(taken) + len(ids) + 1))
    return next(name for name in letters if name not in taken and f"{name}1" not in ids)
