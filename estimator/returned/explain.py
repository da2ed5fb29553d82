"""Why a unit price and a line price may differ: both go in, the likeliest reason and what to write come out."""

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from estimator.returned.asked_pack import ONE_PACK, Ask, coins, one_of, pack_said
from estimator.returned.cells import as_text
from estimator.returned.figures import Unfit
from estimator.returned.pers import Per
from estimator.rounding import money


def differ(asked: Ask, unit: Decimal, each: Fraction, total: Decimal, per: Per | None) -> Unfit:
    """Why two figures are not taken: what they make, and what the merchant may have meant, the likeliest alone."""
    packs = asked.packs
    if per is not None:
        found = (
            f"{coins(unit)} {per.said} makes {coins(each * packs)} for {packs} x {pack_said(asked)}, not {coins(total)}"
        )
        return Unfit(found, f"{ONE_PACK}, and leave the line price empty or mend it")
    found = f"{coins(unit)} times {packs} is not {coins(total)}"
    for why, write in _explanations(asked, unit, money(total)):
        return Unfit(f"{found}: {why}", write)
    return Unfit(found, f"{ONE_PACK}, and leave the line price empty or mend it")


def _explanations(asked: Ask, written: Decimal, total: Decimal) -> Iterator[tuple[str, str]]:
    """What the merchant may have meant, the likeliest first."""
    line, packs, pack = asked.line, asked.packs, Fraction(asked.pack)
    unit, said = Fraction(written), coins(written)
    one, add = f"a {one_of(line.unit)}", f"per {one_of(line.unit)}"
    if pack != 1 and money(unit * pack * packs) == total:
        yield f"is {said} for {one}?", f'{ONE_PACK}, or add "{add}" in the note'
    if money(unit * pack * packs / 100) == total:
        yield f"is {said} per 100?", f'{ONE_PACK}, or add "per 100" in the note'
    if money(unit * Fraction(line.quantity)) == total:
        yield (
            f"is {said} for {one}, {as_text(line.quantity)} in all?",
            f'{ONE_PACK}, or add "{add}" in the note and mend the line price',
        )
    if money(unit * Fraction(line.quantity) / 100) == total:
        yield (
            f"is {said} per 100, {as_text(line.quantity)} in all?",
            f'{ONE_PACK}, or add "per 100" in the note and mend the line price',
        )
    if packs > 1 and money(unit) == total:
        yield f"is {said} for one pack, or for all {packs}?", f"{ONE_PACK}, and for all {packs} under Line price"
    if money(unit * packs * (1 + Fraction(asked.vat_rate))) == total:
        yield f"does {coins(total)} hold the VAT?", "write both prices ex VAT, or both inc VAT"
