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
NUMBERS = {
    **{word: str(number) for number, word in enumerate(("one", "two", "three", "four", "five", "six"), 1)},
    "single": "1",
    "twin": "2",
}
"""A single plate is of one gang, and a twin one of two."""
LINKS = ("a", "an", "and", "for", "in", "of", "on", "or", "the", "to", "with", "x")
_MEASURE = re.compile(r"(?<![^\W_])\d+(?:\.\d+)?(?:[^\W\d_]+| (?:mm2|mm|m|ml|kg|ka|a|v|w|lm)\b)?")
LETTERS = 3
"""A shorter word tells no thing from another."""
HEAVY_KG = Decimal(10)
"""From this weight on a line says it."""


def plain_and_size(part: Part) -> tuple[str, str]:
    """What the thing is in plain words, and its size and finish; a description's parts stand between semicolons."""
    parts = [words for piece in part.description.split(";") if (words := piece.strip())]
    if len(parts) > 1 and parts[0].lower() in TOO_BARE and (len(parts) > 2 or not parts[1][0].isdigit()):
        parts[:2] = [f"{parts[0]}, {parts[1]}"]
    sizes = [words for words in parts[1:] if not OF_THE_BILL.match(words)]
    return (parts[0] if parts else part.description), "; ".join(sizes)


def in_one(words: str, trade_name: str, size_finish: str) -> str:
    """What a thing is, its trade name and its size as one text that says nothing twice.

    The trade name is what a merchant goes by, so it leads; what the thing is stands before it only where they have no word
    in common, and of the size what the trade name does not say.
    """
    if not trade_name:
        return "; ".join(of for of in (words, size_finish) if of)
    common = _words(words.casefold()) & _words(trade_name.casefold())
    lead = trade_name if any(len(of) >= LETTERS for of in common) else f"{words}: {trade_name}"
    return "; ".join((lead, *(of for of in size_finish.split("; ") if of and not _says(lead, of))))


def _says(lead: str, piece: str) -> bool:
    """Whether a text says a piece already, word by word; a measure that it has may have one more word, as `35 mm deep`."""
    said = _said(piece)
    more = said - _said(lead)
    return not more or (len(more) == 1 and all(of.isalpha() for of in more) and any(of[0].isdigit() for of in said))


def _said(text: str) -> frozenset[str]:
    """The words and measures of a text, for telling whether another has them; numbers in letters as figures."""
    low = re.sub(r"[^\W\d_]+", lambda found: NUMBERS.get(found[0], found[0]), text.casefold())
    return _words(_MEASURE.sub(" ", low)) | frozenset(_MEASURE.findall(low))


def _words(low: str) -> frozenset[str]:
    """Words in small letters, of one or of several, without those that only link."""
    words = (of.removesuffix("s") for of in re.findall(r"[^\W\d_]+\d*", low))
    return frozenset(of for of in words if of and of not in LINKS)


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


def either(choices: Sequence[tuple[Decimal, int]], unit: str) -> str:
    """Ways to choose from, packs by size and how many: `pack of 100 or 4 of 10`, `1 x 100 m or 2 x 50 m`."""
    first, *others = (packs_words(packs, size, unit) for size, packs in choices)
    lead = first.removeprefix("1 ") if unit == "nr" else first
    return " or ".join((lead, *(of.replace(" packs of ", " of ") for of in others)))


def counted(lengths_m: Iterable[Decimal]) -> str:
    """Lengths, the longest first, equal ones together: `2 x 3.4 m, 1 x 0.562 m`."""
    lengths = sorted(lengths_m, reverse=True)
    return ", ".join(f"{lengths.count(length)} x {number(length)} m" for length in dict.fromkeys(lengths))


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
