"""Takes the points on walls; gives the noggins that carry their boxes, and findings where a noggin does not work."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from itertools import combinations, groupby

from estimator.building.model import Wall
from estimator.building.studs import bays
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import Frame
from estimator.rounding import half_up
from estimator.setout.model import Noggin, Point
from estimator.setout.site import Site
from estimator.setout.words import id_list, in_metres, in_mm


@dataclass(frozen=True, slots=True)
class Carried:
    """A box that wants a noggin: its point, its wall, the bay it lies in, and how far back the noggin must lie."""

    point: Point
    wall: Wall
    bay: tuple[Decimal, Decimal]
    setback_mm: Decimal


@dataclass(frozen=True, slots=True)
class Beam:
    """A noggin with the wall it is in and the boxes it carries."""

    noggin: Noggin
    wall: Wall
    points: tuple[Point, ...]


def noggins(site: Site, points: Iterable[Point]) -> tuple[tuple[Noggin, ...], tuple[Finding, ...]]:
    """Cut a noggin for every box on a wall whose kind is fixed to one, shared where a bay and a height allow it.

    Sorted by room, wall (clockwise), left end, height, set-back. A place inside a stud or an opening has none.
    """
    wanting = (_carried(site, point) for point in points if _wants_one(site, point))
    carried = sorted((one for one in wanting if one is not None), key=_key)
    beams = sorted(map(_beam, _shared(carried, site.limits.share_mm)), key=_order)
    findings = (*_overlaps(site, beams), *_depths(site, beams))
    return tuple(beam.noggin for beam in beams), findings


def setback_mm(frame: Frame, box_depth_mm: Decimal) -> Decimal:
    """How far a noggin lies behind the stud face for its box to end flush with the lining; below zero it is proud."""
    return box_depth_mm - (frame.gap_mm + frame.inside_mm)


def spacer_mm(frame: Frame, set_back_mm: Decimal) -> Decimal:
    """What is left in the stud's depth behind a noggin; below zero the noggin does not fit."""
    return frame.stud.depth_mm - set_back_mm - frame.noggin.through_mm


def _wants_one(site: Site, point: Point) -> bool:
    return point.surface == "wall" and site.kind(point.kind).fixing == "noggin"


def _carried(site: Site, point: Point) -> Carried | None:
    assert point.wall is not None
    assert point.along_mm is not None
    assert point.height_mm is not None
    wall = site.shape(point.room).wall(point.wall)
    if _in_opening(wall, point.along_mm, point.height_mm):
        return None
    half = site.body(point.kind, "wall").height_mm / 2
    spaces = bays(wall, point.height_mm - half, point.height_mm + half)
    bay = next((space for space in spaces if space[0] <= point.along_mm <= space[1]), None)
    if bay is None:
        return None
    return Carried(point, wall, bay, setback_mm(wall.frame, site.kind(point.kind).box_depth_mm))


def _in_opening(wall: Wall, along_mm: int, height_mm: int) -> bool:
    return any(
        opening.along_mm < along_mm < opening.along_mm + opening.width_mm
        and opening.sill_mm < height_mm < opening.head_mm
        for opening in wall.openings
    )


def _key(one: Carried) -> tuple[str, int, tuple[Decimal, Decimal], Decimal, int, int, str, int]:
    point = one.point
    place = (point.height_mm or 0, point.along_mm or 0, point.group, point.number)
    return (point.room, one.wall.index, one.bay, one.setback_mm, *place)


def _shared(carried: Sequence[Carried], share_mm: Decimal) -> list[list[Carried]]:
    """Boxes by the noggin that carries them: same bay and set-back, no two further apart in height than `share_mm`.

    Taken from the lowest up, so that each noggin takes all it can.
    """
    noggin_of: list[list[Carried]] = []
    for one in carried:
        last = noggin_of[-1][0] if noggin_of else None
        if last is not None and _key(last)[:4] == _key(one)[:4] and _rise(last, one) <= share_mm:
            noggin_of[-1].append(one)
        else:
            noggin_of.append([one])
    return noggin_of


def _rise(low: Carried, high: Carried) -> int:
    return (high.point.height_mm or 0) - (low.point.height_mm or 0)


def _beam(shared: Sequence[Carried]) -> Beam:
    """The noggin of some boxes, its middle half way (half up) between the lowest and the highest."""
    first, last = shared[0], shared[-1]
    frame = first.wall.frame
    left, right = first.bay
    points = tuple(sorted((one.point for one in shared), key=lambda point: (point.group, point.number)))
    noggin = Noggin(
        points=tuple(point.id for point in points),
        room=first.point.room,
        wall=first.wall.name,
        part=frame.noggin.section.part,
        left_mm=left,
        length_mm=Decimal(half_up(right - left)),
        height_mm=half_up(Decimal((first.point.height_mm or 0) + (last.point.height_mm or 0)) / 2),
        setback_mm=first.setback_mm,
        spacer_mm=spacer_mm(frame, first.setback_mm),
    )
    return Beam(noggin, first.wall, points)


def _order(beam: Beam) -> tuple[str, int, Decimal, int, Decimal]:
    noggin = beam.noggin
    return (noggin.room, beam.wall.index, noggin.left_mm, noggin.height_mm, noggin.setback_mm)


