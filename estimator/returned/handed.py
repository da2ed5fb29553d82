"""Lists as they were handed out: a returned list and all lists that it may be go in; which it is, and what has changed since, come out."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from estimator.documents.list_asked import AskedLine, AskedList, needs_of, plain_mark
from estimator.documents.list_words import lines_words
from estimator.documents.words import number
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.asked import asked_lists
from estimator.returned.cells import as_text, shown
from estimator.returned.head import Labelled
from estimator.returned.match import Found, agreeing
from estimator.returned.model import Answer, Returned, Told

NOT_ON_RECORD = "what was handed out is not on record here, so it is held against the lists that the job makes now"


@dataclass(frozen=True, slots=True)
class Lists:
    """Lists that one may be: those that the user means, and every one that there is."""

    meant: Sequence[AskedList]
    every: Sequence[AskedList]


def all_lists(estimate: Estimate, issued: Iterable[AskedList]) -> tuple[AskedList, ...]:
    """Lists that one may be: those of this job that were written, the last one first, then those that it makes now."""
    written = tuple(of for of in issued if of.title == estimate.job.title)
    return (*written[::-1], *asked_lists(estimate))


def by_mark(
    lists: Sequence[AskedList], every: Sequence[AskedList], head: Iterable[Labelled], file: str
) -> tuple[Sequence[AskedList], tuple[Told, ...], Problem | None]:
    """The one list whose mark stands on what came back; all of them where none does, or one that is not known.

    `every` are all lists that there are, for a mark of one that the user has not named.
    """
    marks = {plain_mark(as_text(of.value)): of for of in head if of.label == "mark"}
    known = {mark: found for mark in marks if (found := next((of for of in lists if of.mark == mark), None))}
    if len(known) > 1:
        both = f"it has the marks of {len(known)} lists, {' and '.join(known)}"
        return lists, (), Problem(Place(file), "", both, "give each list as a file of its own")
    if known:
        return tuple(known.values()), (), None
    if not marks:
        return lists, (), None
    elsewhere = next((of for of in every if of.mark in marks), None)
    if elsewhere is not None:
        where = marks[elsewhere.mark].cell.place
        both = f"its mark {elsewhere.mark} is that of {_called(elsewhere)}, and you say --list with another"
        return lists, (), Problem(where, "--list", both, "leave out --list: the mark tells which list it is")
    if not any(of.handed for of in lists):
        return lists, (), None
    mark, labelled = next(iter(marks.items()))
    words = (
        f"no list with the mark {shown(mark)} is on record here; it is held against the one that agrees with it best"
    )
    return lists, (Told(labelled.cell.place, words),), None


def _called(of: AskedList) -> str:
    return f"the list for {of.merchant}" if of.merchant else "the list that any merchant may get"


def latest(lists: Sequence[AskedList]) -> tuple[AskedList, ...]:
    """Of each merchant's lists the one that stands first."""
    found: dict[str, AskedList] = {}
    for of in lists:
        found.setdefault(of.merchant, of)
    return tuple(found.values())


def in_doubt(
    lists: Sequence[AskedList], asked: AskedList, numbers: Iterable[int], found: Sequence[Found], file: str
) -> tuple[Told, ...]:
    """Where nothing tells which of several written lists came back, and they ask other things under those numbers."""
    if not asked.handed:
        return ()
    best = agreeing(asked, found)
    others = [
        of
        for of in lists
        if of.handed and of.merchant == asked.merchant and of.mark != asked.mark and agreeing(of, found) == best
    ]
    of_numbers = sorted(set(numbers))
    unlike = [number for number in of_numbers if any(_asks(of, number) != _asks(asked, number) for of in others)]
    if not unlike:
        return ()
    words = (
        f"without a mark it is held against the list written last ({asked.mark}); lists written before that ask something "
        f"else in {lines_words(unlike)}: if it was one of those, give its mark, as in --list {others[0].mark}"
    )
    return (Told(Place(file), words),)


