"""Drilling: cables with their paths go in; drilled holes, their bits and places, in walking order, and findings come out."""

from collections.abc import Iterator, Sequence
from decimal import Decimal

from estimator.building.model import Building
from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.memory import NOTHING, Memory, Same
from estimator.routing.bit_words import bound_by, not_known
from estimator.routing.bits import Size, passes, share_out, smallest_bit
from estimator.routing.hole_ends import ask_first
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
Shared = tuple[tuple[int, ...], Decimal | None, str]
"""One hole: which cables, its bit (None: none passes them), the rule it goes by."""


def drill(
    building: Building, catalogue: Catalogue, ruleset: str, laid: Sequence[Laid], memory: Memory = NOTHING
) -> tuple[tuple[Drilled, ...], tuple[Finding, ...]]:
    """One drilled hole for all cables that pass one place, or more where no bit allowed there passes them together.

    Fewest holes; of several at one place the largest is the first, and of equals the one of more cables. What goes with
    what is by size, then by where cables run; the order of `laid` only parts those alike in both. A cable that is too
    large for the member by itself has a hole of its own with no bit, and a finding. Each hole says which rule its bit goes by, and has a place of its
    own (see `hole_places`); in a joist it is marked where to ask first (see `hole_ends`). Holes go room by room (as `building` has them), walls clockwise, then ceiling and floor
    void, along (in a void y, then x), height, kind; those of one place by number.
    """
    kept = memory if memory.keeps else Memory()  # what goes through one place mostly goes through many
    limits = kept.recall(("hole limits", Same(catalogue), ruleset), lambda: read_limits(catalogue, ruleset))
    places = _places(laid)
    keys = sorted(places, key=lambda key: walking(building, places[key][0]))
    drilled = [hole for key in keys for hole in _holes(catalogue, limits, *places[key], kept)]
    placed = place_holes(building, catalogue, limits, drilled)
    marked, ends = ask_first(building, catalogue, ruleset, limits, placed)
    return marked, (*hole_findings(building, catalogue, ruleset, limits, marked), *ends)


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


def _holes(
    catalogue: Catalogue, limits: Limits, passage: Passage, through: list[Through], kept: Memory
) -> Iterator[Drilled]:
    if not limits.known:
        yield _hole(passage, through, None, not_known(limits))
        return
    sizes = [size_of(catalogue.cables[cable]) for _, cable, _ in through]
    order = sorted(range(len(sizes)), key=lambda i: (*sizes[i], through[i][2], i))
    queue = tuple(sizes[i] for i in order)
    key = ("holes", Same(limits), passage.kind, passage.depth_mm, queue)
    for numbers, bit, bound in kept.recall(key, lambda: _shared(limits, passage, queue)):
        yield _hole(passage, [through[i] for i in sorted(order[number] for number in numbers)], bit, bound)


def _shared(limits: Limits, passage: Passage, sizes: Sequence[Size]) -> tuple[Shared, ...]:
    """The holes for cables of these sizes; nothing but the kind and depth of the member counts."""
    air_mm, bits_mm = limits.air_mm or Decimal(0), allowed_bits(limits, passage)
    alone = [i for i, size in enumerate(sizes) if smallest_bit(bits_mm, air_mm, [size]) is None]
    rest = [i for i in range(len(sizes)) if i not in alone]
    bundles = share_out([sizes[i] for i in rest], lambda some: passes(bits_mm[-1], air_mm, some))
    groups = [*((i,) for i in alone), *(tuple(rest[j] for j in bundle) for bundle in bundles)]

    def one(group: tuple[int, ...]) -> Shared:
        some = [sizes[i] for i in group]
        return group, smallest_bit(bits_mm, air_mm, some), bound_by(limits, passage, some, len(sizes))

    def first(shared: Shared) -> tuple[bool, Decimal, int, int]:
        group, bit, _ = shared
        return bit is not None, -(bit or Decimal(0)), -len(group), min(group)

    return tuple(sorted(map(one, groups), key=first))


def _hole(passage: Passage, through: list[Through], bit_mm: Decimal | None, bound: str) -> Drilled:
    return Drilled(passage, tuple(name for name, *_ in through), tuple(cable for _, cable, _ in through), bit_mm, bound)
