"""Takes a wall, a body and its height, and what is there already; gives where along the wall the middle may be."""

from collections.abc import Iterable, Iterator
from decimal import Decimal

from estimator.building.model import Wall
from estimator.building.studs import meets
from estimator.job.model import Fitted, Opening
from estimator.setout.bars import FAR, Bar, Span, open_spans
from estimator.setout.clear import Face, Mark, plate_bars
from estimator.setout.site import Body, Limits
from estimator.setout.words import in_metres


def face_of(wall: Wall, body: Body) -> Face:
    """The face of the wall that the body is on."""
    return (wall.room, "outside" if body.manner == "outside" else "wall", wall.name)


def bars(
    wall: Wall, body: Body, height_mm: int, limits: Limits, marks: Iterable[Mark], avoid: Iterable[Fitted] = ()
) -> tuple[Bar, ...]:
    """Everything that closes places on a wall to a body with its middle at `height_mm` above the floor.

    A box in the wall keeps from studs, corners and openings; what sits on the lining from openings and, so as not to
    reach past them, the wall's ends; what sits outside from corners and openings; a board only must not lie over
    openings and ends. All keep clear of plates, and of the things in `avoid`: box and thing, as rectangles on the
    wall, must not overlap.
    """
    low, high = height_mm - body.height_mm / 2, height_mm + body.height_mm / 2
    air = limits.air_mm
    face = face_of(wall, body)
    return (
        *_openings(wall, body, low, high, Decimal(0) if body.manner == "board" else limits.opening_mm),
        *(_studs(wall, body, low, high, limits.stud_mm) if body.manner == "bay" else ()),
        *_ends(wall, body, limits),
        *plate_bars(marks, face, height_mm, body.plate_width_mm, body.plate_height_mm, air),
        *_things(wall, body, low, high, avoid),
    )


def legal(
    wall: Wall, body: Body, height_mm: int, limits: Limits, marks: Iterable[Mark], avoid: Iterable[Fitted] = ()
) -> tuple[Span, ...]:
    """The whole mm along the wall where the body's middle may be: inclusive, ascending, from 0 to the wall's length."""
    return open_spans(bars(wall, body, height_mm, limits, marks, avoid), 0, wall.length_mm)


def _openings(wall: Wall, body: Body, low: Decimal, high: Decimal, limit: Decimal) -> Iterator[Bar]:
    for opening in wall.openings:
        if low < opening.head_mm and opening.sill_mm < high:
            ends = (Decimal(opening.along_mm), Decimal(opening.along_mm + opening.width_mm))
            yield _around(*ends, body, limit, "box-to-opening", _said(opening))


def _said(opening: Opening) -> str:
    named = f" that {opening.named_in} names" if opening.named_in else ""
    return f"the {opening.kind}{named} at {in_metres(opening.along_mm)}"


def _studs(wall: Wall, body: Body, low: Decimal, high: Decimal, limit: Decimal) -> Iterator[Bar]:
    for stud in wall.studs:
        if meets(stud, low, high):
            said = f"the stud at {in_metres(stud.centre_mm)}"
            yield _around(stud.left_mm, stud.right_mm, body, limit, "box-to-stud", said)


def _ends(wall: Wall, body: Body, limits: Limits) -> Iterator[Bar]:
    cornered = body.manner in ("bay", "outside")
    check, limit = ("box-to-corner", limits.corner_mm) if cornered else ("wall-end", Decimal(0))
    inset = limit + body.width_mm / 2
    yield Bar(-FAR, inset, check, limit, f"the left end of {wall.name}")
    yield Bar(wall.length_mm - inset, FAR, check, limit, f"the right end of {wall.name}")


def _things(wall: Wall, body: Body, low: Decimal, high: Decimal, avoid: Iterable[Fitted]) -> Iterator[Bar]:
    for thing in avoid:
        if thing.wall == wall.name and low < thing.to_mm and thing.from_mm < high:
            ends = (Decimal(thing.along_mm), Decimal(thing.along_mm + thing.width_mm))
            yield _around(*ends, body, Decimal(0), "avoid", f'"{thing.name}"')


def _around(left: Decimal, right: Decimal, body: Body, limit: Decimal, check: str, of: str) -> Bar:
    reach = limit + body.width_mm / 2
    return Bar(left - reach, right + reach, check, limit, of)
