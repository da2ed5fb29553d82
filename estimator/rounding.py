"""Rounding, in one place: half up to whole millimetres, half up to the penny, up to the next tenth of a metre."""

from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction

PENNY = Decimal("0.01")


def half_up(value: Decimal | Fraction | int) -> int:
    """The whole number nearest to `value`; a half goes up (towards plus infinity), as set-out has it."""
    over, under = value.as_integer_ratio()
    return (2 * over + under) // (2 * under)


def floor(value: Decimal | Fraction | int) -> int:
    """The largest whole number that is not above `value`."""
    over, under = value.as_integer_ratio()
    return over // under


def ceil(value: Decimal | Fraction | int) -> int:
    """The smallest whole number that is not below `value`."""
    over, under = value.as_integer_ratio()
    return -(-over // under)


def money(value: Decimal | Fraction) -> Decimal:
    """`value` to the penny, half a penny or more away from zero up (HMRC manual VATREC12030)."""
    if isinstance(value, Fraction):
        sign = -1 if value < 0 else 1
        return sign * Decimal(half_up(abs(value) * 100)).scaleb(-2)
    return value.quantize(PENNY, rounding=ROUND_HALF_UP)


def tenth_of_a_metre_up(length_mm: Decimal | Fraction) -> int:
    """`length_mm` rounded up to the next 100 mm, as cable is measured off a drum."""
    return ceil(Fraction(length_mm) / 100) * 100


def metres(length_mm: int | Decimal) -> Decimal:
    """Millimetres as metres, exact."""
    return Decimal(length_mm).scaleb(-3)


def whole_up(value: Decimal) -> int:
    """`value` rounded up to a whole number."""
    return int(value.to_integral_value(rounding=ROUND_CEILING))
