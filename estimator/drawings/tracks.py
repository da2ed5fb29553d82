"""Cables side by side: chains on rails go in; how far each circuit is moved off its rail, and its lines, come out.

On a wall each owner has a slot of its own, counted inwards, kept along the whole wall. Lines of a void are moved only as
far as keeps them apart. Moves are for the eye: the plan says so. `depth` and the like are mm of paper.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from estimator.drawings.chains import Bit, Chain, End, Rail
from estimator.drawings.letters import Owner
from estimator.drawings.sides import Side
from estimator.drawings.spacing import kept_apart
from estimator.drawings.svg import XY

PITCH_MM = 1.3
FIRST_MM = 1.1
STRIP_MM = 2.4
"""Lines of a wall stand this far apart, the first this far from the face, or from the strip of what is fitted there."""
SHORT_MM = 2.0

Spans = dict[tuple[Rail, Owner], tuple[float, float]]


@dataclass(frozen=True, slots=True)
class Tracks:
    """Where every owner's line runs on every rail it uses, for one scale."""

    scale: int
    walls: Mapping[tuple[str, str], Side]
    slots: Mapping[tuple[Rail, Owner], int]
    last: Mapping[Rail, int]
    moved: Mapping[tuple[Rail, Owner], float]
    strips: frozenset[tuple[str, str]]

    def depth(self, rail: Rail, owner: Owner) -> float:
        """How far an owner's line on a wall is from its inside face."""
        return self.first(rail) + self.slots[rail, owner] * PITCH_MM

    def first(self, rail: Rail) -> float:
        """How far the first line of a wall is from its inside face."""
        return FIRST_MM + (STRIP_MM if (rail.room, rail.wall) in self.strips else 0)

    def corridor(self, rail: Rail) -> float:
        """How deep the lines of a wall reach in all."""
        return self.first(rail) + self.last.get(rail, -1) * PITCH_MM + FIRST_MM / 2

    def line(self, rail: Rail, owner: Owner, bit: Bit) -> tuple[XY, XY]:
        """A place and the direction of the line that an owner's bit is drawn on."""
        if rail.sort == "wall":
            side = self.walls[rail.room, rail.wall]
            return side.at(0, self.depth(rail, owner) * self.scale), side.along
        if rail.sort == "x":
            return (rail.place + self.moved[rail, owner] * self.scale, bit.start[1]), (0.0, 1.0)
        if rail.sort == "y":
            return (bit.start[0], rail.place + self.moved[rail, owner] * self.scale), (1.0, 0.0)
        return bit.start, (bit.end[0] - bit.start[0], bit.end[1] - bit.start[1])

    def on_stem(self, end: End, owner: Owner) -> XY:
        """Where an owner's cable meets what is fixed at `end`: on its stem, or the place itself."""
        if end.rail is None:
            return end.place
        return self.walls[end.rail.room, end.rail.wall].at(end.along, self.depth(end.rail, owner) * self.scale)


def tracks(
    found: Sequence[Chain],
    walls: Mapping[tuple[str, str], Side],
    strips: frozenset[tuple[str, str]],
    marks: Mapping[Owner, str],
    scale: int,
) -> Tracks:
    """Give every owner its slot on every wall, and part the lines of voids that would be drawn on each other."""
    spans = _spans(found, walls)
    order = {owner: index for index, owner in enumerate(marks)}
    slots: dict[tuple[Rail, Owner], int] = {}
    for rail in sorted({rail for rail, _ in spans if rail.sort == "wall"}):
        mine = sorted((order[owner], owner, span) for (of, owner), span in spans.items() if of == rail)
        for owner, slot in _slots([(owner, span) for _, owner, span in mine], SHORT_MM * scale):
            slots[rail, owner] = slot
    lines = [(rail, owner, span) for (rail, owner), span in spans.items() if rail.sort in ("x", "y")]
    lines.sort(key=lambda of: (of[0].sort, of[0].place, order[of[1]]))
    last: dict[Rail, int] = {}
    for (rail, _), slot in slots.items():
        last[rail] = max(slot, last.get(rail, 0))
    return Tracks(scale, walls, slots, last, _parted(lines, scale), strips)


def _spans(found: Iterable[Chain], walls: Mapping[tuple[str, str], Side]) -> Spans:
    """From where to where each owner uses each rail: along a wall, or along x or y."""
    spans: Spans = {}

    def use(rail: Rail, owner: Owner, *places: float) -> None:
        low, high = spans.get((rail, owner), (places[0], places[0]))
        spans[rail, owner] = min(low, *places), max(high, *places)

    for chain in found:
        for end in (chain.start, chain.end):
            if end is not None and end.rail is not None:
                use(end.rail, chain.owner, end.along)
        for bit in chain.bits:
            if bit.rail.sort == "wall":
                side = walls[bit.rail.room, bit.rail.wall]
                use(bit.rail, chain.owner, side.of(bit.start)[0], side.of(bit.end)[0])
            elif bit.rail.sort in ("x", "y"):
                axis = 1 if bit.rail.sort == "x" else 0
                use(bit.rail, chain.owner, bit.start[axis], bit.end[axis])
    return spans


def _slots(mine: Sequence[tuple[Owner, tuple[float, float]]], air: float) -> Iterable[tuple[Owner, int]]:
    """The lowest slot for each owner that none whose span comes near has."""
    given: list[tuple[int, tuple[float, float]]] = []
    for owner, span in mine:
        near = {slot for slot, of in given if of[0] <= span[1] + air and span[0] <= of[1] + air}
        slot = next(index for index in range(len(given) + 1) if index not in near)
        given.append((slot, span))
        yield owner, slot


def _parted(lines: Sequence[tuple[Rail, Owner, tuple[float, float]]], scale: int) -> dict[tuple[Rail, Owner], float]:
    """How far each line of a void is moved, in mm of paper, so that those side by side keep apart."""
    moved: dict[tuple[Rail, Owner], float] = {}
    left = list(lines)
    while left:
        bunch = [left.pop(0)]
        grown = True
        while grown:
            near = [one for one in left if any(_near(one, of, scale) for of in bunch)]
            left = [one for one in left if one not in near]
            bunch += near
            grown = bool(near)
        bunch.sort(key=lambda of: (of[0].place, lines.index(of)))
        wished = [rail.place / scale for rail, _, _ in bunch]
        places = kept_apart(wished, [PITCH_MM / 2] * len(bunch), wished[0] - 1000, wished[-1] + 1000)
        for (rail, owner, _), at, place in zip(bunch, wished, places, strict=True):
            moved[rail, owner] = place - at
    return moved


def _near(a: tuple[Rail, Owner, tuple[float, float]], b: tuple[Rail, Owner, tuple[float, float]], scale: int) -> bool:
    return (
        a[0].sort == b[0].sort
        and abs(a[0].place - b[0].place) < PITCH_MM * scale
        and a[2][0] <= b[2][1]
        and b[2][0] <= a[2][1]
    )
