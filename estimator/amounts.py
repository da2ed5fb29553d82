"""Amounts of money as a reader is told them: a `Decimal` and a currency in, text out."""

from collections.abc import Mapping
from decimal import Decimal
from types import MappingProxyType

from estimator.rounding import money as to_the_penny

_SYMBOLS: Mapping[str, str] = MappingProxyType({"GBP": "£", "EUR": "€", "USD": "$"})


def symbol(currency: str) -> str:
    """What stands before an amount of that currency: its sign, else its code and a space."""
    return _SYMBOLS.get(currency, f"{currency} ")


def money(amount: Decimal, currency: str = "GBP") -> str:
    """An amount to the penny, half up, with its sign and thousands marked: `£1,234.50`, `-£3.00`, `CHF 12.00`."""
    rounded = to_the_penny(amount)
    minus = "-" if rounded < 0 else ""
    return f"{minus}{symbol(currency)}{abs(rounded):,.2f}"
