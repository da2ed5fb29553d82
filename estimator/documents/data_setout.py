"""Points, boards, trenches and noggins as estimate.json has them."""

from typing import Any

from estimator.documents.data_numbers import metres
from estimator.job.model import Trench
from estimator.result import Estimate
from estimator.setout.model import Noggin, Point, SetOut

FLAT = ("ceiling", "floor", "soffit")


def point_data(point: Point) -> dict[str, Any]:
    """One point; what belongs to a wall is null on ceilings, floors and soffits."""
    on_wall = point.surface not in FLAT
    x, y, z = point.xyz_mm
    return {
        "id": point.id,
        "kind": point.kind,
        "circuit": point.circuit,
        "room": point.room,
        "surface": point.surface,
        "wall": point.wall if on_wall else None,
        "along_m": metres(point.along_mm) if on_wall and point.along_mm is not None else None,
        "height_m": metres(point.height_mm) if on_wall and point.height_mm is not None else None,
        "x_m": metres(x),
        "y_m": metres(y),
        "z_m": metres(z),
        "moved_m": metres(point.moved_mm),
    }


def board_data(estimate: Estimate) -> list[dict[str, Any]]:
    """The boards in the job, by name, with the ways that nothing takes."""
    return [
        {
            "name": placed.name,
            "kind": placed.kind,
            "room": placed.room,
            "wall": placed.wall,
            "along_m": metres(placed.along_mm),
            "height_m": metres(placed.height_mm),
            "spare_ways": estimate.spare_ways(placed.name),
        }
        for placed in sorted(estimate.setout.boards, key=lambda of: of.name)
    ]


def trench_data(trench: Trench) -> dict[str, Any]:
    """One trench."""
    return {"name": trench.name, "length_m": metres(trench.length_mm)}


def noggin_data(setout: SetOut) -> list[dict[str, Any]]:
    """Noggins by the name and number of their first point."""
    order = {point.id: (point.group, point.number) for point in setout.points}
    return [_noggin(noggin) for noggin in sorted(setout.noggins, key=lambda of: [order[one] for one in of.points])]


def _noggin(noggin: Noggin) -> dict[str, Any]:
    return {
        "points": list(noggin.points),
        "wall": noggin.wall,
        "length_m": metres(noggin.length_mm),
        "setback_mm": _plain(noggin.setback_mm),
        "spacer_mm": _plain(noggin.spacer_mm),
    }


def _plain(value_mm: Any) -> int | float:
    from estimator.documents.data_numbers import number

    return number(value_mm)
