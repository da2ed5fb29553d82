"""Takes lengths, ids and names; gives them as words for findings and problems."""

from collections.abc import Iterable
from decimal import Decimal
from itertools import groupby


def in_metres(length_mm: int | Decimal) -> str:
    """A length as metres, exact, with two decimals at least: "0.60 m", "0.692 m"."""
    metres = Decimal(length_mm).scaleb(-3).normalize()
    exponent = metres.as_tuple().exponent
    decimals = -exponent if isinstance(exponent, int) else 0
    return f"{metres:.{max(decimals, 2)}f} m"


def in_mm(length_mm: Decimal | int) -> str:
    """A size as millimetres, exact and without idle zeros: "12.5 mm"."""
    return f"{Decimal(length_mm).normalize():f} mm"


def id_list(ids: Iterable[tuple[str, int]]) -> str:
    """Ids (group, number) in order, neighbours drawn together: "S1 to S4, S7"."""
    said: list[str] = []
    for (group, _), run in groupby(enumerate(sorted(set(ids))), key=lambda pair: (pair[1][0], pair[1][1] - pair[0])):
        numbers = [number for _, (_, number) in run]
        ends = [f"{group}{numbers[0]}", f"{group}{numbers[-1]}"][: len(numbers)]
        said.append((" to " if len(numbers) > 2 else ", ").join(ends))
    return ", ".join(said)


def address(*keys: str) -> str:
    """A dotted address; a name that holds a dot is quoted."""
    return ".".join(f'"{key}"' if "." in key else key for key in keys)


def count(number: int, one: str, more: str) -> str:
    """A number with its noun: "1 place", "3 places"."""
    return f"{number} {one if number == 1 else more}"
