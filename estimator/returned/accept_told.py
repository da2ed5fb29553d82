"""Lines that a user accepts though there is nothing to accept: lists and what was accepted go in, what would do comes out."""

from collections.abc import Iterable, Sequence

from estimator.documents.list_words import lines_words
from estimator.documents.words import number
from estimator.problems import Place
from estimator.returned.accepted import accepted
from estimator.returned.cells import shown
from estimator.returned.model import Answer, Returned, Told

WITHOUT = {
    "another": "something else is offered there, which is not taken for a price of yours",
    "not-sold": "they do not sell it",
    "on-asking": "they want to be asked for a price",
    "no-price": "no price stands there",
    "not-on-it": "it is not on the list that came back",
}


def of_nothing(returned: Sequence[Returned], texts: Iterable[str]) -> tuple[Told, ...]:
    """For each list the accepted lines that have no price, by what they have, and numbers that it has not at all."""
    given = tuple(texts)
    told = []
    for of in returned:
        if not of.lines or not of.lines[0].number:
            continue
        wanted = accepted(given, of.merchant)
        numbers = sorted(int(one) for one in wanted if one.isdigit())
        lines = {answer.number: answer for answer in of.lines}
        told += [Told(Place(of.file), words) for words in _words(numbers, lines)]
    return tuple(told)


def _words(numbers: Sequence[int], lines: dict[int, Answer]) -> list[str]:
    said = []
    for status, why in WITHOUT.items():
        same = [at for at in numbers if at in lines and lines[at].status == status]
        if same:
            do = f"; to take a price all the same, give it with {by_hand(lines[same[0]])}"
            words = f": {shown(lines[same[0]].said)}" if len(same) == 1 and lines[same[0]].said else ""
            said.append(f"--accept does nothing for {lines_words(same)}: {why}{words}{do}")
    missing = [at for at in numbers if at not in lines]
    if missing:
        said.append(f"--accept does nothing for {lines_words(missing)}: the list has no such line")
    return said


def by_hand(of: Answer) -> str:
    """How to give a price for a line with the command, as an example."""
    return (
        f'--price "{of.part}@{number(of.pack).replace(",", "")}=PRICE ex" (the number after @ is what one pack holds)'
    )
