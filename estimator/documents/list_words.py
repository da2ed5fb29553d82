"""Words of a list to be priced: a part's description and sizes of packs go in, what a counter reads comes out."""

import re
from collections.abc import Iterable, Sequence
from decimal import ROUND_HALF_UP, Decimal

from estimator.catalogue.model import Part
from estimator.documents.words import number

TOO_BARE = ("cable", "hire", "label", "sand", "sealant", "single core")
"""First words of a description that need the next to be understood."""
OF_THE_BILL = re.compile(
    r"threaded through |fixed to timber|in ground or cleated|\d+(\.\d+)? % for |.*measured separately"
)
"""How the work is measured, which is nothing to a merchant."""
HEAVY_KG = Decimal(10)
"""From this weight on a line says it."""


def plain_and_size(part: Part) -> tuple[str, str]:
    """What the thing is in plain words, and its size and finish; a description's parts stand between semicolons."""
    parts = [words for piece in part.description.split(";") if (words := piece.strip())]
    if len(parts) > 1 and parts[0].lower() in TOO_BARE and (len(parts) > 2 or not parts[1][0].isdigit()):
        parts[:2] = [f"{parts[0]}, {parts[1]}"]
    sizes = [words for words in parts[1:] if not OF_THE_BILL.match(words)]
    return (parts[0] if parts else part.description), "; ".join(sizes)


def pack_words(size: Decimal, unit: str) -> str:
    """A pack as it is asked for: `each`, `pack of 100`, `25 kg`."""
    if unit == "nr":
        return "each" if size == 1 else f"pack of {number(size)}"
    return f"{number(size)} {unit}"


def packs_words(packs: int, size: Decimal, unit: str) -> str:
    """So many packs: `1 pack of 100`, `7 single`, `3 x 10 m`."""
    if unit == "nr":
        return f"{packs} single" if size == 1 else f"{packs} {'pack' if packs == 1 else 'packs'} of {number(size)}"
    return f"{packs} x {number(size)} {unit}"


def either(choices: Sequence[str]) -> str:
    """Ways to choose from: `1 x 100 m or 2 x 50 m, whichever is less`."""
    return choices[0] if len(choices) == 1 else f"{' or '.join(choices)}, whichever is less"


def counted(lengths_m: Iterable[Decimal]) -> str:
    """Lengths, the longest first, equal ones together: `2 of 3.4 m, 1 of 0.562 m`."""
    lengths = sorted(lengths_m, reverse=True)
    return ", ".join(f"{lengths.count(length)} of {number(length)} m" for length in dict.fromkeys(lengths))


def about(weight_kg: Decimal) -> str:
    """A weight that is not to be relied on to the gram: `about 28 kg`."""
    return f"about {number(weight_kg.quantize(Decimal(1), rounding=ROUND_HALF_UP))} kg"


def lines_words(values: Iterable[int]) -> str:
    """Numbers of lines, in order: `line 3`, `lines 3, 4, 7 to 9`."""
    runs: list[list[int]] = []
    for value in values:
        if runs and value == runs[-1][-1] + 1:
            runs[-1].append(value)
        else:
            runs.append([value])
    said = [f"{run[0]} to {run[-1]}" if len(run) > 2 else ", ".join(str(value) for value in run) for run in runs]
    return f"line{'s' if sum(len(run) for run in runs) > 1 else ''} {', '.join(said)}"
