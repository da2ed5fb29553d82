"""Lights: what switches them."""

from estimator.catalogue.model import Catalogue
from estimator.checks.model import Finding
from estimator.job.model import Job
from estimator.setout.model import SetOut


def switches(job: Job, catalogue: Catalogue, placed: SetOut) -> tuple[Finding, ...]:
    """Groups of lights that no switch is named for."""
    used = {point.group for point in placed.points}
    return tuple(
        Finding(
            "light-switch",
            "ask",
            group.name,
            f"Nothing switches the lights {group.name}: name a switch in "
            "switched_by, or ask your electrician how they are switched.",
            source="common practice",
        )
        for group in job.groups
        if group.name in used
        and catalogue.points[group.kind].lit
        and not group.switched_by
        and group.circuit not in (None, "none")
    )
