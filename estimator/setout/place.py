"""Takes a job, the catalogue and the building; gives the `SetOut`: every point and board in its place, every noggin."""

from collections.abc import Hashable, Iterable, Sequence

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import LEVELS, Finding
from estimator.job.model import At, Grid, Group, Job, OnWalls, Spread
from estimator.memory import NOTHING, Memory, Same
from estimator.problems import Problem, Refused
from estimator.setout.ceiling import place_flat
from estimator.setout.clear import Mark
from estimator.setout.given import Given, check_given, place_boards, place_given
from estimator.setout.model import SetOut
from estimator.setout.noggins import noggins
from estimator.setout.notes import crowding, group_notes
from estimator.setout.points import board_mark, mark_of
from estimator.setout.site import Placed, Site, is_on_wall, site_of, unknown_kinds
from estimator.setout.soffit import place_soffit
from estimator.setout.spaced import avoided, place_spaced
from estimator.setout.words import address


def set_out(job: Job, catalogue: Catalogue, building: Building, memory: Memory = NOTHING) -> SetOut:
    """Put every point and board of the job in its place.

    Boards and places given one by one stand first and never move; then the groups along named walls, then those round
    the room, each clear of what stands already. Points are sorted by group and number, boards by name, findings by
    level, check, subject, message.

    Raises:
        Refused: a kind, height or place is not there, or more places are wanted than fit; every reason at once.
    """
    unknown = (*unknown_kinds(job, catalogue), *_misplaced(job))
    if unknown:
        raise Refused(unknown)
    site = site_of(job, catalogue, building)
    first = _first(site, memory)
    standing = _marks(site, first)
    spaced = place_spaced(site, standing)
    whole = first + spaced
    if whole.problems:
        raise Refused(whole.problems)
    points = tuple(sorted(whole.points, key=lambda point: (point.group, point.number)))
    timbers, noggin_findings = noggins(site, points)
    findings = (
        *whole.findings,
        *check_given(site, _given(site, first), standing),
        *crowding(site, standing),
        *noggin_findings,
        *group_notes(site, points),
    )
    return SetOut(points, whole.boards, timbers, tuple(sorted(findings, key=_order)))


def _first(site: Site, memory: Memory) -> Placed:
    """Everything that does not make way for others: boards, places given, and ceilings, floors and soffits."""
    placed = place_boards(site)
    for group in sorted(site.job.groups, key=lambda group: group.name):
        if group.surface in ("ceiling", "floor"):
            placed += memory.recall(_alone(site, group), lambda: place_flat(site, group))  # noqa: B023  # asked at once
        elif group.surface == "soffit":
            placed += place_soffit(site, group)
        elif isinstance(group.placing, At):
            placed += place_given(site, group)
    return placed


def _alone(site: Site, group: Group) -> tuple[Hashable, ...]:
    """All that the places of a group on a ceiling or floor go by: they make way for nothing else in the room."""
    given = group.placing.places if isinstance(group.placing, At) else ()
    places = (group.place, *(one.place for one in given))
    return "flat", Same(site.catalogue), site.job.ruleset, Same(site.shape(group.room)), group, places


def _marks(site: Site, placed: Placed) -> tuple[Mark, ...]:
    boards = (board_mark(site, board) for board in placed.boards)
    return (*boards, *(mark_of(site, point) for point in placed.points))


def _given(site: Site, placed: Placed) -> Sequence[Given]:
    """Boards, and points on walls that were given one by one, as things to check."""
    given = []
    for board in placed.boards:
        wall = site.shape(board.room).wall(board.wall)
        body = site.board_body(board.kind)
        given.append(Given(board.name, wall, board.along_mm, board.height_mm, body, board_mark(site, board), ()))
    for point in placed.points:
        if point.along_mm is None or point.height_mm is None or point.wall is None:
            continue
        wall = site.shape(point.room).wall(point.wall)
        body = site.body(point.kind, point.surface)
        avoid = avoided(site, site.job.group(point.group))
        given.append(Given(point.id, wall, point.along_mm, point.height_mm, body, mark_of(site, point), avoid))
    return given


def _misplaced(job: Job) -> Iterable[Problem]:
    """Groups whose way of placing does not go with their surface."""
    for group in job.groups:
        if not _goes(group):
            where = address("points", group.name, "surface")
            found = f"no such places on a {group.surface}"
            yield Problem(group.place, where, found, _WAYS[group.surface])


_WAYS = {
    "wall": "write spread, on or at",
    "outside": "write spread, on or at",
    "ceiling": "write rows with columns, or at",
    "floor": "write at = [[x, y]]",
    "soffit": "write wall with spread, or at",
}


def _goes(group: Group) -> bool:
    placing = group.placing
    if isinstance(placing, At):
        return True
    if is_on_wall(group):
        return isinstance(placing, OnWalls) or (isinstance(placing, Spread) and placing.wall is None)
    if group.surface == "ceiling":
        return isinstance(placing, Grid)
    return group.surface == "soffit" and isinstance(placing, Spread) and placing.wall is not None


def _order(finding: Finding) -> tuple[int, str, str, str]:
    return (LEVELS.index(finding.level), finding.check, finding.subject, finding.message)
