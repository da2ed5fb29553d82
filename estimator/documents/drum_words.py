"""Drums and lengths in words: what buying names and counts goes in, lines for people come out."""

from collections import Counter

from estimator.buying.drums import PartDrums
from estimator.documents.words import metres, number


def drums_words(of: PartDrums) -> str:
    """How many of what, and what is cut from them: "2 drums, 1 cut length: 121.4 m in 41 pieces"."""
    counts = Counter(drum.sort for drum in of.drums)
    many = ", ".join(f"{number(count)} {_plural(sort, count)}" for sort, count in counts.items())
    if not of.pieces:
        return f"{many}: nothing is cut"
    return f"{many}: {metres(of.cut_mm)} m in {number(of.pieces)} {_plural('piece', of.pieces)}"


def left_words(of: PartDrums) -> str:
    """What stays of them: "3.1 m left on drum 2", or all of it and the most in one."""
    if not of.left_mm:
        return "nothing left"
    most = of.most_left
    if most.left_mm == of.left_mm:
        return f"{metres(of.left_mm)} m left {'on' if most.sort == 'drum' else 'of'} {most.label}"
    return f"{metres(of.left_mm)} m left in all, at most {metres(most.left_mm)} m in one ({most.label})"


def _plural(word: str, count: int) -> str:
    if count == 1:
        return word
    head, space, tail = word.partition(" in ")
    return f"{head}s{space}{tail}"
