"""Drilling: cables with their paths go in; drilled holes with their bits, in walking order, and findings come out."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.routing.bit_words import bound_by, not_known
from estimator.routing.bits import passes, share_out, smallest_bit
from estimator.routing.hole_findings import hole_findings
from estimator.routing.hole_limits import Limits, allowed_bits, face, read_limits, size_of
from estimator.routing.model import Drilled, Passage, Path

VOIDS = ("ceiling", "floor")
KINDS = ("stud", "plate", "joist", "wall")

Laid = tuple[str, str, Path]
"""Id of a leg or run, its cable, its path."""


def drill(
    building: Building, catalogue: Catalogue, ruleset: str, laid: Sequence[Laid]
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    """One drilled hole for all cables that pass one place, or more where no bit allowed there passes them together.

    Fewest holes, cables in the order of `laid`. A cable that is too large for the member by itself has a hole of its
    own with no bit, and a finding. Each says which rule its bit goes by. Holes go room by room (as `building` has them), walls clockwise, then ceiling and
    floor void, along (in a void y, then x), height, kind.
    """
    limits = read_limits(catalogue, ruleset)
    places = _places(laid)
    keys = sorted(places, key=lambda key: walking(building, places[key][0]))
    drilled = tuple(hole for key in keys for hole in _holes(catalogue, limits, *places[key]))
    return drilled, hole_findings(catalogue, ruleset, limits, drilled)


def _places(laid: Sequence[Laid]) -> dict[tuple[str, ...], tuple[Passage, list[tuple[str, str]]]]:
    places: dict[tuple[str, ...], tuple[Passage, list[tuple[str, str]]]] = {}
    for name, cable, path in laid:
        for passage in path.passages:
            places.setdefault(passage.key, (passage, []))[1].append((name, cable))
    return places


def walking(building: Building, passage: Passage) -> tuple[object, ...]:
    """Where a passage comes when someone walks the building with a drill."""
    rooms = [shape.room.name for shape in building.rooms]
    shape = building.room(passage.room)
    x, y, z = passage.at
    along: tuple[int, ...] = (y, x)
    order = len(shape.walls) + VOIDS.index(face(passage)) if face(passage) in VOIDS else 0
    if passage.wall:
        wall = shape.wall(passage.wall)
        (x0, y0), (x1, y1) = wall.start, wall.end
        across, up = x - shape.room.at[0] - x0, y - shape.room.at[1] - y0
        order, along = wall.index, (across * (x1 - x0) + up * (y1 - y0), 0)
    return (rooms.index(passage.room), order, along, z, KINDS.index(passage.kind), passage.key)


def _holes(catalogue: Catalogue, limits: Limits, passage: Passage, through: list[tuple[str, str]]) -> list[Drilled]:
    if not limits.known or limits.air_mm is None:
        return [_hole(passage, through, None, not_known(limits))]
    air_mm, bits_mm = limits.air_mm, allowed_bits(limits, passage)
    sizes = [size_of(catalogue.cables[cable]) for _, cable in through]
    alone = [i for i, size in enumerate(sizes) if smallest_bit(bits_mm, air_mm, [size]) is None]
    rest = [i for i in range(len(sizes)) if i not in alone]
    bundles = share_out([sizes[i] for i in rest], lambda some: passes(bits_mm[-1], air_mm, some))
    groups = sorted([[rest[j] for j in bundle] for bundle in bundles] + [[i] for i in alone])
    return [
        _hole(
            passage,
            [through[i] for i in group],
            smallest_bit(bits_mm, air_mm, [sizes[i] for i in group]),
            bound_by(limits, passage, [sizes[i] for i in group], len(sizes)),
        )
        for group in groups
    ]


def _hole(passage: Passage, through: list[tuple[str, str]], bit_mm: Decimal | None, bound: str) -> Drilled:
    return Drilled(passage, tuple(name for name, _ in through), tuple(cable for _, cable in through), bit_mm, bound)
