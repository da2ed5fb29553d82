"""What there is to say about holes: drilled holes and their limits go in, findings come out."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.building.model import Building
from estimator.catalogue.model import Cable, Catalogue
from estimator.checks.model import Finding, Level
from estimator.routing.hole_limits import AIR, BITS, JOIST_MOST, RATIOS, Limits, allowed_bits, face, needed_mm, size_of
from estimator.routing.hole_spacing import off_the_way, too_near
from estimator.routing.model import Drilled, Passage


def hole_findings(
    building: Building, catalogue: Catalogue, ruleset: str, limits: Limits, drilled: Sequence[Drilled]
) -> tuple[Finding, ...]:
    """What could not be worked out, then one finding for each wall (or void) and cable that no allowed bit passes.

    Joists are a `stop`; studs, plates and walls are for the frame's designer and an `ask`. Then what `hole_spacing` has
    to say of holes near one another and off the way of their cables.
    """
    return (
        *_unchecked(limits, ruleset, drilled),
        *_too_large(catalogue, limits, drilled),
        *too_near(building, catalogue, ruleset, limits, drilled),
        *off_the_way(building, catalogue, ruleset, drilled),
    )


def _unchecked(limits: Limits, ruleset: str, drilled: Sequence[Drilled]) -> list[Finding]:
    """What could not be worked out because a row or a depth is missing."""
    kinds = {hole.passage.kind for hole in drilled}
    wanted = [AIR, *(RATIOS[kind] for kind in RATIOS if kind in kinds)] if kinds else []
    told = [
        Finding("hole-size", "unchecked", "job", f'rules.csv has no value for "{name}" in ruleset "{ruleset}"')
        for name in dict.fromkeys(wanted)
        if name not in limits.rules or limits.rules[name].value is None
    ]
    if kinds and not limits.bits_mm:
        words = f'tables.csv has no "{BITS}" for ruleset "{ruleset}": no bits chosen'
        told.append(Finding("hole-size", "unchecked", "job", words))
    blind = [hole.passage for hole in drilled if hole.passage.kind in RATIOS and hole.passage.depth_mm is None]
    for place, kind in dict.fromkeys((f"{p.room}, {face(p)}", p.kind) for p in blind):
        words = f"depth of the {kind}s not given: the largest hole they may have is not known"
        told.append(Finding("hole-size", "unchecked", place, words))
    return told


def _too_large(catalogue: Catalogue, limits: Limits, drilled: Sequence[Drilled]) -> list[Finding]:
    """One finding for each wall (or void) and cable that finds no bit, for the tightest of its places there."""
    if not limits.known:
        return []
    lost: dict[tuple[str, str, str], list[Passage]] = {}
    for hole in drilled:
        if hole.bit_mm is None:
            lost.setdefault((hole.passage.room, face(hole.passage), hole.cables[0]), []).append(hole.passage)
    return [_told(limits, place, catalogue.cables[place[2]], passages) for place, passages in lost.items()]


def _told(limits: Limits, place: tuple[str, str, str], cable: Cable, passages: Sequence[Passage]) -> Finding:
    found = [(limits.largest_mm(passage), passage) for passage in passages]
    largest, passage = min(found, key=lambda pair: (pair[0] is None, pair[0] or Decimal(0)))
    air_mm = limits.air_mm or Decimal(0)
    width_mm = max(size_of(cable))
    needed = needed_mm(limits, size_of(cable))
    where = "one place" if len(passages) == 1 else f"{len(passages)} places"
    words = (
        f"{cable.cable} is up to {plain(width_mm)} mm wide and needs a hole of {plain(needed)} mm "
        f"({plain(air_mm)} mm of air in all) at {where}; {_permits(limits, passage, largest)}: "
        f"{_settles(limits, passage, largest, needed, air_mm)}"
    )
    level: Level = "stop" if passage.kind == "joist" else "ask"
    rule = limits.rules.get(RATIOS.get(passage.kind, AIR))
    if passage.kind == "joist" and largest is not None and largest == _most(limits):
        rule = limits.rules.get(JOIST_MOST)
    return Finding(
        "hole-size",
        level,
        f"{place[0]}, {place[1]}",
        words,
        value=needed,
        limit=largest if largest is not None else limits.bits_mm[-1],
        unit="mm",
        source=rule.source if rule else None,
        edition=rule.edition if rule else None,
    )


def _most(limits: Limits) -> Decimal | None:
    rule = limits.rules.get(JOIST_MOST)
    return rule.value if rule else None


def _permits(limits: Limits, passage: Passage, largest: Decimal | None) -> str:
    if largest is None:
        return f"the largest bit of the table is {plain(limits.bits_mm[-1])} mm"
    depth = "" if passage.depth_mm is None else f", {plain(passage.depth_mm)} mm deep,"
    return f"the {passage.kind}{depth} takes at most {plain(largest)} mm"


def _settles(limits: Limits, passage: Passage, largest: Decimal | None, needed: Decimal, air_mm: Decimal) -> str:
    """What would settle it: a deeper member (where the rule goes by depth) or a cable that its bits pass."""
    bits = allowed_bits(limits, passage)
    smaller = f"a cable at most {plain(bits[-1] - air_mm)} mm wide" if bits else "another way round"
    rule = limits.rules.get(RATIOS.get(passage.kind, ""))
    most = _most(limits) if passage.kind == "joist" else None
    if largest is None or rule is None or not rule.value or (most is not None and needed > most):
        return smaller
    deeper = -(-needed // rule.value)
    who = "ask the frame's designer about" if passage.kind != "joist" else "settle it with"
    return f"{who} a {passage.kind} at least {plain(deeper)} mm deep, or take {smaller}"


def plain(value: Decimal) -> str:
    """A size as people write it: no exponent, no zeros behind."""
    return f"{value.normalize():f}"
