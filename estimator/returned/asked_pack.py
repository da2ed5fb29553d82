"""Which pack a price is for: the line that was asked and what the merchant wrote go in, a pack and a number come out."""

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from estimator.returned.asked import AskedLine
from estimator.returned.cells import as_text
from estimator.returned.figures import Figure, Unfit
from estimator.returned.pers import Per
from estimator.rounding import money, whole_up

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
class Ask:
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


def amiss(line: AskedLine, unit: Figure | None, per: Per | None) -> Unfit | None:
    """Why words on what a price is for cannot be taken: an old trade mark, or units that the thing is not sold in."""
    if per is None or unit is None or unit.money is None:
        return None
    said = f"{coins(unit.money)} {per.said}"
    if per.kind == "mark" and not _is_metre(line, per):
        count = "1000" if per.measure == "M" else "100"
        also = " or per metre" if line.unit == "m" and per.measure == "M" else ""
        return Unfit(
            f"{said}: is that per {count}{also}?", f'write "per {count}", "per {one_of(line.unit)}" or "per pack"'
        )
    if per.kind == "pack" and wound(per.said) and in_lengths(line):
        return Unfit(f"{said}, and this is sold in lengths: nothing is wound on a drum", "write how long one length is")
    if per.unit and per.unit != line.unit:
        return Unfit(f"{said}, and this is sold by the {one_of(line.unit)}", ONE_PACK)
    return None


def wound(text: str) -> bool:
    """Whether a pack is one that only cable and the like come on."""
    return re.search(r"\b(?:drum|coil|reel)s?\b", text, re.I) is not None


def in_lengths(line: AskedLine) -> bool:
    """Whether a line asks for stiff lengths, as timber and conduit are."""
    return re.match(r"lengths?\b", line.pack_words) is not None


def _is_metre(line: AskedLine, per: Per) -> bool:
    """Whether "/M" is a metre in capitals: of what is sold by the metre nobody counts thousands."""
    return line.unit == "m" and per.measure == "M" and per.said != "M"


def in_metres(line: AskedLine, per: Per | None) -> Per | None:
    """What a price is for, with "/M" read as a metre where that is all it can be."""
    return (
        Per("measure", None, per.said, "m") if per is not None and per.kind == "mark" and _is_metre(line, per) else per
    )


def which_pack(
    line: AskedLine, unit: Figure | None, total: Figure | None, per: Per | None, offer: Offer, vat_rate: Decimal
) -> Ask | Unfit:
    """Which pack the figures are for."""
    size = per.units if per is not None and per.kind == "pack" and per.units else offer.pack
    if size is not None:
        same = size == line.pack and not line.cut
        return Ask(line, size, offer.packs or (line.packs if same else 0), False, vat_rate)
    if line.pack is not None:
        return Ask(line, line.pack, line.packs, line.cut, vat_rate)
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
        return Ask(line, whole, int(count), False, vat_rate)
    if line.unit == "nr" and per is None and not offer.cut and offer.packs and offer.packs == line.quantity:
        return Ask(line, Decimal(1), offer.packs, False, vat_rate)  # so many packs as pieces: a pack is one piece
    figure = next(of.money for of in (unit, total) if of is not None and of.money is not None)
    if per is not None and per.kind == "units" and per.units:
        return _open_units(line, unit, total, per, figure)
    example = {"m": "50 m", "nr": "pack of 100"}.get(line.unit, f"25 {line.unit}")
    return Unfit(
        f"{coins(figure)} does not say for how much, and the pack of this line is theirs to choose",
        f'write under Note what is in one pack, as in "{example}", or "per {one_of(line.unit)}"',
    )


def _open_units(line: AskedLine, unit: Figure | None, total: Figure | None, per: Per, figure: Decimal) -> Ask | Unfit:
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
            return Ask(line, fits[0][0], fits[0][1], False, Decimal(0))
    many, one = as_text(per.units), one_of(line.unit)
    size = f"{many} {line.unit}" if line.unit != "nr" else f"pack of {many}"
    return Unfit(
        f"{coins(figure)} {per.said}: are they sold in packs of {many}, or one by one?"
        if line.unit == "nr"
        else f"{coins(figure)} {per.said}: is it sold in {many} {line.unit}, or by the {one}?",
        f'write under Note "{size}" or "per {one}", and the price of that',
    )


def one_of(unit: str) -> str:
    """One unit in words, as they stand after "per"."""
    return {"m": "metre", "nr": "piece"}.get(unit, unit)


def pack_said(asked: Ask) -> str:
    """The pack in words: as it was asked for, where it is that one."""
    return asked.line.pack_words if asked.pack == asked.line.pack else f"pack of {as_text(asked.pack)}"