def _overlaps(site: Site, beams: Sequence[Beam]) -> list[Finding]:
    """Noggins of one bay that want the same place: too near in height, or at one height with different set-backs."""
    found = []
    walls = [tuple(of_one) for _, of_one in groupby(beams, key=lambda beam: (beam.noggin.room, beam.wall.index))]
    for a, b in (pair for of_one in walls for pair in combinations(of_one, 2)):
        if not _meet_along(a.noggin, b.noggin):
            continue
        face = a.wall.frame.noggin.face_mm
        apart = abs(a.noggin.height_mm - b.noggin.height_mm)
        if apart < face:
            found.append(_overlap(site, a, b, apart, face))
    return found


def _meet_along(a: Noggin, b: Noggin) -> bool:
    return a.left_mm < b.left_mm + b.length_mm and b.left_mm < a.left_mm + a.length_mm


def _overlap(site: Site, a: Beam, b: Beam, apart: int, face: Decimal) -> Finding:
    one, other = _ids(a.points), _ids(b.points)
    where = f"{one} and {other} on wall {a.wall.name}"
    if a.noggin.setback_mm != b.noggin.setback_mm and apart <= site.limits.share_mm:
        backs = f"{in_mm(a.noggin.setback_mm)} and {in_mm(b.noggin.setback_mm)}"
        said = f"{where} share a bay at {in_metres(a.noggin.height_mm)} but need noggins set back {backs}"
        advice = "use boxes of one depth, or move one to another bay"
    else:
        near = f"{in_mm(apart)} apart in height, less than the {in_mm(face)} they are high"
        said = f"{where} share a bay with their noggins {near}"
        advice = "give them one height, or move one to another bay"
    return site.finding("noggin-overlap", "ask", one, f"{said}: {advice}?", Decimal(apart), face)


def _depths(site: Site, beams: Sequence[Beam]) -> list[Finding]:
    """One finding for each wall and set-back with which a noggin stands proud or does not fit."""
    together: dict[tuple[str, str, Decimal], list[Beam]] = {}
    for beam in beams:
        together.setdefault((beam.noggin.room, beam.noggin.wall, beam.noggin.setback_mm), []).append(beam)
    found = []
    for alike in together.values():
        noggin = alike[0].noggin
        ids = _ids([point for beam in alike for point in beam.points])
        if noggin.setback_mm < 0:
            found.append(_proud(site, alike[0], ids))
        if noggin.spacer_mm < 0:
            found.append(_too_thick(site, alike[0], ids))
    return found


def _proud(site: Site, beam: Beam, ids: str) -> Finding:
    by = -beam.noggin.setback_mm
    lining = beam.wall.frame.gap_mm + beam.wall.frame.inside_mm
    said = (
        f"{ids} on wall {beam.wall.name}: the box is {in_mm(lining - by)} deep behind {in_mm(lining)} of lining "
        f"and gap, so its noggin would stand {in_mm(by)} proud of the studs: take a box at least {in_mm(lining)} deep?"
    )
    return site.finding("noggin-proud", "ask", ids, said, beam.noggin.setback_mm, Decimal(0))


def _too_thick(site: Site, beam: Beam, ids: str) -> Finding:
    frame = beam.wall.frame
    left = frame.stud.depth_mm - beam.noggin.setback_mm
    said = (
        f"{ids} on wall {beam.wall.name}: a noggin {in_mm(frame.noggin.through_mm)} through the wall does not fit; "
        f"set back {in_mm(beam.noggin.setback_mm)} in a stud {in_mm(frame.stud.depth_mm)} deep it reaches "
        f"{in_mm(-beam.noggin.spacer_mm)} past the back; {_thinner(site.catalogue, frame, left)}"
    )
    return site.finding("noggin-fit", "stop", ids, said, beam.noggin.spacer_mm, Decimal(0))


def _thinner(catalogue: Catalogue, frame: Frame, left_mm: Decimal) -> str:
    """What would fit in the depth left: the same timber laid flat, or the thickest of the catalogue."""
    if left_mm <= 0:
        return "no timber would fit: take a shallower box"
    own = frame.noggin
    if own.on_edge and own.section.thickness_mm <= left_mm:
        return f"{own.section.part} laid flat would fit"
    timbers = [size for size in (_size(part) for part in catalogue.parts) if size is not None and size[0] <= left_mm]
    if not timbers:
        return f"timber {in_mm(left_mm)} thick or less, laid flat, would fit"
    thickness, _, part = max(timbers, key=lambda size: (size[0], -abs(size[1] - own.section.depth_mm), size[2]))
    return f"timber {in_mm(left_mm)} thick or less, laid flat, would fit: {part} is {in_mm(thickness)}"


def _size(part: str) -> tuple[Decimal, Decimal, str] | None:
    """Thickness and depth of a timber by its code, `timber-TxD`; None for every other part."""
    thickness, by, depth = part.removeprefix("timber-").partition("x")
    if not part.startswith("timber-") or not by or not _is_number(thickness) or not _is_number(depth):
        return None
    return Decimal(thickness), Decimal(depth), part


def _is_number(text: str) -> bool:
    return text.isascii() and text.replace(".", "", 1).isdigit()


def _ids(points: Iterable[Point]) -> str:
    return id_list((point.group, point.number) for point in points)
