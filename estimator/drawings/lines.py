"""The lines that one owner's cables are drawn with: its chains and their tracks go in, straight lines and marks come out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

from estimator.drawings.chains import Bit, Chain, End, Rail
from estimator.drawings.letters import Owner
from estimator.drawings.sides import meet
from estimator.drawings.svg import XY
from estimator.drawings.tracks import PITCH_MM, Tracks

Line = tuple[XY, XY]

FAR_MM = 15
"""Where two lines at a flat angle meet further than this from the corner (mm of paper), they are joined by a step."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """Straight lines, each place of a rail once; dots where a cable meets a stem; rings where it goes up or down."""

    lines: tuple[Line, ...]
    dots: tuple[XY, ...]
    rings: tuple[XY, ...]


@dataclass(slots=True)
class _Sheet:
    """What has been drawn so far; dictionaries stand for sets that keep their order."""

    spans: dict[Rail, list[tuple[float, float]]] = field(default_factory=dict)
    frames: dict[Rail, Line] = field(default_factory=dict)
    loose: dict[Line, None] = field(default_factory=dict)
    dots: dict[XY, None] = field(default_factory=dict)
    rings: dict[XY, None] = field(default_factory=dict)


def drawn(owner: Owner, found: Iterable[Chain], on: Tracks) -> Drawn:
    """All cables of one owner; bits that lie on each other become one line, so that dashes stay what they are."""
    sheet = _Sheet()
    for chain in found:
        if chain.owner == owner:
            _chain(chain, on, sheet)
    straight = tuple(
        (_at(sheet.frames[rail], low), _at(sheet.frames[rail], high))
        for rail, spans in sheet.spans.items()
        for low, high in _joined(spans)
    )
    return Drawn((*straight, *sheet.loose), tuple(sheet.dots), tuple(of for of in sheet.rings if of not in sheet.dots))


def _chain(chain: Chain, on: Tracks, sheet: _Sheet) -> None:
    owner, bits = chain.owner, chain.bits
    stems = [on.on_stem(end, owner) if end is not None else None for end in (chain.start, chain.end)]
    for end, stem in zip((chain.start, chain.end), stems, strict=True):
        if end is not None and end.rail is not None and stem is not None:
            sheet.dots[stem] = None
    if not bits:
        if stems[0] is not None and stems[1] is not None:
            _step(stems[0], stems[1], sheet)
        return
    corners = [_first(chain.start, stems[0], bits[0], bits[0].start, on, owner, sheet)]
    for bit, after in pairwise(bits):
        corners += _between(bit, after, on, owner, sheet)
    corners.append(_first(chain.end, stems[1], bits[-1], bits[-1].end, on, owner, sheet))
    for index, bit in enumerate(bits):
        line = sheet.frames.setdefault(bit.rail, on.line(bit.rail, owner, bit))
        ends = sorted((_along(corners[2 * index], line), _along(corners[2 * index + 1], line)))
        sheet.spans.setdefault(bit.rail, []).append((ends[0], ends[1]))


def _first(end: End | None, stem: XY | None, bit: Bit, place: XY, on: Tracks, owner: Owner, sheet: _Sheet) -> XY:
    """Where the first (or last) bit begins; a step leads from there to what is fixed, where that is beside the line."""
    line = on.line(bit.rail, owner, bit)
    if end is None or stem is None:
        return _foot(place, line)
    corner = None
    if end.rail is not None and end.rail != bit.rail:
        side = on.walls[end.rail.room, end.rail.wall]
        corner = _near(meet(*line, stem, side.along), place, on)
    corner = corner or _foot(stem, line)
    _step(stem, corner, sheet)
    return corner


def _between(bit: Bit, after: Bit, on: Tracks, owner: Owner, sheet: _Sheet) -> tuple[XY, XY]:
    """Where one bit ends and the next begins: where their lines meet, else with a step."""
    line, other = on.line(bit.rail, owner, bit), on.line(after.rail, owner, after)
    corner = _foot(bit.end, line) if bit.rail == after.rail else _near(meet(*line, *other), bit.end, on)
    if corner is None:
        place = _beside(bit, after, on, owner)
        ends = _foot(place, line), _foot(place, other)
        _step(*ends, sheet)
    else:
        ends = corner, corner
    if after.rises:
        sheet.rings[ends[0]] = None
    return ends


def _beside(bit: Bit, after: Bit, on: Tracks, owner: Owner) -> XY:
    """A place on the longer of two bits, near where they meet; further off for the owner of a further slot, so that steps
    do not lie on each other.
    """
    slot = max(
        (of for (rail, mine), of in on.slots.items() if mine == owner and rail in (bit.rail, after.rail)), default=0
    )
    there, away = max(((bit.end, bit.start), (after.start, after.end)), key=lambda of: _far(*of))
    back = (slot + 1) * PITCH_MM * on.scale
    share = back / (back + _far(there, away))
    return there[0] + (away[0] - there[0]) * share, there[1] + (away[1] - there[1]) * share


def _far(a: XY, b: XY) -> float:
    return abs(a[0] - b[0]) + abs(a[1] - b[1])


def _near(corner: XY | None, place: XY, on: Tracks) -> XY | None:
    if corner is None or max(abs(corner[0] - place[0]), abs(corner[1] - place[1])) > FAR_MM * on.scale:
        return None
    return corner


def _step(start: XY, end: XY, sheet: _Sheet) -> None:
    if max(abs(start[0] - end[0]), abs(start[1] - end[1])) > 1:
        sheet.loose[min(start, end), max(start, end)] = None


def _along(place: XY, line: Line) -> float:
    """How far along a line (in lengths of its direction) the foot of a place is."""
    (x, y), (u, v) = line
    return ((place[0] - x) * u + (place[1] - y) * v) / (u * u + v * v)


def _at(line: Line, along: float) -> XY:
    return line[0][0] + along * line[1][0], line[0][1] + along * line[1][1]


def _foot(place: XY, line: Line) -> XY:
    return _at(line, _along(place, line))


def _joined(spans: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Spans that touch or overlap made one, ascending."""
    found: list[tuple[float, float]] = []
    for low, high in sorted(spans):
        if found and low <= found[-1][1] + 1e-6:
            found[-1] = found[-1][0], max(found[-1][1], high)
        else:
            found.append((low, high))
    return found
