"""What one pack costs: the line that was asked and the figures beside it go in, exact money for one pack comes out.

Each against per 100, and per metre against per drum, are told by what the merchant wrote, or asked; never guessed.
"""

from decimal import Decimal
from fractions import Fraction

from estimator.returned.asked import AskedLine
from estimator.returned.asked_pack import (
    ONE_PACK,
    Ask,
    Offer,
    Settled,
    amiss,
    coins,
    in_metres,
    one_of,
    pack_said,
    which_pack,
)
from estimator.returned.cells import as_text
from estimator.returned.explain import differ
from estimator.returned.figures import FIGURES, PLACES, Figure, Unfit
from estimator.returned.pers import Per
from estimator.rounding import money

METRE_PLACES = 4
"""A price of a metre that is not exact to so many decimals is kept as the price of the length that was asked for."""


def settle(
    line: AskedLine, unit: Figure | None, total: Figure | None, per: Per | None, offer: Offer, vat_rate: Decimal
) -> Settled | Unfit:
    """The price of one pack, from a unit price, a line price or both; `per` is what the unit price is for, as written.

    Without words of the merchant's a unit price is that of one pack, as the heading of the list says.
    """
    wrong = amiss(line, unit, per)
    if wrong is not None:
        return wrong
    per = in_metres(line, per)
    asked = which_pack(line, unit, total, per, offer, vat_rate)
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


def _each(asked: Ask, unit: Decimal, total: Figure | None, per: Per | None) -> Fraction | Unfit:
    """The exact price of one pack."""
    price, pack, counted = Fraction(unit), Fraction(asked.pack), asked.line.unit == "nr"
    if per is None or per.kind == "pack":
        return price
    if per.kind == "units" and per.units:
        return price * pack / Fraction(per.units)
    if per.kind == "measure":
        own = per.measure == asked.line.unit
        sold = "by the piece" if counted else f"by the {one_of(asked.line.unit)}"
        return price * pack if own else Unfit(f"{coins(unit)} {per.said}, and this is sold {sold}", ONE_PACK)
    if per.kind == "piece":
        sold = f"{coins(unit)} {per.said}, and this is sold by the {one_of(asked.line.unit)}"
        return price * pack if counted else Unfit(sold, ONE_PACK)
    if pack == 1 or not counted:
        return price
    if total is not None and total.money is not None and asked.packs:
        fits = [each for each in (price, price * pack) if money(each * asked.packs) == money(total.money)]
        if len(fits) == 1:
            return fits[0]
    return Unfit(
        f"{coins(unit)} each: is that for one, or for the {pack_said(asked)}?",
        'write "per pack" or "per piece" beside the price',
    )


def _agrees(asked: Ask, unit: Decimal, each: Fraction, total: Decimal, per: Per | None) -> Ask | Unfit:
    """The line with its number of packs, where unit price and line price say the same to the penny."""
    if asked.packs:
        if money(each * asked.packs) == money(total):
            return asked
        return differ(asked, unit, each, total, per)
    packs = round(Fraction(total) / each)
    if packs >= 1 and money(each * packs) == money(total):
        return Ask(asked.line, asked.pack, packs, asked.cut, asked.vat_rate)
    return Unfit(
        f"{coins(total)} is no whole number of packs at {coins(each)}", f"{ONE_PACK}, and how many under Packs"
    )


def _from_total(asked: Ask, total: Decimal) -> Settled | Unfit:
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


def _settled(asked: Ask, each: Fraction, written: Decimal, per: Per | None) -> Settled | Unfit:
    if asked.cut:
        return _cut(asked, each, per)
    price = _exact(each)
    if price is None:
        return Unfit(f"{coins(written)} does not come to whole pennies for one {pack_said(asked)}", ONE_PACK)
    told = ""
    if per is not None and per.kind in ("measure", "piece", "units") and (per.units or 1) != asked.pack:
        told = f"{coins(written)} {per.said} is {coins(price)} for one {pack_said(asked)}"
    return Settled(asked.pack, asked.packs, price, told)


def _cut(asked: Ask, each: Fraction, per: Per | None) -> Settled | Unfit:
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
