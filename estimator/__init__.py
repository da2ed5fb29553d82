"""Studbay: plan, count, price and buy the first fix of the electrics in a timber frame."""

__version__ = "0.1.0"

__all__ = ["__version__"]
