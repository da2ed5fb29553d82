"""Figures as estimate.json has them: exact decimals go in, numbers of at most three decimals and money as text come out."""

from decimal import ROUND_HALF_UP, Decimal

from estimator.rounding import money as to_the_penny

THOUSANDTH = Decimal("0.001")
RATE_PLACE = Decimal("0.0001")


def number(value: Decimal | int) -> int | float:
    """A length, quantity or figure: rounded half up to three decimals, whole ones as whole numbers.

    A float of so few decimals is written back by `json` as the very same digits.
    """
    rounded = Decimal(value).quantize(THOUSANDTH, rounding=ROUND_HALF_UP)
    whole = int(rounded)
    return whole if rounded == whole else float(rounded)


def metres(length_mm: Decimal | int) -> int | float:
    """Millimetres as a number of metres."""
    return number(Decimal(length_mm).scaleb(-3))


def place(xyz_mm: tuple[int, int, int]) -> list[int | float]:
    """A place as [x, y, z] in metres."""
    return [metres(value) for value in xyz_mm]


def money(amount: Decimal) -> str:
    """An amount as text with two decimals, half up."""
    return f"{to_the_penny(amount):.2f}"


def price(amount: Decimal) -> str:
    """A price as text with two decimals, or all that it has where it has more."""
    rounded = to_the_penny(amount)
    return f"{rounded:.2f}" if rounded == amount else f"{amount.normalize():f}"


def rate(value: Decimal) -> str:
    """Money for one unit, or a ratio, as text with four decimals, half up."""
    return f"{value.quantize(RATE_PLACE, rounding=ROUND_HALF_UP):f}"
