"""What one pack costs: the line that was asked and the figures beside it go in, exact money for one pack comes out.

Each against per 100, and per metre against per drum, are told by what the merchant wrote, or asked; never guessed.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.returned.asked import AskedLine
from estimator.returned.cells import as_text
from estimator.returned.figures import FIGURES, PLACES, Figure, Unfit
from estimator.returned.pers import Per
from estimator.rounding import money, whole_up

METRE_PLACES = 4
"""A price of a metre that is not exact to so many decimals is kept as the price of the length that was asked for."""
ONE_PACK = "write the price of one pack"


@dataclass(frozen=True, slots=True)
class Offer:
    """What the merchant says of the pack: its size (None: as asked), how many (0: as asked), or that it is cut to order.

    `counted`: it wrote another number of packs over ours, as the list asks of whoever sells another pack.
    """

    pack: Decimal | None = None
    packs: int = 0
    cut: bool = False
    counted: bool = False


@dataclass(frozen=True, slots=True)
class Settled:
    """The price of one pack of `pack` units; `packs` of them are asked for (0: left open); `told` says what was worked out."""

    pack: Decimal
    packs: int
    price: Decimal
    told: str = ""


@dataclass(frozen=True, slots=True)
class _Ask:
    """One line with what the merchant wrote: `pack` units in each of `packs` (0: not known)."""

    line: AskedLine
    pack: Decimal
    packs: int
    cut: bool
    vat_rate: Decimal


def coins(value: Decimal | Fraction) -> str:
    """Money as a message has it: at least two decimals, no more than there are."""
    exact = value if isinstance(value, Decimal) else money(value)
    return f"{exact:.2f}" if exact == money(exact) else f"{exact.normalize():f}"


def settle(
    line: AskedLine, unit: Figure | None, total: Figure | None, per: Per | None, offer: Offer, vat_rate: Decimal
) -> Settled | Unfit:
    """The price of one pack, from a unit price, a line price or both; `per` is what the unit price is for, as written.

    Without words of the merchant's a unit price is that of one pack, as the heading of the list says.
    """
    amiss = _amiss(line, unit, per)
    if amiss is not None:
        return amiss
    per = _metre(line, per)
    asked = _asked(line, unit, total, per, offer, vat_rate)
    if isinstance(asked, Unfit):
        return asked
    if unit is None or unit.money is None:
        assert total is not None
        assert total.money is not None
        return _from_total(asked, total.money)
    each = _each(asked, unit.money, total, per)
    if isinstance(each, Unfit):
        return each
    if total is not None and total.money is not None:
        checked = _agrees(asked, unit.money, each, total.money, per)
        if isinstance(checked, Unfit):
            return checked
        asked = checked
    return _settled(asked, each, unit.money, per)


def _amiss(line: AskedLine, unit: Figure | None, per: Per | None) -> Unfit | None:
    """Why words on what a price is for cannot be taken: an old trade mark, or units that the thing is not sold in."""
    if per is None or unit is None or unit.money is None:
        return None
    said = f"{coins(unit.money)} {per.said}"
    if per.kind == "mark" and not _is_metre(line, per):
        count = "1000" if per.measure == "M" else "100"
        also = " or per metre" if line.unit == "m" and per.measure == "M" else ""
        return Unfit(
            f"{said}: is that per {count}{also}?", f'write "per {count}", "per {_one(line.unit)}" or "per pack"'
        )
    if per.unit and per.unit != line.unit:
        return Unfit(f"{said}, and this is sold by the {_one(line.unit)}", ONE_PACK)
    return None


def _is_metre(line: AskedLine, per: Per) -> bool:
    """Whether "/M" is a metre in capitals: of what is sold by the metre nobody counts thousands."""
    return line.unit == "m" and per.measure == "M" and per.said != "M"


def _metre(line: AskedLine, per: Per | None) -> Per | None:
    return (
        Per("measure", None, per.said, "m") if per is not None and per.kind == "mark" and _is_metre(line, per) else per
    )


def _asked(
    line: AskedLine, unit: Figure | None, total: Figure | None, per: Per | None, offer: Offer, vat_rate: Decimal
) -> _Ask | Unfit:
    """Which pack the figures are for."""
    size = per.units if per is not None and per.kind == "pack" and per.units else offer.pack
    if size is not None:
        same = size == line.pack and not line.cut
        return _Ask(line, size, offer.packs or (line.packs if same else 0), False, vat_rate)
    if line.pack is not None:
        return _Ask(line, line.pack, line.packs, line.cut, vat_rate)
    loose = per is not None and (
        per.kind in ("measure", "piece")
        or (per.kind == "each" and line.unit == "nr")
        or (per.kind == "units" and per.units == 1)
    )
    if loose or (offer.cut and line.unit == "m"):
        whole = Decimal(1)
        count = (
            line.quantity if line.quantity == line.quantity.to_integral_value() else Decimal(whole_up(line.quantity))
        )
        return _Ask(line, whole, int(count), False, vat_rate)
    figure = next(of.money for of in (unit, total) if of is not None and of.money is not None)
    if per is not None and per.kind == "units" and per.units:
        return _open_units(line, unit, total, per, figure)
    example = {"m": "50 m", "nr": "pack of 100"}.get(line.unit, f"25 {line.unit}")
    return Unfit(
        f"{coins(figure)} does not say for how much, and the pack of this line is theirs to choose",
        f'write under Note what is in one pack, as in "{example}", or "per {_one(line.unit)}"',
    )


def _open_units(line: AskedLine, unit: Figure | None, total: Figure | None, per: Per, figure: Decimal) -> _Ask | Unfit:
    """The pack behind "per 100" where it is theirs to choose: by the line price, where that tells it; else it is asked."""
    assert per.units is not None
    whole = Fraction(whole_up(line.quantity))
    packs = -(-Fraction(line.quantity) // Fraction(per.units))
    if unit is not None and unit.money is not None and total is not None and total.money is not None:
        each = Fraction(unit.money) / Fraction(per.units)
        fits = [
            (size, count)
            for size, count in ((per.units, int(packs)), (Decimal(1), int(whole)))
            if money(each * Fraction(size) * count) == money(total.money)
        ]
        if len(fits) == 1:
            return _Ask(line, fits[0][0], fits[0][1], False, Decimal(0))
    many, one = as_text(per.units), _one(line.unit)
    size = f"{many} {line.unit}" if line.unit != "nr" else f"pack of {many}"
    return Unfit(
        f"{coins(figure)} {per.said}: are they sold in packs of {many}, or one by one?"
        if line.unit == "nr"
        else f"{coins(figure)} {per.said}: is it sold in {many} {line.unit}, or by the {one}?",
        f'write under Note "{size}" or "per {one}", and the price of that',
    )


def _one(unit: str) -> str:
    """One unit in words, as they stand after "per"."""
    return {"m": "metre", "nr": "piece"}.get(unit, unit)


def _each(asked: _Ask, unit: Decimal, total: Figure | None, per: Per | None) -> Fraction | Unfit:
    """The exact price of one pack."""
    price, pack, counted = Fraction(unit), Fraction(asked.pack), asked.line.unit == "nr"
    if per is None or per.kind == "pack":
        return price
    if per.kind == "units" and per.units:
        return price * pack / Fraction(per.units)
    if per.kind == "measure":
        own = per.measure == asked.line.unit
        sold = "by the piece" if counted else f"by the {_one(asked.line.unit)}"
        return price * pack if own else Unfit(f"{coins(unit)} {per.said}, and this is sold {sold}", ONE_PACK)
    if per.kind == "piece":
        sold = f"{coins(unit)} {per.said}, and this is sold by the {_one(asked.line.unit)}"
        return price * pack if counted else Unfit(sold, ONE_PACK)
    if pack == 1 or not counted:
        return price
    if total is not None and total.money is not None and asked.packs:
        fits = [each for each in (price, price * pack) if money(each * asked.packs) == money(total.money)]
        if len(fits) == 1:
            return fits[0]
    return Unfit(
        f"{coins(unit)} each: is that for one, or for the {_pack(asked)}?",
        'write "per pack" or "per piece" beside the price',
    )


def _pack(asked: _Ask) -> str:
    return asked.line.pack_words if asked.pack == asked.line.pack else f"pack of {as_text(asked.pack)}"


def _agrees(asked: _Ask, unit: Decimal, each: Fraction, total: Decimal, per: Per | None) -> _Ask | Unfit:
    """The line with its number of packs, where unit price and line price say the same to the penny."""
    if asked.packs:
        if money(each * asked.packs) == money(total):
            return asked
        return _differ(asked, unit, each, total, per)
    packs = round(Fraction(total) / each)
    if packs >= 1 and money(each * packs) == money(total):
        return _Ask(asked.line, asked.pack, packs, asked.cut, asked.vat_rate)
    return Unfit(
        f"{coins(total)} is no whole number of packs at {coins(each)}", f"{ONE_PACK}, and how many under Packs"
    )


def _differ(asked: _Ask, unit: Decimal, each: Fraction, total: Decimal, per: Per | None) -> Unfit:
    packs = asked.packs
    if per is not None:
        found = f"{coins(unit)} {per.said} makes {coins(each * packs)} for {packs} x {_pack(asked)}, not {coins(total)}"
        return Unfit(found, f"{ONE_PACK}, and leave the line price empty or mend it")
    found = f"{coins(unit)} times {packs} is not {coins(total)}"
    for why, write in _explanations(asked, unit, money(total)):
        return Unfit(f"{found}: {why}", write)
    return Unfit(found, f"{ONE_PACK}, and leave the line price empty or mend it")


def _explanations(asked: _Ask, written: Decimal, total: Decimal) -> Iterator[tuple[str, str]]:
    """What the merchant may have meant, the likeliest first."""
    line, packs, pack = asked.line, asked.packs, Fraction(asked.pack)
    unit, said = Fraction(written), coins(written)
    one, add = f"a {_one(line.unit)}", f"per {_one(line.unit)}"
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


def _from_total(asked: _Ask, total: Decimal) -> Settled | Unfit:
    if not asked.packs:
        return Unfit(
            f"{coins(total)} for the line, and nothing says how many packs", f"{ONE_PACK}, or how many under Packs"
        )
    each = Fraction(total) / asked.packs
    if asked.packs > 1 and _exact(each) is None and not asked.cut:
        return Unfit(f"{coins(total)} for {asked.packs} packs does not come to whole pennies for one", ONE_PACK)
    settled = _settled(asked, each, total, None)
    if isinstance(settled, Unfit) or asked.packs == 1 or settled.told:
        return settled
    return Settled(
        settled.pack,
        settled.packs,
        settled.price,
        f"{coins(total)} for {asked.packs} is {coins(settled.price)} for one",
    )


def _settled(asked: _Ask, each: Fraction, written: Decimal, per: Per | None) -> Settled | Unfit:
    if asked.cut:
        return _cut(asked, each, per)
    price = _exact(each)
    if price is None:
        return Unfit(f"{coins(written)} does not come to whole pennies for one {_pack(asked)}", ONE_PACK)
    told = ""
    if per is not None and per.kind in ("measure", "piece", "units") and asked.pack != 1:
        told = f"{coins(written)} {per.said} is {coins(price)} for one {_pack(asked)}"
    return Settled(asked.pack, asked.packs, price, told)


def _cut(asked: _Ask, each: Fraction, per: Per | None) -> Settled | Unfit:
    """A length cut to order: by the metre where that is exact, else the length as it was asked for."""
    metre = _exact(each / Fraction(asked.pack), METRE_PLACES)
    whole = asked.pack == asked.pack.to_integral_value()
    if metre is not None and whole:
        said = (
            ""
            if per is not None and per.kind == "measure"
            else f"{coins(each)} for {as_text(asked.pack)} m is {coins(metre)} a metre"
        )
        return Settled(Decimal(1), int(asked.pack) * asked.packs, metre, said)
    price = _exact(each)
    if price is None:
        return Unfit(
            f"the price of {as_text(asked.pack)} m does not come to whole pennies", "write the price of one length"
        )
    return Settled(
        asked.pack, asked.packs, price, f"{coins(price)} is kept as the price of one length of {as_text(asked.pack)} m"
    )


def _exact(value: Fraction, places: int = PLACES) -> Decimal | None:
    """The value as a plain number of at most so many decimals; None where it is not exact, or too long for prices.csv."""
    scaled = value * 10**places
    if scaled.denominator != 1 or value <= 0:
        return None
    exact = Decimal(scaled.numerator).scaleb(-places).normalize()
    figures = f"{exact:f}"
    return Decimal(figures) if sum(mark.isdigit() for mark in figures) <= FIGURES else None
