"""Drilling: cables with their paths go in; drilled holes, their bits and places, in walking order, and findings come out."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.routing.bit_words import bound_by, not_known
from estimator.routing.bits import passes, share_out, smallest_bit
from estimator.routing.hole_findings import hole_findings
from estimator.routing.hole_limits import Limits, allowed_bits, face, read_limits, size_of
from estimator.routing.hole_places import place_holes
from estimator.routing.model import XYZ, Drilled, Passage, Path

VOIDS = ("ceiling", "floor")
KINDS = ("stud", "plate", "joist", "wall")

Laid = tuple[str, str, Path]
"""Id of a leg or run, its cable, its path."""
Through = tuple[str, str, tuple[XYZ, ...]]
"""A cable in a place: the id of its leg or run, its cable, its route."""


def drill(
    building: Building, catalogue: Catalogue, ruleset: str, laid: Sequence[Laid]
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    """One drilled hole for all cables that pass one place, or more where no bit allowed there passes them together.

    Fewest holes; of several at one place the largest is the first, and of equals the one of more cables. What goes with
    what is by size, then by where cables run; the order of `laid` only parts those alike in both. A cable that is too
    large for the member by itself has a hole of its own with no bit, and a finding. Each hole says which rule its bit goes by, and has a place of its
    own (see `hole_places`). Holes go room by room (as `building` has them), walls clockwise, then ceiling and floor
    void, along (in a void y, then x), height, kind; those of one place by number.
    """
    limits = read_limits(catalogue, ruleset)
    places = _places(laid)
    keys = sorted(places, key=lambda key: walking(building, places[key][0]))
    drilled = [hole for key in keys for hole in _holes(catalogue, limits, *places[key])]
    placed = place_holes(building, catalogue, limits, drilled)
    return placed, hole_findings(building, catalogue, ruleset, limits, placed)


def _places(laid: Sequence[Laid]) -> dict[tuple[str, ...], tuple[Passage, list[Through]]]:
    places: dict[tuple[str, ...], tuple[Passage, list[Through]]] = {}
    for name, cable, path in laid:
        for passage in path.passages:
            places.setdefault(passage.key, (passage, []))[1].append((name, cable, path.points))
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


def _holes(catalogue: Catalogue, limits: Limits, passage: Passage, through: list[Through]) -> list[Drilled]:
    if not limits.known or limits.air_mm is None:
        return [_hole(passage, through, None, not_known(limits))]
    air_mm, bits_mm = limits.air_mm, allowed_bits(limits, passage)
    sizes = [size_of(catalogue.cables[cable]) for _, cable, _ in through]
    order = sorted(range(len(sizes)), key=lambda i: (*sizes[i], through[i][2], i))
    alone = [i for i in order if smallest_bit(bits_mm, air_mm, [sizes[i]]) is None]
    rest = [i for i in order if i not in alone]
    bundles = share_out([sizes[i] for i in rest], lambda some: passes(bits_mm[-1], air_mm, some))
    groups = [*([i] for i in alone), *([rest[j] for j in bundle] for bundle in bundles)]
    bits = [smallest_bit(bits_mm, air_mm, [sizes[i] for i in group]) for group in groups]

    def first(place: int) -> tuple[bool, Decimal, int, int]:
        bit, group = bits[place], groups[place]
        return bit is not None, -(bit or Decimal(0)), -len(group), min(order.index(i) for i in group)

    return [
        _hole(
            passage,
            [through[i] for i in sorted(groups[place])],
            bits[place],
            bound_by(limits, passage, [sizes[i] for i in groups[place]], len(sizes)),
        )
        for place in sorted(range(len(groups)), key=first)
    ]


def _hole(passage: Passage, through: list[Through], bit_mm: Decimal | None, bound: str) -> Drilled:
    return Drilled(passage, tuple(name for name, *_ in through), tuple(cable for _, cable, _ in through), bit_mm, bound)
