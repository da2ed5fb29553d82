"""Numbers as the words of a passage: whole mm or mm, plain, with no trailing noughts."""

from decimal import Decimal

from estimator.job.model import Section


def as_text(value: Decimal | int) -> str:
    """`600` or `581.5`."""
    return str(value) if isinstance(value, int) else f"{value.normalize():f}"


def section_text(section: Section) -> str:
    """`38 x 89 mm`."""
    return f"{as_text(section.thickness_mm)} x {as_text(section.depth_mm)} mm"


def thickness_text(thickness_mm: Decimal) -> str:
    """`wall 120 mm`."""
    return f"wall {as_text(thickness_mm)} mm"
