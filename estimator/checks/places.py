"""Places: whether a kind of point may stand where the job puts it."""

from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.setout.model import SetOut

OUTDOORS = ("outside", "soffit")


def indoors_only(catalogue: Catalogue, placed: SetOut) -> tuple[Finding, ...]:
    """A `stop` for each group of a kind for indoors that is placed outside or under a soffit."""
    groups = {
        point.group: point
        for point in placed.points
        if point.surface in OUTDOORS and catalogue.points[point.kind].place_in_or_out == "in"
    }
    return tuple(
        Finding(
            "indoors-only",
            "stop",
            group,
            f"A {catalogue.points[point.kind].label.lower()} is for indoors, and {group} is placed outside: choose a "
            "kind for outdoors, and ask your electrician which.",
            source="points.csv, place",
        )
        for group, point in sorted(groups.items())
    )
