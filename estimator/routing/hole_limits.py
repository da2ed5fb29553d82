"""Limits of holes: rules and bit sizes of the catalogue go in; the largest hole of a member, and its bits, come out."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Cable, Catalogue, Rule
from estimator.routing.bits import Size, smallest_bit
from estimator.routing.model import Drilled, Passage

BITS = "bit-sizes"
AIR = "hole-air"
JOIST_MOST = "joist-hole-max"
RATIOS = {"stud": "stud-hole-max-ratio", "plate": "plate-hole-max-ratio", "joist": "joist-hole-max-ratio"}
SPACINGS = {
    "stud": "stud-hole-spacing-ratio",
    "plate": "plate-hole-spacing-ratio",
    "joist": "joist-hole-spacing-ratio",
    "wall": "wall-hole-spacing-ratio",
}
"""From centre to centre over the diameter of the larger hole."""
ZONES = {
    "stud": ("stud-hole-zone-from", "stud-hole-zone-to"),
    "joist": ("joist-hole-zone-from", "joist-hole-zone-to"),
}
"""Where along a member holes belong, over its length from either end."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What the catalogue says about holes: bits (ascending), air over the width of a cable (None: not said), rules."""

    bits_mm: tuple[Decimal, ...]
    air_mm: Decimal | None
    rules: Mapping[str, Rule]

    @property
    def known(self) -> bool:
        """Whether a bit can be chosen at all."""
        return bool(self.bits_mm) and self.air_mm is not None

    def largest_mm(self, passage: Passage) -> Decimal | None:
        """The largest hole a member may have; None: no limit, or none known. A plate is as wide as studs are deep."""
        rule = self.member_rule(passage)
        return rule[0] if rule else None

    def member_rule(self, passage: Passage) -> tuple[Decimal, str] | None:
        """The largest hole a member may have, and the rule that says so; of two as strict the one that goes by depth."""
        found: list[tuple[Decimal, str]] = []
        name = RATIOS.get(passage.kind, "")
        rule = self.rules.get(name)
        if rule is not None and rule.value is not None and passage.depth_mm is not None:
            found.append((rule.value * passage.depth_mm, name))
        most = self.rules.get(JOIST_MOST) if passage.kind == "joist" else None
        if most is not None and most.value is not None:
            found.append((most.value, JOIST_MOST))
        return min(found, key=lambda pair: pair[0]) if found else None

    def value(self, name: str) -> Decimal | None:
        """The figure of a rule; None where the ruleset does not have it."""
        rule = self.rules.get(name)
        return rule.value if rule else None

    def spacing_mm(self, kind: str, one_mm: Decimal, other_mm: Decimal) -> Decimal | None:
        """How far apart the centres of two holes of these diameters belong in such a member; None: not known."""
        ratio = self.value(SPACINGS[kind])
        return None if ratio is None else ratio * max(one_mm, other_mm)


def read_limits(catalogue: Catalogue, ruleset: str) -> Limits:
    """The limits of a ruleset: every value of the table `bit-sizes`, and the rules that have a value."""
    sizes = [cell.value for (owner, table, _, _), cell in catalogue.cells.items() if (owner, table) == (ruleset, BITS)]
    zones = (name for pair in ZONES.values() for name in pair)
    wanted = (AIR, *RATIOS.values(), JOIST_MOST, *SPACINGS.values(), *zones)
    rules = {name: catalogue.rules[ruleset, name] for name in wanted if (ruleset, name) in catalogue.rules}
    air = rules.get(AIR)
    return Limits(tuple(sorted(dict.fromkeys(sizes))), air.value if air else None, rules)


def allowed_bits(limits: Limits, passage: Passage) -> tuple[Decimal, ...]:
    """The bits that the member takes, ascending."""
    largest = limits.largest_mm(passage)
    return tuple(bit for bit in limits.bits_mm if largest is None or bit <= largest)


def face(passage: Passage) -> str:
    """The wall a passage is in, or "ceiling" or "floor" for one in a void."""
    return passage.wall or passage.key[2]


def size_of(cable: Cable) -> Size:
    """Width and height, the largest its standard allows."""
    return (cable.max_width_mm or cable.width_mm, cable.max_height_mm or cable.height_mm)


def needed_mm(limits: Limits, size: Size) -> Decimal:
    """The hole that one cable needs whatever the member allows: the bit, or past the largest its width and the air."""
    air_mm = limits.air_mm or Decimal(0)
    bit = smallest_bit(limits.bits_mm, air_mm, [size])
    return max(size) + air_mm if bit is None else bit


def diameter_mm(limits: Limits, catalogue: Catalogue, hole: Drilled) -> Decimal | None:
    """The bit of a hole; of one that no bit fits what its cable needs; None where bits are not known at all."""
    if hole.bit_mm is not None or not limits.known:
        return hole.bit_mm
    return needed_mm(limits, size_of(catalogue.cables[hole.cables[0]]))