def _asks(of: AskedList, number: int) -> tuple[object, ...] | None:
    line = of.line(number)
    return None if line is None else (line.part, line.quantity, line.unit, line.pack, line.pack_words, line.packs)


def cannot_be_kept(estimate: Estimate, line: AskedLine) -> str:
    """Why a price for a line can be held against nothing any more; "" where it can."""
    part = estimate.catalogue.parts.get(line.part)
    if part is None:
        return f"{line.part} is on your list of parts no more, so its price is not taken"
    if part.unit != line.unit:
        return f"{line.part} was sold by the {line.unit} and is by the {part.unit} now, so its price is not taken"
    return ""


def since(estimate: Estimate, asked: AskedList, answers: Iterable[Answer], file: str) -> tuple[Told, ...]:
    """Priced parts that the job needs no more, or in another quantity than when the list was written."""
    if not asked.handed:
        return ()
    needs = needs_of(estimate)
    priced = [line for answer in answers if answer.status == "priced" and (line := asked.line(answer.number))]
    first = {line.part: line for line in reversed(priced)}
    changed = [line for line in priced if first[line.part] is line and needs.get(line.part) not in (None, line.need)]
    gone = [line.number for line in priced if line.part not in needs]
    said = [
        f"line {line.number}: {_units(needs[line.part], line.unit)}, was {_units(line.need, line.unit)}"
        for line in changed
    ]
    told = [f"the job now needs other quantities than when this list was written ({'; '.join(said)})"] if said else []
    told += [f"the job needs nothing of {lines_words(gone)} any more"] if gone else []
    return tuple(Told(Place(file), f"{words}; the prices count all the same") for words in told)


def _units(quantity: Decimal, unit: str) -> str:
    return number(quantity) if unit == "nr" else f"{number(quantity)} {unit}"


def side_by_side(estimate: Estimate, returned: Sequence[Returned]) -> tuple[tuple[Returned, ...], tuple[Told, ...]]:
    """The lists with numbers and quantities of one list, where some answer lists that were written at different times.

    Lines go by their part, and where a part has several by their order; what the job asks now counts.
    """
    marks: dict[str, dict[str, None]] = {}
    for of in returned:
        marks.setdefault(of.answers, {})[of.mark] = None
    mixed = {answers for answers, of in marks.items() if len(of) > 1}
    if not mixed:
        return tuple(returned), ()
    now = {of.merchant: of.lines for of in asked_lists(estimate)}
    places = {answers: _places(now.get(answers, ())) for answers in sorted(mixed)}
    even = tuple(_as_now(of, places[of.answers]) if of.answers in mixed else of for of in returned)
    words = "these lists were not written at one time: beside each other they stand by part, as the job needs it now"
    first = next(of for of in returned if of.answers in mixed)
    return even, (Told(Place(first.file), words),)


Places = dict[tuple[str, int], tuple[int, Decimal | None]]
"""By part and its how-manieth line: the number, and the quantity (None: as the answer has it)."""


def _places(lines: Sequence[AskedLine]) -> Places:
    places: Places = {}
    for line in lines:
        nth = sum(part == line.part for part, _ in places)
        places[line.part, nth] = (line.number, line.quantity)
    return places


def _as_now(of: Returned, places: Places) -> Returned:
    """The list by those places; a line that has none gets the next free number."""
    seen: dict[str, int] = {}
    lines = []
    for answer in of.lines:
        nth = seen.get(answer.part, 0)
        seen[answer.part] = nth + 1
        free = max((number for number, _ in places.values()), default=0) + 1
        number, quantity = places.setdefault((answer.part, nth), (free, None))
        if quantity is None or quantity == answer.quantity:
            lines.append(replace(answer, number=number))
        else:
            # So many packs were for another quantity.
            lines.append(replace(answer, number=number, quantity=quantity, packs=0))
    return replace(of, lines=tuple(sorted(lines, key=lambda answer: answer.number)))
