"""Lengths cut to order that cost more or less a metre by how long they are: answers go in, each as its own length comes out."""

from collections.abc import Iterable
from dataclasses import replace
from decimal import Decimal

from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.asked_pack import coins
from estimator.returned.model import Answer, Told


def by_length(answers: Iterable[Answer], asked: AskedList) -> tuple[list[Answer], list[Told]]:
    """Answers in their order; where cut lengths of a part differ by the metre, each is kept as the length that was asked for."""
    of = list(answers)
    metres: dict[str, set[tuple[Decimal | None, str | None]]] = {}
    for answer in of:
        if _by_metre(answer, asked) is not None:
            metres.setdefault(answer.part, set()).add((answer.price, answer.basis))
    kept, told = [], []
    for answer in of:
        line = _by_metre(answer, asked)
        if line is None or line.pack is None or answer.price is None or len(metres[answer.part]) == 1:
            kept.append(answer)
            continue
        price = answer.price * line.pack
        kept.append(replace(answer, pack=line.pack, packs=line.packs, price=price))
        words = f"line {line.number}: {coins(answer.price)} a metre is not what other lengths cost; kept as {coins(price)} for {line.pack.normalize():f} m"
        told.append(Told(answer.place, words))
    return kept, told


def _by_metre(answer: Answer, asked: AskedList) -> AskedLine | None:
    """The line of a cut length that has a price by the metre."""
    line = asked.line(answer.number)
    return line if line is not None and line.cut and answer.status == "priced" and answer.pack == 1 else None
