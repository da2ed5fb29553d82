"""Which rule a bit goes by, in words: the member, its limits and the cables in one hole go in, a sentence comes out.

A hole goes by the air round its cables (`hole-air`), as long as all cables of the place go through it. Where they do
not, or not even one does, it goes by what keeps the hole from being larger: the rule of the member, or the largest bit
of the table `bit-sizes`.
"""

from collections.abc import Sequence
from decimal import Decimal

from estimator.routing.bits import Size, smallest_bit
from estimator.routing.hole_limits import AIR, BITS, Limits, allowed_bits
from estimator.routing.model import Passage
from estimator.routing.words import as_text


def bound_by(limits: Limits, passage: Passage, sizes: Sequence[Size], at_the_place: int) -> str:
    """The rule, a colon, and its figures; `sizes` are those in the hole, of `at_the_place` cables in all."""
    air_mm = limits.air_mm or Decimal(0)
    bits_mm = allowed_bits(limits, passage)
    fits = smallest_bit(bits_mm, air_mm, sizes) is not None
    if fits and len(sizes) == at_the_place:
        return f"{AIR}: {_cables(sizes)} and {as_text(air_mm)} mm of air, next bit up"
    rule, limit = _limit(limits, passage)
    if not fits:
        return f"{rule}: {limit}, too little for {_cables(sizes)} and {as_text(air_mm)} mm of air"
    return f"{rule}: {limit}, too little for all {at_the_place} cables"


def not_known(limits: Limits) -> str:
    """Where the ruleset does not say what a bit goes by."""
    missing = AIR if limits.air_mm is None else BITS
    return f"{missing}: not in the ruleset"


def _cables(sizes: Sequence[Size]) -> str:
    wide = max(max(size) for size in sizes)
    if len(sizes) == 1:
        return f"a cable {as_text(wide)} mm wide"
    high = sum((min(size) for size in sizes), Decimal(0))
    return f"{len(sizes)} cables {as_text(wide)} mm wide and {as_text(high)} mm high together"


def _limit(limits: Limits, passage: Passage) -> tuple[str, str]:
    """What keeps a hole there from being larger."""
    rule = limits.member_rule(passage)
    if rule is None or rule[0] >= limits.bits_mm[-1]:
        return BITS, f"no bit is larger than {as_text(limits.bits_mm[-1])} mm"
    return rule[1], f"a hole of at most {as_text(rule[0])} mm in this {passage.kind}"
