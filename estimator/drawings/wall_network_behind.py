"""What the other face of a wall holds: walls back to back and what each shows go in; what of it lies behind a wall comes
out, in places as seen from that wall's own room.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from estimator.building.adjoining import SharedWall
from estimator.building.model import Building, RoomShape, Wall
from estimator.drawings.wall_network_things import Key, Thing
from estimator.routing.zone_findings import Stretch

Cable = tuple[Stretch, tuple[str, ...]]
"""Where cables run, and the ids of their legs and runs."""


@dataclass(frozen=True, slots=True)
class Behind:
    """What is in or on the wall `wall` of the room behind, `gap_mm` from face to face of the frames.

    Upwards, then from left to right.
    """

    room: str
    wall: str
    gap_mm: int
    things: tuple[Thing, ...]
    cables: tuple[Cable, ...]


def behind_walls(
    building: Building,
    shared: Sequence[SharedWall],
    things: Mapping[Key, Sequence[Thing]],
    stretches: Mapping[Key, Sequence[tuple[str, Stretch]]],
) -> Mapping[Key, Sequence[Behind]]:
    """By wall: what the walls behind it hold that lies behind it, as far as the two reach; nothing where there is none."""
    found: dict[Key, list[Behind]] = {}
    for of in shared:
        one, other = building.rooms[of.first], building.rooms[of.second]
        for shape, wall, beyond, far in ((one, of.one, other, of.other), (other, of.other, one, of.one)):
            held = _held(of, (shape, wall), (beyond, far), things, stretches)
            if held.things or held.cables:
                found.setdefault((wall.room, wall.name), []).append(held)
    return found


def _held(
    shared: SharedWall,
    near: tuple[RoomShape, Wall],
    far: tuple[RoomShape, Wall],
    things: Mapping[Key, Sequence[Thing]],
    stretches: Mapping[Key, Sequence[tuple[str, Stretch]]],
) -> Behind:
    (shape, wall), (beyond, other) = near, far
    key = other.room, other.name
    rise = beyond.room.floor_level_mm - shape.room.floor_level_mm
    size = wall.length_mm, shape.room.height_mm
    boxes = (_thing(shared, of, rise) for of in things.get(key, ()))
    seen = [of for of in boxes if _meets(of, size)]
    cables: dict[Stretch, dict[str, None]] = {}
    for name, stretch in stretches.get(key, ()):
        for own in _stretch(shared, stretch, rise, size):
            cables.setdefault(own, {})[name] = None
    return Behind(
        other.room,
        other.name,
        shared.gap_mm,
        tuple(sorted(seen, key=lambda of: (of.up_mm, of.along_mm, of.name))),
        tuple(
            (of, tuple(cables[of])) for of in sorted(cables, key=lambda of: (of.kind, of.at_mm, of.low_mm, of.high_mm))
        ),
    )


def _thing(shared: SharedWall, thing: Thing, rise_mm: int) -> Thing:
    return replace(thing, along_mm=shared.across(thing.along_mm), up_mm=thing.up_mm + rise_mm)


def _meets(thing: Thing, size: tuple[int, int]) -> bool:
    """Whether any of a box is behind the wall."""
    half, tall = thing.wide_mm / 2, thing.high_mm / 2
    along = -half <= thing.along_mm <= size[0] + half
    return along and -tall <= thing.up_mm <= size[1] + tall


def _stretch(shared: SharedWall, stretch: Stretch, rise_mm: int, size: tuple[int, int]) -> Iterator[Stretch]:
    """What of a stretch is behind the wall, if any is."""
    length, height = size
    if stretch.kind == "lane":
        at, most, reach = stretch.at_mm + rise_mm, height, length
        low, high = shared.across(stretch.high_mm), shared.across(stretch.low_mm)
    else:
        at, most, reach = shared.across(stretch.at_mm), length, height
        low, high = stretch.low_mm + rise_mm, stretch.high_mm + rise_mm
    low, high = max(0, low), min(reach, high)
    if 0 <= at <= most and low < high:
        yield Stretch(stretch.kind, at, low, high)
