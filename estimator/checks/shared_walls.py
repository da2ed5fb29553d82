"""One frame with a room on each side: the building and its noggins go in; rows of studs that do not agree, noggins that
want the same timber's place, and studs that are not as deep as the wall come out as findings.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.building.adjoining import BACK_TO_BACK, SharedWall, shared_walls
from estimator.building.model import Building, Stud, Wall
from estimator.building.studs import studs
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.checks.rooms import COMMON_PRACTICE, beside, called, stand_apart, subject
from estimator.job.model import Job
from estimator.setout.model import Noggin, SetOut
from estimator.setout.words import in_mm

AGREE_MM = Decimal(1)
"""Two studs whose centres are no further apart are one stud, and a wall no further from a depth is as deep."""
USUAL_CENTRES_MM = (600, 400, 300)
"""Centres at which the joints of linings 1.2 m wide fall on studs (common practice), widest first."""


def two_faces(job: Job, catalogue: Catalogue, building: Building, placed: SetOut) -> tuple[Finding, ...]:
    """Every finding about the two faces of a frame, at most one of each sort for a pair of walls, in their order.

    Walls nearer than the thinner studs are deep are told elsewhere; where both frames have room of their own, each
    face is taken as a frame of its own, and a note says so.
    """
    rule = catalogue.rules.get((job.ruleset, BACK_TO_BACK))
    limit = rule.value if rule and rule.value is not None else Decimal(0)
    return tuple(
        finding
        for shared in (shared_walls(building, limit) if rule else ())
        if beside(building.rooms[shared.first], building.rooms[shared.second])
        for finding in _of(building, shared, placed)
    )


def _of(building: Building, shared: SharedWall, placed: SetOut) -> Iterator[Finding]:
    depths = [wall.frame.stud.depth_mm for wall in (shared.one, shared.other)]
    if shared.gap_mm < min(depths):
        return
    if shared.gap_mm >= sum(depths):
        yield _two_frames(shared)
        return
    told = (_frames(building, shared), _rows(shared), _noggins(building, shared, placed))
    yield from (finding for finding in told if finding)


def _two_frames(shared: SharedWall) -> Finding:
    one, other = shared.one, shared.other
    return Finding(
        "frames-of-two-faces",
        "note",
        subject(other),
        f"{_between(shared, 'The inside faces of')} are {shared.gap_mm} mm apart, room for two frames ("
        f"{in_mm(one.frame.stud.depth_mm)} and {in_mm(other.frame.stud.depth_mm)}): each face is counted as a frame of "
        f"its own. If it is one frame, write studs {shared.gap_mm} mm deep for both.",
        Decimal(shared.gap_mm),
        one.frame.stud.depth_mm + other.frame.stud.depth_mm,
        "mm",
        COMMON_PRACTICE,
    )


def _frames(building: Building, shared: SharedWall) -> Finding | None:
    """An `ask` where the two faces say different studs, or studs that are not as deep as the wall."""
    one, other = shared.one.frame.stud, shared.other.frame.stud
    if one == other and abs(shared.gap_mm - one.depth_mm) < AGREE_MM:
        return None
    said = _unlike(shared) if one != other else _not_as_deep(building, shared)
    deep = min((one.depth_mm, other.depth_mm), key=lambda depth: (abs(shared.gap_mm - depth), depth))
    gap = Decimal(shared.gap_mm)
    return Finding("frames-of-two-faces", "ask", subject(shared.other), said, gap, deep, "mm", COMMON_PRACTICE)


def _unlike(shared: SharedWall) -> str:
    one, other = shared.one, shared.other
    said = (
        f"{_between(shared)} is {shared.gap_mm} mm, and its two faces say different studs: {_studs(one)} in {one.room}, "
        f"{_studs(other)} in {other.room}. Which are they? "
    )
    as_deep = [wall for wall in (one, other) if abs(shared.gap_mm - wall.frame.stud.depth_mm) < AGREE_MM]
    if len(as_deep) == 1:
        right, wrong = (one, other) if as_deep[0] is one else (other, one)
        return f'{said}If it is one frame, write stud = "{_studs(right)}" for {called(wrong)} of {wrong.room}.'
    return f"{said}If it is one frame, write one size for both, {shared.gap_mm} mm deep."


def _not_as_deep(building: Building, shared: SharedWall) -> str:
    stud, other = shared.one.frame.stud, building.rooms[shared.second]
    return (
        f"{_between(shared)} is {shared.gap_mm} mm, and the studs of both faces are {in_mm(stud.depth_mm)} deep: is it one "
        f"frame or two? For one, {stand_apart(shared, other, stud.depth_mm)}, or write stud = "
        f'"{_plain(stud.thickness_mm)} x {shared.gap_mm} mm" for both walls; two need {in_mm(2 * stud.depth_mm)} or more '
        "between the rooms."
    )


def _rows(shared: SharedWall) -> Finding | None:
    """An `ask` where the studs on centres of the two faces are not the same studs, openings left aside."""
    apart = _rows_apart_mm(shared)
    if apart <= AGREE_MM:
        return None
    one, other = shared.one, shared.other
    return Finding(
        "studs-of-two-faces",
        "ask",
        subject(other),
        f"{_between(shared)} is one frame, but each face counts studs from its own left end: the rows are up to "
        f"{in_mm(apart)} apart, and boxes, holes and noggins of one face are not where it says. Mark the studs from the "
        f"left end in {one.room}, and ask for those of {other.room} to be measured again{_centres(shared)}.",
        apart,
        AGREE_MM,
        "mm",
        COMMON_PRACTICE,
    )


def _rows_apart_mm(shared: SharedWall) -> Decimal:
    """How far at most a stud of the overlap is from the nearest of the other face.

    The studs at the ends of walls are no row, nor is one that stands across an end of the overlap: there the corner
    of the shorter wall is, and its end stud.
    """
    one, other = _row(shared.one), _row(shared.other)
    mine = [(stud.centre_mm, stud) for stud in one]
    theirs = [(shared.offset_mm - stud.centre_mm, stud) for stud in other]
    apart = (
        min(abs(centre - there) for there, _ in far)
        for row, far in ((mine, theirs), (theirs, mine))
        for centre, stud in row
        if not stud.end and _within(shared, centre, (stud.right_mm - stud.left_mm) / 2)
    )
    return max(apart, default=Decimal(0))


def _within(shared: SharedWall, centre_mm: Decimal, half_mm: Decimal) -> bool:
    return shared.low_mm <= centre_mm - half_mm and centre_mm + half_mm <= shared.high_mm


def _row(wall: Wall) -> tuple[Stud, ...]:
    """The studs of a wall as if it had no openings: those beside openings are the same on both faces."""
    return studs(wall.length_mm, wall.frame.stud.thickness_mm, wall.frame.centres_mm, ())


def _centres(shared: SharedWall) -> str:
    """What centres to write for both, where any usual ones make the rows agree."""
    now = min(shared.one.frame.centres_mm, shared.other.frame.centres_mm)
    fit = (
        of for of in USUAL_CENTRES_MM if of <= now and min(shared.offset_mm % of, -shared.offset_mm % of) <= AGREE_MM
    )
    found = next(fit, None)
    return f'; or write centres = "{found} mm" for both walls' if found else ""


def _noggins(building: Building, shared: SharedWall, placed: SetOut) -> Finding | None:
    """An `ask` where noggins of the two faces meet inside the frame; the deepest first, then by place."""
    rooms = building.rooms
    rise = rooms[shared.second].room.floor_level_mm - rooms[shared.first].room.floor_level_mm
    along = {point.id: point.along_mm for point in placed.points if point.along_mm is not None}
    met = [
        _Met(a, b, _through(shared.one, a), _through(shared.other, b))
        for a in _in(shared.one, placed)
        for b in _in(shared.other, placed)
        if _one_height(shared, a, b, rise) and _one_bay(shared, a, b, along)
    ]
    found = sorted((of for of in met if of.deep_mm > shared.gap_mm), key=_Met.key)
    return _back_to_back(shared, found) if found else None


@dataclass(frozen=True, slots=True)
class _Met:
    """Two noggins of the two faces at one height in one bay, and how far behind its own face each ends."""

    a: Noggin
    b: Noggin
    a_mm: Decimal
    b_mm: Decimal

    @property
    def deep_mm(self) -> Decimal:
        return self.a_mm + self.b_mm

    @property
    def points(self) -> str:
        return f"{', '.join(self.a.points)} and {', '.join(self.b.points)}"

    def key(self) -> tuple[Decimal, Decimal, int, str]:
        return -self.deep_mm, self.a.left_mm, self.a.height_mm, self.points


def _back_to_back(shared: SharedWall, found: list[_Met]) -> Finding:
    first, *more = found
    others = f"; so do those of {'; '.join(of.points for of in more)}" if more else ""
    return Finding(
        "noggins-back-to-back",
        "ask",
        subject(shared.other),
        f"{_between(shared)}, {shared.gap_mm} mm: the noggins of {first.points} want one place, {_plain(first.a_mm)} + "
        f"{in_mm(first.b_mm)} = {in_mm(first.deep_mm)} with their set-backs{others}. Settle it first: move one box to "
        "another bay or height, or share one noggin.",
        first.deep_mm,
        Decimal(shared.gap_mm),
        "mm",
        COMMON_PRACTICE,
    )


def _in(wall: Wall, placed: SetOut) -> list[Noggin]:
    return [noggin for noggin in placed.noggins if (noggin.room, noggin.wall) == (wall.room, wall.name)]


def _through(wall: Wall, noggin: Noggin) -> Decimal:
    return noggin.setback_mm + wall.frame.noggin.through_mm


def _one_height(shared: SharedWall, a: Noggin, b: Noggin, rise_mm: int) -> bool:
    """Whether the faces of the two overlap in height."""
    faces = shared.one.frame.noggin.face_mm + shared.other.frame.noggin.face_mm
    return 2 * abs(b.height_mm + rise_mm - a.height_mm) < faces


def _one_bay(shared: SharedWall, a: Noggin, b: Noggin, along: Mapping[str, int]) -> bool:
    """Whether a box of the one lies in the bay of the other: whichever row of studs is kept, they may then share it."""
    return any(
        at.left_mm < shared.across(along[point]) < at.left_mm + at.length_mm
        for at, far in ((a, b), (b, a))
        for point in far.points
    )


def _between(shared: SharedWall, lead: str = "The wall between") -> str:
    """`The wall between hall (right) and study (left)`."""
    one, other = shared.one, shared.other
    return f"{lead} {one.room} ({one.name}) and {other.room} ({other.name})"


def _studs(wall: Wall) -> str:
    stud = wall.frame.stud
    return f"{_plain(stud.thickness_mm)} x {in_mm(stud.depth_mm)}"


def _plain(size_mm: Decimal) -> str:
    return in_mm(size_mm).removesuffix(" mm")
