"""What is left of a part, in words: a margin in, one line for people out."""

from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from estimator.buying.margins import COUNTED, Margin
from estimator.buying.spare_points import SparePoint
from estimator.documents.words import money, number

HUNDREDTH = Decimal("0.01")


def margin_words(margin: Margin, currency: str = "GBP") -> str:
    """What stays over, then what less would save: "12 more fit what you buy; 4 fewer would save £3.19 inc VAT".

    Lengths left are rounded down and those to be saved up, to a centimetre, so that neither says too much.
    """
    spare = _counted(margin) if margin.longest_spare_mm is None else _lengths(margin, margin.longest_spare_mm)
    return "; ".join([spare, *_less(margin, currency)])


def _counted(margin: Margin) -> str:
    if margin.fits is None:
        return f"{_down(margin.spare)} {margin.unit} spare" if margin.spare else "none spare"
    if margin.fits == 0:
        return "none spare"
    return "1 more fits what you buy" if margin.fits == 1 else f"{number(margin.fits)} more fit what you buy"


def _lengths(margin: Margin, longest_mm: Decimal) -> str:
    longest, whole = _down(longest_mm.scaleb(-3)), _down(margin.spare)
    if whole == "0":
        return "none spare"
    words = "none spare in one length" if longest == "0" else f"{longest} m spare in one length"
    if longest != whole:
        words += f", {whole} m in all"
    if margin.fits:
        words += f" ({number(margin.fits)} more of the usual piece)"
    return words


def _less(margin: Margin, currency: str) -> list[str]:
    if margin.less is None or margin.saves is None:
        return []
    saved = f"{money(margin.saves, currency)} inc VAT"
    if margin.longest_spare_mm is not None:
        return [f"saving {saved} takes at least {_up(margin.less)} m less"]
    if margin.unit in COUNTED:
        return [f"{number(margin.less.to_integral_value(rounding=ROUND_CEILING))} fewer would save {saved}"]
    return [f"{_up(margin.less)} {margin.unit} less would save {saved}"]


def _down(value: Decimal) -> str:
    return number(value.quantize(HUNDREDTH, rounding=ROUND_FLOOR))


def _up(value: Decimal) -> str:
    return number(value.quantize(HUNDREDTH, rounding=ROUND_CEILING))


def spare_point_words(point: SparePoint, label: str, part: str) -> str:
    """How many more of a kind fit what is bought, and what then runs out, by the labels of the kind and that part."""
    many = number(point.fits) if point.fits else "no"
    fit = "fits" if point.fits == 1 else "fit"
    return f"{label}: {many} more {fit} what you buy, cable and timber apart (first to run out: {part})"
