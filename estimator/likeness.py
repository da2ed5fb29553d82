"""Which codes of a table are meant by a word that is none of them: a word, and codes with their words, in; codes out.

People write what stands on the box ("20A RCBO", "twin socket", "2.5mm twin and earth") where a code belongs. A size that
no row has is taken to the next larger one; of rows as near, all are given, since one alone would be pasted unread.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

LONG = 3
"""Words of more letters than this may be misspelt and still be known."""
MISSPELT, ALMOST, HALF = 0.88, 0.8, Fraction(1, 2)
"""From which likeness (0 to 1) a code is one misspelt, and a word another; the share of the words that must be met."""
SLIP = Decimal("1.05")
"""A size so little above one there is may be a slip of the hand (`te-2.6`), and that one is offered with the next larger."""
_PHRASES = (
    ("light switch", "switch"),
    ("two gang", "double"),
    ("one gang", "single"),
    ("2 gang", "double"),
    ("1 gang", "single"),
    ("spot light", "downlight"),
    ("down light", "downlight"),
    ("fuse board", "consumer unit"),
    ("fuse box", "consumer unit"),
    ("t and e", "twin earth"),
    ("t e", "twin earth"),
    ("cu", "consumer unit"),
    ("distribution board", "consumer unit"),
    ("way board", "consumer unit"),
)
_SAME = {
    "armored": "armoured", "breaker": "mcb", "cooker-switch": "cooker", "ethernet": "data", "fcu": "fused", "fuse": "mcb",
    "fuseboard": "consumer", "fusebox": "consumer", "spur": "fused", "lamp": "light", "network": "data", "outside": "outdoor",
    "plug": "socket", "plugs": "socket", "spot": "downlight", "spotlight": "downlight", "spotlights": "downlight",
    "strip": "batten", "television": "tv", "twin": "double", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6",
    "external": "outdoor", "exterior": "outdoor", "eight": "8", "ten": "10", "twelve": "12", "lights": "light", "sockets": "socket", "switches": "switch",
    "downlights": "downlight",
}  # fmt: skip
"""Words of the trade that mean the same."""
_IDLE = frozenset(
    [
        "a",
        "amp",
        "amps",
        "and",
        "for",
        "in",
        "inch",
        "m",
        "mm",
        "mm2",
        "nr",
        "of",
        "on",
        "sq",
        "the",
        "type",
        "v",
        "w",
        "way",
        "ways",
        "with",
    ]
)
"""Words and units that tell no code from another."""
_USUAL = frozenset(("b", "double", "single"))
"""What a row may have besides and still be the usual one of its sort."""
_PIECES = re.compile(r"\d+(?:\.\d+)?|[a-z]+")


@dataclass(frozen=True, slots=True)
class _Row:
    """A code taken apart: its figures, the letters in it, and those in its words besides."""

    code: str
    figures: tuple[str, ...]
    own: frozenset[str]
    words: frozenset[str]


def like(word: str, known: Mapping[str, str]) -> tuple[str, ...]:
    """The codes most like `word`, all that are as near, small ones first; none where nothing comes near.

    `known` has the words of each code. First goes the next larger of the same stem (`consumer-unit-5`), then a code
    misspelt, then what meets most of the words. Ties go by figures, then by what else a row has.
    """
    return _sized(word, known) or _misspelt(word, known) or _by_words(word, known)


def by_size(code: str) -> tuple[tuple[str, Decimal], str]:
    """What codes are sorted by: the stem, the size at the end, the whole."""
    return _parted(code) or (code, Decimal(0)), code


def _parted(code: str) -> tuple[str, Decimal] | None:
    """A code that ends in a size: its stem and the size."""
    found = re.fullmatch(r"(.*?[^\d.])(\d+(?:\.\d+)?)", code)
    return (found[1], Decimal(found[2])) if found else None


def _sized(word: str, known: Iterable[str]) -> tuple[str, ...]:
    whole = "-".join(word.lower().split())
    if of_stem := [code for code in known if (parted := _parted(code)) and parted[0] == f"{whole}-"]:
        return tuple(sorted(of_stem, key=by_size))
    asked = _parted(whole)
    if asked is None:
        return ()
    sizes = {size: code for code in sorted(known) if (of := _parted(code)) and of[0] == asked[0] for size in of[1:]}
    if not sizes:
        return ()
    if asked[1] in sizes:
        return (sizes[asked[1]],)
    without_point = {str(size).replace(".", ""): code for size, code in sizes.items() if "." in str(size)}
    if (code := without_point.get(str(asked[1]))) is not None:
        return (code,)
    larger = [size for size in sizes if size >= asked[1]]
    slips = [size for size in sizes if size < asked[1] <= size * SLIP]
    return tuple(sizes[size] for size in sorted({*slips, min(larger) if larger else max(sizes)}))


def _misspelt(word: str, known: Iterable[str]) -> tuple[str, ...]:
    from difflib import SequenceMatcher

    whole = "-".join(word.lower().split())
    ratios = {code: SequenceMatcher(None, code, whole).ratio() for code in sorted(known)}
    best = max(ratios.values(), default=0.0)
    return tuple(code for code, ratio in ratios.items() if ratio == best) if best >= MISSPELT else ()


def _by_words(word: str, known: Mapping[str, str]) -> tuple[str, ...]:
    asked = tuple(dict.fromkeys(_pieces(word)))
    rows = [_row(code, words) for code, words in sorted(known.items())]
    common = Counter(piece for row in rows for piece in row.own | row.words | set(row.figures))
    scored = [(row, _met(asked, row, common)) for row in rows]
    best = max((met for _, met in scored), default=Fraction(0))
    if not asked or best < HALF:
        return ()
    numbers = [piece for piece in asked if piece[0].isdigit()]
    ranked = [(_besides(asked, numbers, row), row.code) for row, met in scored if met == best]
    nearest = min(ranked)[0]
    return tuple(sorted((code for besides, code in ranked if besides == nearest), key=by_size))


def _pieces(text: str) -> list[str]:
    """Words and figures of a text, as the trade means them: `20A` is `20`, `twin` is `double`."""
    lower = re.sub(r"(?<=\d),(?=\d)", ".", text.lower()).replace("mm2", " ").replace("mm²", " ")
    spaced = " ".join(_PIECES.findall(lower))
    for phrase, meant in _PHRASES:
        spaced = re.sub(rf"\b{phrase}\b", meant, spaced)
    pieces = [_SAME.get(piece, piece) for piece in spaced.split()]
    return [_plain(piece) for piece in pieces if piece not in _IDLE]


def _plain(piece: str) -> str:
    """Figures without idle zeros."""
    return piece.rstrip("0").rstrip(".") if "." in piece else piece


def _row(code: str, words: str) -> _Row:
    pieces = _pieces(code)
    own = frozenset(piece for piece in pieces if not piece[0].isdigit())
    others = frozenset(piece for piece in _pieces(words) if not piece[0].isdigit())
    return _Row(code, tuple(piece for piece in pieces if piece[0].isdigit()), own, others - own)


def _met(asked: Sequence[str], row: _Row, common: Counter[str]) -> Fraction:
    """The share of the words asked for that a row has; words that few rows have count more, those of none less."""
    rows = max(common.values(), default=1)
    weight = {piece: 1 + Fraction(rows - common[piece], rows) if common[piece] else HALF for piece in asked}
    have = sum((weight[piece] for piece in asked if _has(piece, row)), Fraction(0))
    return have / (sum(weight.values()) or 1)


def _has(piece: str, row: _Row) -> bool:
    from difflib import SequenceMatcher

    if piece[0].isdigit():
        return piece in row.figures
    if piece in row.own or piece in row.words:
        return True
    return len(piece) > LONG and any(
        SequenceMatcher(None, other, piece).ratio() >= ALMOST for other in sorted(row.own) if len(other) > LONG
    )


def _besides(asked: Sequence[str], numbers: Sequence[str], row: _Row) -> tuple[int, Decimal, int, int]:
    """How far a row is from what was asked beyond the words it has: what counts against it, the least first.

    The size it would take to reach (larger before smaller), words met only outside its code, words of its code besides.
    """
    rest = [piece for piece in numbers if piece not in row.figures]
    sizes = [Decimal(figure) for figure in row.figures]
    gaps = [size - Decimal(piece) for piece in rest for size in sizes]
    over = [gap for gap in gaps if gap >= 0]
    gap = min(over) if over else -max(gaps, default=Decimal(0))
    outside = sum(piece in row.words for piece in asked)
    more = len(row.own - set(asked) - _USUAL) if row.own - set(asked) else 0
    return (int(bool(gaps) and not over), gap, outside, more)
